/** `storypole flatten`: a file for `git diff`, each statement on a line of its own with what it stands in. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { conflictsIn } from '../../grammar/merge-markers.ts';
import { Source } from '../../grammar/source.ts';
import { reason } from '../model/node-files.ts';
import { topWords } from '../model/vocabulary.ts';
import { flattened } from '../sheets/compare/flatten.ts';
import type { Answer } from './answer.ts';
import { Stop } from './stop.ts';
import { printable } from './words.ts';

/** Throws Stop where the file cannot be read. What is no text is handed on as it is: git shows that it differs. */
export function flatten(path: string): Answer {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(resolve(path));
  } catch (error) {
    throw new Stop(`${path} cannot be read: ${reason(error)}.`);
  }
  const text = new TextDecoder().decode(bytes);
  const isText = !bytes.includes(0);
  // Both sides of a merge are no statements.
  const plain = !isText || conflictsIn(text).length > 0;
  return { status: 0, result: plain ? [text] : shown(flattened(new Source(path, text, topWords))) };
}

/** What git shows of it goes to a terminal. */
function* shown(lines: Iterable<string>): Generator<string> {
  for (const line of lines) yield printable(line);
}
