/**
 * Files that only VS Code can reach: each is written beside its place, and takes it once all are whole. To take a place that
 * is taken, VS Code may take away what is there before it renames, so that is kept in memory until then, to be put back.
 */
import type * as vscode from 'vscode';
import { type FileToWrite, type WriteFiles, whyOf } from './writing.ts';

/** As much of `vscode.workspace.fs` as is needed here. */
export type FileSystem = Pick<vscode.FileSystem, 'stat' | 'readFile' | 'writeFile' | 'rename' | 'delete'>;

// By their numbers, for a test that has no VS Code to ask: vscode.FileType and vscode.FilePermission.
const folder = 2;
const link = 64;
const readOnly = 1;

interface Staged {
  readonly uri: vscode.Uri;
  readonly bytes: Uint8Array;
  readonly beside: vscode.Uri;
  /** What was there. */
  readonly old: Uint8Array | undefined;
}

export function writeThrough(fs: FileSystem): WriteFiles {
  return async (files) => {
    const staged: Staged[] = [];
    const clear = () => Promise.all(staged.map(({ beside }) => absentOr(fs.delete(beside, { useTrash: false }))));
    for (const { uri, text, over } of files) {
      try {
        const one = { uri, bytes: new TextEncoder().encode(text), beside: besideOf(uri), old: await found(uri, over) };
        staged.push(one);
        await fs.writeFile(one.beside, one.bytes);
      } catch (error) {
        await clear();
        throw error instanceof Refusal ? error : failed(uri, error, 'Nothing was written.');
      }
    }
    const begun: Staged[] = [];
    for (const one of staged) {
      begun.unshift(one);
      try {
        await fs.rename(one.beside, one.uri, { overwrite: one.old !== undefined });
      } catch (error) {
        const lost = await putBack(begun);
        if (lost.length === 0) await clear();
        const names = lost.map(({ uri, beside }) => `${nameOf(uri)} (what it was to be: ${nameOf(beside)})`);
        throw failed(
          one.uri,
          error,
          lost.length === 0 ? 'Nothing was written.' : `What was there could not be put back: ${names.join(', ')}.`,
        );
      }
    }
    return [];
  };

  /** What is there. Throws a refusal where it may not be written over. */
  async function found(uri: vscode.Uri, over: FileToWrite['over']): Promise<Uint8Array | undefined> {
    // What cannot be looked at is not written over either: see `overwrite` above.
    const there = await absentOr(fs.stat(uri));
    if (!there) return undefined;
    const { type, permissions = 0 } = there;
    if ((type & link) !== 0)
      throw new Refusal(`${nameOf(uri)} is a link, so nothing was written. Name the file itself.`);
    if ((type & folder) !== 0) throw new Refusal(`${nameOf(uri)} is a folder, so nothing was written.`);
    if (over === 'nothing') throw new Refusal(`${nameOf(uri)} is there already, so nothing was written.`);
    if ((permissions & readOnly) !== 0)
      throw new Refusal(
        `${nameOf(uri)} is read-only, so nothing was written. Let it be written to, if it is to be changed.`,
      );
    const old = await fs.readFile(uri);
    if (over !== 'anything' && !areSame(old, over))
      throw new Refusal(`${nameOf(uri)} has changed meanwhile, so nothing was written.`);
    return old;
  }

  /** Each as it was, whatever has become of it. Answers those that could not be. */
  async function putBack(staged: readonly Staged[]): Promise<Staged[]> {
    const lost: Staged[] = [];
    for (const one of staged) {
      const { uri, bytes, old } = one;
      const now = await absentOr(fs.readFile(uri));
      try {
        if (old && !(now && areSame(now, old))) await fs.writeFile(uri, old);
        // What somebody else has put there meanwhile is not ours to take away.
        if (!old && now && areSame(now, bytes)) await fs.delete(uri, { useTrash: false });
      } catch {
        lost.push(one);
      }
    }
    return lost;
  }
}

/** Says in full why nothing is written. */
class Refusal extends Error {}

function failed(uri: vscode.Uri, error: unknown, what: string): Error {
  return new Error(`${nameOf(uri)} cannot be written: ${whyOf(error).replace(/\.$/, '')}. ${what}`);
}

/** Hidden, of a name that nobody guesses, and of those that the terminal command takes away where one is left for a day. */
function besideOf(uri: vscode.Uri): vscode.Uri {
  return uri.with({ path: uri.path.replace(/[^/]*$/, `.storypole-${crypto.randomUUID()}.tmp`) });
}

function nameOf({ path }: vscode.Uri): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

function areSame(one: Uint8Array, other: Uint8Array): boolean {
  return one.length === other.length && one.every((byte, at) => byte === other[at]);
}

async function absentOr<T>(asked: Thenable<T>): Promise<T | undefined> {
  return asked.then(
    (answer) => answer,
    () => undefined,
  );
}
