/** Small instances drawn at random, and the least that they cost, found by trying everything. No code of the planner. */
import type { Instance } from '../cutting/published.ts';

/** Repeatable numbers in [0, limit): the multiplicative generator of Park and Miller (1988). */
export function numbers(start: number): (limit: number) => number {
  let state = start * 7919 + 1;
  const next = (limit: number) => {
    state = (state * 48271) % 2147483647;
    return state % limit;
  };
  for (let warm = 0; warm < 5; warm++) next(2);
  return next;
}

export interface Drawn extends Instance {
  readonly stock: readonly { readonly length: number; readonly price: number; readonly count?: number }[];
}

export function draw(start: number, sizes: number, each: number): Drawn {
  const next = numbers(start);
  const kinds = 1 + next(3);
  const stock = Array.from({ length: kinds }, () => {
    const length = 20 + next(60);
    const price = 5 * (1 + next(4)) + length * (1 + next(3));
    return next(3) === 0 ? { length, price, count: next(5) } : { length, price };
  });
  const longest = Math.max(...stock.map(({ length }) => length));
  const lengths = new Set(Array.from({ length: sizes }, () => 5 + next(longest - 5)));
  const pieces = [...lengths].map((length) => ({ length, quantity: 1 + next(each) }));
  return { name: `drawn ${start}`, stock, pieces, kerf: next(4) };
}

/**
 * The same with lengths that nothing divides, as where inches and millimetres mix, so that they are planned on a grid
 * coarser than they are; every other stock length is one that some pieces and their cuts fill to the last unit.
 */
export function finely(drawn: Drawn, start: number): Drawn {
  const next = numbers(start + 5000);
  const fine = (length: number) => length * 100_003 + next(9973);
  const kerf = drawn.kerf * 9_967;
  const pieces = drawn.pieces.map((piece) => ({ ...piece, length: fine(piece.length) }));
  const stock = drawn.stock.map((board) => {
    const length = fine(board.length);
    if (next(2) === 0) return { ...board, length };
    let end = 0;
    for (let tries = 0; tries < 8; tries++) {
      const piece = pieces[next(pieces.length)]?.length ?? 0;
      const after = end === 0 ? piece : end + kerf + piece;
      if (after <= length) end = after;
    }
    return { ...board, length: end || length };
  });
  return { ...drawn, pieces, stock, kerf };
}

type Counts = readonly number[];

/** Every way to fill a board, as counts of each length; n pieces need n - 1 cuts. */
export function fillings({ pieces, kerf }: Drawn, length: number): Counts[] {
  const found: Counts[] = [];
  const fill = (index: number, counts: number[], used: number) => {
    const piece = pieces[index];
    if (!piece) {
      if (counts.some((count) => count > 0)) found.push(counts);
      return;
    }
    for (let count = 0, end = used; count <= piece.quantity; count++) {
      if (count > 0) end += piece.length + (end === 0 ? 0 : kerf);
      if (end > length) break;
      fill(index + 1, [...counts, count], end);
    }
  };
  fill(0, [], 0);
  return found;
}

/** The least price of cutting everything, by trying every filling for what is open; Infinity: it cannot be cut. */
export function leastPrice(instance: Drawn): number {
  const { stock, pieces } = instance;
  const ways = stock.map(({ length }) => fillings(instance, length));
  const known = new Map<string, number>();
  const price = (open: Counts, left: Counts): number => {
    const first = open.findIndex((count) => count > 0);
    if (first < 0) return 0;
    const key = `${open} ${left}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    let best = Number.POSITIVE_INFINITY;
    stock.forEach((board, kind) => {
      if ((left[kind] as number) === 0) return;
      const fewer = left.with(kind, (left[kind] as number) - 1);
      for (const way of ways[kind] as Counts[]) {
        // Some board holds the first open piece: it may as well be this one.
        if (way[first] === 0 || way.some((count, index) => count > (open[index] as number))) continue;
        const rest = open.map((count, index) => count - (way[index] as number));
        best = Math.min(best, board.price + price(rest, fewer));
      }
    });
    known.set(key, best);
    return best;
  };
  return price(
    pieces.map(({ quantity }) => quantity),
    stock.map(({ count }) => count ?? Number.POSITIVE_INFINITY),
  );
}
