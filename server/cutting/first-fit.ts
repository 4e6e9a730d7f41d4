/**
 * The first planner: first-fit decreasing. Longest pieces first, each to the first board with room for
 * it. At once, and good enough to look at while a better plan is sought.
 *
 * Source of the method: D. S. Johnson, "Near-optimal bin packing algorithms", 1973 (from memory). With
 * one stock length it takes at most 11/9 of the fewest boards + 6/9 (G. Dosa, 2007).
 */
import type { Ticks } from '../model/ticks.ts';
import { capacity, compareStock, compareText, costOf, measureOf, usableLength } from './board.ts';
import { handOut } from './hand-out.ts';
import { bestPacking } from './pack.ts';
import { flawsOf } from './request.ts';
import { totalsOf } from './totals.ts';
import type { Pattern, Piece, Plan, Planner, PlanRequest, Saw, StockLength, Uncut, UncutReason } from './types.ts';

export const firstFit: Planner = {
  name: 'first-fit decreasing',
  *plan(request) {
    yield firstPlan(request);
  },
};

/**
 * A plan that does not depend on the order in which pieces and stock are given. Equal lengths are handled
 * together, so that ten million pieces take no longer than ten. Throws RangeError when the request has flaws.
 */
export function firstPlan(request: PlanRequest): Plan {
  const flaws = flawsOf(request);
  if (flaws.length > 0) throw new RangeError(flaws.join('; '));
  let patterns: Pattern[] = [];
  let uncut: Uncut[] = [];
  const byMaterial = Map.groupBy(request.pieces, (piece) => piece.material);
  for (const [material, pieces] of [...byMaterial].sort(([a], [b]) => compareText(a, b))) {
    const stock = request.stock.filter((board) => board.material === material).sort(compareStock);
    const planned = planMaterial(pieces, stock, request.saw);
    patterns = patterns.concat(planned.patterns);
    uncut = uncut.concat(planned.uncut);
  }
  return { version: 1, patterns, uncut, totals: totalsOf(request, patterns) };
}

/** The stock is all of the pieces' material. */
function planMaterial(
  pieces: readonly Piece[],
  stock: readonly StockLength[],
  saw: Saw,
): { patterns: Pattern[]; uncut: Uncut[] } {
  const uncut: Uncut[] = [];
  const fitting: Piece[] = [];
  const longest = stock.reduce((most, board) => Math.max(most, usableLength(board, saw)), 0);
  const unfit: UncutReason = stock.length === 0 ? 'no stock of this material' : 'longer than any stock';
  for (const piece of [...pieces].sort(compareGroups)) {
    if (piece.quantity === 0) continue;
    if (piece.length <= longest) fitting.push(piece);
    else uncut.push(uncutOf(piece, piece.quantity, unfit));
  }
  if (fitting.length === 0) return { patterns: [], uncut };

  const byLength = [...Map.groupBy(fitting, (piece) => piece.length)].sort(([a], [b]) => b - a);
  const [shortest] = byLength.at(-1) as [Ticks, Piece[]];
  const sizes = byLength.map(([length, own]) => ({
    size: length + saw.kerf,
    quantity: own.reduce((sum, piece) => sum + piece.quantity, 0),
  }));
  const measure = measureOf(stock);
  const usable = stock.filter((board) => usableLength(board, saw) >= shortest);
  const kinds = usable.map((board) => ({
    room: capacity(board, saw),
    length: board.length,
    cost: costOf(board, measure),
    // Only what is counted can lie on the rack.
    onRack: board.offcut && board.count !== undefined,
    count: board.count ?? Infinity,
  }));
  const queues = byLength.map(([, own]) => own.map((piece) => ({ piece, left: piece.quantity })));
  const patterns = handOut(bestPacking(sizes, kinds), queues, usable, saw);
  for (const { piece, left } of queues.flat()) if (left > 0) uncut.push(uncutOf(piece, left, 'stock used up'));
  return { patterns, uncut };
}

/** Groups stay together, so that the pieces of one come from neighbouring boards. */
function compareGroups(a: Piece, b: Piece): number {
  return compareText(a.group ?? '', b.group ?? '') || compareText(a.id, b.id);
}

function uncutOf({ id, material, length }: Piece, quantity: number, reason: UncutReason): Uncut {
  return { piece: id, material, length, quantity, reason };
}
