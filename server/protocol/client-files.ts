/**
 * Files that only the client can read: those of a browser, and those of a file system that only the editor knows.
 * They are asked of it when a folder is opened and whenever it says that one has changed, and kept in memory.
 */
import { type Connection, RequestType } from 'vscode-languageserver';
import type { Entry, Files, Read } from '../model/files.ts';
import { limits } from '../model/limits.ts';
import { createMemoryFiles } from '../model/memory-files.ts';
import { isLookedInto } from '../model/walked.ts';
import { largestFile } from '../model/workspace.ts';
import { isElsewhere, uriOf } from './addresses.ts';

interface ListParams {
  readonly uris: readonly string[];
}

interface ReadParams extends ListParams {
  /** Of a file that is larger its size is wanted and nothing else. */
  readonly largest: number;
}

/** What is in each of some folders, links followed; null where that is no folder. */
export const listFolders = new RequestType<ListParams, (readonly Entry[] | null)[], void>('storypole/listFolders');
/** What is in each of some files; null where there is none. Bytes are sent as they are where messages can hold them, else as numbers. */
export const readFiles = new RequestType<ReadParams, (Sent | null)[], void>('storypole/readFiles');

type Sent = Exclude<Read, { kind: 'read' }> | { readonly kind: 'read'; readonly bytes: Uint8Array | readonly number[] };

export interface ClientFiles extends Files {
  /** The client answers the two requests. */
  offered: boolean;
  /**
   * Asks the client for files, or for folders with all that is in them. Resolves once they are as the client has
   * them, and never rejects. Undefined where there is nothing to be asked for, so that nobody waits.
   */
  readonly bring: (paths: readonly string[]) => Promise<void> | undefined;
}

/** So many files are asked for at a time. */
const batch = 200;

export function createClientFiles(
  connection: Connection,
  own: Files | undefined,
  onError: (error: unknown) => void,
): ClientFiles {
  const memory = createMemoryFiles();
  const isOwn = (path: string): boolean => own !== undefined && !isElsewhere(path);
  const of = (path: string): Files => (own && isOwn(path) ? own : memory);
  /** One after another, so that what is asked for later is never overtaken by what was asked for before. */
  let last: Promise<void> = Promise.resolve();

  async function bringNow(paths: readonly string[]): Promise<void> {
    const folders = await foldersUnder(paths.filter((path) => !path.endsWith('.closet')));
    const files = new Set(paths.filter((path) => path.endsWith('.closet')));
    for (const [folder, entries] of folders)
      for (const { name, kind } of entries ?? [])
        if (kind === 'file' && name.endsWith('.closet')) files.add(childOf(folder, name));
    const read = await readAll([...files].slice(0, limits.mostFiles.most + 1));
    // All that was brought takes its place in one step.
    for (const path of paths) memory.remove(path);
    for (const [folder, entries] of folders) {
      if (!entries) continue;
      memory.putFolder(folder);
      for (const { name, kind } of entries) if (kind === 'folder') memory.putFolder(childOf(folder, name));
    }
    for (const [path, found] of read) if (found) memory.put(path, found);
  }

  /** The folders and all in them that are looked into, level by level. */
  async function foldersUnder(paths: readonly string[]): Promise<Map<string, readonly Entry[] | null>> {
    const found = new Map<string, readonly Entry[] | null>();
    let level = paths;
    for (
      let depth = 0;
      level.length > 0 && depth <= limits.deepestFolders.most + 1 && found.size <= limits.mostFolders.most;
      depth++
    ) {
      const listed = await connection.sendRequest(listFolders, { uris: level.map(uriOf) });
      const next: string[] = [];
      level.forEach((folder, at) => {
        const entries = listed[at] ?? null;
        found.set(folder, entries);
        for (const { name, kind } of entries ?? [])
          if (kind === 'folder' && isLookedInto(name)) next.push(childOf(folder, name));
      });
      level = next;
    }
    return found;
  }

  async function readAll(files: readonly string[]): Promise<[string, Read | null][]> {
    const all: [string, Read | null][] = [];
    for (let from = 0; from < files.length; from += batch) {
      const some = files.slice(from, from + batch);
      const read = await connection.sendRequest(readFiles, { uris: some.map(uriOf), largest: largestFile });
      some.forEach((file, at) => {
        all.push([file, received(read[at])]);
      });
    }
    return all;
  }

  return {
    offered: false,
    bring(paths) {
      const wanted = paths.filter((path) => !isOwn(path) && !path.startsWith('/untitled:/'));
      if (!this.offered || wanted.length === 0) return undefined;
      last = last.then(() => bringNow(wanted)).catch(onError);
      return last;
    },
    read: (path, largest, within) => of(path).read(path, largest, within),
    list: (folder) => of(folder).list(folder),
    kindOf: (path) => of(path).kindOf(path),
    real: (path) => of(path).real(path),
  };
}

function received(sent: Sent | null | undefined): Read | null {
  if (sent?.kind !== 'read') return sent ?? null;
  return { kind: 'read', bytes: sent.bytes instanceof Uint8Array ? sent.bytes : Uint8Array.from(sent.bytes) };
}

function childOf(folder: string, name: string): string {
  return folder === '/' ? `/${name}` : `${folder}/${name}`;
}
