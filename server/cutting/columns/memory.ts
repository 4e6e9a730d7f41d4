/** What is kept of a task, so that one that differs a little starts where it ended. */
import type { Boards } from '../pack.ts';
import type { Part } from './knapsack.ts';
import type { Content, Master } from './master.ts';
import type { Root } from './root.ts';
import type { Chosen } from './settle.ts';
import type { Space } from './space.ts';

/** Lengths stand for themselves, with their kerf, so that they are found again in another task. */
interface Kept {
  readonly room: number;
  readonly cost: number;
  readonly parts: readonly (readonly [size: number, quantity: number])[];
  readonly times: number;
}

export interface Memory {
  plan: readonly Kept[];
  /** What the linear programme uses. */
  columns: readonly Kept[];
  /** Duals by size, longest first. */
  weights: readonly (readonly [size: number, weight: number])[];
}

export function emptyMemory(): Memory {
  return { plan: [], columns: [], weights: [] };
}

export function remember(
  memory: Memory,
  { sizes, kinds }: Space,
  master: Master,
  boards: readonly Boards[],
  places: readonly number[],
  root: Root,
): void {
  const spaceOf = new Map(places.map((place, index) => [place, index]));
  const kept = ({ kind, parts }: Content, times: number): Kept => ({
    room: (kinds[kind] as { room: number }).room,
    cost: (kinds[kind] as { cost: number }).cost,
    parts: parts.map(([size, quantity]) => [(sizes[size] as { size: number }).size, quantity]),
    times,
  });
  memory.plan = boards.map(({ parts, times }) =>
    // The kind is chosen anew by what a board holds.
    kept({ kind: 0, parts: parts.map(([place, quantity]) => [spaceOf.get(place) as number, quantity]) }, times),
  );
  memory.columns = master.simplex.solution().flatMap(({ column }) => {
    const content = master.contentOf(column);
    return content ? [kept(content, 0)] : [];
  });
  memory.weights = sizes.map(({ size }, place) => [size, root.proof.weights[place] as number]);
}

/** What the memory holds, in the terms of another task; undefined when it holds nothing. */
export function recall(
  { plan, columns, weights }: Memory,
  { sizes, kinds }: Space,
): { plan: Chosen[]; columns: Content[]; weights: Float64Array } | undefined {
  if (weights.length === 0) return undefined;
  const placeOf = new Map(sizes.map(({ size }, place) => [size, place]));
  const partsOf = ({ parts }: Kept): Part[] =>
    parts.flatMap(([size, quantity]) => {
      const place = placeOf.get(size);
      return place === undefined ? [] : [[place, quantity] as const];
    });
  return {
    plan: onBoards(plan, partsOf, sizes, kinds),
    columns: columns.flatMap((each) => {
      const kind = kinds.findIndex(({ room, cost }) => room === each.room && cost === each.cost);
      const parts = partsOf(each);
      return kind < 0 || parts.length === 0 ? [] : [{ kind, parts }];
    }),
    weights: Float64Array.from(sizes, ({ size }) => between(weights, size)),
  };
}

/** The fullest first, each on the cheapest kind that holds it and is still to be had. */
function onBoards(
  plan: readonly Kept[],
  partsOf: (kept: Kept) => Part[],
  sizes: Space['sizes'],
  kinds: Space['kinds'],
): Chosen[] {
  const left = kinds.map(({ count }) => count);
  const cheapest = [...kinds.keys()].sort(
    (a, b) => (kinds[a] as { cost: number }).cost - (kinds[b] as { cost: number }).cost,
  );
  const boards = plan.map((kept) => {
    const parts = partsOf(kept);
    const length = parts.reduce(
      (sum, [place, quantity]) => sum + (sizes[place] as { size: number }).size * quantity,
      0,
    );
    return { parts, times: kept.times, length };
  });
  const chosen: Chosen[] = [];
  for (const { parts, times, length } of boards.sort((a, b) => b.length - a.length)) {
    if (parts.length === 0) continue;
    let open = times;
    for (const kind of cheapest) {
      const take = (kinds[kind] as { room: number }).room >= length ? Math.min(open, left[kind] as number) : 0;
      if (take === 0) continue;
      left[kind] = (left[kind] as number) - take;
      open -= take;
      chosen.push({ kind, parts, times: take });
    }
  }
  return chosen;
}

/** The weight of a size, between those of its neighbours where it has none of its own. */
function between(weights: Memory['weights'], size: number): number {
  const at = weights.findIndex(([known]) => known <= size);
  const [low, below] = at < 0 ? [0, 0] : (weights[at] as readonly [number, number]);
  if (low === size) return below;
  const [high, above] = at < 0 ? (weights.at(-1) as readonly [number, number]) : (weights[at - 1] ?? [low, below]);
  return Math.floor(high === low ? (below * size) / low : below + ((above - below) * (size - low)) / (high - low));
}
