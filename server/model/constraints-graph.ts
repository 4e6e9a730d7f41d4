/**
 * What the files of the constraint solver share: a bound as it is stated, and its two sides as arcs
 * of the distance graph (Dechter, Meiri and Pearl, "Temporal constraint networks", Artificial
 * Intelligence 49, 1991: x[to] - x[from] <= w is an arc of length w).
 */
import type { Ticks } from './ticks.ts';

/** A statement about one difference: least <= x[to] - x[from] <= most. A side left out is free. */
export interface Bound<L> {
  readonly from: number;
  readonly to: number;
  readonly least?: Ticks | undefined;
  readonly most?: Ticks | undefined;
  /** Who says so. Bounds with the same label (by `Map` equality) are one statement. */
  readonly label: L;
}

export type Side = 'least' | 'most';

/** x[to] <= x[from] + weight, as one side of bound number `bound` says it. Weights are whole ticks. */
export interface Arc {
  readonly from: number;
  readonly to: number;
  readonly weight: number;
  readonly bound: number;
  readonly side: Side;
}

/**
 * The largest sum that any path may have. The sums that are formed stay below twice this, so that
 * every one is an exact integer.
 */
const LARGEST_PATH = 2 ** 52;

/** The arcs of all bounds. Throws RangeError when a node does not exist or sums could pass 2^52 ticks. */
export function arcsOf<L>(nodeCount: number, bounds: readonly Bound<L>[]): Arc[] {
  const arcs: Arc[] = [];
  let largest = 0;
  let total = 0;
  bounds.forEach(({ from, to, least, most }, bound) => {
    for (const node of [from, to]) {
      if (!(Number.isInteger(node) && node >= 0 && node < nodeCount)) throw new RangeError(`no node ${node}`);
    }
    if (most !== undefined) arcs.push({ from, to, weight: most, bound, side: 'most' });
    if (least !== undefined) arcs.push({ from: to, to: from, weight: least === 0 ? 0 : -least, bound, side: 'least' });
    const size = Math.max(Math.abs(least ?? 0), Math.abs(most ?? 0));
    largest = Math.max(largest, size);
    total += size;
  });
  // A shortest path visits a node once at most and uses a bound once at most.
  if (Math.min(largest * nodeCount, total) > LARGEST_PATH)
    throw new RangeError('dimensions too large to add up exactly');
  return arcs;
}

/** The arcs that leave each node, by their place in `arcs`. */
export function leavingArcs(nodeCount: number, arcs: readonly Arc[]): number[][] {
  const leaving: number[][] = Array.from({ length: nodeCount }, () => []);
  arcs.forEach((arc, index) => {
    (leaving[arc.from] as number[]).push(index);
  });
  return leaving;
}

/**
 * Takes a simple cycle of negative weight out of a closed walk of negative weight. Arcs are given and
 * returned by number, in walking order.
 */
export function simpleNegativeCycle(arcs: readonly Arc[], walk: readonly number[]): number[] {
  const path: number[] = [];
  const position = new Map<number, number>();
  for (const index of walk) {
    const { from, to } = arcs[index] as Arc;
    position.set(from, path.length);
    path.push(index);
    const start = position.get(to);
    if (start === undefined) continue;
    const cycle = path.slice(start);
    if (weightOf(arcs, cycle) < 0) return cycle;
    // A loop that is not negative can be left out: what remains is more negative still.
    for (const dropped of path.splice(start)) position.delete((arcs[dropped] as Arc).from);
  }
  throw new Error('not a closed walk of negative weight');
}

export function weightOf(arcs: readonly Arc[], path: readonly number[]): number {
  let weight = 0;
  for (const index of path) weight += (arcs[index] as Arc).weight;
  return weight;
}
