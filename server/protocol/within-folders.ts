/** Files of a workspace that nobody has said to trust: what lies outside of its folders, links followed, is not looked at. */
import { type Files, isWithin } from '../model/files.ts';

/**
 * The files, as long as `isClosed` holds no others than those in the folders. The texts of open documents are not files:
 * whoever opens one has looked at it.
 */
export function withinFolders(files: Files, folders: readonly string[], isClosed: () => boolean): Files {
  const isOut = (path: string): boolean => {
    if (!isClosed()) return false;
    if (!folders.some((folder) => isWithin(folder, path))) return true;
    const real = files.real(path);
    return !folders.some((folder) => isWithin(files.real(folder), real));
  };
  return {
    read: (path, largest) =>
      isOut(path)
        ? { kind: 'failed', why: 'it is outside of the open folders, and the workspace is not trusted' }
        : files.read(path, largest),
    list: (folder) => (isOut(folder) ? undefined : files.list(folder)),
    kindOf: (path) => (isOut(path) ? undefined : files.kindOf(path)),
    real: files.real,
    isOut,
  };
}
