/** A file in the one style: in part, and a little at a time while it is typed. `|` is the cursor. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withEdits } from '../../grammar/format.ts';
import {
  formattingEdits,
  rangeFormattingEdits,
  typedCharacters,
  typedEdits,
} from '../../server/language/formatting.ts';
import { anySoup } from '../grammar/texts.ts';
import { cursor, snapshotOf } from './marked.ts';

/** The text after `typed` has been typed, which stands in front of the cursor. */
function after(typed: string, marked: string): string {
  const { snapshot, at, text } = cursor(marked);
  return withEdits(text, typedEdits(snapshot, at, typed));
}

describe('formatting a file', () => {
  it('answers edits of what differs', () => {
    const snapshot = snapshotOf('unit  a b\nunit c d\n');
    expect(formattingEdits(snapshot)).toEqual([{ start: 5, end: 6, text: '' }]);
  });
});

describe('formatting a selection', () => {
  const text = 'template a {\n    board  b\n    pole  c\n    depth  d\n}\n';
  const within = (start: number, end: number): string =>
    withEdits(text, rangeFormattingEdits(snapshotOf(text), [{ start, end }]));
  const line = (n: number): number => text.split('\n').slice(0, n).join('\n').length + 1;
  const changed = 'template a {\n    board  b\n  pole c\n    depth  d\n}\n';

  it('lays out the whole line that the cursor is on', () => expect(within(line(2) + 6, line(2) + 6)).toBe(changed));
  it('does not reach into a line at whose beginning it ends', () => expect(within(line(2), line(3))).toBe(changed));
  it('takes its ends in either order', () => expect(within(line(3), line(2))).toBe(changed));
  it('past the end of the file changes nothing', () => expect(within(999, 1000)).toBe(text));
});

describe('formatting a selection behind a comment that is not closed', () => {
  it('does not close it', () => {
    const open = '/*\nunit{}\ni{/*/*/*}';
    expect(rangeFormattingEdits(snapshotOf(open), [{ start: open.length, end: open.length }])).toEqual([]);
    const whole = 'unit{}\ni{/* */}';
    expect(withEdits(whole, rangeFormattingEdits(snapshotOf(whole), [{ start: 8, end: 8 }]))).toBe(
      'unit{}\ni { /* */ }\n',
    );
  });
});

describe('behind a line end in a block that lacks its braces', () => {
  it('the next line goes on where the one above stands', () => {
    const text = 'template t\n  board oak\n  |';
    expect(after('\n', text)).toBe(text.replace('|', ''));
    expect(after('\n', 'template t\n  board oak\n|')).toBe(text.replace('|', ''));
  });
});

describe('behind a }', () => {
  it('the block that it closes is laid out, and nothing else', () =>
    expect(after('}', 'board  x\n  zone a{\nwidth  3in\nrod b{ at  4in}\n}|\nboard  y\n')).toBe(
      'board  x\nzone a {\n  width 3in\n  rod b { at 4in }\n}\nboard  y\n',
    ));
  it('an inner block is laid out alone', () =>
    expect(after('}', 'zone  a {\nwidth  3in\nrod b{at 4in}|\n}\n')).toBe(
      'zone  a {\nwidth  3in\n  rod b { at 4in }\n}\n',
    ));
  it('nothing is where it closes nothing', () => {
    for (const text of ['a  b\n}|\n', 'a  // }|\n', 'a  "}|"\n']) expect(after('}', text)).toBe(text.replace('|', ''));
  });
});

describe('behind a ;', () => {
  it('the statements in front of it are spaced, and it stays', () => {
    expect(after(';', 'rod  a{at  3in ;|}\n')).toBe('rod a { at 3in ;}\n');
    expect(after(';', 'zone a {\nwidth  3in;|\n}\n')).toBe('zone a {\n  width 3in;\n}\n');
  });
  it('a line is not split', () => {
    const long = `unit a b { c ${'x'.repeat(120)};|}\n`;
    expect(after(';', long)).toBe(long.replace('|', ''));
  });
});

describe('behind a line end', () => {
  it('the new line is indented by a level more than its block', () => {
    expect(after('\n', 'zone a {\n|\n}\n')).toBe('zone a {\n  \n}\n');
    expect(after('\n', 'zone a {\n  rod b {\n|\n  }\n}\n')).toBe('zone a {\n  rod b {\n    \n  }\n}\n');
    expect(after('\n', 'zone a {\n  width 3in\n      |\n}\n')).toBe('zone a {\n  width 3in\n  \n}\n');
    expect(after('\n', 'zone a {\n}\n    |\n')).toBe('zone a {\n}\n\n');
  });
  it('a closing brace is on the level of its block', () =>
    expect(after('\n', 'zone a {\n  rod b {\n    |}\n}\n')).toBe('zone a {\n  rod b {\n  }\n}\n'));
  it('the line above is spaced', () =>
    expect(after('\n', 'zone a {\n    width   3in ;\n  |\n}\n')).toBe('zone a {\n  width 3in ;\n  \n}\n'));
  it('of a block that is not closed yet the line above tells how deep it is', () => {
    expect(after('\n', 'template a {\n  zone b { // c\n|')).toBe('template a {\n  zone b { // c\n    ');
    expect(after('\n', 'template a {\n  zone b {\n    width 3in\n|')).toBe(
      'template a {\n  zone b {\n    width 3in\n    ',
    );
    expect(after('\n', 'template a {\n  zone b {\n    width 3in\n    |}')).toBe(
      'template a {\n  zone b {\n    width 3in\n  }',
    );
  });
  it('what begins a declaration that is not closed yet stays in the first column', () => {
    expect(after('\n', '  // b\n|unit c a {\n')).toBe('// b\nunit c a {\n');
    expect(after('\n', '  // b\n|/// c\nunit d a {\n')).toBe('// b\n/// c\nunit d a {\n');
  });
  it('nothing is in a comment', () => {
    const text = 'zone a {\n/* b\n|\n c */\n}\n';
    expect(after('\n', text)).toBe(text.replace('|', ''));
  });
  it('at the beginning of the file is nothing', () => expect(after('\n', '|unit  a b\n')).toBe('unit  a b\n'));
});

describe('laws', () => {
  it('typing keeps everything that is no space, and nothing behind the cursor moves', () => {
    fc.assert(
      fc.property(anySoup, fc.nat(), fc.constantFrom(...typedCharacters), (soup, n, typed) => {
        const at = n % (soup.length + 1);
        const text = soup.slice(0, at) + typed + soup.slice(at);
        const offset = at + 1;
        const edits = typedEdits(snapshotOf(text), offset, typed);
        const result = withEdits(text, edits);
        expect(result.replace(/[\s;\uFEFF]/g, '')).toBe(text.replace(/[\s;\uFEFF]/g, ''));
        if (typed !== '\n') for (const { end } of edits) expect(end).toBeLessThanOrEqual(offset);
      }),
      { numRuns: 300 },
    );
  });
});

describe('behind the end of a line, documentation of nothing', () => {
  it('does not come to document what follows', () =>
    expect(after('\n', '\n| ///\nhardware a\n')).toBe('\n ///\nhardware a\n'));
  it('stays with what it documents', () =>
    expect(after('\n', ' ///\n///\n| policy a\n')).toBe(' ///\n///\n policy a\n'));
  it('is laid out in a block', () =>
    expect(after('\n', 'zone a {\n|/// why\n  width 3in\n}\n')).toBe('zone a {\n  /// why\n  width 3in\n}\n'));
});
