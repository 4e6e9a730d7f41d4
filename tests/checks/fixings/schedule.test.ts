/** What holds shelves, rods and panels, and where: from small texts, worked out by hand. */
import { describe, expect, it } from 'vitest';
import { fixingsOf } from '../../../server/checks/fixings/schedule.ts';
import { inch } from '../../model/support.ts';
import { layoutOf, lines, schedule, unitOf } from './texts.ts';

const shelf = (carried: string, more = ''): string =>
  `zone a on back { width fill; shelf s { at 72in; carried by ${carried}${more} } }`;

describe('supports', () => {
  it('stand at the ends and between, and take a stud or an anchor', () => {
    // Studs at 14-1/2, 30-1/2 and 46-1/2 in; only 46 in would be near enough, and none may be moved.
    expect(lines(unitOf(shelf('rear')), 's')).toEqual([]);
    expect(lines(unitOf(shelf('rear')), 'a.s')).toEqual([
      'rear back 0in anchor plug',
      'rear back 24in anchor plug',
      'rear back 48in anchor plug',
    ]);
  });

  it('meet a stud within 1/2 in of its centre, and none farther off', () => {
    expect(lines(unitOf(shelf('rear'), { studs: 'studs 24-1/2in' }), 'a.s')[1]).toBe('rear back 24in stud 24-1/2in');
    expect(lines(unitOf(shelf('rear'), { studs: 'studs 24-33/64in' }), 'a.s')[1]).toBe('rear back 24in anchor plug');
  });

  it('are not known to hold where no studs are stated', () => {
    expect(lines(unitOf(shelf('rear'), { studs: '' }), 'a.s')[0]).toBe('rear back 0in not-known');
  });

  it('are as many as somebody else needs', () => {
    const layout = layoutOf(unitOf(shelf('rear')));
    const needed = fixingsOf(layout, new Map([['a.s', 5]]));
    // Five over 48 in: 12 in apart.
    expect(needed.of.get('a.s')?.map(({ at }) => inch(at))).toEqual(['0in', '12in', '24in', '36in', '48in']);
    expect(fixingsOf(layout, new Map([['a.s', 2]])).of.get('a.s')).toHaveLength(3);
  });

  it('are worked out once for a layout', () => {
    const layout = layoutOf(unitOf(shelf('rear')));
    expect(fixingsOf(layout)).toBe(fixingsOf(layout));
  });
});

describe('brackets', () => {
  const moved = (shift: string): string =>
    `hardware angle { is bracket; reach 12in; inset 6in; least 2; shift ${shift}; anchor plug }\nhardware plug { is anchor }`;

  it('stand 6 in in, and are moved by whole slats to a stud', () => {
    expect(lines(unitOf(shelf('angle'), { hardware: moved('0in') }), 'a.s')).toEqual([
      'angle back 6in anchor plug',
      'angle back 42in anchor plug',
    ]);
    // 42 + 3 x 1-1/2 = 46-1/2; from 6 in the nearest stud is 8-1/2 in off, more than 4-1/2 + 1/2.
    const made = unitOf(shelf('angle'), { hardware: moved('4-1/2in by 1-1/2in') });
    expect(lines(made, 'a.s')).toEqual(['angle back 6in anchor plug', 'angle back 46-1/2in stud 46-1/2in']);
    expect(schedule(made).all.map(({ shift, reason }) => `${inch(shift)} ${reason}`)).toEqual([
      '0in spread',
      '4-1/2in moved',
    ]);
    // By steps of 1-1/4 in it comes to 43-1/4, 44-1/2 and 45-3/4 in: the last is 3/4 in off.
    expect(lines(unitOf(shelf('angle'), { hardware: moved('4-1/2in by 1-1/4in') }), 'a.s')[1]).toBe(
      'angle back 42in anchor plug',
    );
  });

  it('do not share a stud', () => {
    // 6 and 15 in on a shelf of 21 in, both within reach of the stud at 10-1/2 in.
    const made = unitOf(shelf('angle'), { length: '21in', studs: 'studs 10-1/2in', hardware: moved('5in') });
    expect(lines(made, 'a.s')).toEqual(['angle back 10-1/2in stud 10-1/2in', 'angle back 15in anchor plug']);
  });
});

describe('rods', () => {
  const both = (rod: string): string =>
    `zone a on back { width fill; shelf s { at 72in; carried by angle }; rod r { under s by 3in; from wall 9in; for shirt; ${rod} } }`;
  const sides =
    'wall left { length 25in; height 96in; studs 16in }\n  wall right { length 25in; height 96in; studs 10in }';

  it('hang from a hook at each bracket over them', () => {
    const made = unitOf(both('carried by hook'));
    expect(lines(made, 'a.r')).toEqual(['hook back 6in part', 'hook back 42in part']);
    // 12 - 3 = 9
    expect(
      schedule(made)
        .of.get('a.r')
        ?.map(({ out }) => inch(out)),
    ).toEqual(['9in', '9in']);
  });

  it('have a cup at each end that meets a wall, measured along that wall', () => {
    // The back wall is at the right end of the left wall, 25 - 9 = 16 in, and at the left end of the right one.
    expect(lines(unitOf(both('carried by cup'), { sides }), 'a.r')).toEqual([
      'cup left 16in stud 16in',
      'cup right 9in anchor plug',
    ]);
    expect(lines(unitOf(both('carried by cup')), 'a.r')[0]).toBe('cup undefined 9in not-known');
  });

  it('have a cup at a panel, and none at an open end', () => {
    const made = unitOf(
      `zone a on back { width 20in; shelf s { at 72in }; rod r { under s by 3in; for shirt; carried by cup } }
  zone b on back after a { width 20in; panels sides { height 84in }; shelf t { at 80in }; rod r { at 60in; for shirt; carried by cup } }`,
      { sides },
    );
    expect(lines(made, 'a.r')).toEqual(['cup left 13in anchor plug', 'cup back 20in part']);
    expect(lines(made, 'b.r')).toEqual(['cup back 20-3/4in part', 'cup back 39-1/4in part']);
    expect(
      lines(unitOf('zone a on back { width 20in; rod r { at 60in; for shirt; carried by cup } }'), 'a.r'),
    ).toHaveLength(1);
  });
});

describe('towers', () => {
  const tower = unitOf(
    `zone b on back {
    width 24in
    carried by rear, clip, strap, peg, cap
    panels sides
    shelf top { at 84in; fixed }
    shelf loose { at 40in }
    shelf shoes { at 8in; tilted by 30deg; fixed }
  }
  zone c on back after b { width 20in; carried by rear, strap, peg, cap; shelf s { at 60in } }`,
    { studs: 'studs 2in, 18in, 34in' },
  );

  it('are tied at top, middle and bottom on both sides', () => {
    // Panels from the floor to 84-3/4 in: 80-3/4, 42-3/8 and 4 in.
    const own = ['left', 'right'].flatMap((side) => schedule(tower).of.get(`b.sides.${side}`) ?? []);
    const ties = own.filter(({ role }) => role === 'tie');
    expect(ties.map(({ hardware, height }) => `${hardware.name} ${inch(height)}`)).toEqual([
      'strap 80-3/4in',
      'strap 42-3/8in',
      'strap 4in',
      'strap 80-3/4in',
      'strap 42-3/8in',
      'strap 4in',
    ]);
    expect(own.filter(({ role }) => role === 'cover')).toHaveLength(2);
  });

  it('hold loose shelves by four pins, and fixed ones by supports and clips', () => {
    expect(lines(tower, 'b.loose')).toEqual([
      'peg back 3/4in part',
      'peg back 3/4in part',
      'peg back 23-1/4in part',
      'peg back 23-1/4in part',
    ]);
    // 2 in from the front and 2 in from the back of 12 in.
    expect(
      schedule(tower)
        .of.get('b.loose')
        ?.map(({ out }) => inch(out)),
    ).toEqual(['2in', '10in', '2in', '10in']);
    expect(lines(tower, 'b.top')).toEqual([
      'rear back 3/4in anchor plug',
      'rear back 23-1/4in anchor plug',
      'clip back 3/4in part',
      'clip back 23-1/4in part',
    ]);
  });

  it('hold the higher back edge of a tilted shelf', () => {
    // 12 in of depth at 30 degrees rise 12 x sin 30 = 6 in over the front at 8 in.
    expect(
      schedule(tower)
        .of.get('b.shoes')
        ?.map(({ hardware, height }) => `${hardware.name} ${inch(height)}`),
    ).toEqual(['rear 14in', 'rear 14in', 'clip 8in', 'clip 8in']);
  });

  it('leave the shelf beside them to its supports, and cover its open end', () => {
    expect(lines(tower, 'c.s')).toEqual([
      'rear back 24in anchor plug',
      'rear back 44in anchor plug',
      'cap back 44in part',
    ]);
  });

  it('name what nothing holds', () => {
    expect(schedule(tower).without).toEqual([]);
    const made = unitOf('zone a on back { width fill; shelf s { at 72in; carried by hook }; shelf t { at 40in } }');
    expect(schedule(made).without.map(({ path }) => path)).toEqual(['a.s', 'a.t']);
  });
});

describe('a mirrored unit', () => {
  it('is held as the other is, seen in a mirror', () => {
    const inside = `zone a on back { width 30in; shelf s { at 72in; carried by rear, angle }; rod r { under s by 3in; from wall 9in; for shirt; carried by hook, cup } }
  zone b on back after a { width fill; carried by rear, clip, strap, peg; panels sides; shelf top { at 84in; fixed }; shelf l { at 40in } }`;
    const sides =
      'wall left { length 25in; height 96in; studs 16in }\n  wall right { length 25in; height 96in; studs 10in }';
    const given = { length: '52in', sides };
    const [here, there] = [unitOf(inside, given), unitOf(inside, { ...given, unit: 'unit u t mirrored' })];
    const at = (turn: boolean) => (unit: typeof here) =>
      schedule(unit)
        .all.map((f) => {
          const length = layoutOf(unit).walls.find(({ name }) => name === f.wall)?.length ?? 0;
          const wall = turn ? ({ left: 'right', right: 'left' }[f.wall ?? ''] ?? f.wall) : f.wall;
          const part =
            turn && f.role === 'tie' ? f.part.replace(/left|right/, (s) => (s === 'left' ? 'right' : 'left')) : f.part;
          return `${part} ${f.hardware.name} ${wall} ${turn ? length - f.at : f.at} ${f.out} ${f.height} ${f.hold.kind}`;
        })
        .sort();
    expect(at(true)(there)).toEqual(at(false)(here));
    expect(at(false)(here).length).toBeGreaterThan(20);
  });
});
