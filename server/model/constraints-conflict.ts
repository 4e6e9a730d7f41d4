/**
 * Why a system of difference constraints is impossible: a few statements that cannot hold together,
 * none of them superfluous.
 *
 * A simple cycle of negative weight is such a set of sides of bounds: without any one of its arcs the
 * rest is a path, which always holds. Among these cycles one with the fewest arcs is looked for, because
 * people have to read it. Last, whole statements are tried: one label may stand on several bounds.
 */
import { type Arc, type Bound, leavingArcs, type Side, simpleNegativeCycle, weightOf } from './constraints-graph.ts';
import { buildNetwork } from './constraints-network.ts';
import { type Ticks, ticks } from './ticks.ts';

/** One side of one bound that takes part in a conflict. */
export interface ConflictPart<L> {
  /** The bound's place in the list that was solved. */
  readonly bound: number;
  readonly side: Side;
  readonly label: L;
  /** What this side says: the bound's `least` or `most`. */
  readonly length: Ticks;
}

/**
 * Sides of bounds that cannot hold together. Going round in the order of `parts`, a `least` leads from
 * its bound's `from` to its `to` and a `most` back from `to` to `from`; so the sum of the leasts is
 * greater than the sum of the mosts, by `excess` ticks (more than 0).
 */
export interface Conflict<L> {
  readonly parts: readonly ConflictPart<L>[];
  /** The statements of the parts, each once, in the order of the parts. */
  readonly labels: readonly L[];
  readonly excess: Ticks;
}

/** How many arcs the search for a small cycle may look at: a fraction of a second. */
const SEARCH_LIMIT = 5_000_000;
/** How many nodes and bounds the trials without a statement may look at, all together. */
const REDUCE_LIMIT = 10_000_000;

/**
 * Turns a negative cycle (arcs by number, in order) into a conflict that is small and irreducible:
 * without any one of its statements, with all the bounds that carry it, the bounds of the others hold.
 * Within the work limits the cycle has the fewest arcs that any has; beyond them, on systems of
 * thousands of statements that contradict each other only all together, it is a simple cycle still.
 */
export function findConflict<L>(
  nodeCount: number,
  bounds: readonly Bound<L>[],
  arcs: readonly Arc[],
  cycle: readonly number[],
): Conflict<L> {
  const small = contradictingItself(arcs) ?? fewestArcs(nodeCount, arcs, cycle);
  const labels = neededLabels(nodeCount, bounds, arcs, small);
  if (labels === undefined) return conflictOf(bounds, arcs, small);
  // Some statement was superfluous. Every negative cycle among the others needs them all.
  const rest = arcs.filter((arc) => labels.has((bounds[arc.bound] as Bound<L>).label));
  const built = buildNetwork(nodeCount, rest);
  if (built.kind !== 'cycle') throw new Error('the reduced statements hold together');
  return conflictOf(bounds, rest, fewestArcs(nodeCount, rest, built.arcs));
}

/** The sides of a single bound that nothing can satisfy: a loop of one arc, or else a least above its most. */
function contradictingItself(arcs: readonly Arc[]): number[] | undefined {
  const loop = arcs.findIndex((arc) => arc.from === arc.to && arc.weight < 0);
  if (loop >= 0) return [loop];
  // The two sides of a bound are neighbours in the list.
  const second = arcs.findIndex((arc, index) => {
    const before = arcs[index - 1];
    return before?.bound === arc.bound && before.weight + arc.weight < 0;
  });
  return second >= 0 ? [second - 1, second] : undefined;
}

/** A walk of `length` arcs from the start of a search, written as its last arc and the walk before it. */
interface Walk {
  readonly node: number;
  readonly length: number;
  sum: number;
  arc: number;
  before: Walk | undefined;
}

/**
 * A simple negative cycle with the fewest arcs, or the best found when the work limit is reached.
 * From every node, walks are made longer arc by arc, keeping the least sum for a node and a number of
 * arcs. Any negative cycle has a node from which all its partial sums are below 0 (start after the
 * largest of them), so walks whose sum is not below 0 are dropped, which leaves few.
 */
function fewestArcs(nodeCount: number, arcs: readonly Arc[], known: readonly number[]): readonly number[] {
  const leaving = leavingArcs(nodeCount, arcs);
  // The least sum found for a node so far, and the walk that has it, for the start at hand.
  const sums = new Float64Array(nodeCount);
  const walks: (Walk | undefined)[] = Array.from({ length: nodeCount }, () => undefined);
  let work = 0;

  function closedWalk(start: number, shorterThan: number): number[] | undefined {
    const touched: number[] = [];
    let closed: number[] | undefined;
    let ends: Walk[] = [{ node: start, length: 0, sum: 0, arc: -1, before: undefined }];
    for (let length = 1; length < shorterThan && ends.length > 0 && work < SEARCH_LIMIT; length++) {
      const longer: Walk[] = [];
      for (const before of ends) {
        for (const arc of leaving[before.node] as number[]) {
          work++;
          const { to, weight } = arcs[arc] as Arc;
          const sum = before.sum + weight;
          if (sum >= (sums[to] as number)) continue;
          const walk = walks[to];
          if (walk?.length === length) {
            walk.sum = sum;
            walk.arc = arc;
            walk.before = before;
          } else {
            const next: Walk = { node: to, length, sum, arc, before };
            walks[to] = next;
            touched.push(to);
            longer.push(next);
          }
          sums[to] = sum;
        }
      }
      ends = longer;
      const home = walks[start];
      if (home) {
        closed = arcsOfWalk(home);
        break;
      }
    }
    for (const node of touched) {
      sums[node] = 0;
      walks[node] = undefined;
    }
    return closed;
  }

  let best = known;
  const starts = new Set(known.map((index) => (arcs[index] as Arc).from));
  for (let node = 0; node < nodeCount; node++) starts.add(node);
  for (const start of starts) {
    if (best.length <= 2 || work >= SEARCH_LIMIT) break;
    const closed = closedWalk(start, best.length);
    if (closed) best = simpleNegativeCycle(arcs, closed);
  }
  return best;
}

function arcsOfWalk(walk: Walk): number[] {
  const path: number[] = [];
  for (let at = walk; at.before; at = at.before) path.push(at.arc);
  return path.reverse();
}

/**
 * The statements of a simple cycle that are needed when each speaks with all the bounds that carry its
 * label; undefined when all are (or when trying would take too long). A statement is superfluous when
 * the bounds of the others cannot hold together either.
 */
function neededLabels<L>(
  nodeCount: number,
  bounds: readonly Bound<L>[],
  arcs: readonly Arc[],
  cycle: readonly number[],
): Set<L> | undefined {
  const labelOf = (arc: Arc) => (bounds[arc.bound] as Bound<L>).label;
  const onCycle = new Set(cycle.map((index) => (arcs[index] as Arc).bound));
  const needed = new Set(cycle.map((index) => labelOf(arcs[index] as Arc)));

  const spoken = new Map<L, number>();
  const touched = new Set<number>();
  let total = 0;
  bounds.forEach((bound, index) => {
    if (!needed.has(bound.label)) return;
    total++;
    spoken.set(bound.label, (spoken.get(bound.label) ?? 0) + 1);
    if (!onCycle.has(index)) touched.add(bound.from).add(bound.to);
  });
  // Without further bounds the cycle is all there is, and any part of it missing leaves paths.
  if (total === onCycle.size) return undefined;

  // Statements with one bound, one behind the other with nothing else in between, are needed together
  // or not at all.
  const groups: L[][] = [];
  let open = false;
  for (const index of cycle) {
    const arc = arcs[index] as Arc;
    const single = spoken.get(labelOf(arc)) === 1;
    if (open && single && !touched.has(arc.from)) (groups.at(-1) as L[]).push(labelOf(arc));
    else groups.push([labelOf(arc)]);
    open = single;
  }
  if (groups.length * (nodeCount + total) > REDUCE_LIMIT) return undefined;

  let dropped = false;
  for (const group of groups) {
    const trial = new Set(needed);
    for (const label of group) trial.delete(label);
    // A label that stands twice on the cycle may have gone already.
    if (trial.size === needed.size) continue;
    const rest = arcs.filter((arc) => trial.has(labelOf(arc)));
    if (buildNetwork(nodeCount, rest).kind === 'network') continue;
    dropped = true;
    for (const label of group) needed.delete(label);
  }
  return dropped ? needed : undefined;
}

function conflictOf<L>(bounds: readonly Bound<L>[], arcs: readonly Arc[], cycle: readonly number[]): Conflict<L> {
  // Against the arcs, so that a `least` reads in the direction of its bound.
  const round = cycle.map((index) => arcs[index] as Arc).reverse();
  const first = round.reduce((best, arc, index) => (arc.bound < (round[best] as Arc).bound ? index : best), 0);
  const parts = [...round.slice(first), ...round.slice(0, first)].map(({ bound, side }) => {
    const stated = bounds[bound] as Bound<L>;
    return { bound, side, label: stated.label, length: stated[side] as Ticks };
  });
  return { parts, labels: [...new Set(parts.map((part) => part.label))], excess: ticks(-weightOf(arcs, cycle)) };
}
