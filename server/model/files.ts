/** Files as the loader needs them. Paths are absolute, with forward slashes. */

export interface Entry {
  readonly name: string;
  readonly kind: 'file' | 'folder';
}

/** What can go wrong is told, never thrown. */
export type Read =
  | { readonly kind: 'read'; readonly bytes: Uint8Array }
  | { readonly kind: 'failed'; readonly why: string }
  | { readonly kind: 'too-large'; readonly size: number };

export interface Files {
  /** Reads a file. Where it is a link, what that leads to is read only where it lies `within` a folder. */
  readonly read: (path: string, largest: number, within?: () => string) => Read;
  /** The files and folders in a folder, sorted by name; links to folders are not followed. Undefined where it cannot be listed. */
  readonly list: (folder: string) => readonly Entry[] | undefined;
  readonly kindOf: (path: string) => 'file' | 'folder' | undefined;
  /** The path with every link in it followed. */
  readonly real: (path: string) => string;
  /** Whether what is there, if anything, may not be looked at. Left out where there is no such place. */
  readonly isOut?: (path: string) => boolean;
}

export function parentOf(path: string): string {
  const slash = path.lastIndexOf('/');
  return slash <= 0 ? '/' : path.slice(0, slash);
}

export function nameOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

/** `relative` from a folder, with `.` and `..` taken out; no `..` leads above the root, a drive or a shared folder. */
export function join(folder: string, relative: string): string {
  const whole = relative.startsWith('/') ? relative : `${folder === '/' ? '' : folder}/${relative}`;
  // A server and what it shares, of which two slashes are the beginning.
  const isShared = /^\/\/[^/]/.test(whole);
  const kept = isShared ? 2 : /^[A-Za-z]:(?:\/|$)/.test(whole) ? 1 : 0;
  const parts: string[] = [];
  for (const part of whole.split('/')) {
    if (part === '..') parts.splice(Math.max(kept, parts.length - 1));
    else if (part !== '' && part !== '.') parts.push(part);
  }
  return `${isShared ? '//' : kept === 1 ? '' : '/'}${parts.join('/')}`;
}

export function isWithin(folder: string, path: string): boolean {
  return path === folder || path.startsWith(folder === '/' ? '/' : `${folder}/`);
}

/** The path from a folder, for people. */
export function relativeTo(folder: string, path: string): string {
  if (path === folder) return '.';
  return isWithin(folder, path) ? path.slice(folder === '/' ? 1 : folder.length + 1) : path;
}
