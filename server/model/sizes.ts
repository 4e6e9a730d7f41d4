/** Sizes of files as people read them. */
import { grouped } from './money.ts';

const MB = 1024 * 1024;

/** `16 MB`, `16.1 MB`: rounded up, so that what is more than a limit never looks like it. */
export function megabytes(bytes: number): string {
  const tenths = Math.ceil((bytes / MB) * 10);
  return `${grouped(Math.floor(tenths / 10))}${tenths % 10 === 0 ? '' : `.${tenths % 10}`} MB`;
}

/** `a.csv has 70.2 MB; 64 MB are the most that is read of such a file.` */
export function moreThanIsRead(name: string, bytes: number, most: number): string {
  return `${name} has ${megabytes(bytes)}; ${megabytes(most)} are the most that is read of such a file.`;
}
