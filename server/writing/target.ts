/** Where a file is to go: what stands there, and whether that may be replaced. */
import { accessSync, constants, lstatSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { isWithin, relativeTo } from '../model/files.ts';
import { printable } from '../model/printable.ts';
import type { FileToWrite, There } from './file-to-write.ts';
import { Stop } from './stop.ts';

export interface Target {
  /** With every link followed. */
  readonly path: string;
  /** The folder of it, links followed. */
  readonly folder: string;
  readonly there: There | undefined;
  /** What whoever asked for it should know: that it is a link, or has another name. */
  readonly notes: readonly string[];
}

/** Throws Stop where it may not be written, and what the system throws where it cannot be looked at. */
export function targetOf(file: FileToWrite): Target {
  const path = resolve(file.path);
  const shown = printable(file.shown);
  // Their names come to something that is no file, or to whatever standard output is; memory is a disk like any other.
  if (/^\/(dev|proc)\/(?!shm\/)/.test(path)) throw notOrdinary(shown, file.otherwise?.device);
  const own = lstatSync(path, { throwIfNoEntry: false });
  if (!own) {
    const folder = realFolder(path);
    inside(folder, file, shown, `the folder of ${shown}`);
    return { path: join(folder, basename(path)), folder, there: undefined, notes: [] };
  }
  const real = own.isSymbolicLink() ? throughLink(path, shown) : realpathSync(path);
  inside(real, file, shown, shown);
  const there = thereAt(real, file, shown);
  return { path: real, folder: dirname(real), there, notes: notesOn(own.isSymbolicLink(), there, file, shown) };
}

/** As far as it is there: what is missing of it is made later. */
function realFolder(path: string): string {
  const folder = dirname(path);
  try {
    return realpathSync(folder);
  } catch (error) {
    if ((error as { code?: string }).code !== 'ENOENT' || folder === path) throw error;
    // A link to nothing is no folder that could be made.
    if (lstatSync(folder, { throwIfNoEntry: false })) throw error;
    return join(realFolder(folder), basename(folder));
  }
}

function throughLink(path: string, shown: string): string {
  try {
    return realpathSync(path);
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === 'ENOENT') throw new Stop(`${shown} is a link that leads nowhere, so nothing was written.`);
    if (code === 'ELOOP') throw new Stop(`${shown} is a link that leads back to itself, so nothing was written.`);
    throw error;
  }
}

function inside(real: string, { within }: FileToWrite, shown: string, what: string): void {
  if (within === undefined || isWithin(slashed(realpathSync(within)), slashed(real))) return;
  throw new Stop(
    what === shown
      ? `${shown} is a link to ${printable(real)}, which is outside of the project, so nothing was written. Change it where it is.`
      : `${what} is a link to a place outside of the project, so nothing was written.`,
  );
}

function thereAt(real: string, file: FileToWrite, shown: string): There {
  const stat = statSync(real, { bigint: true });
  if (stat.isDirectory()) throw new Stop(`${shown} is a folder${file.otherwise?.folder ?? ''}.`);
  if (!stat.isFile()) throw notOrdinary(shown, file.otherwise?.device);
  const there = { path: real, stat };
  if (file.over === undefined) throw new Stop(`${shown} is there already, so nothing was written.`);
  file.over(there);
  if (!mayWrite(there))
    throw new Stop(`${shown} is read-only, so nothing was written. Let it be written to, if it is to be changed.`);
  if (file.expected && !readFileSync(real).equals(file.expected)) throw changedMeanwhile(shown);
  return there;
}

/** Not by whether its folder would let it be replaced. Root may do anything, and goes by what the file says, too. */
function mayWrite({ path, stat }: There): boolean {
  if ((Number(stat.mode) & 0o222) === 0) return false;
  try {
    accessSync(path, constants.W_OK);
    return true;
  } catch (error) {
    const { code } = error as { code?: string };
    // That the disk cannot be written to is told when it is tried.
    return code !== 'EACCES' && code !== 'EPERM';
  }
}

/** Whether it is still what was looked at: a file that another program wrote meanwhile is its work, and stays. */
export function isAsItWas({ path, stat }: There): boolean {
  const now = lstatSync(path, { bigint: true, throwIfNoEntry: false });
  return (
    now?.isFile() === true &&
    now.dev === stat.dev &&
    now.ino === stat.ino &&
    now.size === stat.size &&
    now.mtimeNs === stat.mtimeNs
  );
}

export function changedMeanwhile(shown: string): Stop {
  return new Stop(`${printable(shown)} has changed meanwhile, so nothing was written.`);
}

function notOrdinary(shown: string, otherwise = ''): Stop {
  return new Stop(`${shown} is not an ordinary file${otherwise}.`);
}

function notesOn(isLink: boolean, { path, stat }: There, { within }: FileToWrite, shown: string): string[] {
  const notes: string[] = [];
  if (isLink && within !== undefined)
    notes.push(
      `${shown} is a link: ${printable(relativeTo(slashed(realpathSync(within)), slashed(path)))} was written.`,
    );
  if (stat.nlink > 1n)
    notes.push(`${shown} had another name on the disk (a hard link), under which what it was is still there.`);
  return notes;
}

function slashed(path: string): string {
  return path.replaceAll('\\', '/');
}
