/** The outline of a file: declarations, and the things in them. */
import { offsetOf, type Range, sliceOf } from '../../grammar/tree.ts';
import { nameIn, type Reading, readingAt } from '../model/reading.ts';
import type { Snapshot } from './snapshot.ts';

export interface Outlined extends Range {
  readonly word: string;
  readonly name: string;
  /** What its head says beside the name: `fixture outlet on back`. */
  readonly detail: string;
  readonly head: string;
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
function symbolOf(reading: Reading, base: number): Outlined {
  const { statement, word, children } = reading;
  const named = calledIn(reading);
  const selection = named ?? statement.word;
  return {
    word,
    name: sliceOf(statement, selection),
    detail: named ? besides(reading, named) : '',
    head: sliceOf(statement, statement.head),
    start: base,
    end: base + statement.text.length,
    selection: { start: base + selection.start, end: base + selection.end },
    children: children.filter((c) => isThing(c)).map((c) => symbolOf(c, base + c.statement.offset)),
  };
}

/** Its name, which may stand behind a kind; what else stands first in its head where it has none. */
function calledIn(reading: Reading): Range | undefined {
  const [first, second] = reading.statement.items;
  // A corner is that of both walls.
  if (reading.word === 'corner' && first && second) return { start: first.start, end: second.end };
  return (isThing(reading) && nameIn(reading)) || first;
}

/** The head without the name that stands in it. */
function besides({ statement, word }: Reading, named: Range): string {
  const before = statement.text.slice(statement.word.end, named.start).trim();
  // A colon touches the name: `parameter: length`.
  const behind = statement.text.slice(named.end, statement.head.end).trimEnd();
  return `${before === '' ? word : `${word} ${before}`}${behind}`;
}

/** A property has no place in an outline: `depth 12in`. */
function isThing({ entry }: Reading): boolean {
  return entry.block !== undefined || entry.word === 'parameter';
}
