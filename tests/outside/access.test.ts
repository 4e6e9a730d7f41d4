/**
 * Published limits of accessibility, each just inside, on and just outside by one tick (25 nm). The
 * source stands beside each row: document, section, edition, and where it was read if only quoted.
 */
import { describe, expect, it } from 'vitest';
import { childReach, childReached } from '../../server/checks/access/children.ts';
import {
  doorHardware,
  doorway,
  floorLacks,
  needsTypeBAdvice,
  shallowDoor,
  slideClearance,
  slideRows,
  swingClearances,
} from '../../server/checks/access/doors.ts';
import { alcoveWidth, approachesOn, floorBeneath, kneeAndToe, turningSpace } from '../../server/checks/access/floor.ts';
import { stateHousing } from '../../server/checks/access/local-sizes.ts';
import { protrudesBy } from '../../server/checks/access/protrude.ts';
import {
  forward2010,
  isOfOldEdition,
  type Obstruction,
  type ReachTable,
  reach,
  reached,
  side1991,
  side2010,
  ufasRod,
  withHighest,
} from '../../server/checks/access/reach.ts';
import { asksOfHand, noneWithinReach, operation, shareWithin } from '../../server/checks/access/storage.ts';
import { mayBeClothingStorage, tallThings } from '../../server/checks/access/tip-over.ts';
import { cubicFeet } from '../../server/checks/light/exact.ts';
import { add, inches, subtract, type Ticks, ticks } from '../../server/model/ticks.ts';

const TICK = ticks(1);
const under = (limit: number): Ticks => subtract(inches(limit), TICK);
const over = (limit: number): Ticks => add(inches(limit), TICK);

interface Given {
  readonly depth?: Ticks;
  readonly over?: Obstruction;
  readonly floor?: Ticks;
}

/** What becomes of a height at a depth, with floor enough beneath unless said. */
function at(
  table: ReachTable,
  height: Ticks,
  { depth = inches(0), over: obstruction, floor = inches(60) }: Given = {},
) {
  return reached(reach(table, { depth, over: obstruction, floorBeneath: floor }), height);
}

const counter = (height: Ticks, depth: Ticks): Obstruction => ({ height, depth });
const low = inches(30);

describe('forward reach', () => {
  it.each([
    // ADA Standards 2010, 308.2.1.
    ['48 in high', at(forward2010, inches(48)), 'within'],
    ['a tick above 48', at(forward2010, over(48)), 'too high'],
    ['a tick under 48', at(forward2010, under(48)), 'within'],
    ['15 in high', at(forward2010, inches(15)), 'within'],
    ['a tick above 15', at(forward2010, over(15)), 'within'],
    ['a tick under 15', at(forward2010, under(15)), 'too low'],
    // 308.2.2: to 20 in deep 48 in high, to 25 in deep 44 in high, no further.
    ['20 deep, 48', at(forward2010, inches(48), { depth: inches(20), over: counter(low, inches(20)) }), 'within'],
    [
      'a tick under 20 deep, 48',
      at(forward2010, inches(48), { depth: under(20), over: counter(low, under(20)) }),
      'within',
    ],
    [
      '20 deep, a tick over 48',
      at(forward2010, over(48), { depth: inches(20), over: counter(low, inches(20)) }),
      'too high',
    ],
    [
      'a tick over 20 deep, 48',
      at(forward2010, inches(48), { depth: over(20), over: counter(low, over(20)) }),
      'too high',
    ],
    [
      'a tick over 20 deep, 44',
      at(forward2010, inches(44), { depth: over(20), over: counter(low, over(20)) }),
      'within',
    ],
    [
      'a tick over 20 deep, a tick over 44',
      at(forward2010, over(44), { depth: over(20), over: counter(low, over(20)) }),
      'too high',
    ],
    ['25 deep, 44', at(forward2010, inches(44), { depth: inches(25), over: counter(low, inches(25)) }), 'within'],
    [
      'a tick over 25 deep, 20',
      at(forward2010, inches(32), { depth: over(25), over: counter(low, over(25)) }),
      'out of reach',
    ],
    // 308.2.2: the clear floor runs on beneath for the depth of the reach.
    [
      'floor for all of 20',
      at(forward2010, low, { depth: inches(20), over: counter(low, inches(20)), floor: inches(20) }),
      'within',
    ],
    [
      'floor a tick short',
      at(forward2010, low, { depth: inches(20), over: counter(low, inches(20)), floor: under(20) }),
      'out of reach',
    ],
  ] as const)('%s', (_, found, expected) => expect(found).toBe(expected));
});

describe('side reach', () => {
  it.each([
    // ADA Standards 2010, 308.3.1.
    ['48 in high', at(side2010, inches(48)), 'within'],
    ['a tick above 48', at(side2010, over(48)), 'too high'],
    ['15 in high', at(side2010, inches(15)), 'within'],
    ['a tick under 15', at(side2010, under(15)), 'too low'],
    // 308.3.1 exception 1: up to 10 in deep it still counts as unobstructed, however high.
    ['10 deep, 48', at(side2010, inches(48), { depth: inches(10), over: counter(inches(40), inches(10)) }), 'within'],
    [
      'a tick over 10 deep, too high for 308.3.2',
      at(side2010, inches(48), { depth: over(10), over: counter(inches(40), over(10)) }),
      'out of reach',
    ],
    // 308.3.2: to 10 in deep 48 in high, to 24 in deep 46 in high.
    [
      '10 deep over what is deeper, 48',
      at(side2010, inches(48), { depth: inches(10), over: counter(inches(34), over(10)) }),
      'within',
    ],
    [
      'a tick over 10 deep, 48',
      at(side2010, inches(48), { depth: over(10), over: counter(inches(34), over(10)) }),
      'too high',
    ],
    [
      'a tick over 10 deep, 46',
      at(side2010, inches(46), { depth: over(10), over: counter(inches(34), over(10)) }),
      'within',
    ],
    ['24 deep, 46', at(side2010, inches(46), { depth: inches(24), over: counter(inches(34), inches(24)) }), 'within'],
    [
      '24 deep, a tick over 46',
      at(side2010, over(46), { depth: inches(24), over: counter(inches(34), inches(24)) }),
      'too high',
    ],
    [
      'a tick over 24 deep',
      at(side2010, inches(46), { depth: over(24), over: counter(inches(34), over(24)) }),
      'out of reach',
    ],
    ['a tick over 24 deep, bare floor', at(side2010, inches(46), { depth: over(24) }), 'out of reach'],
    [
      'an obstruction 34 high',
      at(side2010, inches(46), { depth: inches(20), over: counter(inches(34), inches(20)) }),
      'within',
    ],
    [
      'an obstruction a tick over 34',
      at(side2010, inches(46), { depth: inches(20), over: counter(over(34), inches(20)) }),
      'out of reach',
    ],
    // ADA Accessibility Guidelines 1991, 4.2.6, replaced: 46 in past an obstruction; 54 and 9 from memory.
    [
      '1991: 46 past 24',
      at(side1991, inches(46), { depth: inches(24), over: counter(inches(34), inches(24)) }),
      'within',
    ],
    [
      '1991: a tick over 46 past 24',
      at(side1991, over(46), { depth: inches(24), over: counter(inches(34), inches(24)) }),
      'too high',
    ],
    [
      '1991: a tick over 24 deep',
      at(side1991, inches(40), { depth: over(24), over: counter(inches(34), over(24)) }),
      'out of reach',
    ],
    ['1991 (from memory): 54', at(side1991, inches(54)), 'within'],
    ['1991 (from memory): a tick over 54', at(side1991, over(54)), 'too high'],
    ['1991 (from memory): 9', at(side1991, inches(9)), 'within'],
    ['1991 (from memory): a tick under 9', at(side1991, under(9)), 'too low'],
  ] as const)('%s', (_, found, expected) => expect(found).toBe(expected));

  it('names the section that was used, and the edition', () => {
    const free = reach(side2010, { depth: inches(10), over: undefined, floorBeneath: inches(0) });
    const past = reach(side2010, { depth: over(10), over: undefined, floorBeneath: inches(0) });
    expect(free.source).toMatchObject({ section: expect.stringContaining('308.3.1'), edition: '2010', seen: true });
    expect(past.source).toMatchObject({ section: expect.stringContaining('308.3.2'), edition: '2010', seen: true });
    expect(side1991.source).toMatchObject({ seen: false });
  });

  // ADAAG 1991 4.2.6 (54 in from memory) against ADA Standards 2010 308.3: 54 in belongs to the older one.
  it.each([
    [inches(48), false],
    [over(48), true],
    [inches(54), true],
    [over(54), false],
  ] as const)('knows a side reach of %d ticks for the old edition: %s', (height, old) => {
    expect(isOfOldEdition(height)).toBe(old);
  });

  it('takes the height of a policy, but past an obstruction not above the published one', () => {
    const asked = withHighest(side2010, inches(54));
    expect(at(asked, inches(54))).toBe('within');
    expect(at(asked, over(46), { depth: inches(20) })).toBe('too high');
    expect(at(withHighest(side2010, inches(40)), over(40), { depth: inches(20) })).toBe('too high');
  });
});

describe('clothes rods of the older federal standard', () => {
  // Uniform Federal Accessibility Standards 1984, 4.25.3: 54 in at most. The standards of 2010 have 48 for the same rod.
  it.each([
    [under(54), true, false],
    [inches(54), true, false],
    [over(54), false, false],
    [inches(48), true, true],
    [over(48), true, false],
  ] as const)('at %d ticks', (height, old, now) => {
    expect(height <= ufasRod.most).toBe(old);
    expect(at(side2010, height) === 'within').toBe(now);
  });
});

describe('reach of children', () => {
  // ADA Standards 2010, advisory 308.1: guidance, not a requirement.
  it.each([
    [3, 20, 36],
    [4, 20, 36],
    [5, 18, 40],
    [8, 18, 40],
    [9, 16, 44],
    [12, 16, 44],
  ])('at %d years from %d to %d in', (age, lowest, highest) => {
    const row = childReach(age);
    if (!row) throw new Error('a row was expected');
    expect([lowest, highest].map((height) => childReached(row, inches(height)))).toEqual(['within', 'within']);
    expect([under(lowest), over(highest)].map((height) => childReached(row, height))).toEqual(['too low', 'too high']);
  });

  it('has no row below three years and from thirteen on', () => {
    expect([2, 13].map(childReach)).toEqual([undefined, undefined]);
    expect(childReach(8.9)?.ages).toEqual([5, 8]);
  });

  it('finds a rod at 42 in too high at eight and not at ten', () => {
    const told = [8, 10].map((age) => {
      const row = childReach(age);
      return row && childReached(row, inches(42));
    });
    expect(told).toEqual(['too high', 'within']);
  });
});

describe('clear floor', () => {
  // ADA Standards 2010, 305.3 (read at corada.com and in the stored text): 30 by 48 in.
  it.each([
    [inches(30), inches(48), ['forward']],
    [inches(48), inches(30), ['side']],
    [inches(48), inches(48), ['forward', 'side']],
    [under(30), inches(48), []],
    [inches(30), under(48), []],
    [under(48), inches(30), []],
    [inches(48), under(30), []],
  ] as const)('%d by %d ticks', (width, depth, approaches) => {
    expect(approachesOn({ width, depth })).toEqual(approaches);
  });

  // 305.7.1 and 305.7.2: alcoves deeper than 24 in are 36 wide, deeper than 15 in 60 wide.
  it.each([
    ['forward', under(24), 30],
    ['forward', inches(24), 30],
    ['forward', over(24), 36],
    ['side', under(15), 48],
    ['side', inches(15), 48],
    ['side', over(15), 60],
  ] as const)('an alcove approached from the %s, %d ticks deep, is %d in wide', (approach, depth, wide) => {
    expect(alcoveWidth(approach, depth)).toBe(inches(wide));
  });

  // 306.2 and 306.3: toes 17 in at least and 25 at most, 6 beyond the knees; knees 11 in at 9 high and 8 in at 27 high.
  it.each([
    ['toes 17, knees 11', inches(17), inches(11), inches(8), inches(17)],
    ['toes a tick short', under(17), inches(11), inches(8), inches(8)],
    ['knees a tick short at 9', inches(17), under(11), inches(8), inches(8)],
    ['knees a tick short at 27', inches(17), inches(11), under(8), under(8)],
    ['toes 6 beyond the knees and no more', inches(25), inches(14), inches(11), inches(20)],
    ['25 at most', inches(40), inches(40), inches(40), inches(25)],
  ] as const)('%s', (_, atFloor, atToes, atKnees, deep) => {
    expect(floorBeneath({ atFloor, atToes, atKnees })).toBe(deep);
  });

  it('has the heights of knees and toes', () => {
    // 306.2.1 and 306.3.1.
    expect([kneeAndToe.toes, kneeAndToe.knees]).toEqual([inches(9), inches(27)]);
  });

  // ICC A117.1-2003, 1002.3.2 exception, quoted at thebuildingcodeforum.com; ADA Standards 2010, 304.3.1.
  it.each([
    [under(48), undefined],
    [inches(48), undefined],
    [over(48), inches(60)],
  ])('a walk-in %d ticks deep turns in %s', (depth, circle) => expect(turningSpace(depth)).toBe(circle));
});

describe('doorways and doors', () => {
  // ADA Standards 2010, 404.2.3: 32 in clear.
  it('are 32 in clear where a person passes', () => expect(doorway.wide).toBe(inches(32)));

  // UFAS 1984, 4.13.5 exception.
  it.each([
    [under(20), false],
    [inches(20), true],
    [over(20), true],
  ])('a shallow closet with an opening of %d ticks', (wide, enough) => expect(wide >= shallowDoor.wide).toBe(enough));

  // Fair Housing, Type B, in an architect's note at evstudio.com: advice.
  it.each([
    [inches(24), inches(20), false, false],
    [over(24), under(32), false, true],
    [over(24), inches(32), false, false],
    [over(24), under(32), true, false],
  ])(
    'a closet %d deep with a door of %d, shelved %s, is advised: %s',
    (depth, door, shelvedWithinSideReach, advised) => {
      expect(needsTypeBAdvice({ depth, door, shelvedWithinSideReach })).toBe(advised);
    },
  );

  // ADA Standards 2010, table 404.2.4.1, without closers.
  it.each([
    ['front', 'pull', [[60, 18]]],
    ['front', 'push', [[48, 0]]],
    [
      'hinge',
      'pull',
      [
        [60, 36],
        [54, 42],
      ],
    ],
    ['hinge', 'push', [[42, 22]]],
    ['latch', 'pull', [[48, 24]]],
    ['latch', 'push', [[42, 24]]],
  ] as const)('from the %s, %s', (from, door, expected) => {
    const rows = swingClearances(from, door);
    expect(rows.map(({ out, beyond }) => [out, beyond])).toEqual(expected.map((pair) => pair.map(inches)));
    expect(rows.every(({ side }) => side === (from === 'hinge' && door === 'push' ? 'hinge' : 'latch'))).toBe(true);
    for (const { out, beyond } of rows) {
      const free = { out, beyondLatch: beyond, beyondHinge: beyond };
      expect(floorLacks(rows, free)).toMatchObject({ out: 0, beyond: 0 });
    }
    const [first] = rows;
    if (!first) throw new Error('a row was expected');
    const short = { out: subtract(first.out, TICK), beyondLatch: first.beyond, beyondHinge: first.beyond };
    expect(floorLacks([first], short)).toEqual({ row: first, out: TICK, beyond: 0 });
  });

  it('finds casework inside 18 in of the latch, by one tick', () => {
    const rows = swingClearances('front', 'pull');
    const free = { out: inches(60), beyondLatch: under(18), beyondHinge: inches(0) };
    expect(floorLacks(rows, free)).toMatchObject({ out: 0, beyond: TICK });
  });

  // ADA Standards 2010, table 404.2.4.2; only openings narrower than 36 in.
  it.each([
    ['front', 48, 0, 'latch'],
    ['side', 42, 0, 'latch'],
    ['pocket or hinge', 42, 22, 'hinge'],
    ['stop or latch', 42, 24, 'latch'],
  ] as const)('sliding and folding doors from the %s', (from, out, beyond, side) => {
    expect(slideRows.some((row) => row.from === from)).toBe(true);
    expect(slideClearance(from, under(36))).toEqual({ out: inches(out), beyond: inches(beyond), side });
    expect(slideClearance(from, inches(36))).toBeUndefined();
  });

  // ADA Standards 2010, 404.2.7.
  it('have pulls from 34 to 48 in', () => {
    expect([doorHardware.lowest, doorHardware.highest]).toEqual([34, 48].map(inches));
  });
});

describe('storage', () => {
  // ADA Standards 2010, 225.2, quoted at ada-compliance.com: one of each type; practice: a portion will do.
  it.each([
    [[46], []],
    [[50, 46], []],
    [[50, 49], ['rods']],
    [[], []],
  ])('rods at %j in leave out of reach: %j', (heights, expected) => {
    const things = heights.map((height) => ({ thing: height, within: at(side2010, inches(height)) === 'within' }));
    expect(noneWithinReach([{ kind: 'rods', things }]).map(({ kind }) => kind)).toEqual(expected);
  });

  // 804.5: half of the shelf space of kitchens.
  it.each([
    [[12, 12], [12, 12], true],
    [[12], [12, 12, 12], false],
    [[24], [24], true],
    [[], [], true],
  ])('shelves within %j and beyond %j', (within, beyond, enough) => {
    const shelves = [
      ...within.map((space) => ({ space: inches(space), within: true })),
      ...beyond.map((space) => ({ space: inches(space), within: false })),
    ];
    expect(shareWithin(shelves).enough).toBe(enough);
  });

  it('misses half of the shelf space by one tick', () => {
    const share = (within: Ticks) =>
      shareWithin([
        { space: within, within: true },
        { space: inches(24), within: false },
      ]).enough;
    expect([under(24), inches(24), over(24)].map(share)).toEqual([false, true, true]);
  });

  // 309.4: one hand, no tight grasp, pinch or twist. The kinds are common practice, no source.
  it('asks a grip of a hand only with knobs', () => {
    const asking = Object.entries(asksOfHand).filter(([, asks]) => asks !== undefined);
    expect(asking.map(([kind]) => kind)).toEqual(['knob']);
  });

  it('keeps 5 lbf as newtons', () => {
    // NIST SP 811: 1 lbf = 4.4482216 N.
    expect(operation.force).toBeCloseTo(5 * 4.4482216, 1);
  });
});

describe('protruding objects', () => {
  // ADA Standards 2010, 307.2: above 27 and to 80 in, 4 in from a wall.
  it.each([
    [inches(27), over(4), undefined],
    [over(27), over(4), TICK],
    [over(27), inches(4), undefined],
    [inches(80), over(4), TICK],
    [over(80), inches(20), undefined],
  ] as const)('edge at %d, out %d', (edge, out, by) => {
    expect(protrudesBy({ edge, out })).toBe(by);
  });
});

describe('sizes that one place or another asks for', () => {
  // 9 NYCRR 1610.4, as copied at casetext.com.
  it.each([
    [under(22), false],
    [inches(22), true],
  ])('a closet %d ticks deep in housing aided by the state', (deep, enough) => {
    expect(deep >= stateHousing.deep).toBe(enough);
  });
  it('are 24 in of closet a person there', () => expect(stateHousing.perPerson).toBe(inches(24)));
});

describe('furniture that tips', () => {
  // 16 CFR 1261, ASTM F2057-23 (88 FR 28403): 27 in high, 3.2 cubic feet enclosed (and 30 lb).
  const enclosed = cubicFeet(16) / 5n;
  it.each([
    [{ height: inches(27), enclosed }, true],
    [{ height: under(27), enclosed }, false],
    [{ height: inches(27), enclosed: enclosed - 1n }, false],
  ])('row %#', (given, may) => expect(mayBeClothingStorage(given)).toBe(may));

  // Construction standards of Oregon State University, division 12 00 00: over 6 ft is secured.
  it('is secured over 6 ft', () => expect(tallThings.high).toBe(inches(72)));
});
