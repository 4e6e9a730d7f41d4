/** Files that are kept in memory: of a machine that cannot be read from where this runs, as somebody tells them. */
import { type Entry, type Files, isWithin, nameOf, parentOf, type Read } from './files.ts';

export interface MemoryFiles extends Files {
  /** Puts a file, in place of what was there, and the folders that lead to it. */
  readonly put: (path: string, read: Read) => void;
  /** Puts an empty folder where there is none, and those that lead to it. */
  readonly putFolder: (path: string) => void;
  /** Takes away a file, or a folder with all that is in it. */
  readonly remove: (path: string) => void;
}

export function createMemoryFiles(): MemoryFiles {
  const files = new Map<string, Read>();
  /** What is in each folder, by name. */
  const folders = new Map<string, Map<string, Entry>>();

  function folderAt(path: string): Map<string, Entry> {
    const known = folders.get(path);
    if (known) return known;
    const made = new Map<string, Entry>();
    folders.set(path, made);
    files.delete(path);
    if (path !== '/') folderAt(parentOf(path)).set(nameOf(path), { name: nameOf(path), kind: 'folder' });
    return made;
  }

  function remove(path: string): void {
    files.delete(path);
    if (folders.delete(path)) {
      for (const map of [files, folders]) for (const other of map.keys()) if (isWithin(path, other)) map.delete(other);
    }
    folders.get(parentOf(path))?.delete(nameOf(path));
  }

  return {
    put(path, read) {
      remove(path);
      folderAt(parentOf(path)).set(nameOf(path), { name: nameOf(path), kind: 'file' });
      files.set(path, read);
    },
    putFolder: (path) => void folderAt(path),
    remove,
    read(path, largest) {
      const read = files.get(path);
      if (!read) return { kind: 'failed', why: folders.has(path) ? 'it is a folder' : 'it is not there' };
      if (read.kind === 'read' && read.bytes.length > largest) return { kind: 'too-large', size: read.bytes.length };
      return read;
    },
    list: (folder) => {
      const entries = folders.get(folder);
      return entries && [...entries.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
    },
    kindOf: (path) => (files.has(path) ? 'file' : folders.has(path) ? 'folder' : undefined),
    real: (path) => path,
  };
}
