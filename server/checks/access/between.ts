/**
 * What stands between a person and a rod or shelf, stretch by stretch along it. Plain boxes, all in
 * the frame of a person who faces the wall: x to the right, y from the wall towards the person, z up.
 *
 *     wall |  target |   what the arm passes over   | edge   person
 *          y = 0     target.y[1]                    the nearest that the clear floor comes
 *
 * A shallow closet is reached into from its front line: nobody gets nearer than that. One that is
 * entered has no such line: the person comes as near as what stands there allows.
 */
import type { Box } from '../../model/layout.ts';
import { add, greatest, inches, least, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { clearFloor, floorBeneath, kneeAndToe } from './floor.ts';
import { type ReachAnswer, type Reached, type Reaching, type ReachTable, reach, reached } from './reach.ts';

/** Where a person can be: along the wall, and no nearer than `line`, where there is one. */
export interface Stand {
  readonly line: Ticks | undefined;
  readonly from: Ticks;
  readonly to: Ticks;
}

/** Along all of it the same things stand in between. `hidden`: something stands in front of the very height. */
export interface Stretch {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly reaching: Reaching | undefined;
}

/** The stretches of a target, at a height of it, that lie before where a person can be; none where nobody gets before it. */
export function stretches(target: Box, height: Ticks, others: readonly Box[], stand: Stand): Stretch[] {
  const from = greatest(target.x[0], stand.from);
  const to = least(target.x[1], stand.to);
  if (from >= to) return [];
  const before = others.filter((box) => meets(box.x, [from, to]) && box.y[1] > target.y[1]);
  const low = [target, ...others].filter(({ z }) => z[0] < kneeAndToe.knees);
  const cuts = [...new Set([from, to, ...before.flatMap(({ x }) => [...x]).filter((x) => from < x && x < to)])];
  cuts.sort((a, b) => a - b);
  const found: Stretch[] = [];
  for (const [i, start] of cuts.entries()) {
    const end = cuts[i + 1];
    if (end !== undefined) found.push(stretch([start, end], target.y[1], height, { before, low }, stand));
  }
  return found;
}

interface Things {
  /** What reaches out further than the target, at its own stretch of the wall. */
  readonly before: readonly Box[];
  /** What hangs low enough to keep knees or toes out, wherever it is. */
  readonly low: readonly Box[];
}

function stretch(along: readonly [Ticks, Ticks], front: Ticks, height: Ticks, things: Things, stand: Stand): Stretch {
  const [from, to] = along;
  const before = things.before.filter((box) => meets(box.x, along));
  if (before.some(({ z }) => z[0] <= height && height < z[1])) return { from, to, reaching: undefined };
  const passed = before.filter(({ z }) => z[1] <= height);
  const edge = greatest(stand.line ?? front, front, ...passed.map(({ y }) => y[1]));
  const depth = subtract(edge, front);
  const over = passed.length === 0 ? undefined : { height: greatest(...passed.map(({ z }) => z[1])), depth };
  return { from, to, reaching: { depth, over, floorBeneath: beneath(along, edge, things.low, stand) } };
}

/** How far the floor runs on behind the edge, where a wheelchair is as wide as it is and at least partly before the stretch. */
function beneath(along: readonly [Ticks, Ticks], edge: Ticks, things: readonly Box[], stand: Stand): Ticks {
  const wide = clearFloor.short;
  if (subtract(stand.to, stand.from) < wide) return NONE;
  const edges = things.flatMap(({ x }) => [x[1], subtract(x[0], wide)]);
  const starts = [along[0], subtract(along[1], wide), stand.from, subtract(stand.to, wide), ...edges].filter(
    (start) => start >= stand.from && add(start, wide) <= stand.to && meets([start, add(start, wide)], along),
  );
  return greatest(NONE, ...[...new Set(starts)].map((start) => deep([start, add(start, wide)], edge, things)));
}

function deep(along: readonly [Ticks, Ticks], edge: Ticks, things: readonly Box[]): Ticks {
  const own = things.filter(({ x }) => meets(x, along));
  const free = (low: Ticks, high: Ticks): Ticks => {
    const fronts = own.filter(({ z }) => z[0] < high && z[1] > low).map(({ y }) => y[1]);
    return greatest(NONE, subtract(edge, greatest(NONE, ...fronts)));
  };
  // Whatever hangs between knees and toes is taken to hang at both: boxes have no slope to make use of.
  const knees = free(kneeAndToe.toes, kneeAndToe.knees);
  return floorBeneath({ atFloor: free(inches(-1), kneeAndToe.toes), atToes: knees, atKnees: knees });
}

export interface Best {
  readonly reached: Reached;
  readonly answer: ReachAnswer;
  readonly reaching: Reaching;
  readonly stretch: Stretch;
}

/** The stretch that is best to reach; undefined where all of it is hidden, or nobody gets before it. */
export function bestOf(table: ReachTable, all: readonly Stretch[], height: Ticks): Best | undefined {
  let best: Best | undefined;
  for (const one of all) {
    if (!one.reaching) continue;
    const answer = reach(table, one.reaching);
    const made = { reached: reached(answer, height), answer, reaching: one.reaching, stretch: one };
    if (!best || rank(made) > rank(best)) best = made;
  }
  return best;
}

/** Within reach before all else; then the one that lets a hand go highest; then the shallowest. */
function rank({ reached, answer, reaching }: Best): number {
  if (reached === 'within') return Number.POSITIVE_INFINITY;
  return answer.kind === 'range' ? answer.highest : -reaching.depth;
}

/** How much of its length is within reach. */
export function lengthWithin(table: ReachTable, all: readonly Stretch[], height: Ticks): Ticks {
  const own = all.filter((one) => one.reaching && reached(reach(table, one.reaching), height) === 'within');
  return add(...own.map(({ from, to }) => subtract(to, from)));
}

function meets(a: readonly [Ticks, Ticks], b: readonly [Ticks, Ticks]): boolean {
  return a[0] < b[1] && b[0] < a[1];
}
