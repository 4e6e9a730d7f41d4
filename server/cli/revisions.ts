/**
 * Files of a git revision, read from the object store: the work tree is neither looked at nor touched. Git is asked by
 * its own command, with fixed arguments, hooks and configuration of the repository that could run something shut off.
 */
import { isWithin, join } from '../model/files.ts';
import { limits } from '../model/limits.ts';
import { createMemoryFiles, type MemoryFiles } from '../model/memory-files.ts';
import { megabytes } from '../model/sizes.ts';
import { git } from './git.ts';
import { Stop } from './stop.ts';

/** Of one revision together; layouts are text, and no project comes near it. */
const mostBytes = limits.largestRevision.most;

export interface Repository {
  /** Its top folder, absolute, with forward slashes. */
  readonly top: string;
}

export interface Revision {
  readonly name: string;
  /** The whole name of its commit. */
  readonly commit: string;
  /** The .closet files as they were, at the places they would have in the work tree. */
  readonly files: MemoryFiles;
  /** Absolute paths of them. */
  readonly paths: readonly string[];
}

/** The repository that a folder lies in; undefined where it lies in none. */
export function repositoryOf(folder: string): Repository | undefined {
  const { status, stdout } = git(folder, ['rev-parse', '--show-toplevel']);
  return status === 0
    ? {
        top: stdout
          .toString('utf8')
          .replace(/\r?\n$/, '')
          .replaceAll('\\', '/'),
      }
    : undefined;
}

/** Throws Stop where there is no such revision. All of its .closet files, those of its submodules too. */
export function revisionOf({ top }: Repository, name: string): Revision {
  const commit = commitOf(top, name);
  const files = createMemoryFiles();
  files.putFolder(top);
  // The repository is what a project may use libraries from.
  files.putFolder(join(top, '.git'));
  const paths: string[] = [];
  const taken = { bytes: 0 };
  take(top, commit, name);
  return { name, commit, files, paths };

  function take(repository: string, id: string, called: string): void {
    const { blobs, submodules } = entriesOf(repository, id, called);
    // Looked at before anything is read.
    taken.bytes += blobs.reduce((sum, { size }) => sum + size, 0);
    if (taken.bytes > mostBytes)
      throw new Stop(
        `The .closet files of ${name} have ${megabytes(taken.bytes)} together; ${megabytes(mostBytes)} are the most that is read of one revision.`,
      );
    const contents = blobsOf(
      repository,
      blobs.map((blob) => blob.id),
      called,
    );
    for (const [i, bytes] of contents.entries()) {
      const path = join(repository, blobs[i]?.path ?? '');
      if (!isWithin(repository, path)) continue;
      files.put(path, { kind: 'read', bytes });
      paths.push(path);
    }
    for (const { id: pinned, path } of submodules) {
      const folder = join(repository, path);
      // One that is not checked out here, or has not this commit, is a library that is not there: that is told of.
      if (repositoryOf(folder)?.top === folder && hasCommit(folder, pinned)) take(folder, pinned, `${called}, ${path}`);
    }
  }
}

interface Entries {
  readonly blobs: readonly { readonly id: string; readonly path: string; readonly size: number }[];
  readonly submodules: readonly { readonly id: string; readonly path: string }[];
}

function entriesOf(top: string, commit: string, name: string): Entries {
  const listed = git(top, ['ls-tree', '-r', '-z', '-l', '--full-tree', commit]);
  if (listed.status !== 0) throw new Stop(`The files of ${name} cannot be listed: ${sentence(listed.stderr)}`);
  const blobs: { id: string; path: string; size: number }[] = [];
  const submodules: { id: string; path: string }[] = [];
  for (const line of listed.stdout.toString('utf8').split('\0')) {
    const [, mode, type, id, size, path] = /^(\d+) (\w+) ([0-9a-f]+) +(\d+|-)\t([\s\S]+)$/.exec(line) ?? [];
    if (!id || !path) continue;
    if (type === 'commit') submodules.push({ id, path });
    // Links are not followed: what they lead to may be of no revision.
    else if (type === 'blob' && mode !== '120000' && path.endsWith('.closet'))
      blobs.push({ id, path, size: Number(size) });
  }
  return { blobs, submodules };
}

function hasCommit(folder: string, id: string): boolean {
  return git(folder, ['cat-file', '-e', `${id}^{commit}`]).status === 0;
}

function commitOf(top: string, name: string): string {
  // A name that begins with a hyphen would be an option.
  if (name.startsWith('-')) throw new Stop(`"${name}" is not the name of a revision: none begins with a dash.`);
  const { status, stdout } = git(top, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${name}^{commit}`]);
  if (status === 0) return stdout.toString('utf8').trim();
  const isShallow = git(top, ['rev-parse', '--is-shallow-repository']).stdout.toString('utf8').trim() === 'true';
  throw new Stop(
    isShallow
      ? `There is no revision "${name}" in this repository, which is a shallow clone: fetch more of its history (git fetch --unshallow, or a deeper checkout in CI) and try again.`
      : `There is no folder and no git revision "${name}".`,
  );
}

/** What blobs hold, in the order in which they are asked for. */
function blobsOf(top: string, ids: readonly string[], name: string): Uint8Array[] {
  if (ids.length === 0) return [];
  const { status, stdout, stderr } = git(top, ['cat-file', '--batch'], `${ids.join('\n')}\n`);
  if (status !== 0) throw new Stop(`The files of ${name} cannot be read: ${sentence(stderr)}`);
  const blobs: Uint8Array[] = [];
  let at = 0;
  for (const id of ids) {
    const end = stdout.indexOf(10, at);
    const head = stdout.subarray(at, end).toString('utf8').split(' ');
    if (head[1] !== 'blob')
      throw new Stop(
        `A file of ${name} (${id.slice(0, 12)}) is not in this repository: it is a partial or damaged clone. Fetch it whole and try again.`,
      );
    const size = Number(head[2]);
    blobs.push(new Uint8Array(stdout.subarray(end + 1, end + 1 + size)));
    at = end + 1 + size + 1;
  }
  return blobs;
}

function sentence(text: string): string {
  const line = text.split('\n')[0]?.replace(/^(fatal|error): /, '') ?? '';
  return `${line === '' ? 'git gives no reason' : line}.`;
}
