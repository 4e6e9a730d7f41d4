/** The planner against worked examples with a printed answer. */
import { expect, it } from 'vitest';
import { optimal } from '../../server/cutting/optimal.ts';
import type { Plan } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { type Instance, requestOf } from '../cutting/published.ts';

function planned(length: number, pieces: readonly (readonly [length: number, quantity: number])[]): Plan {
  return plannedFrom([{ length }], pieces);
}

function plannedFrom(stock: Instance['stock'], pieces: readonly (readonly [length: number, quantity: number])[]): Plan {
  const request = requestOf({
    name: 'example',
    stock,
    pieces: pieces.map(([size, quantity]) => ({ length: size, quantity })),
    kerf: 0,
  });
  const plan = [...optimal.plan(request)].at(-1) as Plan;
  expect(verify(request, plan)).toEqual([]);
  return plan;
}

// source, from memory: V. Chvatal, "Linear Programming", 1983, chapter 13: the optimum of the linear programme
// is 452.25 rolls of 100 in, so 453 are needed, and 453 are enough.
it('cuts the rolls of Chvatal in 453', () => {
  const plan = planned(100, [
    [45, 97],
    [36, 610],
    [31, 395],
    [14, 211],
  ]);
  expect(plan.totals[0]).toMatchObject({ boardCount: 453, bound: { boards: 453, cost: 45_300 } });
});

// source, from memory: the worked example of the article "Cutting stock problem" in Wikipedia: 13 widths from
// rolls of 5600 mm, 73 rolls, waste 0.401 %. It says too that no such plan has fewer than 10 patterns.
it('cuts the paper rolls of 5600 mm in 73, with 0.401 % waste and in 10 patterns', () => {
  const plan = planned(5600, [
    [1380, 22],
    [1520, 25],
    [1560, 12],
    [1710, 14],
    [1820, 18],
    [1880, 18],
    [1930, 20],
    [2000, 10],
    [2050, 12],
    [2100, 14],
    [2140, 16],
    [2150, 18],
    [2200, 20],
  ]);
  const [totals] = plan.totals;
  expect(totals).toMatchObject({ boardCount: 73, bound: { boards: 73 }, patternCount: 10 });
  const waste = (totals?.stockLength as number) - (totals?.usedLength as number);
  expect(((100 * waste) / (totals?.stockLength as number)).toFixed(3)).toBe('0.401');
});

// source: P. C. Gilmore and R. E. Gomory, "A linear programming approach to the cutting-stock problem", Operations
// Research 9, 1961: the worked example, from memory. Stock of 5, 6 and 9 for 6, 7 and 10; 20 of 2, 10 of 3 and 20 of
// 4 are ordered. The cheapest plan costs 170. By hand: 2 is worth 2, 3 worth 3 and 4 worth 5, for which no board
// holds more than it costs (9: 4 + 4 or 4 + 3 + 2 is 10; 6: 4 + 2 is 7; 5: 3 + 2 or 4 is 5), and the order is worth
// 40 + 30 + 100; ten of 9 cut into 4 + 3 + 2 and ten of 6 into 4 + 2 cost 100 + 70.
it('fills the order of Gilmore and Gomory for 170', () => {
  const stock = [
    { length: 5, price: 6 },
    { length: 6, price: 7 },
    { length: 9, price: 10 },
  ];
  const plan = plannedFrom(stock, [
    [2, 20],
    [3, 10],
    [4, 20],
  ]);
  expect(plan.totals[0]).toMatchObject({ price: 170, bound: { measure: 'price', cost: 170 } });
});

// source: R. Fourer, D. M. Gay and B. W. Kernighan, "AMPL", 2nd edition, 2003, section 15.4, cut.dat: rolls of 110.
// The optimum of the linear programme is 46.25; 47 rolls are enough (both from memory).
it('cuts the rolls of Fourer, Gay and Kernighan in 47', () => {
  const plan = planned(110, [
    [20, 48],
    [45, 35],
    [50, 24],
    [55, 10],
    [75, 8],
  ]);
  expect(plan.totals[0]).toMatchObject({ boardCount: 47, bound: { boards: 47, cost: 47 * 110 } });
});
