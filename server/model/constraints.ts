/**
 * An exact solver for systems of difference constraints over whole ticks: least <= x[b] - x[a] <= most.
 * It knows nothing of closets; a chain of zones along a wall or of fittings up a zone is such a system.
 *
 * Source of the method: simple temporal networks (R. Dechter, I. Meiri and J. Pearl, "Temporal
 * constraint networks", Artificial Intelligence 49, 1991, 61-95): the greatest value of a node is its
 * distance from the datum, the least is minus the distance back, and the system is impossible exactly
 * when there is a cycle of negative weight, whose arcs are the statements to blame.
 */
import { type Conflict, findConflict } from './constraints-conflict.ts';
import { arcsOf, type Bound } from './constraints-graph.ts';
import {
  buildNetwork,
  type Direction,
  distances,
  distancesBetween,
  type Network,
  sweep,
} from './constraints-network.ts';
import { type Ticks, ticks } from './ticks.ts';

export type { Conflict, ConflictPart } from './constraints-conflict.ts';
export type { Bound, Side } from './constraints-graph.ts';

/** What a difference can be; a side that nothing limits is left out. */
export interface Range {
  readonly least?: Ticks;
  readonly most?: Ticks;
}

/** All bounds hold together. Node 0 is the datum and stands at 0. */
export interface Solved {
  readonly kind: 'solved';
  /** Each node's least value; undefined where nothing limits it. */
  readonly low: readonly (Ticks | undefined)[];
  /** Each node's greatest value; undefined where nothing limits it. */
  readonly high: readonly (Ticks | undefined)[];
  /** For `range` and the assignments; of no use elsewhere. */
  readonly network: Network;
}

export interface Impossible<L> {
  readonly kind: 'impossible';
  readonly conflict: Conflict<L>;
}

export type Solution<L> = Solved | Impossible<L>;

/**
 * Solves the bounds over nodes 0 to nodeCount - 1. Every value is exact. The time is near linear for
 * chains, with any number of statements that refer to the datum.
 * Throws RangeError when a bound names a node that is not there, or when the dimensions could add up
 * to more than 2^52 ticks (some 112,000 km).
 */
export function solve<L>(nodeCount: number, bounds: readonly Bound<L>[]): Solution<L> {
  const arcs = arcsOf(nodeCount, bounds);
  const built = buildNetwork(nodeCount, arcs);
  if (built.kind === 'cycle')
    return { kind: 'impossible', conflict: findConflict(nodeCount, bounds, arcs, built.arcs) };
  const { network } = built;
  if (nodeCount === 0) return { kind: 'solved', low: [], high: [], network };
  return {
    kind: 'solved',
    low: Array.from(distances(network, 0, 'home'), (distance) => known(-distance)),
    high: Array.from(distances(network, 0, 'out'), known),
    network,
  };
}

/** Whether the bounds hold together, where nobody asks why not. */
export function holdTogether<L>(nodeCount: number, bounds: readonly Bound<L>[]): boolean {
  return buildNetwork(nodeCount, arcsOf(nodeCount, bounds)).kind === 'network';
}

/**
 * What x[b] - x[a] can be. At once where a bound joins a and b (unless the system is so entangled that
 * the solver fell back to plain shortest paths); otherwise in time linear in the system.
 */
export function range(solution: Solved, a: number, b: number): Range {
  const { there, back } = distancesBetween(solution.network, a, b);
  const least = known(-back);
  const most = known(there);
  return { ...(least !== undefined && { least }), ...(most !== undefined && { most }) };
}

/**
 * One value a node that satisfies all bounds, with every node that has a least value at that value.
 * A node without one takes the greatest value that the others leave it.
 */
export function leastAssignment(solution: Solved): Ticks[] {
  return Array.from(outermost(solution.network, 'home'), (value) => ticks(-value));
}

/**
 * One value a node that satisfies all bounds, with every node that has a greatest value at that value.
 * A node without one takes the least value that the others leave it.
 */
export function greatestAssignment(solution: Solved): Ticks[] {
  return Array.from(outermost(solution.network, 'out'), (value) => ticks(value));
}

/** The greatest values ('out'), or minus the least ('home'), with a fitting value where there is none. */
function outermost(network: Network, direction: Direction): Float64Array {
  if (network.nodeCount === 0) return new Float64Array(0);
  const values = distances(network, 0, direction);
  // Those without a value must still be large enough for those that have one ...
  const needed = values.map((value) => -value);
  needed.forEach((value, node) => {
    if (value === -Infinity) needed[node] = Infinity;
  });
  sweep(network, needed, direction === 'out' ? 'home' : 'out');
  values.forEach((value, node) => {
    // ... and what no node needs is placed at 0 or as near below as its neighbours ask.
    if (value === Infinity) values[node] = needed[node] === Infinity ? 0 : -(needed[node] as number);
  });
  sweep(network, values, direction);
  return values;
}

function known(value: number): Ticks | undefined {
  return Number.isFinite(value) ? ticks(value) : undefined;
}
