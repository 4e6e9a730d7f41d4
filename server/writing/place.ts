/** Files that are whole beside their places take them: all, or as far as the disk lets none. */
import { closeSync, copyFileSync, linkSync, lstatSync, openSync, realpathSync, renameSync } from 'node:fs';
import { dirname } from 'node:path';
import { printable } from '../model/printable.ts';
import type { FileToWrite } from './file-to-write.ts';
import { syncFolders } from './folders.ts';
import { reasonOf } from './reason.ts';
import { Stop } from './stop.ts';
import { changedMeanwhile, isAsItWas, type Target } from './target.ts';
import { quietly, removeFile, temporaryIn } from './temporary.ts';

export interface Staged {
  readonly file: FileToWrite;
  readonly target: Target;
  readonly beside: string;
}

/** How one that has taken its place is taken back. */
interface Placed extends Staged {
  /** A second name of what was there. */
  readonly old: string | undefined;
  readonly takenBack: () => void;
}

/** Not cut off by a signal: it is done in one go. `folders` are those that were made for it. */
export function putInPlace(staged: readonly Staged[], folders: readonly string[]): void {
  const kept = new Set<string>();
  const placed: Placed[] = [];
  let at: Staged | undefined;
  try {
    for (const one of staged) {
      at = one;
      if (realpathSync(one.target.folder) !== one.target.folder) throw changedMeanwhile(one.file.shown);
      placed.push(one.target.there ? replaced(one, kept) : created(one));
    }
    syncFolders([...staged.map(({ target }) => target.folder), ...folders.map(dirname)]);
  } catch (error) {
    const lost = takeBack(placed);
    if (lost.length > 0) throw halfWritten(error, at, lost, staged.length, kept);
    throw error instanceof Stop ? error : Object.assign(error as Error, { file: at?.file });
  } finally {
    for (const path of kept) quietly(() => removeFile(path));
  }
}

function replaced(one: Staged, kept: Set<string>): Placed {
  const { beside, file, target } = one;
  const old = temporaryIn(target.folder);
  kept.add(old);
  secondName(target.path, old);
  if (!target.there || !isAsItWas(target.there)) throw changedMeanwhile(file.shown);
  renameSync(beside, target.path);
  return { ...one, old, takenBack: () => renameSync(old, target.path) };
}

/** Unlike a renaming, a link takes nothing's place; some disks know none. */
function created(one: Staged): Placed {
  const { beside, target } = one;
  // Known before it has its name, so that it can be taken back whatever happens then.
  const made = lstatSync(beside, { bigint: true });
  try {
    linkSync(beside, target.path);
    quietly(() => removeFile(beside));
  } catch (error) {
    if (!knowsNoLinks(error)) throw error;
    // The name is ours from here on.
    closeSync(openSync(target.path, 'wx'));
    try {
      renameSync(beside, target.path);
    } catch (failed) {
      quietly(() => removeFile(target.path));
      throw failed;
    }
  }
  const takenBack = (): void => {
    const now = lstatSync(target.path, { bigint: true, throwIfNoEntry: false });
    // What somebody has put there meanwhile is not ours to take away.
    if (now?.dev === made.dev && now.ino === made.ino) removeFile(target.path);
  };
  return { ...one, old: undefined, takenBack };
}

function secondName(path: string, second: string): void {
  try {
    linkSync(path, second);
  } catch (error) {
    if (!knowsNoLinks(error)) throw error;
    copyFileSync(path, second);
  }
}

function knowsNoLinks(error: unknown): boolean {
  return ['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes((error as { code?: string }).code ?? '');
}

/** The last one first. Answers those that could not be. */
function takeBack(placed: readonly Placed[]): Placed[] {
  const lost = placed.toReversed().filter(({ takenBack }) => {
    try {
      takenBack();
      return false;
    } catch {
      return true;
    }
  });
  quietly(() => syncFolders(placed.map(({ target }) => target.folder)));
  return lost.reverse();
}

/** So many are named. */
const most = 10;

function halfWritten(
  error: unknown,
  at: Staged | undefined,
  lost: readonly Placed[],
  all: number,
  kept: Set<string>,
): Stop {
  const names = lost.slice(0, most).map(({ file, target, old }) => {
    const aside = old === undefined ? undefined : setAside(target.path, old);
    if (aside !== undefined) kept.delete(aside);
    return aside === undefined ? printable(file.shown) : `${printable(file.shown)} (as it was: ${printable(aside)})`;
  });
  const more = lost.length > most ? ` and ${lost.length - most} more` : '';
  const why =
    error instanceof Stop ? error.message : `${printable(at?.file.shown ?? '')} cannot be written: ${reasonOf(error)}.`;
  return new Stop(
    `${why} Written before that, of ${all} files, and could not be put back: ${names.join(', ')}${more}. All others are as they were.`,
  );
}

/** What it was, under a name that is seen and that nothing takes away. */
function setAside(path: string, old: string): string {
  const aside = `${path}.before`;
  try {
    linkSync(old, aside);
    return aside;
  } catch {
    return old;
  }
}
