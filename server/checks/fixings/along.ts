/** What stands along a wall, found by its stretch of it. */
import type { Ticks } from '../../model/ticks.ts';

export type Stretch = readonly [Ticks, Ticks];

/** Answers what touches a stretch, from the left. */
export type Along<T> = (stretch: Stretch) => T[];

export function along<T>(items: readonly T[], stretchOf: (item: T) => Stretch): Along<T> {
  const sorted = items.map((item) => ({ item, stretch: stretchOf(item) })).sort((a, b) => a.stretch[0] - b.stretch[0]);
  // Nothing that begins farther to the left than the widest of them reaches the stretch.
  const widest = sorted.reduce((most, { stretch }) => Math.max(most, stretch[1] - stretch[0]), 0);
  return ([from, to]) => {
    const found: T[] = [];
    for (let i = firstFrom(sorted, from - widest); i < sorted.length; i++) {
      const { item, stretch } = sorted[i] as (typeof sorted)[number];
      if (stretch[0] > to) break;
      if (stretch[1] >= from) found.push(item);
    }
    return found;
  };
}

function firstFrom(sorted: readonly { readonly stretch: Stretch }[], from: number): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle]?.stretch[0] ?? 0) < from) low = middle + 1;
    else high = middle;
  }
  return low;
}
