/** Requests for the tests of this folder: short ways to write them, and ways to draw them at random. */
import fc from 'fast-check';
import type { Piece, PlanRequest, Saw, StockLength } from '../../server/cutting/types.ts';
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
