/** The way up to an attic: how large its opening is, and how much of it is left over what stands below. */
import type { Box } from '../../model/layout.ts';
import { inches, subtract, type Ticks } from '../../model/ticks.ts';
import { published } from '../access/sources.ts';

export const hatchSize = {
  short: inches(22),
  long: inches(30),
  /** Above some part of the opening, in the attic: nothing here knows it, so it is told as lacking. */
  headroom: inches(30),
  source: published('International Residential Code, as quoted at nachi.org', 'R807.1, attic access', '2018'),
} as const;

export interface HatchSize {
  readonly short: Ticks;
  readonly long: Ticks;
}

/** The long way may lie either way in a ceiling; in a wall the short way is the width. */
export function largeEnough(a: Ticks, b: Ticks, where: 'ceiling' | 'wall', size: HatchSize = hatchSize): boolean {
  const { short, long } = size;
  return (a >= short && b >= long) || (where === 'ceiling' && a >= long && b >= short);
}

export interface Plan {
  readonly x: Box['x'];
  readonly y: Box['y'];
}

/**
 * The free rectangle of a hatch, seen in plan, that is best to climb through: one that is large
 * enough, or else the one with the greatest short side. Undefined where all of it is covered.
 */
export function freeOf(hatch: Plan, below: readonly Plan[], size: HatchSize = hatchSize): Plan | undefined {
  const covering = below.filter((box) => meets(box.x, hatch.x) && meets(box.y, hatch.y));
  const xs = bounds(
    hatch.x,
    covering.map(({ x }) => x),
  );
  const ys = bounds(
    hatch.y,
    covering.map(({ y }) => y),
  );
  let best: Plan | undefined;
  for (const x of pairs(xs)) {
    const inColumn = covering.filter((box) => meets(box.x, x));
    for (const y of pairs(ys)) {
      if (inColumn.some((box) => meets(box.y, y))) continue;
      const made = { x, y };
      if (!best || better(made, best, size)) best = made;
    }
  }
  return best;
}

function better(a: Plan, b: Plan, size: HatchSize): boolean {
  const [large, before] = [fits(a, size), fits(b, size)];
  if (large !== before) return large;
  const [p, q] = [sides(a), sides(b)];
  return p.short > q.short || (p.short === q.short && p.long > q.long);
}

function fits(plan: Plan, size: HatchSize): boolean {
  const { short, long } = sides(plan);
  return largeEnough(short, long, 'ceiling', size);
}

export function sides({ x, y }: Plan): { readonly short: Ticks; readonly long: Ticks } {
  const [a, b] = [subtract(x[1], x[0]), subtract(y[1], y[0])];
  return a < b ? { short: a, long: b } : { short: b, long: a };
}

/** The edges at which a free rectangle can end, in order. */
function bounds([from, to]: Box['x'], covering: readonly Box['x'][]): Ticks[] {
  const inside = covering.flat().filter((at) => from < at && at < to);
  return [...new Set([from, to, ...inside])].sort((a, b) => a - b);
}

function* pairs(edges: readonly Ticks[]): Generator<readonly [Ticks, Ticks]> {
  for (const [i, from] of edges.entries()) {
    for (const to of edges.slice(i + 1)) yield [from, to];
  }
}

function meets(a: Box['x'], b: Box['x']): boolean {
  return a[0] < b[1] && b[0] < a[1];
}
