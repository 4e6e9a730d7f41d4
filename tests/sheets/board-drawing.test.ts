import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardDrawing } from '../../server/sheets/board-drawing.ts';

const waste = (length: number) => ({ length, label: `${length}in`, keep: false });
const kept = (length: number) => ({ length, label: `${length}in`, keep: true });
const piece = (length: number) => ({ length, label: `${length}in` });

describe('a board drawn in a line', () => {
  it('has its pieces to scale, and dots for waste', () => {
    // 96 in over 48 characters: two inches each. 24 in are 12 characters with their bar.
    expect(boardDrawing([piece(24), piece(24), piece(40)], waste(8), 48)).toBe(
      '|24in       |24in       |40in               |....|',
    );
  });

  it('names what goes back to the rack', () => {
    expect(boardDrawing([piece(48)], kept(48), 24)).toBe('|48in       |48in        |');
  });

  it('leaves out a length that has no room', () => {
    expect(boardDrawing([piece(12), piece(12), piece(72)], waste(0), 24)).toBe('|  |  |72in              |');
  });

  it('is never without a piece, and as wide as asked for where pieces are not too many', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 12 }),
        fc.nat(500),
        fc.integer({ min: 40, max: 100 }),
        (lengths, left, width) => {
          const line = boardDrawing(lengths.map(piece), waste(left), width);
          expect(line.split('|').length).toBe(lengths.length + (left > 0 ? 1 : 0) + 2);
          expect(line.length).toBeGreaterThanOrEqual(width + 2);
          expect(line.length).toBeLessThanOrEqual(width + 2 + lengths.length);
        },
      ),
    );
  });
});
