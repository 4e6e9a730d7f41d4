/**
 * Published limits of lights, wiring, sprinkler heads, hatches and heaters in closets, each just
 * inside, on and just outside by one tick (25 nm). The source stands beside each row. Rows that are
 * from memory say so; they ask for nothing by themselves.
 */
import { describe, expect, it } from 'vitest';
import { barredFromStorage, serviceSpace } from '../../server/checks/light/appliances.ts';
import { cubicFeet, distance, squareFeet } from '../../server/checks/light/exact.ts';
import { freeOf, largeEnough, sides } from '../../server/checks/light/hatch.ts';
import { belowDeflector, belowHead, mayLackHead, oneHeadWillDo, withoutHead } from '../../server/checks/light/heads.ts';
import { bannedSource, isBanned, type Lamp, lampRule } from '../../server/checks/light/luminaire.ts';
import { type StorageWall, stepHeight, storageBoxes } from '../../server/checks/light/storage-space.ts';
import { workingRoom, workingSpace, workingWidth } from '../../server/checks/light/working-space.ts';
import type { Box } from '../../server/model/layout.ts';
import { add, inches, subtract, type Ticks, ticks } from '../../server/model/ticks.ts';

const TICK = ticks(1);
const under = (limit: number): Ticks => subtract(inches(limit), TICK);
const over = (limit: number): Ticks => add(inches(limit), TICK);
type Pair = readonly [Ticks, Ticks];
const at = (x: Pair, y: Pair, z: Pair): Box => ({ x, y, z });
const span = (from: number, to: number): Pair => [inches(from), inches(to)];

const shelf = (depth: number, height: number, x: Pair = span(0, 96)): Box =>
  at(x, span(0, depth), span(height, height + 0.75));
const back = (given: Partial<StorageWall> = {}): StorageWall => ({
  name: 'back',
  isFront: false,
  length: inches(96),
  height: inches(96),
  room: inches(60),
  shelves: [],
  rods: [],
  ...given,
});
const rodAt = (height: number, fromWall: number) => ({
  box: at(span(0, 96), span(fromWall - 0.5, fromWall + 0.5), span(height - 0.5, height + 0.5)),
  centre: inches(height),
  fromWall: inches(fromWall),
});
const outOf = (wall: StorageWall, what: 'below' | 'above') =>
  storageBoxes([wall]).find((box) => box.what === what)?.box;

describe('the storage space of a closet', () => {
  // NEC 2014, 410.2, quoted at electrical-contractor.net.
  it('is 24 in deep up to 6 ft and 12 in deep from there to the ceiling', () => {
    expect(outOf(back(), 'below')).toEqual(at(span(0, 96), span(0, 24), span(0, 72)));
    expect(outOf(back(), 'above')).toEqual(at(span(0, 96), span(0, 12), span(72, 96)));
  });

  it.each([
    [10, 12],
    [12, 12],
    [16, 16],
  ])('above with a shelf %d in deep is %d in deep', (depth, deep) => {
    expect(outOf(back({ shelves: [shelf(depth, 84)] }), 'above')?.y).toEqual(span(0, deep));
    expect(outOf(back({ shelves: [shelf(depth, 68)] }), 'above')?.y).toEqual(span(0, deep));
  });

  it('takes the shelf that things stand on up to the ceiling, not a deep one under it', () => {
    const shelves = [shelf(24, 20), shelf(14, 84)];
    expect(outOf(back({ shelves }), 'above')?.y).toEqual(span(0, 14));
  });

  it.each([
    [66, 72],
    [72, 72],
    [80, 80],
  ])('with the highest rod at %d in steps back at %d in', (rod, step) => {
    expect(stepHeight([back({ rods: [rodAt(rod, 12)] })])).toBe(inches(step));
  });

  it('reaches 12 in to either side of a rod, as long and as high as the rod', () => {
    const boxes = storageBoxes([back({ rods: [rodAt(66, 40)] })]).filter(({ what }) => what === 'rod');
    expect(boxes.map(({ box }) => box)).toEqual([at(span(0, 96), span(28, 52), span(0, 66))]);
  });

  it('does not reach through the walls of a shallow closet, and the front wall has none', () => {
    expect(outOf(back({ room: inches(20) }), 'below')?.y).toEqual(span(0, 20));
    expect(storageBoxes([back({ name: 'front', isFront: true })])).toEqual([]);
  });
});

const lamp = (given: Partial<Lamp>): Lamp => ({
  mount: 'surface',
  source: 'led',
  enclosed: true,
  identified: false,
  ...given,
});

describe('lights by their kind', () => {
  // NEC 2017, 410.16(C)(1) to (5), quoted at electricallicenserenewal.com; (C)(2) also at ecmweb.com.
  it.each([
    ['surface LED, enclosed', lamp({}), 12],
    ['surface incandescent, enclosed', lamp({ source: 'incandescent' }), 12],
    ['surface fluorescent', lamp({ source: 'fluorescent', enclosed: false }), 6],
    ['recessed LED, enclosed', lamp({ mount: 'recessed' }), 6],
    ['recessed incandescent, enclosed', lamp({ mount: 'recessed', source: 'incandescent' }), 6],
    ['recessed fluorescent', lamp({ mount: 'recessed', source: 'fluorescent', enclosed: false }), 6],
  ] as const)('%s', (_, given, limit) => {
    const rule = lampRule(given);
    if (rule.kind !== 'distance') throw new Error('a distance was expected');
    const storage = at(span(0, 96), span(0, 12), span(72, 96));
    const apart = (gap: Ticks) => {
      const y = add(inches(12), gap);
      return distance(at(span(40, 50), [y, add(y, inches(4))], span(90, 96)), storage) >= rule.least;
    };
    expect([under(limit), inches(limit), over(limit)].map(apart)).toEqual([false, true, true]);
    expect(rule.source).toMatchObject({ edition: '2017', seen: true });
  });

  it.each([
    ['surface fluorescent, identified', lamp({ source: 'fluorescent', identified: true }), 'inside'],
    ['surface LED, identified', lamp({ identified: true }), 'inside'],
    ['recessed LED, identified', lamp({ mount: 'recessed', identified: true }), 'distance'],
    ['surface incandescent, identified', lamp({ source: 'incandescent', identified: true }), 'distance'],
    ['surface LED, not enclosed', lamp({ enclosed: false }), 'none'],
    ['pendant LED', lamp({ mount: 'pendant' }), 'none'],
    ['surface incandescent, open', lamp({ source: 'incandescent', enclosed: false }), 'none'],
  ] as const)('%s: %s', (_, given, kind) => expect(lampRule(given).kind).toBe(kind));

  // NEC 410.16(B), from memory.
  it.each([
    [lamp({ mount: 'pendant' }), true],
    [lamp({ source: 'incandescent', enclosed: false }), true],
    [lamp({ source: 'incandescent' }), false],
    [lamp({ enclosed: false }), false],
  ])('from memory: %j is banned: %s', (given, banned) => expect(isBanned(given)).toBe(banned));

  it('says that the ban is from memory', () => expect(bannedSource).toMatchObject({ seen: false }));
});

describe('distances on the slant', () => {
  // 3-4-5: 7.2 and 9.6 in make 12 in exactly, and one tick less on either makes less.
  const storage = at(span(0, 10), span(0, 12), span(0, 72));
  const apart = (y: Ticks, z: Ticks) => {
    const from = [add(inches(12), y), add(inches(72), z)] as const;
    return distance(at(span(2, 4), [from[0], add(from[0], TICK)], [from[1], add(from[1], TICK)]), storage);
  };
  it('are exact at the limit', () => {
    const [y, z] = [ticks(7_315_200), ticks(9_753_600)];
    expect(apart(y, z)).toBe(inches(12));
    expect(apart(subtract(y, TICK), z)).toBeLessThan(inches(12));
    expect(apart(y, subtract(z, TICK))).toBeLessThan(inches(12));
    expect(apart(add(y, TICK), z)).toBe(inches(12));
  });
});

describe('sprinkler heads', () => {
  // NFPA 13, 18 in below the deflector, quoted at lists.ufl.edu.
  it.each([
    [under(18), false],
    [inches(18), true],
    [over(18), true],
  ])('%d ticks below the deflector', (below, enough) => {
    const deflector = inches(94);
    expect(belowDeflector(deflector, subtract(deflector, below)) >= belowHead.least).toBe(enough);
  });

  it.each([
    // NFPA 13 (2016), hotel guest rooms, quoted at ncnsfpe.org: 24 square feet, whatever the shorter side.
    ['hotel', inches(48), inches(72), true],
    ['hotel', over(48), inches(72), false],
    ['hotel', over(36), inches(90), true],
    // NFPA 13 8.15.9, patient rooms, quoted at ncnsfpe.org: 6 square feet.
    ['hospital', inches(24), inches(36), true],
    ['hospital', over(24), inches(36), false],
    // NFPA 13-2016 4.1, flats and dormitories, quoted at ncnsfpe.org: heads are asked for.
    ['flats', inches(12), inches(12), false],
    // NFPA 13D 8.3 and IRC P2904.1.1, from memory: 24 square feet, shorter side 3 ft.
    ['house', inches(36), inches(96), true],
    ['house', over(36), inches(90), false],
    ['house', inches(36), over(96), false],
  ] as const)('%s, %d by %d ticks: %s', (kind, width, depth, may) => {
    expect(mayLackHead(kind, { width, depth })).toBe(may);
  });

  it('says that the row of houses is from memory, and no other', () => {
    const unseen = Object.entries(withoutHead).filter(([, { source }]) => source.kind === 'published' && !source.seen);
    expect(unseen.map(([kind]) => kind)).toEqual(['house']);
  });

  // NFPA 13, quoted at ncnsfpe.org: 400 cubic feet. 5 x 8 x 10 ft.
  it.each([
    [inches(120), true],
    [over(120), false],
  ])('one head in a closet %d ticks high: %s', (height, one) => {
    expect(oneHeadWillDo({ width: inches(60), depth: inches(96) }, height)).toBe(one);
    expect(cubicFeet(400)).toBe(squareFeet(40) * BigInt(inches(120)));
  });
});

describe('electrical panels', () => {
  // NEC 110.26(A), quoted at ecmag.com: 36 in deep, 30 in wide or the width of the equipment.
  const panel = at(span(40, 54), span(0, 0), span(40, 70));
  const all = span(0, 78);
  const before = (y: Ticks) => at(span(45, 60), [y, add(y, inches(12))], span(50, 51));
  it.each([
    [under(36), false],
    [inches(36), true],
    [over(36), true],
  ])('something %d ticks before it', (y, enough) => {
    const { deep } = workingRoom(panel, [before(y)], inches(96), all);
    expect(deep).toBe(y);
    expect((deep ?? 0) >= workingSpace.deep).toBe(enough);
  });

  it.each([
    [inches(30), inches(60), true],
    [over(30), inches(60), false],
    [inches(30), under(60), false],
  ])('things beside it, up to %d and from %d ticks', (left, right, enough) => {
    const beside = [at([inches(0), left], span(0, 12), span(0, 84)), at([right, inches(96)], span(0, 12), span(0, 84))];
    const { wide } = workingRoom(panel, beside, inches(96), all);
    expect(wide).toBe(subtract(right, left));
    expect(wide >= workingWidth(panel)).toBe(enough);
  });

  it('leaves room as wide as a wide panel', () =>
    expect(workingWidth(at(span(0, 40), span(0, 0), span(0, 1)))).toBe(inches(40)));

  // NEC 110.26(A)(3), from memory: 6-1/2 ft.
  it('from memory: what is above 78 in does not count', () => {
    expect(workingSpace.highSource).toMatchObject({ seen: false });
    const shelfAt = (z: Ticks) => at(span(40, 60), span(0, 12), [z, add(z, inches(1))]);
    expect(workingRoom(panel, [shelfAt(inches(78))], inches(96), [inches(0), workingSpace.high]).deep).toBeUndefined();
    expect(workingRoom(panel, [shelfAt(under(78))], inches(96), [inches(0), workingSpace.high]).deep).toBe(0);
  });
});

describe('hatches', () => {
  // IRC R807.1 2018, quoted at nachi.org and thebuildingcodeforum.com: 22 by 30 in; in a wall 22 wide and 30 high.
  it.each([
    [inches(22), inches(30), 'ceiling', true],
    [inches(30), inches(22), 'ceiling', true],
    [under(22), inches(30), 'ceiling', false],
    [inches(22), under(30), 'ceiling', false],
    [inches(22), inches(30), 'wall', true],
    [inches(30), inches(22), 'wall', false],
  ] as const)('%d by %d ticks in a %s: %s', (a, b, where, enough) => expect(largeEnough(a, b, where)).toBe(enough));

  const hatch = { x: span(20, 50), y: span(10, 34) };
  it.each([
    // The hatch is 24 in front to back: a shelf may take 2 in of it, and not a tick more.
    [inches(12), true],
    [over(12), false],
  ])('is large enough above a shelf %d ticks deep: %s', (deep, enough) => {
    const free = freeOf(hatch, [{ x: span(0, 96), y: [inches(0), deep] }]);
    if (!free) throw new Error('some of it is free');
    const { short, long } = sides(free);
    expect(largeEnough(short, long, 'ceiling')).toBe(enough);
  });

  it('is gone where all of it is covered', () => {
    expect(freeOf(hatch, [{ x: span(0, 96), y: span(0, 40) }])).toBeUndefined();
  });
});

describe('heaters', () => {
  // IRC G2406.2, IFGC 303.3, quoted at nachi.org; IRC M2005.2, quoted at codecheck.com.
  it.each([
    [{ fuel: 'gas', kept: undefined, heats: 'air' }, true],
    [{ fuel: 'gas', kept: undefined, heats: undefined }, true],
    [{ fuel: 'gas', kept: 'direct-vent', heats: 'air' }, false],
    [{ fuel: 'gas', kept: 'enclosed', heats: 'air' }, false],
    [{ fuel: 'gas', kept: 'direct-vent', heats: 'water' }, true],
    [{ fuel: 'oil', kept: undefined, heats: 'water' }, true],
    [{ fuel: 'oil', kept: undefined, heats: 'air' }, false],
    [{ fuel: 'nothing', kept: undefined, heats: 'water' }, false],
    // It depends on what it heats.
    [{ fuel: 'oil', kept: undefined, heats: undefined }, undefined],
  ] as const)('%j is barred: %s', (appliance, barred) => expect(barredFromStorage(appliance)).toBe(barred));

  // IRC M1305.1, quoted at codecheck.com: 30 by 30 in to work in.
  it('have 30 in of room before them', () => expect(serviceSpace.side).toBe(inches(30)));
});
