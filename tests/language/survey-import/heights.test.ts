/** Where on a wall a length was measured: a height that has no length is told, and one that is lacking is noted. */
import { describe, expect, it } from 'vitest';
import { projectOf } from '../../model/support.ts';
import { closets, importInto, refusals, taken } from './importing.ts';

describe('a height of a reading without its length', () => {
  it('is told by its cell, with where the length was expected', () => {
    expect(refusals(closets, 'unit,low,high,high height\nA-201,94in,,84in\n')).toEqual([
      'D2 "84in" It says at which height a length was measured, and C2 ("high") holds no length. Write it there, or empty this cell where none was measured.',
    ]);
    expect(refusals(closets, 'unit,height,length,ceiling\nA-101,84in,,96in\n')).toEqual([
      'B2 "84in" It says at which height a length was measured, and C2 ("length") holds no length. Write it there, or empty this cell where none was measured.',
    ]);
    expect(refusals(closets, 'unit,low,high height\nA-201,94in,84in\n')).toEqual([
      'C2 "84in" It says at which height a length was measured, and there is no column of the lengths that it is the height of. Add one, or empty this cell.',
    ]);
  });

  it('is none where one of several lengths has it, or where the length cannot be read itself', () => {
    expect(taken(closets, 'unit,low height,back low,left low\nA-101,6in,,24in\n')).toContain('length 24in at 6in\n');
    expect(refusals(closets, 'unit,height,length\nA-101,6in,wide\n')).toEqual([expect.stringMatching(/^C2 "wide" /)]);
  });

  it('in a row that says nothing else is a row where nothing was measured', () => {
    const made = importInto(projectOf(closets), 'unit,height,length\nA-101,6in,36in\nA-102,6in,\n');
    expect(made).toMatchObject({
      kind: 'imported',
      notes: expect.arrayContaining(['Nothing was measured in A-102 (row 3).']),
    });
  });
});

it('that heights are not said is noted of one column as of several', () => {
  const noted = (csv: string): string | undefined => importInto(projectOf(closets), csv).notes.at(-1);
  expect(noted('unit,low,height low,high\nA-101,36in,6in,36in\n')).toBe(
    'At which height "high" was measured is not said, so that it counts all the way up. Write the height into a column of its own, or under "heights" in the mapping file.',
  );
  expect(noted('unit,low,high\nA-101,36in,36in\n')).toBe(
    'At which heights "low", "high" were measured is not said, so that the least of them counts all the way up. Write the heights into columns of their own, or under "heights" in the mapping file.',
  );
});
