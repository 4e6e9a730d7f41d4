/**
 * Branch and bound over a list of contents. A cheaper plan is looked for, or ruled out: first it is decided
 * how many boards there are of each kind, for that decides the cost, or most of it; then how often contents are cut.
 * Decisions are taken on floating-point values with a margin.
 */
import type { Content } from './master.ts';
import { type Chosen, stillAsked } from './settle.ts';
import { createSimplex } from './simplex.ts';
import { costOfContent, type Space } from './space.ts';

/** Costs are compared with this margin, in dearest boards. */
const MARGIN = 1e-6;
const WHOLE = 1e-6;
/** Contents of which a search can say that they are cut so many times at most. */
const LIMITED = 1200;
const FORBIDDEN = 2000;
const PIVOTS = 20_000;

interface Node {
  /** Boards of each kind, at least and at most. */
  readonly least: readonly number[];
  readonly most: readonly number[];
  /** Copies of contents that are decided on. */
  readonly taken: Decision | undefined;
  /** Copies of contents, at most; only those of which it has been decided. */
  readonly limits: Decision | undefined;
}

/** The last decision on a content counts. Nodes share what they have in common, for there may be many. */
interface Decision {
  readonly content: number;
  readonly times: number;
  readonly before: Decision | undefined;
}

function decided(last: Decision | undefined): Map<number, number> {
  const found = new Map<number, number>();
  for (let each = last; each; each = each.before) if (!found.has(each.content)) found.set(each.content, each.times);
  return found;
}

/**
 * Searches for a plan that costs at most `target()`, which may fall on the way: it is asked again at each
 * node. Yields what may be one; returns true when none is left, false when the effort is used up: numbers that
 * may be visited.
 */
export function* searchWithin(
  space: Space,
  contents: readonly Content[],
  target: () => number,
  effort: number,
): Generator<Chosen[], boolean> {
  const { sizes, kinds, dearest } = space;
  const n = sizes.length;
  const demand = sizes.map(({ quantity }) => quantity);
  const limited = Math.min(contents.length, LIMITED);
  const many = demand.reduce((sum, quantity) => sum + quantity, 0);
  const atMost = kinds.map(({ count }) => Math.min(count, many));
  // Rows: pieces; boards of each kind at most, then at least; then limits of single contents, as they come.
  const mostRow = n;
  const leastRow = n + kinds.length;
  const limitRow = leastRow + kinds.length;
  const simplex = createSimplex(limitRow + limited, [
    ...sizes.map(() => FORBIDDEN),
    ...Array.from({ length: 2 * kinds.length + limited }, () => 0),
  ]);
  for (let row = 0; row < n; row++) simplex.add(0, [row], [-1], -1);
  for (let row = 1; row < n; row++) simplex.add(0, [row - 1, row], [-1, 1], -1);
  const costs = contents.map(({ kind, parts }) => costOfContent(space, kind, parts));
  const rowsOf = ({ kind, parts }: Content) => [...parts.map(([size]) => size), mostRow + kind, leastRow + kind];
  const entriesOf = ({ parts }: Content) => [...parts.map(([, quantity]) => quantity), 1, -1];
  const columns = contents.map((content, index) =>
    simplex.add(costs[index] as number, rowsOf(content), entriesOf(content), index),
  );
  const limitRows = new Map<number, number>();
  /** Gives a content a row of its own: the column is replaced by one that has an entry there. */
  const limitable = (index: number): boolean => {
    if (limitRows.has(index)) return true;
    if (limitRows.size === limited) return false;
    const row = limitRow + limitRows.size;
    limitRows.set(index, row);
    const content = contents[index] as Content;
    simplex.setCost(columns[index] as number, FORBIDDEN);
    columns[index] = simplex.add(costs[index] as number, [...rowsOf(content), row], [...entriesOf(content), 1], index);
    return simplex.primal(PIVOTS);
  };

  const open: Node[] = [{ least: kinds.map(() => 0), most: atMost, taken: undefined, limits: undefined }];
  for (let node = open.pop(); node; node = open.pop()) {
    if (simplex.work() > effort) return false;
    const { least, most } = node;
    const taken = decided(node.taken);
    const limits = decided(node.limits);
    const supply = new Float64Array(n);
    const boards = kinds.map(() => 0);
    const chosen: Chosen[] = [];
    let cost = 0;
    for (const [index, times] of taken) {
      const content = contents[index] as Content;
      for (const [size, quantity] of content.parts) supply[size] = (supply[size] as number) + quantity * times;
      boards[content.kind] = (boards[content.kind] as number) + times;
      cost += times * (costs[index] as number);
      if (times > 0) chosen.push({ ...content, times });
    }
    if (boards.some((count, kind) => count > (most[kind] as number))) continue;
    const sides = new Float64Array(limitRow + limited).fill(many);
    sides.set(stillAsked(demand, supply));
    for (let kind = 0; kind < kinds.length; kind++) {
      sides[mostRow + kind] = (most[kind] as number) - (boards[kind] as number);
      sides[leastRow + kind] = Math.min(0, (boards[kind] as number) - (least[kind] as number));
    }
    for (const [index, limit] of limits) {
      sides[limitRows.get(index) as number] = Math.max(0, limit - (taken.get(index) ?? 0));
    }
    simplex.setSide(sides);
    const feasible = simplex.dual(PIVOTS);
    if (feasible === 'nothing feasible') continue;
    if (feasible === 'lost' || !simplex.primal(PIVOTS)) return false;

    let value = cost;
    const whole: number[] = [...boards];
    const fractions: { index: number; times: number; fraction: number }[] = [];
    for (const { column, value: times } of simplex.solution()) {
      value += simplex.cost(column) * times;
      const index = simplex.tag(column);
      if (index < 0 || times < WHOLE) continue;
      const { kind } = contents[index] as Content;
      whole[kind] = (whole[kind] as number) + times;
      const rounded = Math.floor(times + WHOLE);
      if (rounded > 0) chosen.push({ ...(contents[index] as Content), times: rounded });
      if (times - rounded > WHOLE) fractions.push({ index, times, fraction: times - rounded });
    }
    if (value > target() / dearest + MARGIN) continue;
    yield chosen;
    if (fractions.length === 0 || value > target() / dearest + MARGIN) continue;

    const split = whole.findIndex((count) => Math.abs(count - Math.round(count)) > WHOLE);
    if (split >= 0) {
      const down = Math.floor(whole[split] as number);
      const lower = { ...node, most: most.with(split, down) };
      const upper = { ...node, least: least.with(split, down + 1) };
      open.push(...((whole[split] as number) - down > 0.5 ? [lower, upper] : [upper, lower]));
      continue;
    }
    fractions.sort((a, b) => b.fraction - a.fraction || a.index - b.index);
    const { index, times } = fractions[0] as (typeof fractions)[number];
    if (!limitable(index)) return false;
    const before = taken.get(index) ?? 0;
    open.push({ ...node, limits: { content: index, times: before + Math.floor(times), before: node.limits } });
    open.push({ ...node, taken: { content: index, times: before + Math.ceil(times), before: node.taken } });
  }
  return true;
}
