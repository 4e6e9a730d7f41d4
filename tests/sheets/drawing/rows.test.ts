/** Where the numbers of a row of dimensions stand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spread, standings } from '../../../server/sheets/drawing/rows.ts';

describe('numbers of a row', () => {
  it('stand in their parts where they have room', () => {
    expect(standings([{ from: 0, to: 30, width: 8 }])).toEqual([{ at: 15, isOut: false }]);
  });

  it('stand farther out, side by side, where they have none', () => {
    const places = standings([
      { from: 0, to: 2, width: 8 },
      { from: 2, to: 30, width: 8 },
      { from: 30, to: 32, width: 8 },
      { from: 32, to: 34, width: 8 },
    ]);
    expect(places.map(({ isOut }) => isOut)).toEqual([true, false, true, true]);
    expect(places.map(({ at }) => at)).toEqual([1, 16, 27.5, 36.5]);
  });
});

describe('things spread along an axis', () => {
  const wanted = fc
    .array(
      fc.record({
        at: fc.double({ min: 0, max: 100, noNaN: true }),
        size: fc.double({ min: 0.1, max: 20, noNaN: true }),
      }),
      {
        maxLength: 30,
      },
    )
    .map((list) => list.toSorted((a, b) => a.at - b.at));

  it('keep their order, touch at most, and stay where they are if they have room', () => {
    fc.assert(
      fc.property(wanted, (list) => {
        const places = spread(list);
        for (let i = 1; i < list.length; i++) {
          const apart = (places[i] as number) - (places[i - 1] as number);
          const needed = ((list[i - 1]?.size ?? 0) + (list[i]?.size ?? 0)) / 2;
          expect(apart).toBeGreaterThanOrEqual(needed - 1e-9);
        }
        const free = list.every(
          ({ at, size }, i) => i === 0 || at - (list[i - 1]?.at ?? 0) >= (size + (list[i - 1]?.size ?? 0)) / 2,
        );
        if (free) for (const [i, { at }] of list.entries()) expect(places[i]).toBeCloseTo(at, 6);
      }),
    );
  });

  it('are moved by as much to one side as to the other', () => {
    fc.assert(
      fc.property(wanted, (list) => {
        const places = spread(list);
        const moved = places.reduce((sum, place, i) => sum + place - (list[i]?.at ?? 0), 0);
        expect(moved).toBeCloseTo(0, 5);
      }),
    );
  });
});
