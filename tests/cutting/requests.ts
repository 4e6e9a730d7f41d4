/** Requests for the tests of this folder: short ways to write them, and ways to draw them at random. */
import fc from 'fast-check';
import type { MatchedSet, OffcutWorth, Piece, PlanRequest, Saw, StockLength } from '../../server/cutting/types.ts';
import { inches, type Ticks, ticks } from '../../server/model/ticks.ts';

export function piece(id: string, length: Ticks, quantity = 1, more: Partial<Piece> = {}): Piece {
  return { id, material: 'white', length, quantity, ...more };
}

export function board(id: string, length: Ticks, more: Partial<StockLength> = {}): StockLength {
  return { id, material: 'white', length, offcut: false, ...more };
}

export const saw: Saw = { kerf: inches(0.125), keepOffcutsFrom: inches(24) };

/** Small numbers, so that everything that can happen on a board happens often. */
export function requests(): fc.Arbitrary<PlanRequest> {
  const material = fc.constantFrom('oak', 'white');
  const length = (least: number, most: number) => fc.integer({ min: least, max: most }).map(ticks);
  const pieces = fc.array(
    fc.record({
      material,
      length: length(1, 24),
      quantity: fc.integer({ min: 0, max: 9 }),
      group: fc.constantFrom(undefined, 'a', 'b'),
    }),
    { maxLength: 8 },
  );
  const stock = fc.array(
    fc.record({
      material,
      length: length(1, 30),
      offcut: fc.boolean(),
      price: fc.option(fc.integer({ min: 0, max: 40 }), { nil: undefined, freq: 9 }),
      count: fc.option(fc.integer({ min: 0, max: 6 }), { nil: undefined }),
    }),
    { maxLength: 5 },
  );
  const drawnSaw = fc.record({
    kerf: length(0, 3),
    trim: fc.constantFrom(undefined, ticks(0), ticks(1)),
    keepOffcutsFrom: length(0, 10),
  });
  return fc.record({ pieces, stock, saw: drawnSaw }).map((drawn) => ({
    saw: drawn.saw,
    pieces: drawn.pieces.map((each, index) => ({ ...each, id: `p${index}` })),
    stock: drawn.stock.map((each, index) => ({ ...each, id: `s${index}` })),
  }));
}

/**
 * The same with matched sets, each of two or three runs, and with offcuts that are worth something where all that is
 * bought has a price: less than any board costs by its length.
 */
export function richRequests(): fc.Arbitrary<PlanRequest> {
  const set = fc.record({
    material: fc.constantFrom('oak', 'white'),
    lengths: fc.array(fc.integer({ min: 1, max: 12 }).map(ticks), { minLength: 1, maxLength: 3 }),
    each: fc.integer({ min: 1, max: 2 }),
    quantity: fc.integer({ min: 0, max: 4 }),
  });
  return fc
    .record({
      request: requests(),
      drawn: fc.array(set, { maxLength: 3 }),
      per: fc.integer({ min: 1, max: 9 }).map(ticks),
      share: fc.integer({ min: 0, max: 9 }),
    })
    .map(({ request, drawn, per, share }) => {
      const pieces: Piece[] = drawn.flatMap(({ material, lengths, each, quantity }, index) =>
        lengths.map((length, at) => ({ id: `m${index}.${at}`, material, length, quantity: each * quantity })),
      );
      const sets: MatchedSet[] = drawn.map(({ lengths, each, quantity }, index) => ({
        id: `set ${index}`,
        runs: lengths.map((_, at) => ({ piece: `m${index}.${at}`, quantity: each })),
        quantity,
      }));
      const worth = ['oak', 'white'].flatMap((material): OffcutWorth[] => {
        const own = request.stock.filter((board) => board.material === material && !board.offcut);
        if (own.length === 0 || own.some(({ price }) => !price)) return [];
        const least = Math.min(...own.map(({ price, length }) => (price as number) / length));
        return [{ material, price: Math.floor((least * per * share) / 10), per }];
      });
      return { ...request, pieces: [...request.pieces, ...pieces], sets, worth };
    });
}

/** The same request with its pieces and stock in an order that `next` decides. */
export function shuffledBy(request: PlanRequest, next: () => number): PlanRequest {
  const shuffle = <T>(things: readonly T[]): T[] =>
    things
      .map((thing) => ({ thing, key: next() }))
      .sort((a, b) => a.key - b.key)
      .map(({ thing }) => thing);
  return { ...request, pieces: shuffle(request.pieces), stock: shuffle(request.stock) };
}
