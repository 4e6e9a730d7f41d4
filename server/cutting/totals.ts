/** The figures of a plan, added up from its patterns. */
import { ticks } from '../model/ticks.ts';
import { compareStock, compareText, costOf, measureOf } from './board.ts';
import { lengthBound } from './bound.ts';
import type { MaterialTotals, Pattern, PlanBound, PlanRequest } from './types.ts';

/**
 * Totals for each material of which boards are taken, in the order of their names. Bounds, by material,
 * where better ones are known than those by length.
 */
export function totalsOf(
  request: PlanRequest,
  patterns: readonly Pattern[],
  bounds: ReadonlyMap<string, PlanBound> = new Map(),
): MaterialTotals[] {
  const byMaterial = Map.groupBy(patterns, (pattern) => pattern.material);
  return [...byMaterial]
    .sort(([a], [b]) => compareText(a, b))
    .map(([material, own]) => totalsOfMaterial(request, material, own, bounds.get(material)));
}

function totalsOfMaterial(
  request: PlanRequest,
  material: string,
  patterns: readonly Pattern[],
  bound: PlanBound | undefined,
): MaterialTotals {
  const { saw } = request;
  const stock = request.stock.filter((board) => board.material === material);
  const measure = measureOf(stock);
  const taken = new Map<string, number>();
  const cut = new Map<number, number>();
  for (const { stock: id, times, cuts } of patterns) {
    taken.set(id, (taken.get(id) ?? 0) + times);
    for (const { length, quantity } of cuts) cut.set(length, (cut.get(length) ?? 0) + times * quantity);
  }
  const boards = stock
    .filter((board) => taken.has(board.id))
    .sort(compareStock)
    .map((board) => ({ board, count: taken.get(board.id) as number }));
  const overPatterns = (figure: (pattern: Pattern) => number) =>
    sum(patterns, (pattern) => figure(pattern) * pattern.times);
  const boardCount = overPatterns(() => 1);

  return {
    material,
    boards: boards.map(({ board, count }) => ({ stock: board.id, length: board.length, count })),
    boardCount,
    pieceCount: sum(cut, ([, quantity]) => quantity),
    ...sawFigures(patterns),
    ...(measure === 'price' && { price: sum(boards, ({ board, count }) => costOf(board, measure) * count) }),
    boughtLength: ticks(sum(boards, ({ board, count }) => (board.offcut ? 0 : board.length * count))),
    stockLength: ticks(sum(boards, ({ board, count }) => board.length * count)),
    usedLength: ticks(overPatterns((pattern) => pattern.used)),
    trimLoss: ticks(2 * (saw.trim ?? 0) * boardCount),
    kerfLoss: ticks(overPatterns((pattern) => pattern.kerfLoss)),
    keptCount: overPatterns((pattern) => (pattern.keep ? 1 : 0)),
    keptLength: ticks(overPatterns((pattern) => (pattern.keep ? pattern.offcut : 0))),
    waste: ticks(overPatterns((pattern) => (pattern.keep ? 0 : pattern.offcut))),
    bound:
      bound ??
      lengthBound(
        [...cut].map(([length, quantity]) => ({ length, quantity })),
        stock,
        saw,
      ),
  };
}

function sum<T>(things: Iterable<T>, figure: (thing: T) => number): number {
  let total = 0;
  for (const thing of things) total += figure(thing);
  return total;
}

/** Ways to cut, and settings of the stop, as `MaterialTotals` has them. */
function sawFigures(patterns: readonly Pattern[]): Pick<MaterialTotals, 'patternCount' | 'stopSettings'> {
  const ways = new Set<string>();
  let stopSettings = 0;
  let before = '';
  let stop: number | undefined;
  for (const { stock, cuts } of patterns) {
    const lengths = new Map<number, number>();
    for (const { length, quantity } of cuts) lengths.set(length, (lengths.get(length) ?? 0) + quantity);
    const way = JSON.stringify([...lengths]);
    ways.add(`${way} of ${stock}`);
    if (way === before) continue;
    before = way;
    stopSettings += lengths.size - (cuts[0]?.length === stop ? 1 : 0);
    stop = cuts.at(-1)?.length;
  }
  return { patternCount: ways.size, stopSettings };
}
