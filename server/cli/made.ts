/**
 * Files that this tool makes for people, written all or none. What is there already is written over only where its
 * mark says that we made it, or where that was asked for.
 */
import { randomUUID } from 'node:crypto';
import {
  closeSync,
  copyFileSync,
  linkSync,
  lstatSync,
  openSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname, extname, join, resolve } from 'node:path';
import { madeBy, producer } from '../sheets/mark.ts';
import { type Piece, realOf, reasonOf, removedWhenCutOff, removeEmpty, writeAt } from './output.ts';
import { Stop } from './stop.ts';
import { tool } from './tool.ts';
import { printable } from './words.ts';

export type MadeFile = {
  /** As people are shown it; from the current folder where it is not absolute. */
  readonly path: string;
} & ({ readonly bytes: Piece } | { readonly stream: Iterable<Piece> | AsyncIterable<Piece> });

export interface Delivering {
  /** Write over files that are not ours, too. */
  readonly replace?: boolean | undefined;
}

interface Staged {
  readonly shown: string;
  readonly beside: string;
  readonly target: string;
  /** Something stands there, and is to be replaced. */
  readonly isThere: boolean;
  readonly settled: () => void;
}

/**
 * Writes them, with their folders, one after the other as they come: each whole beside where it goes, and once all are,
 * each into its place. Where one cannot be written none is, and what was there is there still. Answers how many there
 * are. Throws Stop, with the file and what to do.
 */
export async function deliverFiles(
  files: Iterable<MadeFile> | AsyncIterable<MadeFile>,
  { replace = false }: Delivering = {},
): Promise<number> {
  const folders: string[] = [];
  const staged: Staged[] = [];
  let shown = '';
  try {
    for await (const file of files) {
      shown = file.path;
      const path = resolve(file.path);
      const there = thereAt(path, shown);
      // Who made a table is told by its first line, which is known once the new one is there.
      if (there && !replace && extname(path) !== '.csv' && !isOurs(there.path)) throw notOurs(shown);
      await makeFolder(dirname(path), folders);
      const target = there?.path ?? path;
      const beside = join(dirname(target), `.storypole-${randomUUID()}.tmp`);
      staged.push({ shown, beside, target, isThere: there !== undefined, settled: removedWhenCutOff(beside) });
      await writeAt(beside, there?.mode ?? 0o666, 'bytes' in file ? [file.bytes] : file.stream);
      if (there && !replace && extname(path) === '.csv' && firstLine(there.path) !== firstLine(beside))
        throw notOurs(shown);
    }
  } catch (error) {
    for (const { beside } of staged) rmSync(beside, { force: true });
    removeFolders(folders);
    for (const { settled } of staged) settled();
    throw told(error, shown);
  }
  try {
    putInPlace(staged);
  } catch (error) {
    removeFolders(folders);
    throw error;
  } finally {
    for (const { settled } of staged) settled();
  }
  return staged.length;
}

/** Not cut off by a signal: it is done in one go. */
function putInPlace(staged: readonly Staged[]): void {
  const undo: (() => void)[] = [];
  const kept: string[] = [];
  let shown = '';
  try {
    for (const one of staged) {
      shown = one.shown;
      if (one.isThere) {
        const old = join(dirname(one.target), `.storypole-${randomUUID()}.tmp`);
        keep(one.target, old);
        kept.push(old);
        undo.push(() => renameSync(old, one.target));
        renameSync(one.beside, one.target);
      } else {
        create(one.beside, one.target);
        undo.push(() => rmSync(one.target, { force: true }));
      }
    }
  } catch (error) {
    for (const back of undo.reverse()) quietly(back);
    throw told(error, shown);
  } finally {
    for (const path of [...kept, ...staged.map(({ beside }) => beside)]) quietly(() => rmSync(path, { force: true }));
  }
}

/** Unlike a renaming, a link takes nothing's place; some disks know none. */
function create(beside: string, target: string): void {
  try {
    linkSync(beside, target);
  } catch (error) {
    if (!knowsNoLinks(error)) throw error;
    if (lstatSync(target, { throwIfNoEntry: false })) throw Object.assign(new Error('taken'), { code: 'EEXIST' });
    renameSync(beside, target);
  }
}

function keep(target: string, old: string): void {
  try {
    linkSync(target, old);
  } catch (error) {
    if (!knowsNoLinks(error)) throw error;
    copyFileSync(target, old);
  }
}

function knowsNoLinks(error: unknown): boolean {
  return ['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes((error as { code?: string }).code ?? '');
}

function quietly(act: () => void): void {
  try {
    act();
  } catch {
    // The reason why this is undone is what is told.
  }
}

function told(error: unknown, shown: string): unknown {
  if (error instanceof Stop) return error;
  const { code } = error as { code?: string };
  // Only what the system said is about the file; the rest is a mistake of ours.
  if (code === undefined) return error;
  if (code === 'EEXIST') return notOurs(shown);
  return new Stop(`${printable(shown)} cannot be written: ${reasonOf(error)}. Nothing was written.`);
}

async function makeFolder(folder: string, made: string[]): Promise<void> {
  const first = await mkdir(folder, { recursive: true }).catch(async (error: NodeJS.ErrnoException) => {
    // A file stands where a folder is wanted, which this system calls by the same name as a file that is there.
    if (error.code === 'EEXIST') throw Object.assign(error, { code: 'ENOTDIR' });
    // On a disk that cannot be written to it only says that there is none, and why not when the first one is made alone.
    if (error.code === 'ENOENT') await mkdir(firstMissing(folder));
    throw error;
  });
  for (let path = folder; first !== undefined && path.length >= first.length; path = dirname(path)) made.push(path);
}

function firstMissing(folder: string): string {
  const above = dirname(folder);
  return above === folder || statSync(above, { throwIfNoEntry: false }) ? folder : firstMissing(above);
}

/** The deepest first. */
function removeFolders(folders: readonly string[]): void {
  for (const folder of folders.toSorted((a, b) => b.length - a.length)) removeEmpty(folder);
}

function notOurs(shown: string): Stop {
  return new Stop(
    `${printable(shown)} is there and was not made by this command, so nothing was written. --replace writes over it; another --out leaves it.`,
  );
}

/** What stands there, links followed; undefined where nothing does. Throws Stop where it may never be written over. */
function thereAt(path: string, shown: string): { readonly path: string; readonly mode: number } | undefined {
  const real = realOf(path);
  if ((real ?? path).endsWith('.closet'))
    throw new Stop(`${printable(shown)} is a .closet file, and the output would take its place.`);
  if (real === undefined) return undefined;
  const stat = statSync(real);
  if (stat.isDirectory()) throw new Stop(`${printable(shown)} is a folder; give another --out.`);
  if (!stat.isFile()) throw new Stop(`${printable(shown)} is not an ordinary file; give another --out.`);
  return { path: real, mode: stat.mode & 0o777 };
}

/** By the mark that each kind of file carries; other kinds are never ours. */
export function isOurs(path: string): boolean {
  try {
    switch (extname(path).toLowerCase()) {
      case '.svg':
        return startOf(path).includes(`<!-- ${madeBy}`);
      case '.dxf':
        return /^\s*999\r?\n/.test(startOf(path)) && startOf(path).includes(madeBy);
      case '.html':
        return startOf(path).includes(`<meta name="generator" content="${producer}`);
      case '.json':
        return /^\s*\{\s*"version":\s*\d+,\s*"tool":\s*\{\s*"name":\s*"/.test(startOf(path))
          ? startOf(path).includes(`"${tool.name}"`)
          : false;
      case '.xlsx':
        return endOf(path).endsWith(madeBy);
      case '.pdf':
        return startOf(path).includes(`% ${madeBy}`) || holds(path, `/Producer (${producer}`);
      default:
        return false;
    }
  } catch {
    return false;
  }
}

/** Bytes that are looked at for a mark at the start or the end of a file. */
const glance = 4096;

/** Bytes as letters, each as one: marks are ASCII. */
function startOf(path: string, size = glance): string {
  return portion(path, 0, size);
}

function endOf(path: string): string {
  return portion(path, Math.max(0, statSync(path).size - glance), glance);
}

function firstLine(path: string): string {
  return startOf(path).split(/\r?\n/, 1)[0] ?? '';
}

function portion(path: string, from: number, size: number): string {
  const file = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(size);
    return bytes.toString('latin1', 0, readSync(file, bytes, 0, size, from));
  } finally {
    closeSync(file);
  }
}

/** Anywhere in a file, which is read a piece at a time: a PDF says who made it wherever its writer got to it. */
function holds(path: string, mark: string): boolean {
  const file = openSync(path, 'r');
  try {
    const size = 1 << 20;
    const bytes = Buffer.alloc(size);
    for (let from = 0; ; from += size - mark.length) {
      const read = readSync(file, bytes, 0, size, from);
      if (bytes.subarray(0, read).includes(mark, 0, 'latin1')) return true;
      if (read < size) return false;
    }
  } finally {
    closeSync(file);
  }
}
