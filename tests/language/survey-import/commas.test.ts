/** Commas and points in numbers: where either may stand for decimals or for thousands, nothing is taken. */
import { describe, expect, it } from 'vitest';
import { projectOf } from '../../model/support.ts';
import { added, closets, importInto, refusals } from './importing.ts';

const millimetres = { measure: 'millimetres', decimalComma: true } as const;

describe('where a comma stands for decimals', () => {
  const point =
    'There is a point in the number, and in this table a comma stands for decimals (as was said for it, or is kept in the mapping file): the point may stand for thousands, or be a slip. Write whole numbers without it, and decimals with a comma.';

  it('a point is told, in a list, in a height and in a length', () => {
    expect(refusals(closets, 'unit;length;studs\nA-201;2390;400|806|1.212\n', millimetres)).toEqual([
      `C2 "400|806|1.212" ${point}`,
    ]);
    expect(refusals(closets, 'unit;height;length\nA-101;1.000;914\n', millimetres)).toEqual([`B2 "1.000" ${point}`]);
    for (const length of ['914.5', '914.5 mm', '1.914,5', '1,914.5', '.5in', '7ft 9.5in', '1.234.567'])
      expect(refusals(closets, `unit;length\nA-101;${length}\n`, millimetres)).toEqual([`B2 "${length}" ${point}`]);
    expect(refusals(closets, 'unit;length at 1.000\nA-101;914\n', millimetres)).toEqual([
      `B1 "length at 1.000" The height "1.000" of it cannot be read. ${point}`,
    ]);
  });

  it('no other point is meant, nor that of a number that a spreadsheet holds', () => {
    expect(added(closets, 'unit;length;corner left\nA-101;36 in.;91.5\n', millimetres)).toContain('length 36in\n');
    const sheet = {
      name: 'Site',
      rows: [
        { number: 1, cells: [{ text: 'unit' }, { text: 'length' }] },
        { number: 2, cells: [{ text: 'A-101' }, { text: '914.5', number: 914.5 }] },
      ],
      hiddenColumns: new Set<number>(),
    };
    expect(added(closets, sheet, millimetres)).toContain('length 914.5mm\n');
  });

  it('it does so in feet and inches, in a list and in a heading', () => {
    expect(added(closets, 'unit;length at 1,05m;studs\nA-201;7ft 9,5in;8,5in, 24,25in\n', millimetres)).toContain(
      '    length 93-1/2in at 1050mm\n    studs 8-1/2in, 24-1/4in\n',
    );
    expect(refusals(closets, 'unit;length\nA-101;1,234,567\n', millimetres)).toEqual([
      'B2 "1,234,567" There are commas in it that cannot stand for decimals. Write one number with one comma at most, such as 93,75in or 2381,5mm.',
    ]);
  });

  it('the heights that the mapping file keeps are written as lengths are', () => {
    const mapping = { columns: [], heights: { low: '6.5in' } };
    expect(added(closets, 'unit;low\nA-101;914,5\n', { ...millimetres, mapping })).toContain(
      'length 914.5mm at 6-1/2in\n',
    );
  });
});

describe('where it was not said to', () => {
  it('a comma is told', () => {
    for (const length of ['1,212', '914,5 mm']) {
      const made = importInto(projectOf(closets), `unit;length mm\nA-201;${length}\n`);
      expect(made).toMatchObject({ kind: 'refused', asks: ['decimal-comma'] });
    }
    expect(refusals(closets, 'unit;length mm;studs mm\nA-201;2390;400|806|1,212\n')).toEqual([
      'C2 "400|806|1,212" There is a comma in the number: it may stand for decimals (1.212) or for thousands.',
    ]);
  });

  it.each(['1,212', '8,5', '400, 806, 1,212', '400,806,1,212', '8,5, 24,5', '8,5,24,5', '16,406,806', '1,212.5'])(
    'it is one between two studs or within a number in %s',
    (studs) => {
      const made = importInto(projectOf(closets), `unit,length,studs mm\nA-201,94in,"${studs}"\n`);
      expect(made).toMatchObject({
        kind: 'refused',
        asks: ['decimal-comma'],
        problems: [
          {
            cell: 'C2',
            message:
              'A comma may part two studs here, or stand within a number. Part the studs with semicolons, and write a number without a comma and its decimals with a point.',
          },
        ],
      });
    },
  );

  it.each([
    ['8, 24', '8in, 24in'],
    ['16,32,48', '16in, 32in, 48in'],
    ['48,32,16', '16in, 32in, 48in'],
    ['8in,24in', '8in, 24in'],
    ['8-1/2,24-1/2', '8-1/2in, 24-1/2in'],
    ['8 1/2,24 1/2', '8-1/2in, 24-1/2in'],
    ['8.5,24.5', '8-1/2in, 24-1/2in'],
    ['8,24-1/2', '8in, 24-1/2in'],
  ])('it parts the studs %s', (studs, written) => {
    expect(added(closets, `unit,length,studs in\nA-201,94,"${studs}"\n`, { measure: 'inches' })).toContain(
      `studs ${written}\n`,
    );
  });
});
