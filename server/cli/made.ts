/**
 * Files that this tool makes for people, written all or none. What is there already is written over only where its
 * mark says that we made it, or where that was asked for.
 */
import { closeSync, openSync, readSync, statSync } from 'node:fs';
import { extname } from 'node:path';
import { madeBy, producer } from '../sheets/mark.ts';
import { noMoreThan, TooMuch } from '../sheets/too-much.ts';
import type { FileToWrite, Piece, Pieces } from '../writing/file-to-write.ts';
import { writeFiles } from '../writing/write-files.ts';
import { Stop } from './stop.ts';
import { tool } from './tool.ts';
import { printable } from './words.ts';

export type MadeFile = {
  /** As people are shown it; from the current folder where it is not absolute. */
  readonly path: string;
} & ({ readonly bytes: Piece } | { readonly stream: Pieces });

export interface Delivering {
  /** Write over files that are not ours, too. */
  readonly replace?: boolean | undefined;
}

/**
 * Writes them, with their folders, one after the other as they come: all or none. `instead` is a sentence on what to ask
 * for where it comes to more files, or larger ones, than are made. Answers how many there are. Throws
 * Stop, with the file and what to do.
 */
export async function deliverFiles(
  files: Iterable<MadeFile> | AsyncIterable<MadeFile>,
  { replace = false }: Delivering = {},
  instead?: string,
): Promise<number> {
  async function* toWrite(): AsyncGenerator<FileToWrite> {
    for await (const file of upTo(files)) yield writing(file, replace);
  }
  return (await orStop(writeFiles(toWrite()), instead)).count;
}

/** As they come, and no more than one run makes. */
export async function* upTo<T>(files: Iterable<T> | AsyncIterable<T>): AsyncGenerator<T> {
  let count = 0;
  for await (const file of files) {
    noMoreThan('mostMade', ++count, (_, most) => ({
      what: `This comes to more than ${most} files, the most that one run makes.`,
    }));
    yield file;
  }
}

/** What would come to more than is made stops a command, and leaves all files as they were. */
export async function orStop<T>(made: Promise<T>, instead: string | undefined): Promise<T> {
  try {
    return await made;
  } catch (error) {
    if (error instanceof TooMuch)
      throw new Stop(
        `${printable(error.message)}${error.isMended || instead === undefined ? '' : ` ${instead}`} Nothing was written.`,
      );
    throw error;
  }
}

function writing(file: MadeFile, replace: boolean): FileToWrite {
  const { path } = file;
  // Who made a table is told by its first line, which is known once the new one is there.
  const isTable = extname(path) === '.csv';
  isNoCloset(path, path);
  return {
    path,
    shown: path,
    pieces: 'bytes' in file ? [file.bytes] : file.stream,
    makesFolder: true,
    over: (there) => {
      isNoCloset(there.path, path);
      if (!replace && !isTable && !isOurs(there.path)) throw notOurs(path);
    },
    overBy: (there, beside) => {
      if (!replace && isTable && firstLine(there.path) !== firstLine(beside)) throw notOurs(path);
    },
    otherwise: { folder: '; give another --out', device: '; give another --out' },
    taken: () => notOurs(path),
  };
}

function isNoCloset(path: string, shown: string): void {
  if (path.endsWith('.closet'))
    throw new Stop(`${printable(shown)} is a .closet file, and the output would take its place. Give another --out.`);
}

function notOurs(shown: string): Stop {
  return new Stop(
    `${printable(shown)} is there and was not made by this command, so nothing was written. --replace writes over it; another --out leaves it.`,
  );
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
