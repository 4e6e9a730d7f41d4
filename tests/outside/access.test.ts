/**
 * Published limits of accessibility, each just inside, on and just outside by one tick (25 nm). The
 * source stands beside each row: document, section, edition, and where it was read if only quoted.
 */
import { describe, expect, it } from 'vitest';
import { childReach, childReached } from '../../server/checks/access/children.ts';
import {
  doorHardware,
  doorwayWidth,
  floorLacks,
  needsTypeBAdvice,
  shallowDoor,
  slideClearance,
  slideRows,
  swingClearances,
} from '../../server/checks/access/doors.ts';
import { alcoveWidth, approachesOn, floorBeneath, kneeAndToe, turningSpace } from '../../server/checks/access/floor.ts';
import {
  cityHousing,
  closetArea,
  closetLength,
  linenWidth,
  stateHousing,
} from '../../server/checks/access/local-sizes.ts';
import { headroomLacks, protrudesBy } from '../../server/checks/access/protrude.ts';
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
import {
  dressingShelf,
  handleFaults,
  lockersNeeded,
  noneWithinReach,
  operation,
  shareWithin,
} from '../../server/checks/access/storage.ts';
import { isClothingStorage, paintRuleApplies } from '../../server/checks/access/tip-over.ts';
import { squareFeet } from '../../server/checks/light/exact.ts';
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
    // 308.3.2 exception 1: washing machines and dryers.
    [
      'a dryer 36 high',
      at(side2010, inches(46), { depth: inches(20), over: { height: inches(36), depth: inches(20), laundry: true } }),
      'within',
    ],
    [
      'a dryer a tick over 36',
      at(side2010, inches(46), { depth: inches(20), over: { height: over(36), depth: inches(20), laundry: true } }),
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
  // ADA Standards 2010, 404.2.3: 32 in; 36 where deeper than 24; in alterations a stop may take 5/8.
  it.each([
    [inches(24), false, inches(32)],
    [over(24), false, inches(36)],
    [inches(24), true, inches(31.375)],
    [over(24), true, inches(35.375)],
  ])('a doorway %d ticks deep, altered %s', (depth, alteration, wide) => {
    expect(doorwayWidth({ depth, alteration })).toBe(wide);
    expect(subtract(wide, TICK) >= doorwayWidth({ depth, alteration })).toBe(false);
  });

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

  // ADA Standards 2010, table 404.2.4.1, with its notes 1 to 4.
  it.each([
    ['front', 'pull', false, false, [[60, 18]]],
    ['front', 'pull', true, true, [[60, 18]]],
    ['front', 'push', false, false, [[48, 0]]],
    ['front', 'push', true, false, [[48, 0]]],
    ['front', 'push', true, true, [[48, 12]]],
    [
      'hinge',
      'pull',
      false,
      false,
      [
        [60, 36],
        [54, 42],
      ],
    ],
    ['hinge', 'push', false, false, [[42, 22]]],
    ['hinge', 'push', true, false, [[42, 22]]],
    ['hinge', 'push', true, true, [[48, 22]]],
    ['latch', 'pull', false, true, [[48, 24]]],
    ['latch', 'pull', true, false, [[54, 24]]],
    ['latch', 'push', false, false, [[42, 24]]],
    ['latch', 'push', true, false, [[48, 24]]],
  ] as const)('from the %s, %s, closer %s, latch %s', (from, door, closer, latch, expected) => {
    const rows = swingClearances({ from, door, closer, latch });
    expect(rows.map(({ out, beyond }) => [out, beyond])).toEqual(expected.map((pair) => pair.map(inches)));
    expect(rows.every(({ side }) => side === (from === 'hinge' && door === 'push' ? 'hinge' : 'latch'))).toBe(true);
    for (const { out, beyond } of rows) {
      const free = { out, beyondLatch: beyond, beyondHinge: beyond };
      expect(floorLacks(rows, free)).toEqual({ out: 0, beyond: 0 });
    }
    const [first] = rows;
    if (!first) throw new Error('a row was expected');
    const short = { out: subtract(first.out, TICK), beyondLatch: first.beyond, beyondHinge: first.beyond };
    expect(floorLacks([first], short)).toEqual({ out: TICK, beyond: 0 });
  });

  it('finds casework inside 18 in of the latch, by one tick', () => {
    const rows = swingClearances({ from: 'front', door: 'pull' });
    const free = { out: inches(60), beyondLatch: under(18), beyondHinge: inches(0) };
    expect(floorLacks(rows, free)).toEqual({ out: 0, beyond: TICK });
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

  // ADA Standards 2010, 404.2.7 and 404.2.5.
  it('has hardware from 34 to 48 in and thresholds to 1/2 in', () => {
    const { lowest, highest, threshold } = doorHardware;
    expect([lowest, highest, threshold]).toEqual([34, 48, 0.5].map(inches));
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

  // 225.2.1, quoted at ada-compliance.com: lockers, 5 % and at least one.
  it.each([
    [0, 0],
    [1, 1],
    [20, 1],
    [21, 2],
    [40, 2],
    [41, 3],
  ])('of %d lockers, %d', (lockers, needed) => expect(lockersNeeded(lockers)).toBe(needed));

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

  // 803.5: a shelf in a dressing room from 40 to 48 in.
  it.each([
    [under(40), false],
    [inches(40), true],
    [inches(48), true],
    [over(48), false],
  ])('a shelf of a dressing room at %d ticks', (height, ok) => {
    expect(dressingShelf.lowest <= height && height <= dressingShelf.highest).toBe(ok);
  });

  // 309.4: one hand, no tight grasp, pinch or twist, 5 lbf (22.2 N) at most.
  it.each([
    [{ needs: ['one hand'], force: 22.2 }, 0],
    [{ needs: ['one hand'], force: 22.3 }, 1],
    [{ needs: ['one hand', 'twist'] }, 1],
    [{ needs: ['pinch', 'two hands'], force: 30 }, 3],
  ] as const)('a handle %j has %d faults', (handle, faults) => expect(handleFaults(handle)).toHaveLength(faults));

  it('keeps 5 lbf as newtons', () => {
    // NIST SP 811: 1 lbf = 4.4482216 N.
    expect(operation.force).toBeCloseTo(5 * 4.4482216, 1);
  });
});

describe('protruding objects', () => {
  // ADA Standards 2010, 307.2 and 307.3: above 27 and to 80 in, 4 in from a wall; from 27 to 80 in, 12 from a post.
  it.each([
    ['wall', inches(27), over(4), undefined],
    ['wall', over(27), over(4), TICK],
    ['wall', over(27), inches(4), undefined],
    ['wall', inches(80), over(4), TICK],
    ['wall', over(80), inches(20), undefined],
    ['post', under(27), over(12), undefined],
    ['post', inches(27), over(12), TICK],
    ['post', inches(27), inches(12), undefined],
    ['post', inches(80), over(12), TICK],
    ['post', over(80), over(12), undefined],
  ] as const)('on a %s, edge at %d, out %d', (mounted, edge, out, by) => {
    expect(protrudesBy({ edge, out, mounted })).toBe(by);
  });

  // 307.4: 80 in of headroom.
  it.each([
    [under(80), TICK],
    [inches(80), undefined],
    [over(80), undefined],
  ])('headroom of %d ticks lacks %s', (underside, by) => expect(headroomLacks(underside)).toBe(by));
});

describe('sizes that one place or another asks for', () => {
  // 9 NYCRR 1610.4, as copied at casetext.com.
  it.each([
    [under(22), false],
    [inches(22), true],
  ])('a closet %d ticks deep in housing aided by the state', (deep, enough) => {
    expect(deep >= stateHousing.deep).toBe(enough);
  });
  it.each([
    [1, 24],
    [2, 48],
    [3, 72],
  ])('%d people need %d in', (people, length) => expect(closetLength(people)).toBe(inches(length)));
  it.each([
    [0, 24],
    [1, 24],
    [2, 30],
    [3, 30],
    [4, 36],
  ])('a linen closet with %d bedrooms is %d in wide', (bedrooms, wide) =>
    expect(linenWidth(bedrooms)).toBe(inches(wide)),
  );

  // Weston, Florida, code of ordinances 129.05(E), 2010.
  it.each([
    [0, 0],
    [1, 12],
    [2, 18],
    [3, 24],
  ])('%d bedrooms have %d square feet of closet', (bedrooms, feet) =>
    expect(closetArea(bedrooms)).toBe(squareFeet(feet)),
  );
  it('has closets 6 ft high there', () => expect(cityHousing.high).toBe(inches(72)));
});

describe('furniture that tips, and old paint', () => {
  const chest = { builtIn: false, drawersOrDoors: true, height: inches(27), mass: 30, volume: 3.2 };
  // 16 CFR 1261, ASTM F2057-23 (88 FR 28403).
  it.each([
    [chest, true],
    [{ ...chest, height: under(27) }, false],
    [{ ...chest, mass: 29.9 }, false],
    [{ ...chest, volume: 3.1 }, false],
    [{ ...chest, drawersOrDoors: false }, false],
    [{ ...chest, builtIn: true }, false],
  ])('%j is a clothing storage unit: %s', (unit, is) => expect(isClothingStorage(unit)).toBe(is));

  // 40 CFR 745.82 and 745.83, quoted at thehtrc.com: over 6 square feet a room, before 1978, demolition at any size.
  it.each([
    [1977, squareFeet(6), false, false],
    [1977, squareFeet(6) + 1n, false, true],
    [1977, squareFeet(7), false, true],
    [1978, squareFeet(7), false, false],
    [1977, 0n, true, true],
    [1978, squareFeet(7), true, false],
  ])('built %d, %d square ticks, demolition %s: %s', (built, disturbed, demolition, applies) => {
    expect(paintRuleApplies({ built, disturbed, demolition })).toBe(applies);
  });
});
