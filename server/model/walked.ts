/** Which folders are looked into for .closet files, and how far. */
import { type Files, isWithin, relativeTo } from './files.ts';
import { limits } from './limits.ts';

const passedOver = new Set(['node_modules', 'dist', 'out', 'build']);

/** Whether .closet files are looked for in a folder of this name. */
export function isLookedInto(name: string): boolean {
  return !name.startsWith('.') && !passedOver.has(name);
}

/** The folder below another, on the way to a place, that is not looked into; undefined where there is none. */
export function passedOverBetween(folder: string, place: string): string | undefined {
  if (folder === place || !isWithin(folder, place)) return undefined;
  return relativeTo(folder, place)
    .split('/')
    .find((name) => !isLookedInto(name));
}

/** Whether who looks into a folder comes to another in it. Links are not followed. */
export function comesTo(files: Files, folder: string, other: string): boolean {
  if (folder === other) return true;
  if (!isWithin(folder, other) || passedOverBetween(folder, other) !== undefined) return false;
  const way = relativeTo(folder, other);
  if (way.split('/').length > limits.deepestFolders.most) return false;
  // What is not there yet is no link.
  return files.kindOf(other) === undefined || relativeTo(files.real(folder), files.real(other)) === way;
}
