/** Where results go: standard output, or a file that is whole or not written at all. */
import { randomUUID } from 'node:crypto';
import { readFileSync, realpathSync, rmdirSync, rmSync, statSync } from 'node:fs';
import { link, mkdir, open, rename } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { Stop } from './stop.ts';

/**
 * Writes a file by way of another one beside it, so that nobody ever finds half of it, and an older one stays
 * until the new one is whole. A link is followed. A .closet file is somebody's work and not written over, unless
 * `mayReplace` says of its text that it may be. Throws Stop where it cannot be written.
 */
export async function writeWhole(
  written: string,
  current: string,
  pieces: Iterable<string>,
  mayReplace?: (text: string) => boolean,
): Promise<void> {
  const path = resolve(current, written);
  const existing = targetOf(path, written, mayReplace);
  const target = existing?.path ?? path;
  // Its own name is short, so that it can be had wherever the other can.
  const beside = join(dirname(target), `.storypole-${randomUUID()}.tmp`);
  const settled = removedWhenCutOff(beside);
  try {
    await writeAt(beside, existing?.mode ?? 0o666, pieces);
    await rename(beside, target);
  } catch (error) {
    rmSync(beside, { force: true });
    throw new Stop(`${written} cannot be written: ${reasonOf(error)}.`);
  } finally {
    settled();
  }
}

export interface Replacement {
  readonly path: string;
  /** The path as people are shown it. */
  readonly shown: string;
  readonly text: string;
}

/**
 * Writes several files over older ones: first all of them beside where they go, then each into its place, so that
 * what cannot be written is known before anything is another. Links are followed. Throws Stop.
 */
export async function replaceAll(files: readonly Replacement[]): Promise<void> {
  const staged: { readonly beside: string; readonly target: string; readonly settled: () => void }[] = [];
  let shown = '';
  try {
    for (const file of files) {
      shown = file.shown;
      const existing = targetOf(file.path, file.shown, () => true);
      const target = existing?.path ?? file.path;
      const beside = join(dirname(target), `.storypole-${randomUUID()}.tmp`);
      staged.push({ beside, target, settled: removedWhenCutOff(beside) });
      await writeAt(beside, existing?.mode ?? 0o666, [file.text]);
    }
    for (const [i, { beside, target }] of staged.entries()) {
      shown = files[i]?.shown ?? '';
      await rename(beside, target);
    }
  } catch (error) {
    for (const { beside } of staged) rmSync(beside, { force: true });
    throw error instanceof Stop ? error : new Stop(`${shown} cannot be written: ${reasonOf(error)}.`);
  } finally {
    for (const { settled } of staged) settled();
  }
}

/**
 * Writes several files where none is, with their folders, all of them or none: each is whole before it has its
 * name, and a name that is taken, even meanwhile, is left to what has it. Throws Stop.
 * `giveName` gives a file a second name, as some disks cannot; there the files are written under their own names.
 */
export async function createAll(files: readonly Replacement[], giveName = link): Promise<void> {
  const folders: string[] = [];
  const staged: { readonly beside: string; readonly target: string; readonly settled: () => void }[] = [];
  const placed: { readonly target: string; readonly settled: () => void }[] = [];
  let shown = '';
  try {
    for (const { path, shown: name, text } of files) {
      shown = name;
      const first = await mkdir(dirname(path), { recursive: true });
      for (let made = dirname(path); first !== undefined && made.length >= first.length; made = dirname(made))
        folders.push(made);
      const beside = join(dirname(path), `.storypole-${randomUUID()}.tmp`);
      staged.push({ beside, target: path, settled: removedWhenCutOff(beside) });
      await writeAt(beside, 0o666, [text]);
    }
    for (const [i, { beside, target }] of staged.entries()) {
      shown = files[i]?.shown ?? '';
      // Unlike a renaming, a link takes nothing's place.
      const linked = await giveName(beside, target).then(
        () => true,
        // Whatever else stands in the way of a link will be met, and told, in the writing.
        (error: { code?: string }) => {
          if (error.code === 'EEXIST') throw error;
          return false;
        },
      );
      if (linked) placed.push({ target, settled: removedWhenCutOff(target) });
      else
        await writeAt(target, 0o666, [files[i]?.text ?? ''], () =>
          placed.push({ target, settled: removedWhenCutOff(target) }),
        );
    }
    for (const { beside } of staged) rmSync(beside, { force: true });
  } catch (error) {
    for (const { target } of placed) rmSync(target, { force: true });
    for (const { beside } of staged) rmSync(beside, { force: true });
    // The deepest first, and only those that we made and nobody has put anything in.
    for (const folder of folders.sort((a, b) => b.length - a.length)) removeEmpty(folder);
    if ((error as { code?: string }).code === 'EEXIST')
      throw new Stop(`${shown} is there already, so nothing was written.`);
    throw new Stop(`${shown} cannot be written: ${reasonOf(error)}.`);
  } finally {
    for (const { settled } of [...staged, ...placed]) settled();
  }
}

/** A folder that nobody has put anything in. */
export function removeEmpty(folder: string): void {
  try {
    rmdirSync(folder);
  } catch {
    // Somebody is using it.
  }
}

export type Piece = string | Uint8Array;

/** On the disk, and not merely on its way there, when it is done. `onMade` is told once there is a file, and it is ours. */
export async function writeAt(
  path: string,
  mode: number,
  pieces: Iterable<Piece> | AsyncIterable<Piece>,
  onMade?: () => void,
): Promise<void> {
  const file = await open(path, 'wx', mode);
  onMade?.();
  try {
    for await (const piece of pieces) await file.writeFile(piece);
    await file.sync();
  } finally {
    await file.close();
  }
}

const endings = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Files that are being written. The command takes them along when it is told to end. */
const unfinished = new Set<string>();

function removeUnfinished(): void {
  for (const path of unfinished) rmSync(path, { force: true });
}

function endUnfinished(signal: NodeJS.Signals): void {
  removeUnfinished();
  listenForEnd('off');
  // Ends as it would have without us, for whoever looks at how it ended.
  process.kill(process.pid, signal);
}

function listenForEnd(way: 'on' | 'off'): void {
  process[way]('exit', removeUnfinished);
  for (const signal of endings) process[way](signal, endUnfinished);
}

/** While a file is being written, the command takes it along when it is told to end. Answers what calls that off. */
export function removedWhenCutOff(path: string): () => void {
  if (unfinished.size === 0) listenForEnd('on');
  unfinished.add(path);
  return () => {
    if (unfinished.delete(path) && unfinished.size === 0) listenForEnd('off');
  };
}

/** What stands there already, where that may be replaced. */
function targetOf(
  path: string,
  written: string,
  mayReplace: ((text: string) => boolean) | undefined,
): { readonly path: string; readonly mode: number } | undefined {
  const real = realOf(path);
  if ((real ?? path).endsWith('.closet') && !mayReplace)
    throw new Stop(`${written} is a .closet file, and the output would take its place.`);
  if (real === undefined) return undefined;
  const stat = statSync(real);
  if (stat.isDirectory()) throw new Stop(`${written} is a folder; name a file to write to.`);
  if (!stat.isFile()) throw new Stop(`${written} is not an ordinary file; leave --output out and redirect instead.`);
  if (real.endsWith('.closet') && mayReplace && !mayReplace(readFileSync(real, 'utf8')))
    throw new Stop(`${written} holds more than stock, and would be lost; name a file of its own.`);
  return { path: real, mode: stat.mode & 0o777 };
}

/** The path with every link followed; undefined where nothing stands there. */
export function realOf(path: string): string | undefined {
  try {
    return realpathSync(path);
  } catch {
    return undefined;
  }
}

/** In words, after `cannot be written:`. */
export function reasonOf(error: unknown): string {
  const code = (error as { code?: string }).code ?? '';
  const known: Readonly<Record<string, string>> = {
    ENOENT: 'its folder is not there',
    ENOTDIR: 'a part of its path is not a folder',
    EACCES: 'there is no permission to',
    EPERM: 'there is no permission to',
    EROFS: 'it is on a disk that cannot be written to',
    ENOSPC: 'the disk is full',
    ENAMETOOLONG: 'its name is too long',
  };
  return known[code] ?? (error instanceof Error ? error.message : String(error));
}
