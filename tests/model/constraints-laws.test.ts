/** Laws of the constraint solver, on systems drawn at random. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Bound,
  type Conflict,
  greatestAssignment,
  leastAssignment,
  range,
  type Solved,
  solve,
} from '../../server/model/constraints.ts';
import { type Ticks, ticks } from '../../server/model/ticks.ts';

interface System {
  nodes: number;
  bounds: Bound<number>[];
}

/** Systems of few nodes, some with an own label for every bound, some with few labels. */
function systems(size: { nodes: number; bounds: number; reach: number; labels?: number }): fc.Arbitrary<System> {
  return fc.integer({ min: 1, max: size.nodes }).chain((nodes) => {
    const node = fc.integer({ min: 0, max: nodes - 1 });
    const side = fc.option(fc.integer({ min: -size.reach, max: size.reach }).map(ticks), { nil: undefined });
    const bound = fc.record({ from: node, to: node, least: side, most: side, label: fc.nat(size.labels ?? 0) });
    return fc.array(bound, { maxLength: size.bounds }).map((bounds) => ({
      nodes,
      bounds: bounds.map((b, index) => (size.labels === undefined ? { ...b, label: index } : b)),
    }));
  });
}

/** All shortest distances by the textbook method of three loops (Floyd and Warshall), as a referee. */
function allDistances({ nodes, bounds }: System): number[][] {
  const d = Array.from({ length: nodes }, (_, i) => Array.from({ length: nodes }, (_, j) => (i === j ? 0 : Infinity)));
  const shorten = (i: number, j: number, w: number) => {
    const row = d[i] as number[];
    if (w < (row[j] as number)) row[j] = w;
  };
  for (const { from, to, least, most } of bounds) {
    if (most !== undefined) shorten(from, to, most);
    if (least !== undefined) shorten(to, from, -least);
  }
  for (let k = 0; k < nodes; k++) {
    for (let i = 0; i < nodes; i++) {
      for (let j = 0; j < nodes; j++) shorten(i, j, (d[i]?.[k] as number) + (d[k]?.[j] as number));
    }
  }
  return d;
}

const feasible = (system: System) => allDistances(system).every((row, i) => (row[i] as number) >= 0);

function holds(bounds: readonly Bound<number>[], x: readonly number[]): boolean {
  return bounds.every(({ from, to, least, most }) => {
    const difference = (x[to] as number) - (x[from] as number);
    return (least === undefined || difference >= least) && (most === undefined || difference <= most);
  });
}

function solvedOnly(system: System): Solved {
  const solution = solve(system.nodes, system.bounds);
  fc.pre(solution.kind === 'solved');
  return solution as Solved;
}

function conflictOnly(system: System): Conflict<number> {
  const solution = solve(system.nodes, system.bounds);
  fc.pre(solution.kind === 'impossible');
  return (solution as { conflict: Conflict<number> }).conflict;
}

const small = systems({ nodes: 7, bounds: 12, reach: 6 });
const loose = systems({ nodes: 7, bounds: 7, reach: 6 });
const tight = systems({ nodes: 6, bounds: 18, reach: 6 });
/** More neighbours than a node may have to be taken out one at a time, so that the core is used. */
const entangled = fc.integer({ min: 0, max: 1_000_000 }).map(tangle);

function tangle(start: number): System {
  // Values around a hidden solution, at times pulled a little too tight.
  let state = start;
  const next = (limit: number) => {
    state = (state * 48271 + 11) % 2147483647;
    return state % limit;
  };
  const nodes = 20 + next(15);
  const hidden = Array.from({ length: nodes }, () => next(200));
  const slack = next(3) === 0 ? -1 : 0;
  const bounds: Bound<number>[] = [];
  for (let from = 0; from < nodes; from++) {
    for (let to = from + 1; to < nodes; to++) {
      if (next(8) === 0) continue;
      const difference = (hidden[to] as number) - (hidden[from] as number);
      const least = next(2) === 0 ? undefined : ticks(difference - next(30) - slack);
      const most = next(2) === 0 ? undefined : ticks(difference + next(30) + slack);
      bounds.push({ from, to, least, most, label: bounds.length });
    }
  }
  return { nodes, bounds };
}

describe('solving', () => {
  it.each([
    ['small systems', small],
    ['loose systems', loose],
    ['entangled systems', entangled],
  ])('agrees with a textbook referee on whether bounds hold together, and on every range: %s', (_, arbitrary) => {
    fc.assert(
      fc.property(arbitrary, (system) => {
        const solution = solve(system.nodes, system.bounds);
        expect(solution.kind === 'solved').toBe(feasible(system));
        if (solution.kind !== 'solved') return;
        const d = allDistances(system);
        const finite = (value: number) => (Number.isFinite(value) ? value + 0 : undefined);
        for (let node = 0; node < system.nodes; node++) {
          expect(solution.high[node]).toBe(finite(d[0]?.[node] as number));
          expect(solution.low[node]).toBe(finite(0 - (d[node]?.[0] as number)));
          for (let other = 0; other < system.nodes; other++) {
            expect(range(solution, node, other).most).toBe(finite(d[node]?.[other] as number));
            expect(range(solution, node, other).least).toBe(finite(0 - (d[other]?.[node] as number)));
          }
        }
      }),
      { numRuns: arbitrary === entangled ? 25 : 400 },
    );
  });

  it('gives least and greatest assignments that satisfy all bounds', () => {
    for (const arbitrary of [loose, entangled]) {
      fc.assert(
        fc.property(arbitrary, (system) => {
          const solution = solvedOnly(system);
          const [least, greatest] = [leastAssignment(solution), greatestAssignment(solution)];
          expect(holds(system.bounds, least)).toBe(true);
          expect(holds(system.bounds, greatest)).toBe(true);
          solution.low.forEach((low, node) => {
            if (low !== undefined) expect(least[node]).toBe(low);
          });
          solution.high.forEach((high, node) => {
            if (high !== undefined) expect(greatest[node]).toBe(high);
          });
        }),
        { numRuns: arbitrary === entangled ? 25 : 400 },
      );
    }
  });

  it('gives the least and the greatest that any assignment has, tried one by one', () => {
    const tiny = systems({ nodes: 4, bounds: 7, reach: 2 });
    fc.assert(
      fc.property(tiny, (system) => {
        const boxed = { nodes: system.nodes, bounds: [...system.bounds, ...inBox(system.nodes, 4)] };
        const fitting = everyAssignment(system.nodes, 4).filter((x) => holds(boxed.bounds, x));
        const solution = solve(boxed.nodes, boxed.bounds);
        expect(solution.kind === 'solved').toBe(fitting.length > 0);
        if (solution.kind !== 'solved') return;
        for (let node = 0; node < system.nodes; node++) {
          const values = fitting.map((x) => x[node] as number);
          expect(solution.low[node]).toBe(Math.min(...values));
          expect(solution.high[node]).toBe(Math.max(...values));
        }
      }),
      { numRuns: 150 },
    );
  });

  it('does not depend on the order of the bounds', () => {
    fc.assert(
      fc.property(small, fc.infiniteStream(fc.nat()), (system, order) => {
        const keyed = system.bounds.map((bound) => ({ bound, key: order.next().value as number }));
        const shuffled = keyed.sort((a, b) => a.key - b.key).map(({ bound }) => bound);
        const [one, two] = [solve(system.nodes, system.bounds), solve(system.nodes, shuffled)];
        expect(two.kind).toBe(one.kind);
        if (one.kind === 'solved' && two.kind === 'solved') {
          expect(two.low).toEqual(one.low);
          expect(two.high).toEqual(one.high);
        } else if (one.kind === 'impossible' && two.kind === 'impossible') {
          expect(two.conflict.parts.length).toBe(one.conflict.parts.length);
        }
      }),
    );
  });
});

describe('a conflict', () => {
  it('is a round of sides whose leasts exceed their mosts by the excess', () => {
    for (const arbitrary of [tight, entangled]) {
      fc.assert(
        fc.property(arbitrary, (system) => {
          const { parts, excess } = conflictOnly(system);
          let sum = 0;
          const visited: number[] = [];
          parts.forEach((part, index) => {
            const [start, end] = ends(system, part);
            const [following] = ends(system, parts[(index + 1) % parts.length] as Conflict<number>['parts'][number]);
            expect(end).toBe(following);
            visited.push(start);
            const bound = system.bounds[part.bound] as Bound<number>;
            expect(part.length).toBe(bound[part.side]);
            expect(part.label).toBe(bound.label);
            sum += part.side === 'least' ? part.length : -part.length;
          });
          expect(new Set(visited).size).toBe(visited.length);
          expect(sum).toBe(excess);
          expect(excess).toBeGreaterThan(0);
        }),
        { numRuns: arbitrary === entangled ? 25 : 400 },
      );
    }
  });

  it('has the fewest sides that any conflict of the system has', () => {
    fc.assert(
      fc.property(tight, (system) => {
        expect(conflictOnly(system).parts.length).toBe(fewestArcs(system));
      }),
      { numRuns: 500 },
    );
  });

  it.each([0, 1, 2, 4, 9])(
    'is irreducible: its statements fail together, and hold without any one (labels up to %i)',
    (labels) => {
      const shared = systems({ nodes: 6, bounds: 18, reach: 6, labels });
      fc.assert(
        fc.property(shared, (system) => {
          const conflict = conflictOnly(system);
          expect(new Set(conflict.parts.map((part) => part.label))).toEqual(new Set(conflict.labels));
          expect(new Set(conflict.labels).size).toBe(conflict.labels.length);
          const without = (left: number | undefined) => ({
            nodes: system.nodes,
            bounds: system.bounds.filter((b) => conflict.labels.includes(b.label) && b.label !== left),
          });
          expect(feasible(without(undefined))).toBe(false);
          for (const label of conflict.labels) expect(feasible(without(label))).toBe(true);
        }),
        { numRuns: 300 },
      );
    },
  );

  it('is the same each time', () => {
    fc.assert(
      fc.property(tight, (system) => {
        expect(solve(system.nodes, structuredClone(system.bounds))).toEqual(solve(system.nodes, system.bounds));
      }),
    );
  });
});

function ends(system: System, part: { bound: number; side: 'least' | 'most' }): [number, number] {
  const { from, to } = system.bounds[part.bound] as Bound<number>;
  return part.side === 'least' ? [from, to] : [to, from];
}

/** The fewest arcs of a closed walk of negative weight: distances by number of arcs, one more at a time. */
function fewestArcs({ nodes, bounds }: System): number {
  const arcs: [number, number, number][] = [];
  for (const { from, to, least, most } of bounds) {
    if (most !== undefined) arcs.push([from, to, most]);
    if (least !== undefined) arcs.push([to, from, -least]);
  }
  for (let length = 1; length <= nodes; length++) {
    for (let start = 0; start < nodes; start++) {
      let reach = new Map([[start, 0]]);
      for (let step = 0; step < length; step++) {
        const next = new Map<number, number>();
        for (const [from, to, weight] of arcs) {
          const sum = reach.get(from);
          if (sum !== undefined) next.set(to, Math.min(next.get(to) ?? Infinity, sum + weight));
        }
        reach = next;
      }
      if ((reach.get(start) ?? 0) < 0) return length;
    }
  }
  throw new Error('no conflict');
}

function inBox(nodes: number, reach: number): Bound<number>[] {
  return Array.from({ length: nodes }, (_, to) => ({
    from: 0,
    to,
    least: ticks(-reach),
    most: ticks(reach),
    label: 1000 + to,
  }));
}

function everyAssignment(nodes: number, reach: number): Ticks[][] {
  let all: Ticks[][] = [[ticks(0)]];
  for (let node = 1; node < nodes; node++) {
    all = all.flatMap((x) => Array.from({ length: 2 * reach + 1 }, (_, i) => [...x, ticks(i - reach)]));
  }
  return all;
}
