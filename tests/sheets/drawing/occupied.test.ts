import fc from 'fast-check';
import { expect, it } from 'vitest';
import { createOccupied } from '../../../server/sheets/drawing/occupied.ts';
import { overlap, type Rectangle } from '../../../server/sheets/drawing/paper.ts';

const box = fc
  .tuple(
    fc.double({ min: -400, max: 400, noNaN: true }),
    fc.double({ min: -400, max: 400, noNaN: true }),
    // Labels, lines, frames, and what is far larger than any sheet.
    fc.oneof(
      fc.constant(0),
      fc.double({ min: 0, max: 40, noNaN: true }),
      fc.double({ min: 0, max: 5000, noNaN: true }),
    ),
    fc.oneof(
      fc.constant(0),
      fc.double({ min: 0, max: 40, noNaN: true }),
      fc.double({ min: 0, max: 5000, noNaN: true }),
    ),
  )
  .map(([x, y, width, height]): Rectangle => [x, y, x + width, y + height]);

it('finds a place free where no rectangle that was taken overlaps it, as looking at each of them does', () => {
  fc.assert(
    fc.property(fc.array(box, { maxLength: 40 }), fc.array(box, { minLength: 1, maxLength: 10 }), (taken, asked) => {
      const occupied = createOccupied();
      for (const one of taken) occupied.take(one);
      for (const one of asked) expect(occupied.isFree(one)).toBe(!taken.some((other) => overlap(one, other)));
    }),
  );
});
