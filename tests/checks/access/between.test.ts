/** What stands between a person and what is reached, against a sampler of points; and a few cases worked out by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestOf, lengthWithin, type Stand, stretches } from '../../../server/checks/access/between.ts';
import { forward2010, side2010 } from '../../../server/checks/access/reach.ts';
import type { Box } from '../../../server/model/layout.ts';
import { add, inches } from '../../../server/model/ticks.ts';
import { box, TICK } from '../layouts.ts';

const span = (most: number, longest: number) =>
  fc.tuple(fc.integer({ min: 0, max: most - 1 }), fc.integer({ min: 1, max: longest })).map(([from, length]) => {
    return [from, Math.min(most, from + length)] as const;
  });

/** Whole inches, so that points half an inch off the grid tell all there is to tell. */
const thing = fc.record({ x: span(60, 40), y: span(40, 24), z: span(60, 30) });
type Thing = { readonly [axis in 'x' | 'y' | 'z']: readonly [number, number] };
const real = ({ x, y, z }: Thing): Box => box(x, y, z);
const holds = ([from, to]: readonly [number, number], at: number) => from <= at && at < to;

interface Case {
  readonly target: Thing;
  readonly height: number;
  readonly others: readonly Thing[];
  readonly line: number | undefined;
  readonly from: number;
  readonly to: number;
}

const cases: fc.Arbitrary<Case> = fc
  .record({
    target: fc.record({ x: span(60, 40), y: span(20, 16), z: span(60, 3) }),
    others: fc.array(thing, { maxLength: 4 }),
    line: fc.option(fc.integer({ min: 20, max: 45 }), { nil: undefined }),
    place: span(60, 60),
  })
  .map(({ target, others, line, place }) => ({
    target,
    height: target.z[1],
    others,
    line,
    from: place[0],
    to: place[1],
  }));

/** Everything from points: along y at one x, and over all windows as wide as a wheelchair. */
function sampled({ target, height, others, line, from, to }: Case, x: number) {
  const column = others.filter((other) => holds(other.x, x));
  const front = target.y[1];
  let edge = Math.max(front, line ?? front);
  let top: number | undefined;
  for (let y = front + 0.5; y < 70; y++) {
    const here = column.filter((other) => holds(other.y, y));
    if (here.some((other) => holds(other.z, height))) return undefined;
    for (let z = 0.5; z < height; z++) {
      if (!here.some((other) => holds(other.z, z))) continue;
      edge = Math.max(edge, y + 0.5);
      top = Math.max(top ?? 0, z + 0.5);
    }
  }
  return { depth: edge - front, top, edge, from, to };
}

function floorAt({ target, others, from, to }: Case, edge: number, along: readonly [number, number]): number {
  let best = 0;
  for (let start = from; start + 30 <= to; start++) {
    if (start >= along[1] || along[0] >= start + 30) continue;
    const inWindow = [target, ...others].filter(({ x }) => x[0] < start + 30 && start < x[1]);
    const free = (low: number, high: number) => {
      let deep = edge;
      for (const { y, z } of inWindow) if (z[0] < high && low < z[1]) deep = Math.min(deep, edge - y[1]);
      return Math.max(0, deep);
    };
    const [floor, knees] = [free(0, 9), free(9, 27)];
    const toes = Math.min(floor, knees + 6, 25);
    best = Math.max(best, Math.min(floor, knees, 25), knees >= 11 && toes >= 17 ? toes : 0);
  }
  return best;
}

describe('what stands between', () => {
  it('is what a sampler of points finds', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const stand: Stand = {
          line: given.line === undefined ? undefined : inches(given.line),
          from: inches(given.from),
          to: inches(given.to),
        };
        const found = stretches(real(given.target), inches(given.height), given.others.map(real), stand);
        const [a, b] = [Math.max(given.target.x[0], given.from), Math.min(given.target.x[1], given.to)];
        expect(found.reduce((sum, { from, to }) => sum + to - from, 0)).toBe(inches(Math.max(0, b - a)));
        for (let x = a + 0.5; x < b; x++) {
          const own = found.filter(({ from, to }) => from <= inches(x) && inches(x) < to);
          expect(own).toHaveLength(1);
          const expected = sampled(given, x);
          const reaching = own[0]?.reaching;
          expect(reaching === undefined).toBe(expected === undefined);
          if (!expected || !reaching || !own[0]) continue;
          expect(reaching.depth).toBe(inches(expected.depth));
          expect(reaching.over?.height).toBe(expected.top === undefined ? undefined : inches(expected.top));
          const along = [own[0].from / inches(1), own[0].to / inches(1)] as const;
          expect(reaching.floorBeneath).toBe(inches(floorAt(given, expected.edge, along)));
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('a shallow closet, 24 in deep, with an opening 60 in wide', () => {
  const stand: Stand = { line: inches(24), from: inches(18), to: inches(78) };
  const whole: Stand = { line: inches(24), from: inches(0), to: inches(96) };
  // The rod is 1 in thick, 12 in from the wall: its front is at 12-1/2 in, and 24 - 12-1/2 = 11-1/2 in is the reach.
  const rod = box([0, 48], [11.5, 12.5], [45.5, 46.5]);

  it('is reached into from its front line', () => {
    const [only] = stretches(rod, inches(46), [], stand);
    expect(only).toMatchObject({
      from: inches(18),
      to: inches(48),
      reaching: { depth: inches(11.5), over: undefined },
    });
    const best = bestOf(side2010, [...stretches(rod, inches(46), [], stand)], inches(46));
    expect(best).toMatchObject({ reached: 'within', answer: { highest: inches(46), obstructed: true } });
    expect(bestOf(side2010, stretches(rod, inches(46), [], stand), add(inches(46), TICK))?.reached).toBe('too high');
  });

  it('lets a wheelchair run in under a rod, but not over a chest', () => {
    // Floor free to the wall: 24 in. With a chest 20 in deep and 30 in high on all of it, 24 - 20 = 4 in.
    const best = bestOf(forward2010, stretches(rod, inches(46), [], stand), inches(46));
    expect(best).toMatchObject({ reached: 'within', reaching: { floorBeneath: inches(24) } });
    const chest = box([0, 96], [0, 20], [0, 30]);
    const past = bestOf(forward2010, stretches(rod, inches(46), [chest], stand), inches(46));
    expect(past).toMatchObject({
      reached: 'out of reach',
      answer: { hindrance: 'clear floor beneath', measured: inches(4), limit: inches(11.5) },
    });
    // From the side the chest is low enough: 30 in is under 34.
    expect(bestOf(side2010, stretches(rod, inches(46), [chest], stand), inches(46))?.reached).toBe('within');
  });

  it('takes the best stretch: a tall chest before a part of the rod leaves the rest', () => {
    const tall = box([0, 30], [0, 20], [0, 40]);
    const all = stretches(rod, inches(46), [tall], whole);
    expect(all.map(({ from, to }) => [from, to])).toEqual([
      [inches(0), inches(30)],
      [inches(30), inches(48)],
    ]);
    expect(bestOf(side2010, all, inches(46))?.stretch.from).toBe(inches(30));
    expect(lengthWithin(side2010, all, inches(46))).toBe(inches(18));
  });

  it('hides what stands behind a taller thing, and what is beside the opening', () => {
    const tower = box([0, 96], [0, 20], [0, 84]);
    expect(bestOf(side2010, stretches(rod, inches(46), [tower], stand), inches(46))).toBeUndefined();
    expect(stretches(rod, inches(46), [], { ...stand, from: inches(48) })).toEqual([]);
  });
});

describe('a closet that is entered', () => {
  it('is reached from as near as what stands there allows', () => {
    const inside: Stand = { line: undefined, from: inches(0), to: inches(96) };
    const shelf = box([0, 48], [0, 12], [45, 46]);
    const [free] = stretches(shelf, inches(46), [], inside);
    expect(free?.reaching).toMatchObject({ depth: 0, over: undefined });
    const [past] = stretches(shelf, inches(46), [box([0, 48], [0, 23], [0, 32])], inside);
    expect(past?.reaching).toMatchObject({ depth: inches(11), over: { height: inches(32), depth: inches(11) } });
  });
});
