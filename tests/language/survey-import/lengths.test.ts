/** What people write for a length in a table, and what cannot be one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Cell } from '../../../server/language/survey-import/cells.ts';
import { lengthWritten, readAngle, readLength } from '../../../server/language/survey-import/lengths.ts';
import { type Measure, measures, withMeasure } from '../../../server/language/survey-import/measures.ts';
import { LONGEST, ticks } from '../../../server/model/ticks.ts';
import '../../seed.ts';

function written(text: string | Cell, measure?: Measure, decimalComma = false): string {
  const read = readLength(typeof text === 'string' ? { text } : text, { measure, decimalComma });
  return 'wrong' in read ? read.wrong : lengthWritten(read.length, read.measure);
}

describe('a length', () => {
  it.each([
    ['93-3/4in', '93-3/4in'],
    ['93 3/4"', '93-3/4in'],
    ['93 3/4”', '93-3/4in'],
    ['93¾"', '93-3/4in'],
    ['½"', '1/2in'],
    ['3/4 in', '3/4in'],
    ['93.75 in.', '93-3/4in'],
    ['93.8in', '93.8in'],
    ['7\'9 3/4"', '93-3/4in'],
    ["7' - 9 3/4", '93-3/4in'],
    ['7ft 9-3/4in', '93-3/4in'],
    ['7 ft', '84in'],
    ["7.5'", '90in'],
    ['2381 mm', '2381mm'],
    ['2381.25mm', '2381.25mm'],
    ['2381 mm.', '2381mm'],
    ['238.1 cm', '2381mm'],
    ['2.381 m', '2381mm'],
    ["'2381mm", 'A length was expected, such as 93-3/4in, 7ft 9-3/4in or 2381mm.'],
  ])('written as %s is %s', (text, expected) => expect(written(text)).toBe(expected));

  it('without a unit of measure takes that of its column', () => {
    expect(written('93 3/4', 'inches')).toBe('93-3/4in');
    expect(written('7-9 3/4', 'feet')).toBe('93-3/4in');
    expect(written('2381', 'millimetres')).toBe('2381mm');
    expect(written({ text: '93.75', number: 93.75 }, 'inches')).toBe('93-3/4in');
    expect(written({ text: '238.1', number: 238.1 }, 'centimetres')).toBe('2381mm');
    expect(written({ text: '7.8125', number: 7.8125 }, 'feet')).toBe('93-3/4in');
    expect(written('2.381', 'metres')).toBe('2381mm');
    expect(written('7-9 3/4')).toMatch(/^The number 7-9 3\/4 has no unit of measure/);
    expect(written('93')).toBe('The number 93 has no unit of measure, and neither has the heading of its column.');
  });

  it('with a comma is read where the comma was said to stand for decimals', () => {
    expect(written('93,75 in')).toMatch(/^There is a comma in the number: it may stand for decimals \(93\.75 in\)/);
    expect(written('93,75 in', undefined, true)).toBe('93-3/4in');
    expect(written('1,234.5 mm')).toMatch(/^There is a comma within a number/);
    expect(written('1,234.5 mm', undefined, true)).toMatch(/^There is a point in the number/);
  });

  it.each(['16-Jan', 'Jan-16', '1/16/2026', '2026-01-16', '16.01.2026', '16 January 2026', '16. Jan'])(
    'that a spreadsheet made the date %s is told with what was typed',
    (date) => expect(written(date, 'inches')).toContain('a spreadsheet took 1/16 for one'),
  );

  it('that cannot be one says why', () => {
    expect(written('Mar-26')).toMatch(/^This is a date, and a length was expected/);
    expect(written('=A1', 'inches')).toMatch(/^This is a formula that was never worked out/);
    expect(written('#####')).toMatch(/^A formula came to an error here, or the column was too narrow/);
    expect(written('-5in')).toBe('A length is not negative.');
    expect(written('3/0in')).toBe('There is a fraction by nothing in it.');
    expect(written('5 furlongs')).toMatch(/^"furlongs" is no unit of measure/);
    expect(written('9999999 in')).toBe('That is longer than a kilometre.');
    expect(written('7.8333 ft')).toBe(
      'That is finer than a length can be held. The nearest to write are 93-63/64in and 94in.',
    );
    expect(written({ text: '1/3', number: 1 / 3 }, 'inches')).toMatch(/^That is finer than a length can be held/);
    expect(written('x'.repeat(10_000))).toMatch(/^A length was expected/);
  });

  it('is read back as it is written, whatever it is', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: LONGEST }), fc.constantFrom(...measures), (length, measure) => {
        const text = lengthWritten(ticks(length), measure);
        expect(readLength({ text }, { measure: undefined, decimalComma: false })).toMatchObject({ length });
      }),
    );
  });

  it('never throws, whatever is in the cell', () => {
    const piece = fc.constantFrom(
      '9',
      '3/4',
      '-',
      ' ',
      '"',
      "'",
      'ft',
      'in',
      'mm',
      '.',
      ',',
      '/',
      '0',
      'Jan',
      '¾',
      '=',
      '#',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 12 }), fc.boolean(), (pieces, comma) => {
        const read = readLength({ text: pieces.join('') }, { measure: 'inches', decimalComma: comma });
        expect('wrong' in read ? read.wrong.length : read.length).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

it('an angle is the whole of it', () => {
  const how = { measure: undefined, decimalComma: false };
  for (const text of ['91.5', '91.5°', '91.5 deg']) expect(readAngle({ text }, how)).toEqual({ degrees: 91.5 });
  expect(readAngle({ text: '1.5' }, how)).toEqual({ wrong: expect.stringContaining('and not by how much it is off') });
  expect(readAngle({ text: 'square' }, how)).toEqual({ wrong: expect.stringContaining('An angle in degrees') });
});

it.each([
  ['Width low (mm)', 'Width low', 'millimetres'],
  ['Length in', 'Length', 'inches'],
  ['Length, in inches', 'Length', 'inches'],
  ['Width [cm]', 'Width', 'centimetres'],
  ['Width "', 'Width', 'inches'],
  ['Width/ft', 'Width', 'feet'],
  ['Height of low', 'Height of low', undefined],
])('the heading %s is "%s" in %s', (heading, words, measure) => {
  expect(withMeasure(heading)).toEqual({ words, measure });
});
