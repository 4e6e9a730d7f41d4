/** Plain geometry: no outside source, the numbers are worked out beside each case. */
import { describe, expect, it } from 'vitest';
import { overlapCheck } from '../../server/checks/overlaps.ts';
import { inches, ticks } from '../../server/model/ticks.ts';
import {
  ids,
  input,
  layout,
  nudged,
  only,
  panel,
  reading,
  rod,
  shelf,
  standsOn,
  TICK,
  walkIn,
  wall,
} from './layouts.ts';

const back = ticks(-TICK);
const found = (...fittings: Parameters<typeof layout>[0]) => overlapCheck.run(input(layout(fittings)));

describe('two fittings on one wall', () => {
  // 42 + 3/4 = 42-3/4: the upper face of the lower shelf.
  const low = shelf('shirts.low', 42);

  it('may touch in height, and may not share a tick', () => {
    const high = shelf('shirts.high', 42.75);
    expect(found(low, high)).toEqual([]);
    expect(ids(found(low, nudged(high, 'z', back)))).toEqual(['parts-overlap']);
  });

  it('may touch along the wall: the shelf of an adjoining zone', () => {
    const next = shelf('tower.low', 42, { x: [48, 72] });
    expect(found(low, next)).toEqual([]);
    expect(ids(found(low, nudged(next, 'x', back)))).toEqual(['parts-overlap']);
  });

  it('may stand one in front of the other', () => {
    const front = nudged(shelf('shirts.front', 42), 'y', inches(12));
    expect(found(low, front)).toEqual([]);
    expect(ids(found(low, nudged(front, 'y', back)))).toEqual(['parts-overlap']);
  });

  it('is told once, on the later one, with the stretch shared and the shortest ways out', () => {
    // The rod is 1 in thick: 41-1/2 to 42-1/2 in height, 11-1/2 to 12-1/2 out; the shelf 42 to 42-3/4 and 0 to 12.
    // Shared: 42 to 42-1/2 and 11-1/2 to 12. Down by 42-1/2 - 42 = 1/2, out by 12 - 11-1/2 = 1/2.
    const crossing = rod('shirts.lower', 42, []);
    const told = only(found(low, crossing), 'parts-overlap');
    expect(told.message).toBe(
      'Rod "shirts.lower" and shelf "shirts.low" stand in the same place: from 0in to 48in along the back wall, from 11-1/2in to 12in out from it and from 42in to 42-1/2in in height.',
    );
    expect(told.advice).toBe('Move one of them by at least 1/2in up or down or 1/2in in or out.');
    expect(told.about).toBe('shirts.lower');
    expect(standsOn(told.place)).toBe('rod shirts.lower');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['shelf shirts.low']);
    expect(told.comparison).toEqual({
      what: 'room between "shirts.lower" and "shirts.low"',
      measured: { ticks: inches(-0.5) },
      relation: 'at least',
      limit: { ticks: 0 },
    });
  });

  it('finds a rod on top of the rod below it', () => {
    // Both 1 in thick: centres 1 in apart just touch.
    const lower = rod('shirts.lower', 40, []);
    expect(found(lower, rod('shirts.upper', 41, []))).toEqual([]);
    expect(ids(found(lower, nudged(rod('shirts.upper', 41, []), 'z', back)))).toEqual(['parts-overlap']);
  });

  it('leaves the panels of a tower and the shelves between them alone', () => {
    // 48 + 3/4 = 48-3/4 and 72 - 3/4 = 71-1/4: the shelf fills what is between the panels.
    const tower = [
      panel('tower.left', 48),
      panel('tower.right', 71.25),
      shelf('tower.top', 83.25, { x: [48.75, 71.25] }),
    ];
    expect(found(...tower)).toEqual([]);
  });

  it('leaves to the chain of widths what a wall that leans moves along it', () => {
    // Measured longer at the floor than at the top, the shelves of a tower by the right wall stand 3/8 in further
    // along there than its panels, which stand for the shortest length. They still fit between them.
    const tower = [
      panel('tower.left', 48),
      panel('tower.right', 71.25),
      shelf('tower.shoes', 8, { x: [49.125, 71.625] }),
    ];
    expect(found(...tower)).toEqual([]);
    // A shelf of another zone is no such shelf, where the zones overlap.
    expect(ids(found(...tower, shelf('coats.low', 20, { x: [60, 96] })))).toEqual(['parts-overlap']);
  });

  it('reports a fitting against three others and no more', () => {
    const heap = Array.from({ length: 6 }, (_, i) => shelf(`heap.s${i}`, 40));
    // 0 + 1 + 2 + 3 + 3 + 3 = 12.
    expect(found(...heap)).toHaveLength(12);
  });
});

describe('tilted shelves', () => {
  // 3/4 in thick, 12 in deep, the back edge 4 in higher than the front edge.
  const tilted = (path: string, at: number) => shelf(path, at, { tilted: true, rise: 4 });

  it('may stand one above the other in one box', () => {
    // Parallel bands: 3/4 in from underside to underside just touch, though the boxes share 4 in of height.
    expect(found(tilted('shoes.1', 8), tilted('shoes.2', 8.75))).toEqual([]);
    expect(ids(found(tilted('shoes.1', 8), tilted('shoes.2', 8.5)))).toEqual(['parts-overlap']);
  });

  it('meet a level shelf only where they are', () => {
    // At the back the upper face is at 8 + 4 + 3/4 = 12-3/4, at the front the underside is at 8.
    expect(found(tilted('shoes.1', 8), shelf('shoes.top', 12.75))).toEqual([]);
    expect(ids(found(tilted('shoes.1', 8), shelf('shoes.top', 12.5)))).toEqual(['parts-overlap']);
    expect(found(tilted('shoes.1', 8), shelf('shoes.bottom', 7.25))).toEqual([]);
    expect(ids(found(tilted('shoes.1', 8), shelf('shoes.bottom', 7.5)))).toEqual(['parts-overlap']);
  });

  it('have room behind their front edge, under the slope', () => {
    // A level shelf 6 in deep: at 6 in out the underside is at 8 + 4 * 6/12 = 10 and higher towards the wall,
    // so a shelf whose upper face is at 9-1/4 + 3/4 = 10 goes under it, and inside its box.
    expect(found(tilted('shoes.1', 8), shelf('shoes.under', 9.25, { depth: 6 }))).toEqual([]);
    expect(ids(found(tilted('shoes.1', 8), shelf('shoes.under', 9.5, { depth: 6 })))).toEqual(['parts-overlap']);
  });
});

describe('fittings on two walls', () => {
  const corner = (...fittings: Parameters<typeof layout>[0]) =>
    overlapCheck.run(input(layout(fittings, { walls: walkIn })));

  it('meet in the corner of the back and the left wall, which is at the right end of the left wall', () => {
    // The left wall is 60 in long: its last 12 in, from 48 to 60, are in front of the first 12 in of the back wall.
    const onBack = shelf('back.high', 84, { x: [0, 96] });
    const onLeft = shelf('left.high', 84, { wall: 'left', x: [0, 48] });
    expect(corner(onBack, onLeft)).toEqual([]);
    expect(ids(corner(onBack, nudged(onLeft, 'x', TICK)))).toEqual(['parts-overlap']);
  });

  it('meet in the corner of the back and the right wall, which is at the left end of the right wall', () => {
    const onBack = shelf('back.high', 84, { x: [0, 96] });
    const onRight = shelf('right.high', 84, { wall: 'right', x: [12, 60] });
    expect(corner(onBack, onRight)).toEqual([]);
    expect(ids(corner(onBack, nudged(onRight, 'x', back)))).toEqual(['parts-overlap']);
    // The back wall's shelf may give way instead: 96 - 12 = 84.
    expect(corner(shelf('back.high', 84, { x: [0, 84] }), nudged(onRight, 'x', inches(-12)))).toEqual([]);
  });

  it('meet in the corner of the front and the right wall, which is at the left end of the front wall', () => {
    const onRight = shelf('right.high', 84, { wall: 'right', x: [0, 60] });
    const onFront = shelf('front.high', 84, { wall: 'front', x: [12, 96] });
    expect(corner(onRight, onFront)).toEqual([]);
    expect(ids(corner(onRight, nudged(onFront, 'x', back)))).toEqual(['parts-overlap']);
  });

  it('meet in the corner of the front and the left wall, which is at the left end of the left wall', () => {
    const onFront = shelf('front.high', 84, { wall: 'front', x: [0, 96] });
    const onLeft = shelf('left.high', 84, { wall: 'left', x: [12, 60] });
    expect(corner(onFront, onLeft)).toEqual([]);
    expect(ids(corner(onFront, nudged(onLeft, 'x', back)))).toEqual(['parts-overlap']);
  });

  it('meet across the room', () => {
    // 60 in deep: 30 and 30 touch.
    const onBack = shelf('back.high', 84, { depth: 30 });
    const onFront = shelf('front.high', 84, { wall: 'front', x: [48, 96], depth: 30 });
    expect(corner(onBack, onFront)).toEqual([]);
    expect(ids(corner(onBack, nudged(onFront, 'y', TICK)))).toEqual(['parts-overlap']);
    // 96 in wide: 48 and 48 touch.
    const onLeft = shelf('left.low', 20, { wall: 'left', depth: 48 });
    const onRight = shelf('right.low', 20, { wall: 'right', depth: 48 });
    expect(corner(onLeft, onRight)).toEqual([]);
    expect(ids(corner(onLeft, nudged(onRight, 'y', TICK)))).toEqual(['parts-overlap']);
  });

  it('tells places across walls from the left and the back wall', () => {
    const told = only(
      corner(shelf('back.high', 84, { x: [0, 96] }), shelf('left.high', 84, { wall: 'left', x: [0, 50] })),
      'parts-overlap',
    );
    // The left wall's 50 in is 60 - 50 = 10 in from the back wall.
    expect(told.message).toContain(
      'from 0in to 12in from the left wall, from 10in to 12in from the back wall and from 84in to 84-3/4in in height',
    );
    expect(told.advice).toContain('2in to the back or front');
  });

  it('takes the width from the wall that makes the corner, as measured', () => {
    // The front wall was measured 95 in, the back wall 96: the back corner is still at 96.
    const walls = [wall('left', 60), wall('back', 96), wall('right', 60), wall('front', 95)];
    const onBack = shelf('back.high', 84, { x: [0, 84] });
    const onRight = shelf('right.high', 84, { wall: 'right', x: [0, 48] });
    expect(overlapCheck.run(input(layout([onBack, onRight], { walls })))).toEqual([]);
  });

  it('take the width as measured at their height', () => {
    // The back wall is 95-1/2 in at the floor and 96 in at 84: the corner is at 96 up there.
    const leaning = wall('back', 95.5, { nominal: 96, readings: [reading(95.5, 0), reading(96, 84)] });
    const onBack = shelf('back.high', 84, { x: [0, 84] });
    const onRight = shelf('right.high', 84, { wall: 'right', x: [0, 48] });
    const walls = [wall('left', 60), leaning, wall('right', 60)];
    expect(overlapCheck.run(input(layout([onBack, onRight], { walls })))).toEqual([]);
    const nearer = overlapCheck.run(input(layout([nudged(onBack, 'x', TICK), onRight], { walls })));
    expect(ids(nearer)).toEqual(['parts-overlap']);
  });

  it('are not compared where walls of other names make another shape', () => {
    const walls = [wall('long', 96), wall('bay', 40)];
    const one = shelf('a.s', 84, { wall: 'long' });
    const two = shelf('b.s', 84, { wall: 'bay', x: [0, 40] });
    expect(overlapCheck.run(input(layout([one, two], { walls })))).toEqual([]);
    // On one wall they are, whatever its name.
    expect(ids(overlapCheck.run(input(layout([one, shelf('c.s', 84, { wall: 'long' })], { walls }))))).toEqual([
      'parts-overlap',
    ]);
  });
});

describe('a fitting and its wall', () => {
  it('may reach the ceiling and no further', () => {
    // 95-1/4 + 3/4 = 96.
    expect(found(shelf('a.s', 95.25))).toEqual([]);
    const told = only(found(nudged(shelf('a.s', 95.25), 'z', inches(0.5))), 'fitting-outside-wall');
    expect(told.message).toBe('Shelf "a.s" reaches up to 96-1/2in, and the back wall is 96in high: 1/2in too high.');
    expect(told.advice).toBe('Lower it by at least 1/2in.');
    expect(standsOn(told.place)).toBe('height of a.s');
    expect(ids(found(nudged(shelf('a.s', 95.25), 'z', TICK)))).toEqual(['fitting-outside-wall']);
  });

  it('is not compared with a ceiling that nobody gave', () => {
    const walls = [wall('back', 96, { height: undefined })];
    expect(overlapCheck.run(input(layout([shelf('a.s', 200)], { walls })))).toEqual([]);
  });

  it('may stand on the floor and not below it', () => {
    expect(found(shelf('a.s', 0))).toEqual([]);
    const told = only(found(nudged(shelf('a.s', 0), 'z', back)), 'fitting-outside-wall');
    expect(told.comparison).toMatchObject({ measured: { ticks: -1 }, relation: 'at least', limit: { ticks: 0 } });
  });

  it('may reach both ends of the wall and no further', () => {
    const whole = shelf('a.s', 40, { x: [0, 96] });
    expect(found(whole)).toEqual([]);
    const right = only(found(nudged(whole, 'x', TICK)), 'fitting-outside-wall');
    expect(right.comparison).toMatchObject({ measured: { ticks: inches(96) + 1 }, limit: { ticks: inches(96) } });
    expect(right.causes).toEqual({ parameters: [], survey: false });
    expect(ids(found(nudged(whole, 'x', back)))).toEqual(['fitting-outside-wall']);
  });

  it('may reach as far as the wall was measured at its height', () => {
    // 94 in at the floor, 93 in at 84: 93-1/2 in half way, at 42.
    const leaning = wall('back', 93, { nominal: 94, readings: [reading(94, 0), reading(93, 84)] });
    const at = (height: number, to: number) =>
      ids(overlapCheck.run(input(layout([shelf('a.s', height, { x: [0, to] })], { walls: [leaning] }))));
    expect(at(0, 94)).toEqual([]);
    expect(at(42, 93.5)).toEqual([]);
    expect(at(42, 93.75)).toEqual(['fitting-outside-wall']);
    expect(at(84, 94)).toEqual(['fitting-outside-wall']);
  });

  it('says where only the measured length does not hold it', () => {
    const measured = wall('back', 95.5, {
      nominal: 96,
      readings: [reading(95.5)],
    });
    const told = only(
      overlapCheck.run(input(layout([shelf('a.s', 40, { x: [0, 96] })], { walls: [measured] }))),
      'fitting-outside-wall',
    );
    expect(told.message).toContain('which is 95-1/2in long: 1/2in too far to the right');
    expect(told.causes).toEqual({ parameters: [], survey: true });
  });

  it('may be as deep as the shorter wall beside it', () => {
    const walls = [wall('left', 25), wall('back', 96), wall('right', 24)];
    const deep = (depth: number) => overlapCheck.run(input(layout([shelf('a.s', 40, { depth })], { walls })));
    expect(deep(24)).toEqual([]);
    const told = only(deep(24.5), 'fitting-past-front');
    expect(told.severity).toBe('warning');
    expect(told.message).toBe(
      'Shelf "a.s" reaches 24-1/2in out from the back wall, and the closet is 24in deep there: 1/2in too deep.',
    );
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['length of right']);
  });

  it('has no front where no wall beside it gives one', () => {
    expect(overlapCheck.run(input(layout([shelf('a.s', 40, { depth: 40 })], { walls: [wall('back', 96)] })))).toEqual(
      [],
    );
  });
});
