/**
 * The constraint solver against a linear programming solver, which knows nothing of shortest paths.
 *
 * source: HiGHS (Q. Huangfu and J. A. J. Hall, "Parallelizing the dual revised simplex method",
 * Mathematical Programming Computation 10, 2018; https://highs.dev), as the package `highs`. Difference
 * constraints are a totally unimodular system, so with whole bounds every optimum is whole and LP
 * arithmetic, at numbers this small, decides it.
 */
import highsModule, { type Highs, type Model } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Bound, range, solve } from '../../server/model/constraints.ts';
import { ticks } from '../../server/model/ticks.ts';

// The package's types describe its CommonJS form; imported, the default is the loader itself.
const loadHighs = highsModule as unknown as typeof highsModule.default;

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** Repeatable numbers in [0, limit): the multiplicative generator of Park and Miller (1988). */
function numbers(start: number): (limit: number) => number {
  let state = start + 1;
  return (limit) => {
    state = (state * 48271) % 2147483647;
    return state % limit;
  };
}

type Kind = 'any' | 'loose chain' | 'tight chain' | 'around a layout';

/** Every bound is a statement of its own, so that its label is its place. */
function drawSystem(kind: Kind, start: number): { nodes: number; bounds: Bound<number>[] } {
  const next = numbers(start * 7919);
  for (let warm = 0; warm < 5; warm++) next(2);
  const nodes = 3 + next(7);
  const bounds: Bound<number>[] = [];
  const state = (from: number, to: number, least: number | undefined, most: number | undefined) => {
    const side = (value: number | undefined) => (value === undefined ? undefined : ticks(value));
    bounds.push({ from, to, least: side(least), most: side(most), label: bounds.length });
  };
  if (kind === 'loose chain' || kind === 'tight chain') {
    // Zones side by side, the wall they stand on, and a few statements across.
    for (let node = 1; node < nodes; node++) {
      const least = 10 + next(20);
      state(node - 1, node, least, next(3) === 0 ? undefined : least + next(12));
    }
    const wall = kind === 'loose chain' ? 30 * nodes : 23 * nodes;
    state(0, nodes - 1, wall - next(20), wall + next(5));
    for (let extra = next(4); extra > 0; extra--) {
      const from = next(nodes - 1);
      const to = from + 1 + next(nodes - 1 - from);
      state(from, to, next(2) === 0 ? undefined : 15 * (to - from), 15 * (to - from) + next(60));
    }
    return { nodes, bounds };
  }
  const layout = Array.from({ length: nodes }, () => next(400));
  for (let count = nodes + next(2 * nodes); count > 0; count--) {
    const from = next(nodes);
    const to = (from + 1 + next(nodes - 1)) % nodes;
    const middle = kind === 'any' ? next(200) - 100 : (layout[to] as number) - (layout[from] as number);
    const least = next(3) === 0 ? undefined : middle - next(60);
    state(from, to, least, next(3) === 0 ? undefined : middle + next(60));
  }
  return { nodes, bounds };
}

/** Builds the same system as a linear program with free variables, the datum held at 0. */
function withProgram<T>(nodes: number, bounds: readonly Bound<number>[], work: (model: Model) => T): T {
  const model = highs.createModel();
  try {
    model.options.set({ output_flag: false, presolve: 'off' });
    model.addVar(0, 0);
    for (let node = 1; node < nodes; node++) model.addVar(-highs.infinity, highs.infinity);
    for (const { from, to, least, most } of bounds) {
      model.addRow(least ?? -highs.infinity, most ?? highs.infinity, { indices: [from, to], values: [-1, 1] });
    }
    return work(model);
  } finally {
    model.dispose();
  }
}

function isFeasible(nodes: number, bounds: readonly Bound<number>[]): boolean {
  return withProgram(nodes, bounds, (model) => {
    model.run();
    const status = model.getModelStatus();
    expect([highs.constants.modelStatus.optimal, highs.constants.modelStatus.infeasible]).toContain(status);
    return status === highs.constants.modelStatus.optimal;
  });
}

/** The optimum of x[b] - x[a] over a feasible program; undefined when unbounded. */
function optimum(model: Model, a: number, b: number, sense: 'minimize' | 'maximize'): number | undefined {
  if (a !== b) {
    model.changeColCost(b, 1);
    model.changeColCost(a, -1);
  }
  model.changeObjectiveSense(highs.constants.objectiveSense[sense]);
  // A fresh start each time: what an unbounded run leaves behind can make the next one inconclusive.
  model.clearSolver();
  model.run();
  const status = model.getModelStatus();
  const value = model.getObjectiveValue();
  model.changeColCost(a, 0);
  model.changeColCost(b, 0);
  if (status === highs.constants.modelStatus.unbounded) return undefined;
  expect(status).toBe(highs.constants.modelStatus.optimal);
  expect(Math.abs(value - Math.round(value))).toBeLessThan(1e-6);
  return Math.round(value) + 0;
}

const kinds: Kind[] = ['any', 'loose chain', 'tight chain', 'around a layout'];
const SYSTEMS = 60;

describe.each(kinds)('systems of the kind "%s"', (kind) => {
  const drawn = Array.from({ length: SYSTEMS }, (_, start) => drawSystem(kind, start));

  it('hold together or not, as the linear program says', { timeout: 60_000 }, () => {
    for (const { nodes, bounds } of drawn) {
      expect(solve(nodes, bounds).kind).toBe(isFeasible(nodes, bounds) ? 'solved' : 'impossible');
    }
  });

  it('have the least and greatest values, and the ranges of differences, of the linear program', {
    timeout: 60_000,
  }, () => {
    for (const { nodes, bounds } of drawn) {
      const solution = solve(nodes, bounds);
      if (solution.kind !== 'solved') continue;
      withProgram(nodes, bounds, (model) => {
        for (let node = 1; node < nodes; node++) {
          expect(solution.low[node]).toBe(optimum(model, 0, node, 'minimize'));
          expect(solution.high[node]).toBe(optimum(model, 0, node, 'maximize'));
        }
        for (const { from, to } of bounds) {
          const { least, most } = range(solution, from, to);
          expect(least).toBe(optimum(model, from, to, 'minimize'));
          expect(most).toBe(optimum(model, from, to, 'maximize'));
        }
      });
    }
  });

  it('fail by statements that fail alone, and hold when any one of them is dropped', { timeout: 60_000 }, () => {
    for (const { nodes, bounds } of drawn) {
      const solution = solve(nodes, bounds);
      if (solution.kind !== 'impossible') continue;
      const blamed = solution.conflict.labels.map((label) => bounds[label] as Bound<number>);
      expect(isFeasible(nodes, blamed)).toBe(false);
      for (const dropped of blamed)
        expect(
          isFeasible(
            nodes,
            blamed.filter((bound) => bound !== dropped),
          ),
        ).toBe(true);
    }
  });
});

it('the systems drawn are of both sorts, so that neither half of the comparison is empty', () => {
  const all = kinds.flatMap((kind) => Array.from({ length: SYSTEMS }, (_, start) => drawSystem(kind, start)));
  const impossible = all.filter(({ nodes, bounds }) => solve(nodes, bounds).kind === 'impossible').length;
  expect(impossible).toBeGreaterThan(40);
  expect(all.length - impossible).toBeGreaterThan(80);
});
