/**
 * One material in small whole numbers. A length is taken with its kerf, and a board with one kerf more than
 * its usable length, so that contents add up like plain weights (see board.ts); then both are divided by
 * what divides them all. Where a board still comes to more units than a knapsack table can have cells, a
 * coarser grid is laid over it: sizes are rounded up for plans, so that every plan fits, and rounded down
 * for bounds, so that no plan is missed. Boards are rounded down for both: whole sizes need whole units.
 */
import { type Kind, netCost, type Size } from '../pack.ts';

/** Units of the longest board, at most. */
const FINEST = 20_000;
/** Cells of a knapsack table, at most: some 60 MB of counts. */
const CELLS = 24e6;

export interface Space {
  /** Exact, longest first. */
  readonly sizes: readonly Size[];
  /** Kinds of board that a cheapest plan may need; equal ones are one kind. Longest first. */
  readonly kinds: readonly Kind[];
  /** Sizes and boards on the grid: for plans. */
  readonly weights: Int32Array;
  readonly rooms: Int32Array;
  /** Sizes on the grid: for bounds. The same array where the grid is exact. */
  readonly lightest: Int32Array;
  /** Ticks to a unit. */
  readonly grid: number;
  /** The dearest kind's cost; 1 where nothing costs anything. */
  readonly dearest: number;
  /** What is worth something when so much room is left of a board; undefined: nothing ever is. */
  readonly worth: ((left: number) => number) | undefined;
}

/** Every size must fit one of the kinds. */
export function spaceOf(sizes: readonly Size[], all: readonly Kind[]): Space {
  const pieces = sizes.reduce((sum, size) => sum + size.quantity, 0);
  const kinds = neededKinds(all, pieces);
  const exact = [...sizes.map(({ size }) => size), ...kinds.map(({ room }) => room)].reduce(commonDivisor, 0);
  const longest = (kinds[0] as Kind).room;
  const finest = Math.max(1, Math.min(FINEST, Math.floor(CELLS / sizes.length)));
  const grid = longest / exact <= finest ? exact : Math.ceil(longest / finest);
  const rooms = Int32Array.from(kinds, ({ room }) => Math.floor(room / grid));
  const lightest = Int32Array.from(sizes, ({ size }) => Math.floor(size / grid));
  const weights = grid === exact ? lightest : Int32Array.from(sizes, ({ size }) => Math.ceil(size / grid));
  const dearest = kinds.reduce((most, { cost }) => Math.max(most, cost), 0) || 1;
  const worth = kinds.find((kind) => kind.worth)?.worth;
  return { sizes, kinds, weights, rooms, lightest, grid, dearest, worth };
}

/** What a board that is cut so costs, less what is left of it is worth, in dearest boards. */
export function costOfContent(
  { sizes, kinds, dearest }: Space,
  kind: number,
  parts: readonly (readonly [size: number, quantity: number])[],
): number {
  const board = kinds[kind] as Kind;
  if (!board.worth) return board.cost / dearest;
  const held = parts.reduce((sum, [size, quantity]) => sum + (sizes[size] as Size).size * quantity, 0);
  return netCost(board, board.room - held) / dearest;
}

/** For each number of units left of a board, what that is worth, in dearest boards; on a coarse grid, at the least. */
export function worthOfUnits({ worth, rooms, grid, dearest }: Space): Float64Array | undefined {
  return worth && Float64Array.from({ length: (rooms[0] as number) + 1 }, (_, left) => worth(left * grid) / dearest);
}

/**
 * Equal kinds together, without those that another kind, of which there is any number, beats or equals in
 * room and cost. More boards than pieces are never needed, so such a count is no limit.
 */
function neededKinds(all: readonly Kind[], pieces: number): Kind[] {
  const together = new Map<string, Kind>();
  for (const kind of all) {
    if (kind.count === 0) continue;
    const key = `${kind.room} ${kind.cost}`;
    const count = kind.count + (together.get(key)?.count ?? 0);
    together.set(key, { ...kind, onRack: false, count: count >= pieces ? Infinity : count });
  }
  const kinds = [...together.values()].sort((a, b) => b.room - a.room || a.cost - b.cost);
  return kinds.filter(
    (kind) => !kinds.some((o) => o !== kind && o.count === Infinity && o.room >= kind.room && o.cost <= kind.cost),
  );
}

export function commonDivisor(a: number, b: number): number {
  while (b > 0) [a, b] = [b, a % b];
  return a;
}
