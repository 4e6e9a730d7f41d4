/** The outline of a file: declarations, and the things in them. */
import { offsetOf, type Range } from '../../grammar/tree.ts';
import { type Reading, readingAt } from '../model/reading.ts';
import type { Snapshot } from './snapshot.ts';

export interface Outlined extends Range {
  readonly word: string;
  readonly name: string;
  readonly detail: string;
  readonly selection: Range;
  readonly children: readonly Outlined[];
}

export function symbolsOf({ source }: Snapshot): Outlined[] {
  const symbols: Outlined[] = [];
  for (const statement of source.statements()) {
    const reading = readingAt(statement, 'file');
    if (reading) symbols.push(symbolOf(reading, offsetOf(statement)));
  }
  return symbols;
}

/** `base` is the absolute offset of its statement. */
function symbolOf({ statement, word, children }: Reading, base: number): Outlined {
  const words = statement.text.slice(statement.word.end, statement.head.end).trim();
  const first = statement.items[0];
  const name = first && statement.text.slice(first.start, first.end);
  const selection = first ?? statement.word;
  return {
    word,
    name: name ?? word,
    detail: name === undefined ? '' : `${word}${words.slice(name.length)}`,
    start: base,
    end: base + statement.text.length,
    selection: { start: base + selection.start, end: base + selection.end },
    children: children.filter((c) => isThing(c)).map((c) => symbolOf(c, base + c.statement.offset)),
  };
}

/** A property has no place in an outline: `depth 12in`. */
function isThing({ entry }: Reading): boolean {
  return entry.block !== undefined || entry.word === 'parameter';
}
