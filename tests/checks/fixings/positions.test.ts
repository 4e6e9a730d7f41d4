/** Laws of where fixings stand, and the search for studs against trying everything. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  countOf,
  evenPlaces,
  type Moving,
  NEAR_STUD,
  type Spread,
  type Stand,
  standsOf,
  widestGap,
} from '../../../server/checks/fixings/positions.ts';
import { inches, type Ticks, ticks } from '../../../server/model/ticks.ts';

const quarters = (min: number, max: number) => fc.integer({ min: min * 4, max: max * 4 }).map((q) => inches(q / 4));

interface Case {
  readonly spread: Spread;
  readonly moving: Moving;
}

/** A part of 8 to 60 in somewhere on a wall, and hardware that takes at most a few of it. */
const cases: fc.Arbitrary<Case> = fc
  .record({
    from: quarters(0, 20),
    length: quarters(8, 60),
    inset: quarters(0, 3),
    spacing: fc.option(quarters(20, 40), { nil: undefined }),
    least: fc.integer({ min: 1, max: 3 }),
    most: quarters(0, 8),
    step: fc.option(quarters(1 / 4, 3), { nil: undefined }),
    first: quarters(0, 16),
    every: quarters(10, 24),
  })
  .map(({ from, length, inset, spacing, least, most, step, first, every }) => {
    const to = ticks(from + length);
    const studs: Ticks[] = [];
    for (let x: number = first; x <= inches(96); x += every) studs.push(ticks(x));
    return {
      spread: { from, to, inset, spacing, least },
      moving: { from, to, spacing, shift: { most, step }, studs },
    };
  });

const evenOf = ({ spread }: Case): Ticks[] => evenPlaces(spread, countOf(spread));
const standing = (given: Case): Stand[] => standsOf(evenOf(given), given.moving);
const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);
const missedOf = (stands: readonly Stand[]): number => stands.filter(({ stud }) => stud === undefined).length;
const movedOf = (stands: readonly Stand[]): number => sum(stands.map(({ shift }) => Math.abs(shift)));
const widestOf = (stands: readonly Stand[]): number => widestGap(stands.map(({ at }) => at)) ?? 0;

describe('the number of fixings', () => {
  const shelf = (length: number, spacing: number, inset = 0, least = 1): number =>
    countOf({ from: inches(0), to: inches(length), inset: inches(inset), spacing: inches(spacing), least });

  it('is the least whose distances are within the spacing', () => {
    // 48 / 24 = 2 distances; one tick more, and it takes a third one.
    expect(shelf(48, 24)).toBe(3);
    expect(
      countOf({ from: inches(0), to: ticks(inches(48) + 1), inset: inches(0), spacing: inches(24), least: 1 }),
    ).toBe(4);
    // 24 / 24 = 1; 48 - 2 x 2 = 44, which is less than two distances of 24.
    expect(shelf(24, 24)).toBe(2);
    expect(shelf(48, 24, 2)).toBe(3);
    expect(shelf(12, 24, 0, 3)).toBe(3);
  });

  it('has a bound, however close they are to stand', () => {
    expect(shelf(48, 1 / 64)).toBe(1000);
  });

  it('is never more than is needed', () => {
    fc.assert(
      fc.property(cases, ({ spread }) => {
        const count = countOf(spread);
        if (count <= Math.max(2, spread.least)) return;
        // With one fewer the even distance is too great: span / (count - 2) > spacing.
        expect((spread.to - spread.from - 2 * spread.inset) / (count - 2)).toBeGreaterThan(spread.spacing as number);
      }),
    );
  });
});

describe('fixings along a part', () => {
  it('stand within it, in order, as far from its ends as their hardware says until they are moved', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { from, to, inset } = given.spread;
        const even = evenOf(given);
        const stands = standing(given);
        expect(stands).toHaveLength(even.length);
        for (const { at } of stands) expect(at >= from && at <= to).toBe(true);
        for (let i = 1; i < stands.length; i++)
          expect((stands[i] as Stand).at).toBeGreaterThan((stands[i - 1] as Stand).at);
        if (even.length > 1 && to - from > 2 * inset) {
          expect(even[0]).toBe(from + inset);
          expect(even.at(-1)).toBe(to - inset);
        }
      }),
    );
  });

  it('never stand farther apart than their spacing', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { spacing } = given.spread;
        if (spacing !== undefined) expect(widestOf(standing(given))).toBeLessThanOrEqual(spacing);
      }),
    );
  });

  it('are moved no farther than they may, by whole steps, and only to a stud', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { most, step } = given.moving.shift;
        const even = evenOf(given);
        standing(given).forEach(({ at, shift, stud }, i) => {
          expect(at - shift).toBe(even[i]);
          expect(Math.abs(shift)).toBeLessThanOrEqual(most);
          if (step !== undefined) expect(Math.abs(shift % step)).toBe(0);
          if (shift !== 0) expect(stud).toBeDefined();
          if (stud !== undefined) expect(Math.abs(at - stud)).toBeLessThanOrEqual(NEAR_STUD);
        });
      }),
    );
  });

  it('stand in a mirror as they do here, where no two ways are equally good', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const wall = inches(96);
        const turn = (x: Ticks): Ticks => ticks(wall - x);
        const { from, to } = given.spread;
        const sides = { from: turn(to), to: turn(from) };
        const mirrored: Case = {
          spread: { ...given.spread, ...sides },
          moving: { ...given.moving, ...sides, studs: given.moving.studs.map(turn).reverse() },
        };
        const [here, there] = [standing(given), standing(mirrored)];
        expect([missedOf(there), movedOf(there), widestOf(there)]).toEqual([
          missedOf(here),
          movedOf(here),
          widestOf(here),
        ]);
        if (bestWays(given).length === 1)
          expect(there.map(({ at }) => turn(at)).reverse()).toEqual(here.map(({ at }) => at));
      }),
    );
  });

  it('meet as many studs as trying every way shows can be met, with the least moving', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const [best] = bestWays(given);
        const stands = standing(given);
        expect([missedOf(stands), movedOf(stands), widestOf(stands)]).toEqual([
          best?.missed,
          best?.moved,
          best?.widest,
        ]);
      }),
      { numRuns: 300 },
    );
  });
});

interface Way {
  readonly places: readonly number[];
  readonly missed: number;
  readonly moved: number;
  readonly widest: number;
}

/** Tries every place that each may have in every combination, and keeps the best. */
function bestWays(given: Case): Way[] {
  const { spacing, studs } = given.moving;
  const even = evenOf(given);
  const meets = (x: number): number | undefined => studs.find((stud) => Math.abs(stud - x) <= NEAR_STUD);
  let ways: number[][] = [[]];
  for (const at of even) ways = ways.flatMap((way) => placesOf(at, given).map((x) => [...way, x]));
  const allowed = ways.filter((way) =>
    way.every((x, i) => {
      const before = way[i - 1];
      if (before === undefined || (x === even[i] && before === even[i - 1])) return true;
      if (x <= before || (spacing !== undefined && x - before > spacing)) return false;
      return meets(x) === undefined || meets(x) !== meets(before);
    }),
  );
  const rated = allowed.map((way) => ({
    places: way,
    missed: way.filter((x) => meets(x) === undefined).length,
    moved: sum(way.map((x, i) => Math.abs(x - (even[i] as number)))),
    widest: Math.max(0, ...way.slice(1).map((x, i) => x - (way[i] as number))),
  }));
  const best = rated.toSorted((a, b) => a.missed - b.missed || a.moved - b.moved || a.widest - b.widest)[0];
  return rated.filter((w) => w.missed === best?.missed && w.moved === best.moved && w.widest === best.widest);
}

/** Where it is; and by every whole step, or at the middle of every stud and at either limit, what meets a stud. */
function placesOf(at: Ticks, { moving: { from, to, shift, studs } }: Case): number[] {
  const places = new Set<number>([at]);
  const tryAt = (x: number): void => {
    const stud = studs.find((s) => Math.abs(s - x) <= NEAR_STUD);
    if (stud !== undefined && Math.abs(x - at) <= shift.most && x >= from && x <= to) places.add(x);
  };
  if (shift.step !== undefined)
    for (let by = 0; by <= shift.most; by += shift.step) for (const x of [at - by, at + by]) tryAt(x);
  else for (const stud of studs) tryAt(Math.max(at - shift.most, Math.min(at + shift.most, stud)));
  return [...places];
}
