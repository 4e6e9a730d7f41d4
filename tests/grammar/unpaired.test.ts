/** While braces do not pair up, what the words say is asked of what is new, and the text is read as if it had been opened so. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Source, type TopWords } from '../../grammar/source.ts';
import { offsetOf, type Statement } from '../../grammar/tree.ts';
import { knowHead, topWords } from '../../server/model/vocabulary.ts';

/** One template of a hundred zones, no two heads alike but for what is in them. */
const long = `template long {
  wall back { length 2400in; height 96in }
${Array.from(
  { length: 100 },
  (_, i) => `  zone z${i} on back ${i > 0 ? `after z${i - 1} ` : ''}{
    width ${20 + (i % 9)}-1/2in
    shelf s${i} { at ${40 + i}in; load 20 lbf/ft2 }
    rod r${i} { under s${i} by 3in; for shirt }
  }
`,
).join('')}}
unit u long
`;

const heads = new Set(
  long
    .split(/[{};\n]/)
    .map((head) => head.trim())
    .filter((head) => head !== ''),
).size;

/** The words of the language, and how many heads were asked of. */
function counting(): { words: TopWords; asked: () => number } {
  let count = 0;
  const know: TopWords['know'] = (head, place) => {
    count++;
    return knowHead(head, place);
  };
  return {
    words: Object.assign(new Set(topWords), { know }),
    asked: () => {
      const sofar = count;
      count = 0;
      return sofar;
    },
  };
}

/** The text with a brace less, or one more, at some of its lines. */
const damaged: readonly (readonly [string, string])[] = (
  [
    ['near the top', 'zone z1 on back after z0 {'],
    ['in the middle', 'shelf s50 {'],
    ['near the end', 'rod r98 {'],
  ] as const
).flatMap(([where, line]) => [
  [`a { is missing ${where}`, long.replace(line, line.slice(0, -2))] as const,
  [`a { is one too many ${where}`, long.replace(line, `${line} {`)] as const,
  [`a } is one too many ${where}`, long.replace(line, `} ${line}`)] as const,
]);

describe.each(damaged)('where %s', (_, text) => {
  it('each head is asked of once, and with a key only what it changed', () => {
    const { words, asked } = counting();
    const source = new Source('a', text, words);
    // A head may be asked of as what it is where it stands, and as what stands around it.
    expect(asked()).toBeLessThan(2 * heads);
    const at = text.indexOf('in\n', text.length / 3);
    source.edit({ start: at, end: at, text: '7' });
    expect(asked()).toBeLessThan(4);
    source.edit({ start: at, end: at + 1, text: '' });
    expect(asked()).toBeLessThan(4);
  });
});

it('what the words say is not remembered of a text that is in order again', () => {
  const { words, asked } = counting();
  const source = new Source('a', long, words);
  expect(asked()).toBe(0);
  const at = long.indexOf('{', long.indexOf('zone z50'));
  source.edit({ start: at, end: at + 1, text: '' });
  const first = asked();
  source.edit({ start: at, end: at, text: '{' });
  expect(asked()).toBe(0);
  source.edit({ start: at, end: at + 1, text: '' });
  expect(asked()).toBe(first);
});

/** All that is known of a statement and of those in it. */
function shape(statement: Statement): unknown {
  const { text, head, block, problems } = statement;
  const inside = block && [block.open, block.close, block.children.map(shape)];
  return [offsetOf(statement), text, head, inside, problems];
}

it('a text that loses and gets braces is read as it is read afresh, whatever was edited before', () => {
  const text = `${long.slice(0, long.indexOf('  zone z6'))}}\nunit u long\n`;
  const edit = fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    cut: fc.nat(2),
    text: fc.constantFrom('', '', '{', '}', ' { ', '\n', '; ', '  ', 'shelf x { at 3in }', 'zone', '//', '"', '7'),
  });
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 10 }), (edits) => {
      const source = new Source('a', text, topWords);
      for (const { at, cut, text: written } of edits) {
        const signs = [...source.text.matchAll(/[{};\n]| \w/g)].map(({ index }) => index);
        const start = signs[Math.floor(at * (signs.length - 1))] ?? 0;
        source.edit({ start, end: start + cut, text: written });
        const afresh = new Source('a', source.text, topWords);
        expect([...source.statements()].map(shape)).toEqual([...afresh.statements()].map(shape));
      }
    }),
    { numRuns: 200 },
  );
});
