/** Files of the machine. */
import { lstatSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import type { Entry, Files, Read } from './files.ts';

export const nodeFiles: Files = {
  read: (path: string, largest: number): Read => {
    try {
      const stat = statSync(path);
      if (!stat.isFile()) return { kind: 'failed', why: stat.isDirectory() ? 'it is a folder' : 'it is not a file' };
      if (stat.size > largest) return { kind: 'too-large', size: stat.size };
      return { kind: 'read', bytes: readFileSync(path) };
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
      return realpathSync(path).replaceAll('\\', '/');
    } catch {
      return path;
    }
  },
};

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
