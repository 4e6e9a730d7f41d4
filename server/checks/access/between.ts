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

/** How far clear floor runs on beneath, from an edge, where a person is before a stretch of the wall. */
export type FloorBeneath = (along: readonly [Ticks, Ticks], edge: Ticks) => Ticks;

/** The stretches of a target, at a height of it, that lie before where a person can be; none where nobody gets before it. */
export function stretches(
  target: Box,
  height: Ticks,
  others: readonly Box[],
  stand: Stand,
  floor: FloorBeneath = floorAmong([target, ...others], stand),
): Stretch[] {
  const from = greatest(target.x[0], stand.from);
  const to = least(target.x[1], stand.to);
  if (from >= to) return [];
  const before = others.filter((box) => meets(box.x, [from, to]) && box.y[1] > target.y[1]);
  const cuts = [...new Set([from, to, ...before.flatMap(({ x }) => [...x]).filter((x) => from < x && x < to)])];
  cuts.sort((a, b) => a - b);
  const found: Stretch[] = [];
  for (const [i, start] of cuts.entries()) {
    const end = cuts[i + 1];
    if (end === undefined) continue;
    const along = [start, end] as const;
    const edge = edgeOf(along, target.y[1], height, before, stand);
    found.push({ from: start, to: end, reaching: edge && past(edge, along, floor) });
  }
  return found;
}

/** The floor beneath is looked for when it is asked about: only a forward reach over something does. */
function past({ at, reaching }: Edge, along: readonly [Ticks, Ticks], floor: FloorBeneath): Reaching {
  return {
    ...reaching,
    get floorBeneath() {
      return floor(along, at);
    },
  };
}

interface Edge {
  readonly at: Ticks;
  readonly reaching: Omit<Reaching, 'floorBeneath'>;
}

/** Where the clear floor ends, and what is passed over from there; undefined where the height itself is hidden. */
function edgeOf(
  along: readonly [Ticks, Ticks],
  front: Ticks,
  height: Ticks,
  before: readonly Box[],
  stand: Stand,
): Edge | undefined {
  const own = before.filter((box) => meets(box.x, along));
  if (own.some(({ z }) => z[0] <= height && height < z[1])) return undefined;
  const passed = own.filter(({ z }) => z[1] <= height);
  const at = greatest(stand.line ?? front, front, ...passed.map(({ y }) => y[1]));
  const depth = subtract(at, front);
  const over = passed.length === 0 ? undefined : { height: greatest(...passed.map(({ z }) => z[1])), depth };
  return { at, reaching: { depth, over } };
}

/**
 * The floor among things, for any stretch: the best place of a wheelchair as wide as it is that is at
 * least partly before the stretch. Answers are kept, because things in a column ask alike.
 */
export function floorAmong(things: readonly Box[], stand: Stand): FloorBeneath {
  const low = things.filter(({ z }) => z[0] < kneeAndToe.knees);
  const known = new Map<string, Ticks>();
  return (along, edge) => {
    const key = `${along[0]} ${along[1]} ${edge}`;
    const made = known.get(key) ?? beneath(along, edge, low, stand);
    known.set(key, made);
    return made;
  };
}

function beneath(along: readonly [Ticks, Ticks], edge: Ticks, low: readonly Box[], stand: Stand): Ticks {
  const wide = clearFloor.short;
  if (subtract(stand.to, stand.from) < wide) return NONE;
  const near = low.filter(({ x }) => meets(x, [subtract(along[0], wide), add(along[1], wide)]));
  const edges = near.flatMap(({ x }) => [x[1], subtract(x[0], wide)]);
  const starts = [along[0], subtract(along[1], wide), stand.from, subtract(stand.to, wide), ...edges].filter(
    (start) => start >= stand.from && add(start, wide) <= stand.to && meets([start, add(start, wide)], along),
  );
  return greatest(NONE, ...[...new Set(starts)].map((start) => deep([start, add(start, wide)], edge, near)));
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
