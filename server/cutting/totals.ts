/** The figures of a plan, added up from its patterns. */
import { ticks } from '../model/ticks.ts';
import { compareStock, compareText, costOf, measureOf } from './board.ts';
import { lengthBound } from './bound.ts';
import { sawFigures } from './patterns/figures.ts';
import { lengthsCut } from './sets.ts';
import type { MaterialTotals, Pattern, PlanBound, PlanRequest, SawFigures } from './types.ts';
import { takenValue, worthOf } from './worth.ts';

interface Known {
  readonly bound?: PlanBound | undefined;
  readonly before?: SawFigures | undefined;
}

/**
 * Totals for each material of which boards are taken, in the order of their names. By material, what is known
 * beside the patterns: a bound that is better than the one by length, and what the saw had to do before.
 */
export function totalsOf(
  request: PlanRequest,
  patterns: readonly Pattern[],
  known: ReadonlyMap<string, Known> = new Map(),
): MaterialTotals[] {
  const byMaterial = Map.groupBy(patterns, (pattern) => pattern.material);
  return [...byMaterial]
    .sort(([a], [b]) => compareText(a, b))
    .map(([material, own]) => totalsOfMaterial(request, material, own, known.get(material)));
}

/** What a plan of one material is judged by, in the measure of its bound. */
export function judgedBy({
  bound,
  price = 0,
  takenValue: taken = 0,
  keptValue = 0,
  boughtLength,
}: MaterialTotals): number {
  return bound.measure === 'price' ? price + taken - keptValue : boughtLength;
}

function totalsOfMaterial(
  request: PlanRequest,
  material: string,
  patterns: readonly Pattern[],
  { bound, before }: Known = {},
): MaterialTotals {
  const { saw } = request;
  const stock = request.stock.filter((board) => board.material === material);
  const measure = measureOf(stock);
  const worth = worthOf(request, material);
  const taken = new Map<string, number>();
  for (const { stock: id, times } of patterns) taken.set(id, (taken.get(id) ?? 0) + times);
  const boards = stock
    .filter((board) => taken.has(board.id))
    .sort(compareStock)
    .map((board) => ({ board, count: taken.get(board.id) as number }));
  const overPatterns = (figure: (pattern: Pattern) => number) =>
    sum(patterns, (pattern) => figure(pattern) * pattern.times);
  const boardCount = overPatterns(() => 1);
  const spareCount = overPatterns(({ spares = [] }) => sum(spares, ({ quantity }) => quantity));

  return {
    material,
    boards: boards.map(({ board, count }) => ({ stock: board.id, length: board.length, count })),
    boardCount,
    pieceCount: overPatterns(({ cuts }) => sum(cuts, ({ quantity }) => quantity)),
    ...(spareCount > 0 && { spareCount }),
    ...sawFigures(patterns),
    ...(before && { before }),
    ...(measure === 'price' && { price: sum(boards, ({ board, count }) => costOf(board, measure) * count) }),
    ...(worth && {
      keptValue: overPatterns(({ offcut }) => worth.offcut(offcut)),
      takenValue: sum(boards, ({ board, count }) => takenValue(board, worth) * count),
    }),
    boughtLength: ticks(sum(boards, ({ board, count }) => (board.offcut ? 0 : board.length * count))),
    stockLength: ticks(sum(boards, ({ board, count }) => board.length * count)),
    usedLength: ticks(overPatterns((pattern) => pattern.used)),
    trimLoss: ticks(2 * (saw.trim ?? 0) * boardCount),
    kerfLoss: ticks(overPatterns((pattern) => pattern.kerfLoss)),
    keptCount: overPatterns((pattern) => (pattern.keep ? 1 : 0)),
    keptLength: ticks(overPatterns((pattern) => (pattern.keep ? pattern.offcut : 0))),
    waste: ticks(overPatterns((pattern) => (pattern.keep ? 0 : pattern.offcut))),
    bound: bound ?? lengthBound(request, material, lengthsCut(request, patterns)),
  };
}

function sum<T>(things: Iterable<T>, figure: (thing: T) => number): number {
  let total = 0;
  for (const thing of things) total += figure(thing);
  return total;
}
