/** A column "unit of measure": what it says of its row is taken, or told by its cell; no length is taken in another unit in silence. */
import { describe, expect, it } from 'vitest';
import type { Mapping } from '../../../server/language/survey-import/columns.ts';
import { projectOf } from '../../model/support.ts';
import { closets, importInto, refusals, taken } from './importing.ts';

const inches: Mapping = { columns: [], measure: 'inches' };

/** Of a wall 36 in long: its length with a unit of measure of its own, a fall of the floor without one. */
const falling = (said: string): string => `unit,length,floor level,unit of measure\nA-101,36in,6,${said}\n`;

describe('a row says the unit of measure of its numbers', () => {
  it.each([
    ['mm', '6mm'],
    ['mm.', '6mm'],
    ['MM', '6mm'],
    ['Millimetres', '6mm'],
    [' millimeters ', '6mm'],
    ['in.', '6in'],
    ['inch', '6in'],
    ['""""', '6in'],
    ['cm.', '60mm'],
  ])('%s, before what was said of the whole table', (said, falls) => {
    expect(taken(closets, falling(said), { measure: 'feet' })).toContain(`    floor falls ${falls}\n`);
  });

  it('metres among them, as behind a number and in a heading', () => {
    for (const said of ['m', 'M', 'm.', 'metres', 'Meter'])
      expect(taken(closets, `unit,length,uom\nA-101,0.91,${said}\n`, { measure: 'inches' })).toContain(
        'length 910mm\n',
      );
    for (const heading of ['length (m)', 'length in m', 'length in metres', 'Length [m.]'])
      expect(taken(closets, `unit,${heading}\nA-101,0.91\n`)).toContain('length 910mm\n');
    // It may be the middle one of three lengths.
    expect(refusals(closets, 'unit,width m\nA-101,0.91\n')).toEqual([
      expect.stringMatching(/^B1 "width m" It is not clear what this column holds/),
    ]);
  });

  it('and what is none that is known is told by its cell, whatever was said of the whole table', () => {
    const told = (said: string): string =>
      `D2 "${said}" "${said}" is no unit of measure that is known here: in, ft, mm, cm and m are.`;
    for (const said of ['furlongs', 'm/m', '25.4', 'n/a'])
      for (const options of [{ measure: 'inches' }, { mapping: inches }, {}] as const)
        expect(refusals(closets, falling(said), options)).toEqual([
          `${told(said)} Write one of them, for the numbers of the row rest on it, or leave the cell empty where each says its own.`,
        ]);
    expect(refusals(closets, falling('milimetres'), { mapping: inches })).toEqual([
      `${told('milimetres')} Is "millimetres" meant? Write one of them, for the numbers of the row rest on it, or leave the cell empty where each says its own.`,
    ]);
  });

  it('and is asked for of those rows alone that say none', () => {
    const csv = 'unit,length,floor level,unit of measure\nA-101,36,6,furlongs\nA-102,36,6,\n';
    const made = importInto(projectOf(closets), csv);
    expect(made).toMatchObject({ kind: 'refused', asks: ['unit-of-measure'] });
    expect(refusals(closets, csv)).toEqual([
      expect.stringMatching(/^D2 "furlongs" "furlongs" is no unit of measure/),
      'B3 "36" The number 36 has no unit of measure, and neither has the heading of its column. The same goes for 1 other cell.',
    ]);
    expect(importInto(projectOf(closets), falling('furlongs'))).toMatchObject({
      kind: 'refused',
      asks: [],
      notes: expect.not.arrayContaining([expect.stringContaining('Nothing was measured')]),
    });
  });

  it('and where the heading of a column says another one, neither is believed', () => {
    const csv = 'unit,length (in),floor level (mm),uom\nA-101,36,6,mm\n';
    expect(refusals(closets, csv)).toEqual([
      'D2 "mm" It says millimetres for its row, and the column "length (in)" (B1) is in inches: which of the two 36 is in, nobody can tell. Correct this cell or leave it empty, or say the other in the heading or the mapping file.',
    ]);
    // Told once a row; and what says its own unit of measure rests on neither.
    expect(refusals(closets, csv.replace('level (mm)', 'level (ft)'))).toHaveLength(1);
    expect(taken(closets, csv.replace('36,', '36in,'))).toContain('    length 36in\n    floor falls 6mm\n');
    expect(taken(closets, csv.replace(',36,6,mm', ',36,,in'))).toContain('    length 36in\n');
    const mapped: Mapping = { columns: [{ heading: 'Breite', is: 'length', measure: 'inches' }] };
    expect(refusals(closets, 'unit,Breite,uom\nA-101,36,mm\n', { mapping: mapped })).toEqual([
      expect.stringMatching(/^C2 "mm" It says millimetres for its row, and the column "Breite" \(B1\) is in inches/),
    ]);
    expect(refusals(closets, 'unit,length (ft),uom\nA-101,7-9 3/4,mm\n')).toEqual([
      expect.stringMatching(/^C2 "mm" It says millimetres for its row/),
    ]);
  });
});

it('a format of a spreadsheet that writes something else behind a number is told as well', () => {
  const cells = (suffix: string) => [{ text: 'A-101' }, { text: `0.91 ${suffix}`, number: 0.91, suffix }];
  const sheetWith = (suffix: string) => ({
    name: 'Site',
    rows: [
      { number: 1, cells: [{ text: 'unit' }, { text: 'length' }] },
      { number: 2, cells: cells(suffix) },
    ],
    hiddenColumns: new Set<number>(),
  });
  expect(taken(closets, sheetWith('m'), { measure: 'inches' })).toContain('length 910mm\n');
  expect(refusals(closets, sheetWith('furlongs'), { measure: 'inches' })).toEqual([
    'B2 "0.91 furlongs" "furlongs" is no unit of measure that is known here: in, ft, mm, cm and m are.',
  ]);
});
