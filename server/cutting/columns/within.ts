/**
 * The contents that a cheaper plan could be made of: those whose reduced cost fits into the gap between the
 * programme and the plan. Where they are few, branch and bound over them (search.ts) ends the matter.
 */
import type { Part } from './knapsack.ts';
import { type Content, type Master, SCALE } from './master.ts';
import { type Space, worthOfUnits } from './space.ts';

/** Contents that a search can go through, at most, and steps of listing them. */
const CONTENTS = 10_000;
const STEPS = 3_000_000;
/** Cells of the tables that listing takes. */
const CELLS = 1.2e6;
/** Costs are compared with this margin, in dearest boards. */
const MARGIN = 1e-6;

/** Duals for which no content has a reduced cost below 0, in dearest boards, and the bound they prove. */
export interface Duals {
  readonly sizes: ArrayLike<number>;
  /** What a board of each kind is worth beside its cost; more than 0 for limited kinds only. */
  readonly kinds: readonly number[];
  readonly bound: number;
}

/**
 * Makes weights of any scale into duals. For limited kinds, what the best content is worth beyond the cost
 * of its board goes to the board; for the others all weights are brought down until there is nothing beyond.
 */
export function dualsOf({ space, knapsack }: Master, weights: ArrayLike<number>): Duals {
  const { sizes, kinds, rooms, dearest } = space;
  const demand = sizes.map(({ quantity }) => quantity);
  // What fits a board of which there is any number for nothing is worth nothing.
  const free = kinds.reduce(
    (most, { cost, count, room }) => (cost === 0 && count === Infinity ? Math.max(most, room) : most),
    0,
  );
  const table = knapsack.solve(
    sizes.map(({ size }, place) => (size <= free ? 0 : (weights[place] as number))),
    demand,
  );
  const left = worthOfUnits(space);
  // What the best content is worth at a scale, less what its board costs: with what is left of it.
  const beyond = (kind: number, scale: number): number => {
    const room = rooms[kind] as number;
    let most = (table[room] as number) / scale;
    if (left)
      for (let used = 0; used < room; used++)
        most = Math.max(most, (table[used] as number) / scale + (left[room - used] as number));
    return most - (kinds[kind] as { cost: number }).cost / dearest;
  };
  /** The least scale at which no content is worth more than its board. */
  const scaleOf = (kind: number): number => {
    const room = rooms[kind] as number;
    const cost = (kinds[kind] as { cost: number }).cost / dearest;
    let least = (table[room] as number) / cost;
    if (left) {
      for (let used = 0; used < room; used++) {
        const net = cost - (left[room - used] as number);
        if (net > 0) least = Math.max(least, (table[used] as number) / net);
      }
    }
    return least;
  };
  let scale = 0;
  kinds.forEach(({ cost, count }, kind) => {
    if (count === Infinity && cost > 0) scale = Math.max(scale, scaleOf(kind));
  });
  if (scale === 0) scale = SCALE;
  const scaled = sizes.map(({ size }, place) => (size <= free ? 0 : (weights[place] as number) / scale));
  const worth = kinds.map(({ count }, kind) => (count === Infinity ? 0 : Math.max(0, beyond(kind, scale))));
  let bound = 0;
  demand.forEach((quantity, size) => {
    bound += quantity * (scaled[size] as number);
  });
  kinds.forEach(({ count }, kind) => {
    if (count !== Infinity) bound -= count * (worth[kind] as number);
  });
  return { sizes: scaled, kinds: worth, bound };
}

/**
 * All contents to which no further piece can be added, or of which something is left that is worth something (one
 * more piece would cost that), and whose reduced cost, in dearest boards, is at most
 * `gap`; undefined when there are too many.
 */
export function contentsWithin(
  space: Space,
  { sizes: duals, kinds: worth }: Duals,
  gap: number,
  scratch: Scratch,
): Content[] | undefined {
  const { sizes, kinds, weights, rooms, dearest } = space;
  const n = sizes.length;
  const width = (rooms[0] as number) + 1;
  if (n * width > CELLS) return undefined;
  const most = sizes.map(({ quantity }, size) =>
    Math.min(quantity, Math.floor((rooms[0] as number) / (weights[size] as number))),
  );
  scratch.tables ??= new Float64Array((n + 1) * width);
  const { tables } = scratch;
  const left = worthOfUnits(space);
  fillTables(space, duals, most, tables, left);
  const found: Content[] = [];
  let steps = 0;
  for (let kind = 0; kind < kinds.length; kind++) {
    const { cost } = kinds[kind] as { cost: number };
    const least = cost / dearest + (worth[kind] as number) - gap - MARGIN;
    const parts: Part[] = [];
    /** False when there are too many. */
    const list = (size: number, room: number, value: number): boolean => {
      if (++steps > STEPS) return false;
      if (size === n) {
        const held = new Map(parts);
        const full = weights.every((weight, each) => weight > room || (held.get(each) ?? 0) >= (most[each] as number));
        if ((full || (left?.[room] as number) > 0) && parts.length > 0) found.push({ kind, parts: [...parts] });
        return found.length <= CONTENTS;
      }
      const weight = weights[size] as number;
      for (let quantity = Math.min(most[size] as number, Math.floor(room / weight)); quantity >= 0; quantity--) {
        const rest = room - quantity * weight;
        const worth = value + quantity * (duals[size] as number);
        if (worth + (tables[(size + 1) * width + rest] as number) < least) continue;
        if (quantity > 0) parts.push([size, quantity]);
        const going = list(size + 1, rest, worth);
        if (quantity > 0) parts.pop();
        if (!going) return false;
      }
      return true;
    };
    if (!list(0, rooms[kind] as number, 0)) return undefined;
  }
  return found;
}

/** Room for tables that several listings use in turn. */
export interface Scratch {
  tables?: Float64Array;
}

/** For every size and room: the most that this size and those after it are worth together, with what is left. */
function fillTables(
  { weights, rooms }: Space,
  values: ArrayLike<number>,
  most: readonly number[],
  tables: Float64Array,
  left: Float64Array | undefined,
): void {
  const n = weights.length;
  const width = (rooms[0] as number) + 1;
  if (left) tables.set(left, n * width);
  else tables.fill(0, n * width);
  for (let size = n - 1; size >= 0; size--) {
    const table = tables.subarray(size * width, (size + 1) * width);
    table.set(tables.subarray((size + 1) * width, (size + 2) * width));
    const weight = weights[size] as number;
    for (let bundle = 1, left = most[size] as number; left > 0; bundle *= 2) {
      const take = Math.min(bundle, left);
      left -= take;
      for (let at = width - 1; at >= take * weight; at--) {
        table[at] = Math.max(
          table[at] as number,
          (table[at - take * weight] as number) + take * (values[size] as number),
        );
      }
    }
  }
}
