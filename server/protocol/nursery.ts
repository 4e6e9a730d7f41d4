/**
 * Memory of a server that may be open all day. Most of what is made while a project is read stays, and what an edit
 * makes is little: a large young generation of the heap only takes room. Measured by tests/bench/editor.ts: 104 instead
 * of 129 MB at 10,000 lines, 187 instead of 263 MB at 50,000, and reading takes 5 % longer.
 */
import { setFlagsFromString } from 'node:v8';

/** Keeps the young generation as small as it begins. Where the engine has no such setting, nothing happens. */
export function keepNurserySmall(): void {
  setFlagsFromString('--semi-space-growth-factor=1');
}
