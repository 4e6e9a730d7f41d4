/** Slips of the unit of measure, found by what is drawn: 36 in long, 96 in high, in one unit 94 in long. */
import { describe, expect, it } from 'vitest';
import { closets, refusals, taken } from './importing.ts';

const one = (csv: string): string => refusals(closets, csv)[0] ?? '';

describe('a length that can only be a slip', () => {
  it.each([
    // 36 in are 914.4 mm, 91.44 cm and 3 ft.
    ['inches where feet are written', 'length ft', '36', '12 times', 'Inches where feet were expected?'],
    ['feet where inches are', 'length in', '3', 'only 1/12 of', 'Feet where inches were expected?'],
    ['millimetres where inches are', 'length in', '914', '25.4 times', 'Millimetres where inches were expected?'],
    ['inches where millimetres are', 'length mm', '36', 'only 1/25.4 of', 'Inches where millimetres were expected?'],
    [
      'centimetres where millimetres are',
      'length mm',
      '91.4',
      'only 1/10 of',
      'Centimetres where millimetres were expected?',
    ],
    [
      'millimetres where centimetres are',
      'length cm',
      '914',
      '10 times',
      'Millimetres where centimetres were expected?',
    ],
    ['metres where millimetres are', 'length mm', '0.914', 'only 1/1000 of', 'Metres where millimetres were expected?'],
    ['centimetres where inches are', 'length in', '91.4', '2.5 times', 'Centimetres where inches were expected?'],
  ])('%s', (_, heading, number, ratio, asked) => {
    const said = one(`unit,${heading}\nA-101,${number}\n`);
    expect(said).toMatch(/^B2 /);
    expect(said).toContain(`that is ${ratio} the `);
    expect(said).toContain(asked);
  });

  it('of another wall, or with a point forgotten', () => {
    expect(one('unit,length in\nA-101,3600\n')).toContain(
      'Read as 3600in, that is 100 times the 36in that is drawn of wall back. Measure again, or look whether it is another wall.',
    );
    expect(one('unit,length in\nA-201,36\n')).toContain('only 1/2.6 of the 94in');
  });

  it('of nothing at all', () => {
    const why = 'Write what was measured, or empty the cell where nothing was.';
    expect(one('unit,length\nA-201,0in\n')).toBe(
      `B2 "0in" Read as 0in, and nothing that is built is so short: 94in is drawn of wall back. ${why}`,
    );
    expect(one('unit,ceiling\nA-101,0mm\n')).toContain('2438.4mm is drawn of wall back from floor to ceiling. Write');
  });

  it('of a ceiling, an opening and a stud', () => {
    expect(one('unit,ceiling in\nA-101,2438\n')).toContain(
      '25.4 times the 96in that is drawn of wall back from floor to ceiling',
    );
    expect(one('unit,door width in\nA-101,2.5\n')).toContain('Feet where inches were expected?');
    expect(one('unit,studs in\nA-101,"8, 406"\n')).toBe(
      'B2 "8, 406" A stud at 406in would be beyond the end of wall back.',
    );
    expect(one('unit,height in,length in\nA-101,2134,36\n')).toMatch(
      /^B2 "2134" Its height, 2134in, is above the ceiling/,
    );
  });

  it('is none where a wall is a quarter off, for a wall may be', () => {
    expect(taken(closets, 'unit,length in\nA-101,28\n')).toContain('length 28in\n');
    expect(taken(closets, 'unit,length in\nA-101,45\n')).toContain('length 45in\n');
  });
});
