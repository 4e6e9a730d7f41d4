/**
 * The exact end of the search. Every content whose reduced cost fits into the gap is listed; a cheaper plan
 * could only be made of those, and branch and bound over them finds it or rules it out. Decisions are taken
 * on floating-point values with a margin: what is proven here is labelled as proven by search.
 */
import type { Part } from './knapsack.ts';
import type { Content, Master } from './master.ts';
import { type Chosen, stillAsked } from './settle.ts';
import { createSimplex } from './simplex.ts';
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

interface Node {
  /** Copies of contents that are decided on. */
  readonly taken: ReadonlyMap<number, number>;
  /** Contents that are taken no more often. */
  readonly banned: ReadonlySet<number>;
}

/**
 * Searches for a plan that costs at most `target()`, which may fall on the way: it is asked again at each
 * node. Yields what may be one (undefined: nothing new); returns true when none is left, false when the
 * nodes ran out.
 */
export function* searchWithin(
  space: Space,
  contents: readonly Content[],
  target: () => number,
  nodes: number,
): Generator<Chosen[] | undefined, boolean> {
  const { sizes, kinds, dearest } = space;
  const n = sizes.length;
  const demand = sizes.map(({ quantity }) => quantity);
  const limited = kinds.flatMap((kind, place) => (kind.count === Infinity ? [] : [place]));
  const simplex = createSimplex(n + limited.length, [...sizes.map(() => 1000), ...limited.map(() => 0)]);
  for (let row = 0; row < n; row++) simplex.add(0, [row], [-1], -1);
  for (let row = 1; row < n; row++) simplex.add(0, [row - 1, row], [-1, 1], -1);
  const first = simplex.columns();
  const costs = contents.map(({ kind }) => (kinds[kind] as { cost: number }).cost / dearest);
  contents.forEach(({ kind, parts }, index) => {
    const row = limited.indexOf(kind);
    const rows = [...parts.map(([size]) => size), ...(row < 0 ? [] : [n + row])];
    const entries = [...parts.map(([, quantity]) => quantity), ...(row < 0 ? [] : [1])];
    simplex.add(costs[index] as number, rows, entries, index);
  });
  let banned: ReadonlySet<number> = new Set();

  const open: Node[] = [{ taken: new Map(), banned }];
  for (let node = open.pop(); node; node = open.pop()) {
    if (nodes-- <= 0) return false;
    // What is banned first, at the old side, where the basis is feasible; then the new side.
    for (const index of banned) if (!node.banned.has(index)) simplex.setCost(first + index, costs[index] as number);
    for (const index of node.banned) if (!banned.has(index)) simplex.setCost(first + index, 2000);
    banned = node.banned;
    simplex.primal(20_000);
    const supply = new Float64Array(n);
    const counts = kinds.map(({ count }) => count);
    let cost = 0;
    const chosen: Chosen[] = [];
    for (const [index, times] of node.taken) {
      const content = contents[index] as Content;
      for (const [size, quantity] of content.parts) supply[size] = (supply[size] as number) + quantity * times;
      counts[content.kind] = (counts[content.kind] as number) - times;
      cost += times * (costs[index] as number);
      if (times > 0) chosen.push({ ...content, times });
    }
    if (counts.some((count) => count < 0)) continue;
    simplex.setSide([...stillAsked(demand, supply), ...limited.map((kind) => counts[kind] as number)]);
    if (!simplex.dual(20_000) || !simplex.primal(20_000)) return false;

    let value = cost;
    let branch: { index: number; value: number } | undefined;
    let most = 0;
    for (const { column, value: times } of simplex.solution()) {
      value += simplex.cost(column) * times;
      const index = simplex.tag(column);
      if (index < 0 || times < 1e-6) continue;
      const whole = Math.floor(times + 1e-6);
      if (whole > 0) chosen.push({ ...(contents[index] as Content), times: whole });
      const fraction = times - whole;
      if (fraction > Math.max(most, 1e-6)) [branch, most] = [{ index, value: times }, fraction];
    }
    if (value > target() / dearest + MARGIN) continue;
    yield chosen;
    if (!branch || value > target() / dearest + MARGIN) continue;
    const before = node.taken.get(branch.index) ?? 0;
    const withCopies = (times: number) =>
      new Map([...node.taken, [(branch as { index: number }).index, before + times]]);
    for (let times = 0; times <= Math.floor(branch.value); times++) {
      open.push({ taken: withCopies(times), banned: new Set([...node.banned, branch.index]) });
    }
    open.push({ taken: withCopies(Math.ceil(branch.value)), banned: node.banned });
  }
  return true;
}
