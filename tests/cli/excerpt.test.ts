/** A line and the place meant in it, in a terminal of so many columns: what is printed. */
import fc from 'fast-check';
import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { columnsFor } from '../../server/cli/columns.ts';
import { excerptOf, narrowest } from '../../server/cli/excerpt.ts';
import { grouped } from '../../server/cli/words.ts';

/** `|` marks the two ends of the place, or one mark an empty place. The two lines, one below the other. */
function printed(marked: string, width: number): string[] {
  const [before = '', place = '', after] = marked.split('|');
  const line = after === undefined ? before + place : before + place + after;
  const end = after === undefined ? before.length : before.length + place.length;
  const { line: shown, carets } = excerptOf(line, before.length, end, { width, columnsOf: stringWidth });
  return [shown, carets];
}

describe('a line that fits', () => {
  it.each([
    ['a word', 'shelf |top| { at 72in }', ['shelf top { at 72in }', '      ^^^']],
    ['an empty place', 'at 72in| }', ['at 72in }', '       ^']],
    ['the end of the line', 'at 72in|', ['at 72in', '       ^']],
    ['an empty line', '|', ['', '^']],
    ['the whole line', '|rod|', ['rod', '^^^']],
    ['tabs before it go to the next fourth column', '\ta\t|top|', ['    a   top', '        ^^^']],
    ['a tab is meant', 'a|\t|b', ['a   b', ' ^^^']],
    ['an empty place before a tab', 'a|\tb', ['a   b', ' ^']],
    ['wide characters before it', '木木 |top|', ['木木 top', '     ^^^']],
    ['a wide character is meant', 'a |木| b', ['a 木 b', '  ^^']],
    ['an empty place before a wide character', 'a |木', ['a 木', '  ^']],
    ['an accent that is a character of its own', 'cafe\u0301 |top|', ['cafe\u0301 top', '     ^^^']],
    ['several code points that are one sign', '👩‍👧 |top|', ['👩‍👧 top', '   ^^^']],
    ['the middle of a sign', '👩‍|👧| b', ['👩‍👧 b', '^^']],
    ['what would steer the terminal', '\u001b|top|', ['\ufffdtop', ' ^^^']],
    ['blanks at the end are not printed', 'top| |', ['top', '   ^']],
  ])('%s', (_, marked, lines) => expect(printed(marked, 40)).toEqual(lines));
});

describe('a line that does not fit', () => {
  const digits = '0123456789012345678901234567890123456789';
  const mark = (start: number, end: number): string =>
    `${digits.slice(0, start)}|${digits.slice(start, end)}|${digits.slice(end)}`;
  it.each([
    ['at its start', mark(0, 3), ['012345678901234567…', '^^^']],
    // 20 columns less the two for …: a third of 18 before the place.
    ['in its middle', mark(20, 22), ['…456789012345678901…', '       ^^']],
    ['at its end', mark(38, 40), ['…234567890123456789', '                 ^^']],
    ['past its end', `${digits}|`, ['…34567890123456789', '                  ^']],
    ['a place that is wider than the terminal', mark(10, 40), ['…456789012345678901…', '       ^^^^^^^^^^^^']],
  ])('%s', (_, marked, lines) => expect(printed(marked, 20)).toEqual(lines));

  it('the end of a line that is just as wide', () => {
    expect(printed('0123456789|', 10)).toEqual(['…3456789', '        ^']);
    expect(printed('012345678|', 10)).toEqual(['012345678', '         ^']);
    expect(printed('012345678|9|', 10)).toEqual(['0123456789', '         ^']);
  });
  it('a wide character that would stick out', () => {
    expect(printed(`${'木'.repeat(10)}|木|`, 9)).toEqual(['…木木木', '     ^^']);
    expect(printed(`|木|${'木'.repeat(10)}`, 8)).toEqual(['木木木…', '^^']);
  });
});

describe('law', () => {
  const signs = ['a', ' ', '\t', '木', 'é', 'e\u0301', '👩‍👧', '\u0007', '\u200b', '…', '|'];
  const place = fc
    .record({
      signs: fc.array(fc.constantFrom(...signs), { maxLength: 60 }),
      from: fc.nat({ max: 60 }),
      many: fc.nat({ max: 60 }),
      width: fc.integer({ min: 0, max: 50 }),
    })
    .map(({ signs: all, from, many, width }) => {
      const before = all.slice(0, from).join('');
      return {
        line: all.join(''),
        start: before.length,
        end: before.length + all.slice(from, from + many).join('').length,
        width,
      };
    });

  it('neither line is wider than the terminal', () => {
    fc.assert(
      fc.property(place, ({ line, start, end, width }) => {
        const shown = excerptOf(line, start, end, { width, columnsOf: stringWidth });
        const most = Math.max(narrowest, width);
        expect(stringWidth(shown.line)).toBeLessThanOrEqual(most);
        expect(shown.carets.length).toBeLessThanOrEqual(most);
        expect(shown.carets).toMatch(/^ *\^+$/);
      }),
      { numRuns: 1000 },
    );
  });

  it('the first caret is under the character that is meant', () => {
    fc.assert(
      fc.property(place, ({ line, start, width }) => {
        // The character is replaced by one that stands nowhere else, as wide as itself is of no matter.
        const marked = `${line.slice(0, start)}X${line.slice(start)}`;
        const shown = excerptOf(marked, start, start + 1, { width, columnsOf: stringWidth });
        const at = shown.line.indexOf('X');
        expect(at).toBeGreaterThanOrEqual(0);
        expect(stringWidth(shown.line.slice(0, at))).toBe(shown.carets.length - 1);
        expect(shown.carets.trimStart()).toBe('^');
      }),
      { numRuns: 1000 },
    );
  });

  it('ASCII takes a column a character, as the tables say that are not loaded for it', async () => {
    const ascii = Array.from({ length: 0x7f - 0x20 }, (_, i) => String.fromCharCode(0x20 + i));
    const columnsOf = await columnsFor(ascii);
    for (const sign of ascii) expect([sign, columnsOf(sign)]).toEqual([sign, stringWidth(sign)]);
    expect((await columnsFor(['a', 'a 木']))('木')).toBe(2);
  });

  it('figures are grouped as English groups them', () => {
    fc.assert(
      fc.property(fc.integer(), (count) => {
        expect(grouped(count)).toBe(count.toLocaleString('en'));
      }),
    );
    expect([grouped(0.125), grouped(1234.5678)]).toEqual(['0.125', '1,234.5678']);
  });
});

describe('a line of megabytes', () => {
  it('is only looked at around the place', () => {
    const asked: string[] = [];
    const line = `${'a '.repeat(4_000_000)}shelf${' b'.repeat(4_000_000)}`;
    const options = { width: 20, columnsOf: (text: string) => asked.push(text) && 1 };
    const { line: shown, carets } = excerptOf(line, 8_000_000, 8_000_005, options);
    expect([shown, carets]).toEqual(['…a a a shelf b b b …', `${' '.repeat(7)}^^^^^`]);
    expect(asked.length).toBeLessThan(5000);
  });
});
