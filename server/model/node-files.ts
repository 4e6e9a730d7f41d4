/** Files of the machine. */
import {
  closeSync,
  constants,
  fstatSync,
  lstatSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  statSync,
} from 'node:fs';
import { type Entry, type Files, isWithin, type Read } from './files.ts';

export const nodeFiles: Files = {
  read: (path: string, largest: number, within?: () => string): Read => {
    try {
      const opened = opening(path, within);
      if (opened === undefined) return { kind: 'failed', why: 'it is a link to a file outside of the workspace' };
      try {
        const stat = fstatSync(opened);
        if (!stat.isFile()) return { kind: 'failed', why: stat.isDirectory() ? 'it is a folder' : 'it is not a file' };
        if (stat.size > largest) return { kind: 'too-large', size: stat.size };
        return { kind: 'read', bytes: readFileSync(opened) };
      } finally {
        closeSync(opened);
      }
    } catch (error) {
      return { kind: 'failed', why: reason(error) };
    }
  },
  list: (folder: string): Entry[] | undefined => {
    try {
      return readdirSync(folder, { withFileTypes: true })
        .flatMap((entry): Entry[] => {
          if (entry.isFile()) return [{ name: entry.name, kind: 'file' }];
          if (entry.isDirectory()) return [{ name: entry.name, kind: 'folder' }];
          // A .closet file may be a link, or turn out to be something else; reading it will tell.
          return entry.name.endsWith('.closet') && !linksToFolder(`${folder}/${entry.name}`)
            ? [{ name: entry.name, kind: 'file' }]
            : [];
        })
        .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
    } catch {
      return undefined;
    }
  },
  kindOf: (path: string) => {
    try {
      const stat = statSync(path);
      return stat.isDirectory() ? 'folder' : 'file';
    } catch {
      return exists(path) ? 'file' : undefined;
    }
  },
  real: (path: string) => {
    try {
      return slashed(realpathSync(path));
    } catch {
      return path;
    }
  },
};

const { O_RDONLY, O_NONBLOCK = 0, O_NOFOLLOW } = constants;

/** Never waits, as for somebody who writes into a pipe. */
const plainly = O_RDONLY | O_NONBLOCK | (O_NOFOLLOW ?? 0);

/** Undefined where it is a link that leads out of the folder. What is opened is what was looked at, not what took its place. */
function opening(path: string, within: (() => string) | undefined): number | undefined {
  if (O_NOFOLLOW === undefined && lstatSync(path).isSymbolicLink()) return throughLink(path, within);
  try {
    return openSync(path, plainly);
  } catch (error) {
    const { code } = error as { code?: string };
    // Systems have names of their own for a link where none is followed.
    if (code !== 'ELOOP' && code !== 'EMLINK' && code !== 'EFTYPE') throw error;
    return throughLink(path, within);
  }
}

function throughLink(path: string, within: (() => string) | undefined): number | undefined {
  const real = realpathSync(path);
  if (within && !isWithin(slashed(realpathSync(within())), slashed(real))) return undefined;
  const opened = openSync(real, plainly);
  if (realpathSync(real) === real) return opened;
  closeSync(opened);
  return undefined;
}

function slashed(path: string): string {
  return path.replaceAll('\\', '/');
}

function linksToFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
}

function exists(path: string): boolean {
  try {
    lstatSync(path);
    return true;
  } catch {
    return false;
  }
}

/** The system's reason in words. */
export function reason(error: unknown): string {
  const code = (error as { code?: string }).code;
  const known: Readonly<Record<string, string>> = {
    ENOENT: 'it is not there',
    EACCES: 'there is no permission to read it',
    EPERM: 'there is no permission to read it',
    EISDIR: 'it is a folder',
    ELOOP: 'it is a link that leads back to itself',
    EMFILE: 'too many files are open',
    ENAMETOOLONG: 'its name is too long',
  };
  return (code && known[code]) ?? (error instanceof Error ? error.message : String(error));
}
