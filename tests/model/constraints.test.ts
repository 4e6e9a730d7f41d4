/** How chains of dimensions are solved, in words and by example. The laws stand in constraints-laws.test.ts. */
import { describe, expect, it } from 'vitest';
import {
  type Bound,
  greatestAssignment,
  type Impossible,
  leastAssignment,
  range,
  type Solved,
  solve,
} from '../../server/model/constraints.ts';
import { inches, type Ticks, ticks } from '../../server/model/ticks.ts';

function solved(nodeCount: number, bounds: readonly Bound<string>[]): Solved {
  const solution = solve(nodeCount, bounds);
  if (solution.kind !== 'solved') throw new Error(`impossible: ${solution.conflict.labels.join(', ')}`);
  return solution;
}

function impossible(nodeCount: number, bounds: readonly Bound<string>[]): Impossible<string>['conflict'] {
  const solution = solve(nodeCount, bounds);
  if (solution.kind !== 'impossible') throw new Error('the bounds hold together');
  return solution.conflict;
}

const exactly = (from: number, to: number, length: Ticks, label: string): Bound<string> => ({
  from,
  to,
  least: length,
  most: length,
  label,
});
const between = (from: number, to: number, least: Ticks, most: Ticks, label: string): Bound<string> => ({
  from,
  to,
  least,
  most,
  label,
});
const atLeast = (from: number, to: number, least: Ticks, label: string): Bound<string> => ({ from, to, least, label });
const atMost = (from: number, to: number, most: Ticks, label: string): Bound<string> => ({ from, to, most, label });

describe('a chain that is fixed', () => {
  // 48 + 24 + 21-3/4 = 93-3/4 in: common practice, no source.
  const chain = [
    exactly(0, 1, inches(48), 'double hang'),
    exactly(1, 2, inches(24), 'tower'),
    exactly(2, 3, inches(21.75), 'long hang'),
  ];

  it('has one value for each node, the same from both sides', () => {
    const { low, high } = solved(4, chain);
    expect(low).toEqual([0, inches(48), inches(72), inches(93.75)]);
    expect(high).toEqual(low);
  });

  it('tells what is left of a nominal 8 ft wall', () => {
    const { low } = solved(5, [...chain, exactly(0, 4, inches(96), 'wall')]);
    const left = range(solved(5, [...chain, exactly(0, 4, inches(96), 'wall')]), 3, 4);
    expect(low[4]).toBe(inches(96));
    expect(left).toEqual({ least: inches(2.25), most: inches(2.25) });
  });
});

describe('a chain that is loose', () => {
  const bounds = [
    exactly(0, 1, inches(48), 'shirts'),
    between(1, 2, inches(20), inches(30), 'tower'),
    atLeast(2, 3, inches(20), 'coats'),
    exactly(0, 3, inches(96), 'wall'),
  ];

  it('gives each width the range that the others leave it', () => {
    const solution = solved(4, bounds);
    expect(range(solution, 1, 2)).toEqual({ least: inches(20), most: inches(28) });
    expect(range(solution, 2, 3)).toEqual({ least: inches(20), most: inches(28) });
  });

  it('gives a range between any two nodes, in either direction', () => {
    const solution = solved(4, bounds);
    expect(range(solution, 1, 3)).toEqual({ least: inches(48), most: inches(48) });
    expect(range(solution, 3, 1)).toEqual({ least: inches(-48), most: inches(-48) });
    expect(range(solution, 2, 2)).toEqual({ least: 0, most: 0 });
    expect(range(solution, 2, 0)).toEqual({ least: inches(-76), most: inches(-68) });
  });

  it('has a least and a greatest assignment, and both satisfy every bound', () => {
    const solution = solved(4, bounds);
    expect(leastAssignment(solution)).toEqual([0, inches(48), inches(68), inches(96)]);
    expect(greatestAssignment(solution)).toEqual([0, inches(48), inches(76), inches(96)]);
  });
});

describe('what nothing limits', () => {
  it('has no greatest value, and the range leaves that side out', () => {
    const solution = solved(3, [exactly(0, 1, inches(48), 'shirts'), atLeast(1, 2, inches(20), 'coats')]);
    expect(solution.low).toEqual([0, inches(48), inches(68)]);
    expect(solution.high).toEqual([0, inches(48), undefined]);
    expect(range(solution, 1, 2)).toEqual({ least: inches(20) });
  });

  it('still gets a fitting value in both assignments', () => {
    const solution = solved(4, [
      atMost(0, 1, inches(30), 'shelf no higher than'),
      atLeast(1, 2, inches(10), 'room over the shelf'),
      atMost(2, 3, inches(5), 'a thing nobody placed'),
    ]);
    expect(solution.low).toEqual([0, undefined, undefined, undefined]);
    expect(solution.high).toEqual([0, inches(30), undefined, undefined]);
    const greatest = greatestAssignment(solution);
    expect(greatest.slice(0, 3)).toEqual([0, inches(30), inches(40)]);
    expect((greatest[3] as number) - (greatest[2] as number)).toBeLessThanOrEqual(inches(5));
    const least = leastAssignment(solution);
    expect(least[1]).toBeLessThanOrEqual(inches(30));
    expect((least[2] as number) - (least[1] as number)).toBeGreaterThanOrEqual(inches(10));
  });

  it('may be everything: a system without bounds, or without nodes', () => {
    expect(solved(2, []).high).toEqual([0, undefined]);
    expect(range(solved(2, []), 0, 1)).toEqual({});
    expect(leastAssignment(solved(2, []))).toEqual([0, 0]);
    expect(solved(0, []).low).toEqual([]);
    expect(greatestAssignment(solved(0, []))).toEqual([]);
  });
});

describe('a chain that is impossible', () => {
  it('names the statements that cannot hold together and by how much they miss', () => {
    const conflict = impossible(4, [
      exactly(0, 1, inches(48), 'shirts'),
      exactly(1, 2, inches(24), 'tower'),
      atLeast(2, 3, inches(20), 'coats'),
      exactly(0, 3, inches(90), 'wall'),
    ]);
    expect(conflict.labels).toEqual(['shirts', 'tower', 'coats', 'wall']);
    expect(conflict.parts.map((part) => part.side)).toEqual(['least', 'least', 'least', 'most']);
    expect(conflict.parts.map((part) => part.length)).toEqual([inches(48), inches(24), inches(20), inches(90)]);
    expect(conflict.excess).toBe(inches(2));
  });

  it('leaves out what has no part in it', () => {
    const conflict = impossible(6, [
      exactly(0, 1, inches(48), 'shirts'),
      exactly(1, 2, inches(24), 'tower'),
      exactly(2, 3, inches(24), 'coats'),
      exactly(3, 4, inches(24), 'drawers'),
      between(0, 4, inches(110), inches(121), 'wall'),
      exactly(2, 5, inches(10), 'light'),
      atMost(1, 5, inches(30), 'reach'),
    ]);
    expect(conflict.labels).toEqual(['tower', 'light', 'reach']);
    expect(conflict.excess).toBe(inches(4));
  });

  it('prefers few statements to many', () => {
    const conflict = impossible(5, [
      exactly(0, 1, inches(30), 'a'),
      exactly(1, 2, inches(30), 'b'),
      exactly(2, 3, inches(30), 'c'),
      exactly(3, 4, inches(30), 'd'),
      exactly(0, 4, inches(100), 'wall'),
      atMost(2, 4, inches(59), 'c and d share'),
    ]);
    expect(conflict.labels).toEqual(['c', 'd', 'c and d share']);
  });

  it.each([
    ['first', 4, 1],
    ['last', 1, 5],
  ])('prefers few statements in one place to many in another: the few stand %s', (_, many, few) => {
    const conflict = impossible(8, [
      atLeast(many, many + 1, inches(30), 'zone'),
      atLeast(many + 1, many + 2, inches(30), 'next zone'),
      atLeast(many + 2, many + 3, inches(30), 'last zone'),
      atMost(many, many + 3, inches(89), 'wall'),
      atLeast(few, few + 1, inches(10), 'shelf'),
      atLeast(few + 1, few + 2, inches(10), 'next shelf'),
      atMost(few, few + 2, inches(19), 'height'),
    ]);
    expect(conflict.labels).toEqual(['shelf', 'next shelf', 'height']);
  });

  it('can be one statement by itself', () => {
    const conflict = impossible(2, [between(0, 1, inches(20), inches(10), 'from 20in to 10in')]);
    expect(conflict.labels).toEqual(['from 20in to 10in']);
    expect(conflict.parts).toHaveLength(2);
    expect(conflict.excess).toBe(inches(10));
  });

  it('can be a distance from a node to itself', () => {
    expect(impossible(2, [atLeast(1, 1, ticks(3), 'self')])).toMatchObject({ labels: ['self'], excess: 3 });
    expect(solved(2, [between(1, 1, ticks(-3), ticks(3), 'self')]).low).toEqual([0, undefined]);
  });

  it('is found away from the datum too', () => {
    const conflict = impossible(4, [atLeast(2, 3, inches(9), 'at least'), atMost(2, 3, inches(8), 'at most')]);
    expect(conflict.labels).toEqual(['at least', 'at most']);
    expect(conflict.excess).toBe(inches(1));
  });

  it('fails by a single tick as surely as by a mile', () => {
    const wall = (length: Ticks) => [
      exactly(0, 1, inches(48), 'a'),
      exactly(1, 2, inches(48), 'b'),
      atMost(0, 2, length, 'wall'),
    ];
    expect(impossible(3, wall(ticks(inches(96) - 1))).excess).toBe(1);
    expect(solved(3, wall(inches(96))).high[2]).toBe(inches(96));
  });
});

describe('bounds that carry the same label', () => {
  it('are one statement, named once', () => {
    const conflict = impossible(4, [
      between(0, 1, inches(10), inches(14), 'pitch'),
      between(1, 2, inches(10), inches(14), 'pitch'),
      between(2, 3, inches(10), inches(14), 'pitch'),
      atMost(0, 3, inches(29), 'room between the shelves'),
    ]);
    expect(conflict.labels).toEqual(['pitch', 'room between the shelves']);
    expect(conflict.parts).toHaveLength(4);
    expect(conflict.excess).toBe(inches(1));
  });

  it('speak together: a statement that two bounds of another make superfluous is left out', () => {
    // The cycle with the fewest arcs is "a" against "b"; but "a" contradicts itself by its other bounds.
    const conflict = impossible(4, [
      atLeast(0, 1, inches(10), 'a'),
      atMost(0, 1, inches(9), 'b'),
      atLeast(1, 2, inches(10), 'a'),
      atLeast(2, 3, inches(10), 'a'),
      atMost(1, 3, inches(19), 'a'),
    ]);
    expect(conflict.labels).toEqual(['a']);
    expect(conflict.parts).toHaveLength(3);
  });

  it('are weighed one statement at a time, also where two follow each other on the shortest round', () => {
    // The shortest round is a, b, c. But c has another way to contradict b, without a, if a longer one.
    const conflict = impossible(5, [
      atLeast(0, 1, inches(10), 'a'),
      atLeast(1, 2, inches(10), 'b'),
      atMost(0, 2, inches(15), 'c'),
      atMost(1, 3, inches(2), 'c'),
      atMost(3, 4, inches(2), 'c'),
      atMost(4, 2, inches(1), 'c'),
    ]);
    expect(conflict.labels).toEqual(['b', 'c']);
    expect(conflict.parts).toHaveLength(4);
    expect(conflict.excess).toBe(inches(5));
  });
});

describe('long chains', () => {
  const ZONES = 5_000;

  function longChain(zones: number, wall: Ticks): Bound<string>[] {
    const bounds: Bound<string>[] = [];
    for (let zone = 0; zone < zones; zone++)
      bounds.push(between(zone, zone + 1, inches(20), inches(24), `zone ${zone}`));
    bounds.push(exactly(0, zones, wall, 'wall'));
    return bounds;
  }

  it('give every width its own range', () => {
    const solution = solved(ZONES + 1, longChain(ZONES, inches(20 * ZONES + 3)));
    for (let zone = 0; zone < ZONES; zone++) {
      expect(range(solution, zone, zone + 1)).toEqual({ least: inches(20), most: inches(23) });
    }
    expect(solution.low[ZONES / 2]).toBe(inches(10 * ZONES));
    expect(solution.high[ZONES / 2]).toBe(inches(10 * ZONES + 3));
  });

  it('take near linear time: a chain twenty times as long is no matter', { timeout: 20_000 }, () => {
    // Work that grew with the square would take four hundred times the few milliseconds of 5,000 zones.
    const zones = 99_999;
    const solution = solved(zones + 1, longChain(zones, inches(20 * zones + 3)));
    for (let zone = 0; zone < zones; zone += 1) {
      if (range(solution, zone, zone + 1).most !== inches(23)) throw new Error(`zone ${zone}`);
    }
    expect(solution.high[zones]).toBe(inches(20 * zones + 3));
  });

  it('that contradict the wall only all together say so', { timeout: 20_000 }, () => {
    const conflict = impossible(ZONES + 1, longChain(ZONES, inches(20 * ZONES - 1)));
    expect(conflict.labels).toHaveLength(ZONES + 1);
    expect(conflict.excess).toBe(inches(1));
  });

  it('add up exactly at the limits: a hundred thousand bounds of a kilometre', () => {
    const nodes = 100_000;
    const kilometre = ticks(4e10);
    const bounds: Bound<string>[] = [];
    for (let node = 1; node < nodes; node++) bounds.push(exactly(node - 1, node, kilometre, 'km'));
    const { low, high } = solved(nodes, bounds);
    expect(low[nodes - 1]).toBe(4e10 * (nodes - 1));
    expect(high[nodes - 1]).toBe(4e10 * (nodes - 1));
  });
});

describe('a system that makes no sense', () => {
  it('is refused: a node that is not there', () => {
    expect(() => solve(2, [atLeast(0, 2, inches(1), 'x')])).toThrow(RangeError);
    expect(() => solve(2, [atLeast(-1, 1, inches(1), 'x')])).toThrow(RangeError);
    expect(() => solve(2, [atLeast(0, 0.5, inches(1), 'x')])).toThrow(RangeError);
  });

  it('is refused: dimensions that could add up past what is exact', () => {
    const huge = ticks(2 ** 51);
    const bounds = [0, 1, 2, 3].map((node) => atMost(node, node + 1, huge, 'huge'));
    expect(() => solve(5, bounds)).toThrow(RangeError);
  });
});
