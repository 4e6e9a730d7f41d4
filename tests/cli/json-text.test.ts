/** JSON in pieces says what JSON in one piece says. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { each, jsonPieces } from '../../server/cli/json-text.ts';

const written = (value: object): string => [...jsonPieces(value)].join('');

it('puts each item of a list that is made late on a line of its own', () => {
  expect(written({ version: 1, units: each(['a', 'b'], (name) => ({ name, parts: [1, 2] })), totals: [] })).toBe(
    '{"version":1,"units":[\n{"name":"a","parts":[1,2]},\n{"name":"b","parts":[1,2]}\n],"totals":[]}',
  );
  expect(written({ units: each([], () => ({})) })).toBe('{"units":[]}');
});

it('makes an item when it is its turn, and not before', () => {
  const made: number[] = [];
  const pieces = jsonPieces({
    units: each([1, 2, 3], (unit) => {
      made.push(unit);
      return { unit };
    }),
  });
  const seen = (text: string): void => {
    for (let piece = ''; piece !== text; ) {
      const next = pieces.next();
      if (next.done) throw new Error(`${text} is never written`);
      piece = next.value;
    }
  };
  seen('{"unit":1}');
  expect(made).toEqual([1]);
  seen('{"unit":2}');
  expect(made).toEqual([1, 2]);
});

/** A report twice: with lists, and with the same lists made late. */
interface Report {
  readonly whole: object;
  readonly late: () => object;
}

const plainObject = fc.dictionary(fc.string(), fc.jsonValue({ maxDepth: 1 }), { maxKeys: 4 });

const { report } = fc.letrec<{ report: Report; list: Report[] }>((tie) => ({
  list: fc.array(tie('report'), { maxLength: 3 }),
  report: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    plainObject.map((plain): Report => ({ whole: plain, late: () => plain })),
    fc.tuple(plainObject, fc.dictionary(fc.string(), tie('list'), { maxKeys: 3 })).map(([plain, lists]): Report => {
      const withLists = (list: (reports: readonly Report[]) => unknown): object => ({
        ...plain,
        ...Object.fromEntries(Object.entries(lists).map(([name, reports]) => [name, list(reports)])),
      });
      return {
        whole: withLists((reports) => reports.map(({ whole }) => whole)),
        late: () => withLists((reports) => each(reports, ({ late }) => late())),
      };
    }),
  ),
}));

it('is JSON.stringify but for the line ends', () => {
  fc.assert(
    fc.property(report, ({ whole, late }) => {
      const text = written(late());
      // A line end inside a string is written as \n, so that those that stand there are all between items.
      expect(text.replaceAll('\n', '')).toBe(JSON.stringify(whole));
      expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(whole)));
    }),
  );
});
