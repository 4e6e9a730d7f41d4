/** The stock that a plan leaves, written back as a file of the language. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

const project = (stock: string): string => `project "Quarry Lane" { currency EUR }
board white-12 { depth 12in; thickness 3/4in }
${stock}
extra shelves { board white-12; length 30in; count 4 }
`;

it('counted boards are fewer, offcuts that were cut are gone, and what is worth keeping has come', () => {
  const folder = folderWith({
    'a.closet': project('stock white-12 { length 8ft price 18.90 EUR count 5; offcut 40in; offcut 20in count 2 }'),
  });
  const { status, err } = storypole(['plan', '--stock-after', 'left.closet'], folder);
  expect([status, err]).toEqual([0, '']);
  // One of 30 from the offcut of 40 (9-7/8 is waste), three from one board of 96: 5-5/8 is left, and is waste.
  expect(readFileSync(join(folder, 'left.closet'), 'utf8')).toBe(`stock white-12 {
  length 96in price 18.90 EUR count 4
  offcut 20in count 2
}
`);
});

it('counts what is left once spares have been cut', () => {
  const spare = 'extra cleats { board white-12; length from 10in to 20in; count up to 2 }';
  const folder = folderWith({ 'a.closet': `${project('stock white-12 { length 8ft; length 12ft }')}${spare}\n` });
  expect(storypole(['plan', '--stock-after', 'left.closet'], folder).status).toBe(0);
  // Four of 30 and four cuts leave 23-1/2 of 144: one spare of 20 and its cut leave 3-3/8, and two of 10 would leave
  // room for 11-11/16 each, 23-3/8 and one cut: two are more than one. Nothing is left to keep.
  expect(readFileSync(join(folder, 'left.closet'), 'utf8')).toBe(`stock white-12 {
  length 96in unlimited
  length 144in unlimited
}
`);
});

it('is read again as the stock of the next job', () => {
  const folder = folderWith({ 'a.closet': project('stock white-12 { length 10ft unlimited; length 6ft }') });
  storypole(['plan', '--stock-after', 'left.closet'], folder);
  const left = readFileSync(join(folder, 'left.closet'), 'utf8');
  const again = storypole(['check'], folderWith({ 'a.closet': project(left) }));
  expect(again.status).toBe(0);
  expect(again.out).toContain('No findings');
});

it('is written for one project, to a .closet file', () => {
  const folder = folderWith({ 'a.closet': project('stock white-12 { length 8ft }') });
  expect(storypole(['plan', '--stock-after', 'left.txt'], folder).err).toContain('writes a .closet file');
  expect(storypole(['plan', '--stock-after', 'a.closet'], folder).err).toContain('holds more than stock');
});
