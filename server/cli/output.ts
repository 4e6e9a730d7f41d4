/** Where `--output` goes: a file that is whole or not written at all. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Pieces } from '../writing/file-to-write.ts';
import { writeFiles } from '../writing/write-files.ts';
import { Stop } from './stop.ts';
import { printable } from './words.ts';

/**
 * Writes a file, over an older one where there is one. A link is followed. A .closet file is somebody's work and not
 * written over, unless `mayReplace` says of its text that it may be. Throws Stop where it cannot be written.
 */
export async function writeOutput(
  written: string,
  current: string,
  pieces: Pieces,
  mayReplace?: (text: string) => boolean,
): Promise<void> {
  const shown = printable(written);
  const isNoCloset = (path: string): void => {
    if (path.endsWith('.closet') && !mayReplace)
      throw new Stop(`${shown} is a .closet file, and the output would take its place. Give another --output.`);
  };
  isNoCloset(written);
  await writeFiles([
    {
      path: resolve(current, written),
      shown: written,
      pieces,
      over: ({ path }) => {
        isNoCloset(path);
        if (path.endsWith('.closet') && mayReplace && !mayReplace(readFileSync(path, 'utf8')))
          throw new Stop(`${shown} holds more than stock, and would be lost; name a file of its own.`);
      },
      otherwise: { folder: '; name a file to write to', device: '; leave --output out and redirect instead' },
    },
  ]);
}
