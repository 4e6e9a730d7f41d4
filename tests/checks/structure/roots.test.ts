import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rootsWithin } from '../../../server/checks/structure/roots.ts';

/** The coefficients, lowest first, of scale times the product of (x - root). */
function polynomial(scale: number, roots: readonly number[]): number[] {
  let coefficients = [scale];
  for (const root of roots) {
    const before = coefficients;
    coefficients = Array.from({ length: before.length + 1 }, (_, i) => (before[i - 1] ?? 0) - root * (before[i] ?? 0));
  }
  return coefficients;
}

describe('roots of a polynomial', () => {
  it.each([1, 2, 3, 4])('are those it was made of, of degree %i', (degree) => {
    const thousandths = fc.uniqueArray(fc.integer({ min: -950, max: 950 }), { minLength: degree, maxLength: degree });
    const scale = fc.double({ min: 0.5, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(thousandths, scale, (whole, by) => {
        const roots = whole.map((n) => n / 1000);
        const found = rootsWithin(polynomial(by, roots), -1, 1);
        const expected = roots.toSorted((a, b) => a - b);
        expect(found).toHaveLength(degree);
        for (const [i, x] of found.entries()) expect(x).toBeCloseTo(expected[i] as number, 6);
      }),
    );
  });

  it('leaves out what lies outside', () => {
    expect(rootsWithin(polynomial(1, [-2, 0.5, 3]), 0, 1)).toEqual([0.5]);
    expect(rootsWithin([4, 2], 0, 1)).toEqual([]);
  });

  it('finds one that only touches', () => {
    // (x - 1/2)^2, in closed form, and (x - 1/2)^2 (x - 4), by bracketing.
    expect(rootsWithin([0.25, -1, 1], 0, 1)).toEqual([0.5]);
    expect(rootsWithin(polynomial(1, [0.5, 0.5, 4]), 0, 1)).toEqual([0.5]);
  });

  it('takes a polynomial with leading noughts for what it is', () => {
    expect(rootsWithin([-1, 2, 0, 0], 0, 1)).toEqual([0.5]);
    expect(rootsWithin([3, 0, 0], 0, 1)).toEqual([]);
  });

  it('gives the ends of one that is nought throughout', () => {
    expect(rootsWithin([0, 0, 0, 0], 0, 2)).toEqual([0, 2]);
  });

  it('loses no digits where one root is far smaller than the other', () => {
    // x^2 - (1e8 + 1e-8) x + 1: 1e8 and 1e-8.
    expect(rootsWithin([1, -(1e8 + 1e-8), 1], 0, 1)[0]).toBeCloseTo(1e-8, 20);
  });
});
