/** Folders of files that are written: made where they are missing, and taken away again where nothing was written. */
import { closeSync, fsyncSync, mkdirSync, openSync, rmdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { quietly } from './temporary.ts';

/** `made` is told of those that were not there. */
export function makeFolder(folder: string, made: string[]): void {
  const missing: string[] = [];
  for (let at = folder; !isFolder(at); at = dirname(at)) {
    missing.push(at);
    if (dirname(at) === at) break;
  }
  for (const at of missing.reverse()) {
    try {
      mkdirSync(at);
      made.push(at);
    } catch (error) {
      const { code } = error as { code?: string };
      if (code !== 'EEXIST') throw error;
      // A file stands where a folder is wanted, which this system calls by the same name as a file that is there.
      if (!isFolder(at)) throw Object.assign(error as Error, { code: 'ENOTDIR' });
    }
  }
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

/** Those that nobody has put anything in, the deepest first. */
export function removeFolders(folders: readonly string[]): void {
  for (const folder of folders.toSorted((a, b) => b.length - a.length)) quietly(() => rmdirSync(folder));
}

/** What systems and disks answer that have no such thing, or do it by themselves. */
const unknownThere = new Set(['EINVAL', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EPERM', 'EACCES', 'EISDIR', 'EBADF']);

/** Names are in folders: what took a name is on the disk once its folder is. */
export function syncFolders(folders: Iterable<string>): void {
  for (const folder of new Set(folders)) {
    try {
      const opened = openSync(folder, 'r');
      try {
        fsyncSync(opened);
      } finally {
        closeSync(opened);
      }
    } catch (error) {
      if (!unknownThere.has((error as { code?: string }).code ?? '')) throw error;
    }
  }
}
