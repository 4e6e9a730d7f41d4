/** Counts, packs and what is missing: from small texts, worked out by hand. */
import { describe, expect, it } from 'vitest';
import { groupsOf, packsOf, priceOf, type Takeoff, takeoffOf } from '../../server/sheets/takeoff.ts';
import { takeoffText } from '../../server/sheets/takeoff-text.ts';
import { projectOf } from '../model/support.ts';

const hardware = `
hardware rear { is support; spacing at most 24in; anchor plug; screws "#8 x 1-1/2 in" count 2; screws "#4  x 3/4 in" into part; pack 25 price 21.50 EUR }
hardware angle { is bracket; reach 12in; inset 6in; least 2; anchor plug; screws "#8 x 3 in" count 2; screws "#4 x 3/4 in" into part; pack 10 price 34.00 EUR }
hardware plug { is anchor; rated 50 lb; pack 50 price 18.00 EUR }
`;
const template = (inside: string, studs = 'studs every 16in from 14-1/2in'): string =>
  `template t { board white-12; wall back { length 48in; height 96in; ${studs} }\n${inside} }\n`;
const shelf = 'zone a on back { width fill; shelf s { at 72in; carried by rear, angle } }';

const of = (text: string): Takeoff => takeoffOf(projectOf(`${hardware}${text}`).units());
const counts = ({ hardware: lines }: Takeoff): string[] =>
  lines.map(({ hardware: { name }, count }) => `${count} ${name}`);
const screws = ({ screws: lines }: Takeoff): string[] => lines.map(({ size, count }) => `${count} ${size}`);

describe('a takeoff', () => {
  it('counts hardware, a screw for each hole, and an anchor for each screw that meets no stud', () => {
    // 3 supports at 0, 24 and 48 in and 2 brackets at 6 and 42 in; no stud at 14-1/2, 30-1/2 or 46-1/2 in is near.
    const made = of(`${template(shelf)}unit u t\n`);
    // 3 x 2 + 2 x 2 = 10 screws into the wall.
    expect(counts(made)).toEqual(['3 rear', '2 angle', '10 plug']);
    // "#4 x 3/4 in", written with one blank or two: 3 + 2.
    expect(screws(made)).toEqual(['5 #4 x 3/4 in', '6 #8 x 1-1/2 in', '4 #8 x 3 in']);
    expect(made.screws[0]?.for).toEqual(['angle', 'rear']);
    expect(made.missing).toEqual([]);
  });

  it('needs no anchor at a stud', () => {
    expect(counts(of(`${template(shelf, 'studs 0in, 24in, 48in')}unit u t\n`))).toEqual([
      '3 rear',
      '2 angle',
      '4 plug',
    ]);
  });

  it('counts anchors where nothing says where studs are, and says so', () => {
    const made = of(`${template(shelf, '')}unit u t\n`);
    expect(made.hardware.find(({ hardware: { name } }) => name === 'plug')).toMatchObject({ count: 10, unsure: 10 });
    expect(takeoffText(made, { money: String, packs: true })).toContain(
      '10 of the anchors are for walls whose studs are not stated',
    );
  });

  it('multiplies by the count of a unit, and leaves out what is counted nought', () => {
    const made = of(`${template(shelf)}unit u t { count 7 }\nunit v t { count 0 }\n`);
    expect(counts(made)).toEqual(['21 rear', '14 angle', '70 plug']);
    expect(made.hardware[0]?.uses).toEqual([{ unit: 'u', part: 'a.s', count: 21 }]);
  });

  it('buys whole packs', () => {
    const made = of(`${template(shelf)}unit u t { count 8 }\n`);
    // 24 of 25, 16 of 10, 80 of 50: 1, 2 and 2 packs; 21.50 + 68.00 + 36.00.
    expect(made.hardware.map((line) => packsOf(line))).toEqual([
      { packs: 1, price: 2150 },
      { packs: 2, price: 6800 },
      { packs: 2, price: 3600 },
    ]);
    expect(priceOf(made)).toBe(12_550);
  });

  it('has no price where one pack has none', () => {
    const bare = takeoffOf(
      projectOf(
        `hardware peg { is support; pack 10 }\n${template('zone a on back { width fill; shelf s { at 72in; carried by peg } }')}unit u t\n`,
      ).units(),
    );
    expect(bare.hardware.map((line) => packsOf(line))).toEqual([{ packs: 1, price: undefined }]);
    expect(priceOf(bare)).toBeUndefined();
  });

  it('lists what has no hardware, and what names hardware that does not say what it is', () => {
    const made = of(
      `hardware thing { takes 1in }\n${template('zone a on back { width fill; shelf s { at 72in }; shelf t { at 40in; carried by thing }; shelf u { at 20in; carried by rear, thing } }')}unit u t\nunit v nobody\n`,
    );
    expect(made.missing).toEqual([
      { unit: 'u', part: 'a.s', kind: 'shelf', named: [] },
      { unit: 'u', part: 'a.t', kind: 'shelf', named: ['thing'] },
      { unit: 'u', part: 'a.u', kind: 'shelf', named: ['thing'] },
      { unit: 'v', part: undefined, kind: 'unit', named: [] },
    ]);
    expect(takeoffText(made, { money: String, packs: true })).toContain(
      '  shelf a.t: thing does not say what it does in u',
    );
  });

  it('adds up to the takeoffs of its groups', () => {
    const text = `${hardware}${template(shelf)}unit u t { floor 1; phase 1 }\nunit v t { floor 2; phase 1; count 3 }\nunit w t { floor 2 }\n`;
    const units = [...projectOf(text).units()];
    for (const [by, names] of [
      ['unit', ['u', 'v', 'w']],
      ['floor', ['1', '2']],
      ['phase', ['1', undefined]],
    ] as const) {
      const groups = groupsOf(units, by);
      expect(groups.map(({ name }) => name)).toEqual(names);
      const sums = groups.map((group) => takeoffOf(group.units).hardware.map(({ count }) => count));
      const all = takeoffOf(units).hardware.map(({ count }) => count);
      expect(all).toEqual([15, 10, 50]);
      expect(all.map((_, i) => sums.reduce((sum, own) => sum + (own[i] ?? 0), 0))).toEqual(all);
    }
  });

  it('tells what each count is for, rows of shelves together', () => {
    const made = of(
      `${template('zone a on back { width fill; carried by rear; shelf top { at 72in }; shelves row between floor and top { count 3; pitch 18in } }')}unit u t\nunit v t\n`,
    );
    expect(takeoffText(made, { money: String, packs: false, steps: true }).split('\n').slice(0, 3)).toEqual([
      'count  is       hardware',
      '   24  support  rear',
      '         3 each on a.row.1 to 3, 3 a.top in u, v',
    ]);
  });

  it('of nothing says so', () => {
    expect(takeoffText(of(''), { money: String, packs: true })).toBe('No hardware is needed.');
  });
});
