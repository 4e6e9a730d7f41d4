/** Texts that a file no longer has are let go of, though much of them stands in the file as it did. */
import { describe, expect, it } from 'vitest';
import { Source } from '../../grammar/source.ts';
import type { Statement } from '../../grammar/tree.ts';
import { heapInUse } from '../memory.ts';

const topWords = new Set(['template', 'unit']);
const times = 200;
/** Longer than what the engine copies when it is cut out. */
const longName = 'at-the-end-of-the-corridor';

/** `times` lines of some 60 characters, the one at `at` as of another version; with long names, or quoted texts. */
function linesOf(line: (i: number, version: number) => string, at: number, version: number): string {
  return Array.from({ length: times }, (_, i) => line(i, i <= at ? version : 0)).join('\n');
}

const texts: readonly (readonly [what: string, (at: number) => string])[] = [
  [
    'its units',
    (at) =>
      linesOf((i, v) => `unit ${longName}-${i} alcove { width ${60 + v}in; label "Flat ${i}, the bedroom" }`, at, 1),
  ],
  [
    'the lines of a template',
    (at) =>
      `template t {\n${linesOf((i, v) => `  shelf ${longName}-${i} { at ${40 + v}in; label "Shelf ${i}" }`, at, 1)}\n}\n`,
  ],
  [
    'what stands in the zones of a template',
    (at) =>
      `template t {\n${linesOf((i, v) => `  zone ${longName}-${i} on back {\n    /// Of ${v}\n    width ${40 + v}in\n    board "oak with a long grain"\n  }`, at, 1)}\n}\n`,
  ],
];

describe.each(texts)('a file in which %s change one by one', (_, textOf) => {
  const edits: readonly (readonly [how: string, (source: Source, before: string, after: string) => void])[] = [
    ['typed', (source, before, after) => source.edit(difference(before, after))],
    ['replaced as a whole', (source, before, after) => source.edit({ start: 0, end: before.length, text: after })],
  ];
  it.each(edits)('%s, takes no more than one that is read in the end', (_, edit) => {
    const changed = (): Source => {
      const source = new Source('a.closet', own(textOf(-1)), topWords);
      for (let i = 0; i < times; i++) edit(source, source.text, own(textOf(i)));
      return source;
    };
    // What the engine keeps of having done it at all comes with the first time.
    changed();
    const bare = heapInUse();
    const source = changed();
    const edited = heapInUse() - bare;
    const last = own(textOf(times - 1));
    expect(source.text).toBe(last);
    const cold = new Source('a.closet', last, topWords);
    const read = heapInUse() - bare - edited;
    expect(statementsOf(source)).toBe(statementsOf(cold));
    // A version of the text takes more than 10 kB, and there were 200 of them.
    expect(textOf(0).length).toBeGreaterThan(10_000);
    expect(edited - read).toBeLessThan(200_000);
  });
});

/** As it comes from a disk or from a client: a string that shares no characters with another. */
function own(text: string): string {
  return Buffer.from(text).toString();
}

function difference(before: string, after: string): { start: number; end: number; text: string } {
  let start = 0;
  while (start < after.length && before[start] === after[start]) start++;
  let back = 0;
  const shorter = Math.min(before.length, after.length) - start;
  while (back < shorter && before.at(-1 - back) === after.at(-1 - back)) back++;
  return { start, end: before.length - back, text: after.slice(start, after.length - back) };
}

function statementsOf(source: Source): number {
  const count = (s: Statement): number => 1 + (s.block?.children ?? []).reduce((all, one) => all + count(one), 0);
  return [...source.statements()].reduce((all, one) => all + count(one), 0);
}
