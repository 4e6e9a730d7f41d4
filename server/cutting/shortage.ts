/**
 * When stock cannot hold the pieces, whatever the plan. A plan that does not fit proves nothing by
 * itself: another might. What is found here holds for every plan.
 */
import { capacity, compareText, usableLength } from './board.ts';
import { type Item, itemsOf } from './sets.ts';
import type { PlanRequest, Saw, StockLength } from './types.ts';

/**
 * The stock of a material cannot hold its pieces of length `from` and longer, proven by adding up:
 * - 'length': the pieces with a kerf each come to `need` ticks; all boards long enough for one of them,
 *   with one kerf more than their usable length each, come to `have`.
 * - 'count': there are `need` such pieces; boards hold `have` of them at most, each by its own length.
 */
export interface Shortage {
  readonly material: string;
  readonly kind: 'length' | 'count';
  readonly from: number;
  readonly need: number;
  readonly have: number;
  /** The ids of the pieces (of a matched set, as one) and of the boards that were added up. */
  readonly pieces: readonly string[];
  readonly stock: readonly string[];
}

/** The pieces and sets that fit no stock of their material, whatever its count; not those without any stock. */
export function longerThanAnyStock(request: PlanRequest): Item[] {
  const longest = longestByMaterial(request.stock, request.saw);
  return itemsOf(request).filter(
    ({ material, length, quantity }) => quantity > 0 && length > (longest.get(material) ?? Infinity),
  );
}

/**
 * At most one proof of shortage for each material, in the order of their names: the one that takes in
 * the most pieces. Pieces that are longer than any stock, or have none, are another matter and left
 * out. The request must be free of flaws (see request.ts).
 */
export function provenShort(request: PlanRequest): Shortage[] {
  const { stock, saw } = request;
  const longest = longestByMaterial(stock, saw);
  const fitting = itemsOf(request).filter(
    ({ material, length, quantity }) => quantity > 0 && length <= (longest.get(material) ?? 0),
  );
  return [...Map.groupBy(fitting, (piece) => piece.material)]
    .sort(([a], [b]) => compareText(a, b))
    .flatMap(([material, own]) => {
      const boards = stock.filter((board) => board.material === material);
      const shortage = shortageOf(material, own, boards, saw);
      return shortage ? [shortage] : [];
    });
}

function shortageOf(
  material: string,
  pieces: readonly Item[],
  stock: readonly StockLength[],
  saw: Saw,
): Shortage | undefined {
  const byLength = [...Map.groupBy(pieces, (piece) => piece.length)].sort(([a], [b]) => a - b);
  // What is needed of this length and all longer ones, the longest first.
  const needs: { from: number; count: number; length: number }[] = [];
  let count = 0;
  let length = 0;
  for (const [from, own] of byLength.toReversed()) {
    const quantity = own.reduce((sum, piece) => sum + piece.quantity, 0);
    count += quantity;
    length += quantity * (from + saw.kerf);
    needs.push({ from, count, length });
  }
  for (const { from, count, length } of needs.reverse()) {
    const boards = stock.filter((board) => usableLength(board, saw) >= from);
    const proof = (
      kind: Shortage['kind'],
      need: number,
      perBoard: (board: StockLength) => number,
    ): Shortage | undefined => {
      const have = boards.reduce((sum, board) => sum + (board.count ?? Infinity) * perBoard(board), 0);
      if (have >= need) return undefined;
      const counted = pieces.filter((piece) => piece.length >= from).map((piece) => piece.id);
      return { material, kind, from, need, have, pieces: counted, stock: boards.map((board) => board.id) };
    };
    const short =
      proof('length', length, (board) => capacity(board, saw)) ??
      proof('count', count, (board) => Math.floor(capacity(board, saw) / (from + saw.kerf)));
    if (short) return short;
  }
  return undefined;
}

function longestByMaterial(stock: readonly StockLength[], saw: Saw): Map<string, number> {
  const longest = new Map<string, number>();
  for (const board of stock) {
    longest.set(board.material, Math.max(longest.get(board.material) ?? 0, usableLength(board, saw)));
  }
  return longest;
}
