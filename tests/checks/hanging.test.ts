/** What hangs on a rod, compared with what is below, above, behind and in front of it. */
import { describe, expect, it } from 'vitest';
import { hangingCheck } from '../../server/checks/hanging.ts';
import type { FittingLayout, RodLayout } from '../../server/model/layout.ts';
import type { PolicyInForce } from '../../server/model/materials.ts';
import { add, inches, type Ticks, ticks } from '../../server/model/ticks.ts';
import {
  fixed,
  garment,
  ids,
  input,
  layout,
  nudged,
  only,
  policy,
  rod,
  shelf,
  standsOn,
  TICK,
  walkIn,
  wall,
} from './layouts.ts';

const back = ticks(-TICK);

function found(fittings: readonly FittingLayout[], inForce: PolicyInForce = policy(), walls = [wall('back', 96)]) {
  return hangingCheck.run(input(layout(fittings, { walls }), inForce));
}

/** The rod moved up or down, box and centre. */
function lifted(on: RodLayout, by: Ticks): RodLayout {
  return { ...nudged(on, 'z', by), at: fixed(add(on.at.value, by)) };
}

/** The rod moved out from the wall. */
function movedOut(on: RodLayout, by: Ticks): RodLayout {
  return { ...nudged(on, 'y', by), fromWall: add(on.fromWall, by) };
}

const coat = garment('coat', { hang: 60, hanger: 17 });
const shirt = garment('shirt', { hang: 38, hanger: 17 });

describe('a garment and the floor', () => {
  it('may just reach it', () => {
    const long = rod('coats.long', 60, [coat]);
    expect(found([long])).toEqual([]);
    expect(ids(found([lifted(long, back)]))).toEqual(['garment-meets-floor']);
  });

  it('is told with the numbers, the ways out and the garment', () => {
    // 58 - 60 = -2: 2 in too long. The rod would have to be at 60, or the garment 58 long.
    const told = only(found([rod('coats.long', 58, [coat])]), 'garment-meets-floor');
    expect(told.message).toBe(
      '"coat" on rod "coats.long" hangs down to the floor: it hangs 60in, and the rod is at 58in, 2in too low.',
    );
    expect(told.advice).toBe('Raise rod "coats.long" to 60in or hang nothing longer than 58in there.');
    expect(told.comparison).toEqual({
      what: 'room below "coat"',
      measured: { ticks: inches(-2) },
      relation: 'at least',
      limit: { ticks: 0 },
    });
    expect(told.about).toBe('coats.long');
    expect(standsOn(told.place)).toBe('height of coats.long');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['garment coat']);
    expect(told.causes).toEqual({ parameters: [], survey: false });
  });

  it('keeps the clear distance that a policy asks for, and names the policy', () => {
    const clear = policy({ 'clear-below-garment': { least: 2 } });
    // 62 - 60 = 2.
    const long = rod('coats.long', 62, [coat]);
    expect(found([long], clear)).toEqual([]);
    const told = only(found([lifted(long, back)], clear), 'garment-meets-floor');
    expect(told.message).toContain(', and policy "everyday" asks for 2in clear below it.');
    expect(told.related.map((r) => standsOn(r.place))).toContain('limit clear-below-garment');
    expect(told.advice).toContain('to 62in');
  });
});

describe('a garment and what is below it', () => {
  // Underside 42, upper face 42-3/4; 42-3/4 + 38 = 80-3/4.
  const low = shelf('shirts.low', 42);

  it('may just touch the upper face of a shelf', () => {
    const upper = rod('shirts.upper', 80.75, [shirt]);
    expect(found([low, upper])).toEqual([]);
    expect(ids(found([low, lifted(upper, back)]))).toEqual(['garment-meets-below']);
  });

  it('is told with the numbers and the three ways out', () => {
    // 80 - 38 = 42, 3/4 below the upper face at 42-3/4. Raise the rod to 80-3/4, lower the shelf to 41-1/4,
    // or hang 80 - 42-3/4 = 37-1/4 at most.
    const told = only(found([low, rod('shirts.upper', 80, [shirt])]), 'garment-meets-below');
    expect(told.message).toBe(
      '"shirt" on rod "shirts.upper" hangs down to shelf "shirts.low": it hangs 38in from the rod at 80in, and so ends at 42in; the upper face of the shelf is at 42-3/4in, 3/4in higher.',
    );
    expect(told.advice).toBe(
      'Raise rod "shirts.upper" to 80-3/4in, lower shelf "shirts.low" to 41-1/4in or hang nothing longer than 37-1/4in there.',
    );
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(-0.75) }, limit: { ticks: 0 } });
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['garment shirt', 'height of shirts.low']);
  });

  it('is not told to raise what would come out above the ceiling', () => {
    // Over a shelf whose upper face is at 42-3/4 a gown of 70 needs a rod at 112-3/4, and the wall is 96 high.
    const gown = garment('gown', { hang: 70, hanger: 17 });
    const told = only(found([shelf('a.low', 42), rod('a.upper', 90, [gown])]), 'garment-meets-below');
    expect(told.advice).toBe('Lower shelf "a.low" to 19-1/4in or hang nothing longer than 47-1/4in there.');
    // On a rod at 94 the coat of 60 needs 94-3/4; the shelf over it would have to be at 96-1/4 at least.
    const under = found([shelf('a.low', 34), rod('a.upper', 92, [coat]), shelf('a.high', 94.75)]);
    expect(only(under, 'garment-meets-below').advice).toBe(
      'Lower shelf "a.low" to 31-1/4in or hang nothing longer than 57-1/4in there.',
    );
  });

  it('is told to hang it elsewhere where nothing else would do', () => {
    // 3 - 1-3/4 is no more than the 2 in that are asked for.
    const gown = garment('gown', { hang: 100, hanger: 17 });
    const clear = policy({ 'clear-below-garment': { least: 2 } });
    const told = only(found([shelf('a.low', 1), rod('a.upper', 3, [gown])], clear), 'garment-meets-below');
    expect(told.advice).toBe('Hang it elsewhere.');
  });

  it('says what has to be raised with the rod', () => {
    // The rod would have to be at 80-3/4, and 82 - 80-3/4 = 1-1/4 is less than the 1-1/2 in by default.
    const told = only(found([low, shelf('shirts.high', 82), rod('shirts.upper', 79, [shirt])]), 'garment-meets-below');
    expect(told.advice).toContain('Raise rod "shirts.upper" to 80-3/4in and shelf "shirts.high" with it');
  });

  it('is the rod below it, by its top', () => {
    // The lower rod is 1 in thick: its top is at 40 + 1/2; 40-1/2 + 38 = 78-1/2.
    const lower = rod('shirts.lower', 40, [garment('trousers', { hang: 28, hanger: 17 })]);
    const upper = rod('shirts.upper', 78.5, [shirt]);
    expect(found([lower, upper])).toEqual([]);
    const told = only(found([lower, lifted(upper, back)]), 'garment-meets-below');
    expect(told.message).toContain('hangs down to rod "shirts.lower"');
    expect(told.message).toContain('the top of the rod is at 40-1/2in');
  });

  it('is the highest of several', () => {
    const told = only(found([shelf('shirts.shoes', 8), low, rod('shirts.upper', 80, [shirt])]), 'garment-meets-below');
    expect(told.message).toContain('shelf "shirts.low"');
  });

  it('stands under it only where it overlaps along the rod', () => {
    const upper = rod('shirts.upper', 80, [shirt]);
    const beside = shelf('tower.low', 42, { x: [48, 72] });
    expect(found([beside, upper])).toEqual([]);
    expect(ids(found([nudged(beside, 'x', back), upper]))).toEqual(['garment-meets-below']);
  });

  it('stands under it only within half the hanger on each side of the rod', () => {
    // The rod is 12 in out and half of 17 is 8-1/2: from 3-1/2 to 20-1/2.
    const upper = rod('shirts.upper', 80, [shirt]);
    const narrow = shelf('shirts.ledge', 42, { depth: 3.5 });
    expect(found([narrow, upper])).toEqual([]);
    expect(ids(found([nudged(narrow, 'y', TICK), upper]))).toEqual(['garment-meets-below']);
  });

  it('counts the garment where it is wider than its hanger', () => {
    // Half of 20 is 10: from 2 to 22, and so a shelf 3-1/2 in deep is under it.
    const wide = garment('dress', { hang: 38, hanger: 17, depth: 20 });
    const narrow = shelf('shirts.ledge', 42, { depth: 3.5 });
    expect(ids(found([narrow, rod('shirts.upper', 80, [wide])]))).toEqual(['garment-meets-below']);
  });

  it('may be on the other wall of a corner', () => {
    // The left wall is 60 in long: its x from 48 to 60 lies over the first 12 in of the back wall.
    const rack = shelf('left.rack', 42, { wall: 'left', x: [30, 60] });
    const onBack = rod('back.upper', 80, [shirt], { x: [0, 48] });
    expect(ids(found([rack, onBack], policy(), [...walkIn]))).toEqual(['garment-meets-below']);
    // Past 30 in of the left wall nothing is in front of the back wall's hangers: 60 - 30 = 30 > 20-1/2.
    const far = shelf('left.rack', 42, { wall: 'left', x: [0, 30] });
    expect(found([far, onBack], policy(), [...walkIn])).toEqual([]);
  });

  it('is not what is above the rod, and not the rod itself', () => {
    expect(found([shelf('shirts.high', 84), rod('shirts.upper', 81, [shirt])])).toEqual([]);
  });
});

describe('a rod and the wall behind it', () => {
  it('clears the hanger by half its width, or just', () => {
    // Half of 17 is 8-1/2.
    const near = rod('shirts.upper', 81, [shirt], { fromWall: 8.5 });
    expect(found([near])).toEqual([]);
    const told = only(found([movedOut(near, back)]), 'rod-near-wall');
    expect(told.severity).toBe('warning');
    expect(standsOn(told.place)).toBe('distance from the wall of shirts.upper');
  });

  it('is told with the numbers', () => {
    const told = only(found([rod('shirts.upper', 81, [shirt], { fromWall: 8 })]), 'rod-near-wall');
    expect(told.message).toBe(
      'Rod "shirts.upper" is 8in from the back wall; half of the 17in hanger of "shirt" is 8-1/2in.',
    );
    expect(told.advice).toBe('Set the rod at least 8-1/2in from the wall.');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(-0.5) }, limit: { ticks: 0 } });
  });

  it('does not gain by halving an odd tick', () => {
    const odd = { ...shirt, hanger: add(inches(17), TICK) };
    expect(ids(found([rod('shirts.upper', 81, [odd], { fromWall: 8.5 })]))).toEqual(['rod-near-wall']);
  });

  it('keeps the clear distance that a policy asks for', () => {
    // 8-1/2 + 1/2 = 9.
    const clear = policy({ 'clear-behind-hanger': { least: 0.5 } });
    const near = rod('shirts.upper', 81, [shirt], { fromWall: 9 });
    expect(found([near], clear)).toEqual([]);
    expect(only(found([movedOut(near, back)], clear), 'rod-near-wall').message).toContain(
      'policy "everyday" asks for 1/2in behind it',
    );
  });

  it('clears a 17 in hanger with the bracket of common practice', () => {
    // Common practice, no source (T11): a rod hook stands 3 in back from the front of its bracket; 12 - 3 = 9 >= 8-1/2.
    expect(found([rod('shirts.upper', 81, [shirt], { fromWall: 12 - 3 })])).toEqual([]);
  });
});

describe('a rod and the front of the closet', () => {
  const walls = [wall('left', 25), wall('back', 96), wall('right', 24)];

  it('leaves half of what hangs inside the shorter wall beside it', () => {
    // 24 - 8-1/2 = 15-1/2.
    const out = rod('shirts.upper', 81, [shirt], { fromWall: 15.5 });
    expect(found([out], policy(), walls)).toEqual([]);
    const told = only(found([movedOut(out, inches(0.5))], policy(), walls), 'rod-near-front');
    expect(told.message).toBe(
      '"shirt" on rod "shirts.upper" reaches 24-1/2in out from the back wall: 16in to the rod and half of its 17in. The closet is 24in deep there.',
    );
    expect(told.advice).toBe('Set the rod at most 15-1/2in from the wall, or hang something narrower.');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['garment shirt', 'length of right']);
    expect(ids(found([movedOut(out, TICK)], policy(), walls))).toEqual(['rod-near-front']);
  });

  it('agrees with published advice on the depth of a closet', () => {
    // source: "Clothes Planning Dimensions", a chapter of a textbook on planning (author and edition not shown),
    // read at jfjm100.com/boston-furniture/clothes-planning-dimensions.html: 24 in of depth for hanging, the rod
    // 12 in off the wall. A garment that takes 24 in, 12 in on each side: 12 + 12 = 24.
    const published = garment('suit', { hang: 40, hanger: 17, depth: 24 });
    const deep = (depth: number) =>
      found([rod('suits.upper', 81, [published])], policy(), [wall('left', depth), wall('back', 96)]);
    expect(deep(24)).toEqual([]);
    expect(ids(deep(23))).toEqual(['rod-near-front']);
  });

  it('keeps the clear distance that a policy asks for', () => {
    // 24 - 8-1/2 - 1 = 14-1/2.
    const clear = policy({ 'clear-before-hanger': { least: 1 } });
    const out = rod('shirts.upper', 81, [shirt], { fromWall: 14.5 });
    expect(found([out], clear, walls)).toEqual([]);
    expect(ids(found([movedOut(out, TICK)], clear, walls))).toEqual(['rod-near-front']);
  });

  it('says so where no place for the rod would do', () => {
    // 8 - 8-1/2 < 0.
    const shallow = [wall('left', 8), wall('back', 96)];
    const told = only(found([rod('shirts.upper', 81, [shirt])], policy(), shallow), 'rod-near-front');
    expect(told.advice).toBe('Hang something narrower: no place for the rod is near enough to the wall.');
  });

  it('on a side wall is as far as the closet is wide', () => {
    const narrow = [wall('left', 60), wall('back', 20)];
    // 12 + 8-1/2 = 20-1/2 > 20.
    expect(ids(found([rod('side.upper', 81, [shirt], { wall: 'left' })], policy(), narrow))).toEqual([
      'rod-near-front',
    ]);
  });

  it('is not compared where no wall beside it gives a depth', () => {
    expect(found([rod('shirts.upper', 81, [shirt], { fromWall: 40 })])).toEqual([]);
  });
});

describe('a rod and what is above it', () => {
  const high = shelf('shirts.high', 84);

  it('leaves 1-1/2 in to lift a hanger off, by default', () => {
    // Common practice, no source. 84 - 82-1/2 = 1-1/2; the advice of 3 in is a note.
    const upper = rod('shirts.upper', 82.5, [shirt]);
    expect(ids(found([high, upper]))).toEqual(['rod-under-advice']);
    const told = only(found([high, lifted(upper, TICK)]), 'rod-near-shelf');
    expect(told.severity).toBe('warning');
    const half = only(found([high, rod('shirts.upper', 83, [shirt])]), 'rod-near-shelf');
    expect(half.message).toBe(
      'The centre of rod "shirts.upper" is 1in below the underside of shelf "shirts.high"; the default limit asks for 1-1/2in, so that hangers lift off.',
    );
    expect(half.advice).toBe('Lower the rod to 82-1/2in, or raise shelf "shirts.high" by 1/2in.');
    // 95 + 3/4 in thick: no room for 1/2in more under a ceiling at 96in.
    const top = only(found([shelf('shirts.high', 95), rod('shirts.upper', 94, [shirt])]), 'rod-near-shelf');
    expect(top.advice).toBe('Lower the rod to 93-1/2in.');
  });

  it('agrees with published advice on the distance from rod to shelf', () => {
    // source: Time-Saver Standards (edition not stated in the copy), clothes closets: 3 in from pole to shelf,
    // read at northernarchitecture.us/space-requirements/info-dxx.html. 84 - 81 = 3.
    const upper = rod('shirts.upper', 81, [shirt]);
    expect(found([high, upper])).toEqual([]);
    // 2.99 in: 84 - 81.01.
    const nearer = only(found([high, lifted(upper, ticks(10_160))]), 'rod-under-advice');
    expect(nearer.severity).toBe('note');
    expect(nearer.message).toContain('published advice asks for 3in');
    expect(ids(found([high, lifted(upper, TICK)]))).toEqual(['rod-under-advice']);
  });

  it('keeps what a policy asks for', () => {
    const strict = policy({ 'clear-above-rod': { least: 3 } });
    const upper = rod('shirts.upper', 81, [shirt]);
    expect(found([high, upper], strict)).toEqual([]);
    const told = only(found([high, lifted(upper, TICK)], strict), 'rod-near-shelf');
    expect(told.message).toContain('policy "everyday" asks for 3in');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['height of shirts.high', 'limit clear-above-rod']);
  });

  it('counts only what is straight above the rod', () => {
    // The rod reaches from 11-1/2 to 12-1/2 out; a shelf 11-1/2 deep is behind it.
    const behind = shelf('shirts.high', 82, { depth: 11.5 });
    const upper = rod('shirts.upper', 81, [shirt]);
    expect(found([behind, upper])).toEqual([]);
    expect(ids(found([nudged(behind, 'y', TICK), upper]))).toEqual(['rod-near-shelf']);
  });

  it('counts the ceiling where nothing else is above', () => {
    // 96 - 95 = 1.
    const told = only(found([rod('shirts.upper', 95, [shirt])]), 'rod-near-shelf');
    expect(told.message).toContain('is 1in below the ceiling');
    expect(told.advice).toBe('Lower the rod to 94-1/2in.');
  });
});

describe('what cannot be checked', () => {
  it('is said of a rod without garments', () => {
    const told = only(found([rod('shirts.upper', 81, [])]), 'rod-without-garment');
    expect(told.severity).toBe('note');
    expect(told.advice).toBe('Name a garment: `for shirt`.');
  });

  it('is said of a garment that does not give its measures', () => {
    const nothing = garment('scarf', {});
    const told = only(found([rod('shirts.upper', 81, [nothing])]), 'garment-incomplete');
    expect(told.message).toBe(
      '"scarf" on rod "shirts.upper" gives no hanging length or hanger width, so the rod was not compared with the floor and what is below it, with the wall behind it and with the front of the closet.',
    );
    expect(told.advice).toBe('Give the garment its hanging length (`hang 38in`) and hanger width (`hanger 17in`).');
    expect(standsOn(told.related[0]?.place ?? told.place)).toBe('garment scarf');
  });

  it('leaves the rest compared', () => {
    const noHang = garment('scarf', { hanger: 17 });
    expect(ids(found([rod('shirts.upper', 81, [noHang], { fromWall: 8 })]))).toEqual([
      'garment-incomplete',
      'rod-near-wall',
    ]);
    const noHanger = garment('belt', { hang: 90 });
    expect(ids(found([rod('shirts.upper', 81, [noHanger])]))).toEqual(['garment-incomplete', 'garment-meets-floor']);
  });

  it('counts a garment of unknown width as wide as the rod', () => {
    // The rod reaches from 11-1/2 to 12-1/2 out.
    const belt = garment('belt', { hang: 38 });
    const upper = rod('shirts.upper', 79, [belt]);
    const behind = shelf('shirts.low', 42, { depth: 11.5 });
    expect(ids(found([behind, upper]))).toEqual(['garment-incomplete']);
    expect(ids(found([shelf('shirts.low', 42), upper]))).toEqual(['garment-incomplete', 'garment-meets-below']);
  });
});

describe('the example of common practice', () => {
  it('is not warned about, nor noted', () => {
    // Common practice, no source (T1): double hang with shelves at 84 in and 42 in, long hang with a shelf at 72 in;
    // rods 3 in under their shelves. Garments as a designer would write them: 81 - 38 = 43 >= 42-3/4, 39 - 28 = 11,
    // 69 - 60 = 9.
    const trousers = garment('folded-trousers', { hang: 28, hanger: 17 });
    const closet = [
      shelf('shirts.high', 84),
      shelf('shirts.low', 42),
      rod('shirts.upper', 81, [shirt]),
      rod('shirts.lower', 39, [trousers]),
      shelf('coats.top', 72, { x: [72, 96] }),
      rod('coats.long', 69, [coat], { x: [72, 96] }),
    ];
    expect(found(closet, policy(), [wall('left', 25), wall('back', 96), wall('right', 25)])).toEqual([]);
  });
});
