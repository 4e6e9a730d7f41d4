/** The planner against worked examples with a printed answer. */
import { expect, it } from 'vitest';
import { optimal } from '../../server/cutting/optimal.ts';
import type { Plan } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { requestOf } from '../cutting/published.ts';

function planned(length: number, pieces: readonly (readonly [length: number, quantity: number])[]): Plan {
  const request = requestOf({
    name: 'example',
    stock: [{ length }],
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
