/**
 * The contents that a cheaper plan could be made of: those whose reduced cost fits into the gap between the
 * programme and the plan. Where they are few, branch and bound over them (search.ts) ends the matter.
 */
import type { Part } from './knapsack.ts';
import type { Content, Master } from './master.ts';
import type { Space } from './space.ts';

/** Contents that a search can go through, at most, and steps of listing them. */
const CONTENTS = 15_000;
const STEPS = 3_000_000;
/** Cells of the tables that listing takes. */
const CELLS = 6e6;
/** Costs are compared with this margin, in dearest boards. */
const MARGIN = 1e-6;

/**
 * All contents to which no further piece can be added and whose reduced cost, in dearest boards, is at most
 * `gap`; undefined when there are too many. The programme must be at its optimum for the whole demand.
 */
export function contentsWithin(master: Master, gap: number): Content[] | undefined {
  const { space, simplex } = master;
  const { sizes, kinds, weights, rooms, dearest } = space;
  const n = sizes.length;
  const width = (rooms[0] as number) + 1;
  if (n * width > CELLS) return undefined;
  const duals = simplex.duals().map((dual) => Math.max(dual, 0));
  const most = sizes.map(({ quantity }, size) =>
    Math.min(quantity, Math.floor((rooms[0] as number) / (weights[size] as number))),
  );
  const tables = bestOfRest(space, duals, most);
  const found: Content[] = [];
  let steps = 0;
  let limitedRow = n;
  for (let kind = 0; kind < kinds.length; kind++) {
    const { cost, count } = kinds[kind] as { cost: number; count: number };
    const stockDual = count === Infinity ? 0 : (simplex.duals()[limitedRow++] as number);
    const least = cost / dearest - stockDual - gap - MARGIN;
    const parts: Part[] = [];
    /** False when there are too many. */
    const list = (size: number, room: number, value: number): boolean => {
      if (++steps > STEPS) return false;
      if (size === n) {
        const held = new Map(parts);
        const full = weights.every((weight, each) => weight > room || (held.get(each) ?? 0) >= (most[each] as number));
        if (full && parts.length > 0) found.push({ kind, parts: [...parts] });
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

/** For every size and room: the most that this size and those after it are worth together. */
function bestOfRest({ weights, rooms }: Space, values: Float64Array, most: readonly number[]): Float64Array {
  const n = weights.length;
  const width = (rooms[0] as number) + 1;
  const tables = new Float64Array((n + 1) * width);
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
  return tables;
}
