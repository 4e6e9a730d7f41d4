/**
 * The contents that a cheaper plan could be made of: those whose reduced cost fits into the gap between the
 * programme and the plan. Where they are few, branch and bound over them (search.ts) ends the matter. Lengths are
 * exact here; a coarse grid, with sizes rounded down, only says early what cannot become worth enough.
 */
import type { Part } from './knapsack.ts';
import { type Content, type Master, SCALE } from './master.ts';
import { type Space, worthOfUnits } from './space.ts';

/** Contents that a search can go through, at most, and steps of listing them. */
const CONTENTS = 40_000;
/** Columns of a large programme are dearer: contents times sizes, at most; so many contents in any case. */
const ENTRIES = 2_500_000;
const SOME = 5_000;
const STEPS = 4_000_000;
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
  const values = sizes.map(({ size }, place) => (size <= free ? 0 : (weights[place] as number)));
  // On a coarse grid the programme's own knapsack misses contents; rounded down, sizes miss none.
  const table =
    space.weights === space.lightest
      ? knapsack.solve(values, demand)
      : mostWorth(space.lightest, values, demand, rooms);
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
  const { sizes, kinds, dearest } = space;
  const n = sizes.length;
  const longest = (kinds[0] as { room: number }).room;
  const lengths = sizes.map(({ size }) => size);
  const allowed = Math.max(SOME, Math.min(CONTENTS, Math.floor(ENTRIES / n)));
  const grid = Math.max(space.grid, Math.ceil(longest / Math.floor(CELLS / n)));
  // What is left is worth what it is on the grid of the space.
  if (space.worth && grid !== space.grid) return undefined;
  const width = Math.floor(longest / grid) + 1;
  const most = sizes.map(({ quantity, size }) => Math.min(quantity, Math.floor(longest / size)));
  scratch.tables ??= new Float64Array((n + 1) * width);
  const { tables } = scratch;
  const left = worthOfUnits(space);
  const lightest = Int32Array.from(lengths, (length) => Math.floor(length / grid));
  fillTables(lightest, width, duals, most, tables, left);
  // Most listings end with too many: until one does not, each content is numbers in a row, its kind and its parts.
  const found: number[] = [];
  let [count, steps] = [0, 0];
  for (let kind = 0; kind < kinds.length; kind++) {
    const { cost, room } = kinds[kind] as { cost: number; room: number };
    const least = cost / dearest + (worth[kind] as number) - gap - MARGIN;
    // Millions of steps are taken here: nothing is made in one but a content that counts.
    const held = new Int32Array(n);
    const isFull = (room: number): boolean => {
      for (let size = n - 1; size >= 0 && (lengths[size] as number) <= room; size--) {
        if ((held[size] as number) < (most[size] as number)) return false;
      }
      return true;
    };
    /** False when there are too many. */
    const list = (size: number, room: number, value: number): boolean => {
      if (++steps > STEPS) return false;
      if (size === n) {
        if (isFull(room) || (left?.[Math.floor(room / grid)] as number) > 0) {
          const start = found.push(kind, 0);
          for (let each = 0; each < n; each++) if (held[each] !== 0) found.push(each, held[each] as number);
          found[start - 1] = (found.length - start) / 2;
          if (found.length > start) count++;
          else found.length -= 2;
        }
        return count <= allowed;
      }
      const length = lengths[size] as number;
      for (let quantity = Math.min(most[size] as number, Math.floor(room / length)); quantity >= 0; quantity--) {
        const rest = room - quantity * length;
        const worth = value + quantity * (duals[size] as number);
        if (worth + (tables[(size + 1) * width + Math.floor(rest / grid)] as number) < least) continue;
        held[size] = quantity;
        if (!list(size + 1, rest, worth)) return false;
      }
      held[size] = 0;
      return true;
    };
    if (!list(0, room, 0)) return undefined;
  }
  return contentsOf(found);
}

function contentsOf(numbers: readonly number[]): Content[] {
  const contents: Content[] = [];
  for (let at = 0; at < numbers.length; ) {
    const [kind, many] = [numbers[at] as number, numbers[at + 1] as number];
    at += 2;
    const parts = Array.from(
      { length: many },
      (_, part): Part => [numbers[at + 2 * part] as number, numbers[at + 2 * part + 1] as number],
    );
    at += 2 * many;
    contents.push({ kind, parts });
  }
  return contents;
}

/** Room for tables that several listings use in turn. */
export interface Scratch {
  tables?: Float64Array;
}

/** For every size and room: the most that this size and those after it are worth together, with what is left. */
function fillTables(
  weights: Int32Array,
  width: number,
  values: ArrayLike<number>,
  most: readonly number[],
  tables: Float64Array,
  left: Float64Array | undefined,
): void {
  const n = weights.length;
  if (left) tables.set(left, n * width);
  else tables.fill(0, n * width);
  for (let size = n - 1; size >= 0; size--) {
    const table = tables.subarray(size * width, (size + 1) * width);
    table.set(tables.subarray((size + 1) * width, (size + 2) * width));
    addTo(table, weights[size] as number, values[size] as number, most[size] as number);
  }
}

/** The most that any content is worth, for every room. */
function mostWorth(
  weights: Int32Array,
  values: readonly number[],
  most: readonly number[],
  rooms: Int32Array,
): Float64Array {
  const table = new Float64Array((rooms[0] as number) + 1);
  weights.forEach((weight, size) => {
    const fits = weight === 0 ? Infinity : Math.floor((rooms[0] as number) / weight);
    addTo(table, weight, values[size] as number, Math.min(most[size] as number, fits));
  });
  return table;
}

/** Makes up to `most` of one size available to a table of what contents are worth. */
function addTo(table: Float64Array, weight: number, value: number, most: number): void {
  for (let bundle = 1, left = most; left > 0; bundle *= 2) {
    const take = Math.min(bundle, left);
    left -= take;
    for (let at = table.length - 1; at >= take * weight; at--) {
      table[at] = Math.max(table[at] as number, (table[at - take * weight] as number) + take * value);
    }
  }
}
