/** A file that somebody named, read where it is no larger than is taken on. */
import { readFileSync, statSync } from 'node:fs';
import { reason } from '../model/node-files.ts';
import { moreThanIsRead } from '../model/sizes.ts';
import { Stop } from './stop.ts';

/** Its size is looked at before it is read. Throws Stop where it cannot be read or is larger than `most` bytes. */
export function wholeOf(file: string, written: string, most: number): Buffer {
  try {
    const { size } = statSync(file);
    if (size > most) throw new Stop(moreThanIsRead(written, size, most));
    const bytes = readFileSync(file);
    // What is no plain file, such as a pipe, has no size to be looked at.
    if (bytes.length > most) throw new Stop(moreThanIsRead(written, bytes.length, most));
    return bytes;
  } catch (error) {
    if (error instanceof Stop) throw error;
    throw new Stop(`${written} cannot be read: ${reason(error)}.`);
  }
}
