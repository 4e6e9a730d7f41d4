/** Source files that a command has read and rewrites: each only where it is yet what was read, and within its project. */
import { readFileSync } from 'node:fs';
import { reason } from '../model/node-files.ts';
import { printable } from '../model/printable.ts';
import type { FileToWrite } from './file-to-write.ts';
import { Stop } from './stop.ts';
import { changedMeanwhile } from './target.ts';

/** The mark that some editors put before UTF-8: it is no part of the text, and stays. */
const byteOrderMark = '\uFEFF';

export interface Rewritten {
  readonly path: string;
  readonly shown: string;
  /** The folder of its project. */
  readonly within: string;
  /** What was read, and what is to be there instead; a mark in front left out. */
  readonly before: string;
  readonly after: string;
}

/** Throws Stop where the file cannot be read any more or is not what was read. */
export function rewriting({ path, shown, within, before, after }: Rewritten): FileToWrite {
  let now: Buffer;
  try {
    now = readFileSync(path);
  } catch (error) {
    throw new Stop(`${printable(shown)} cannot be read: ${reason(error)}. Nothing was written.`);
  }
  const mark = now.subarray(0, 3).equals(Buffer.from(byteOrderMark)) ? byteOrderMark : '';
  if (!now.equals(Buffer.from(mark + before))) throw changedMeanwhile(shown);
  return {
    path,
    shown,
    within,
    expected: now,
    over: () => undefined,
    pieces: [mark + after],
    taken: () => changedMeanwhile(shown),
  };
}
