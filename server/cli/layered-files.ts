/** Files of which a part comes from elsewhere: another folder, another revision. */
import { type Files, isWithin } from '../model/files.ts';

/** Whatever lies in the folder `at` is what `over` has in its folder `from`. */
export function withFolder(files: Files, at: string, over: Files, from: string): Files {
  const side = (path: string): readonly [Files, string] =>
    isWithin(at, path) ? [over, from + path.slice(at.length)] : [files, path];
  return {
    read: (path, largest, within) => {
      const [of, there] = side(path);
      return of === files ? of.read(there, largest, within) : of.read(there, largest, () => from);
    },
    list: (folder) => {
      const [of, there] = side(folder);
      return of.list(there);
    },
    kindOf: (path) => {
      const [of, there] = side(path);
      return of.kindOf(there);
    },
    real: (path) => {
      const [of, there] = side(path);
      // What is laid over stays where it is laid: the library is within the workspace as before.
      return of === files ? files.real(path) : at + of.real(there).slice(of.real(from).length);
    },
  };
}

/** Installed packages are of no revision: they are read from disk. */
export function withPackages(files: Files, disk: Files): Files {
  const of = (path: string): Files => (path.includes('/node_modules') ? disk : files);
  return {
    read: (path, largest, within) => of(path).read(path, largest, within),
    list: (folder) => of(folder).list(folder),
    kindOf: (path) => of(path).kindOf(path),
    real: (path) => of(path).real(path),
  };
}
