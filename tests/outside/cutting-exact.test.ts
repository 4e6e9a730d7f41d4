/**
 * The planner against two other ways to the optimum, on small instances drawn at random with several lengths
 * of stock, prices, limited counts and kerf: a search through all ways to cut, written here, and an integer
 * programme over all patterns, solved by HiGHS. Neither shares code with the planner.
 *
 * source: HiGHS (Q. Huangfu and J. A. J. Hall, Mathematical Programming Computation 10, 2018;
 * https://highs.dev), as the package `highs`.
 */
import type { LegacyHighs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { optimal } from '../../server/cutting/optimal.ts';
import type { Plan } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { requestOf } from '../cutting/published.ts';
import { type Drawn, draw, fillings, finely, leastPrice } from './exhaustive.ts';
import { leastByProgramme, loadHighs } from './programme.ts';

let highs: LegacyHighs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** The same by an integer programme over all fillings; Infinity when it has no solution. */
function leastPriceByHighs(instance: Drawn): number {
  const { stock, pieces } = instance;
  const columns = stock.flatMap(({ length, price }, kind) =>
    fillings(instance, length).map((counts) => ({ kind, counts, cost: price })),
  );
  return leastByProgramme(highs, columns, pieces, stock);
}

/** Plans it, holds every plan on the way to the optimum, and returns whether everything is cut. */
function compare(instance: Drawn, optimum: number): boolean {
  const request = requestOf(instance);
  let last: Plan | undefined;
  for (const plan of optimal.plan(request)) {
    if (plan === last) continue;
    expect(verify(request, plan)).toEqual([]);
    if (plan.uncut.length === 0) expect(plan.totals[0]?.bound.cost).toBeLessThanOrEqual(optimum);
    last = plan;
  }
  if (optimum === Number.POSITIVE_INFINITY) {
    expect(last?.uncut).not.toEqual([]);
    return false;
  }
  expect(last?.uncut).toEqual([]);
  expect(last?.totals[0]?.price).toBe(optimum);
  // Proven as well.
  expect(last?.totals[0]?.bound.cost).toBe(optimum);
  return true;
}

describe('a plan costs what the cheapest of all costs, and is proven', () => {
  it('on 300 instances searched through', { timeout: 60_000 }, () => {
    let cut = 0;
    for (let start = 0; start < 300; start++) {
      const instance = draw(start, 1 + (start % 5), 3);
      if (compare(instance, leastPrice(instance))) cut++;
    }
    expect(cut).toBeGreaterThan(200);
    expect(cut).toBeLessThan(300);
  });

  it('on 150 larger ones solved by HiGHS', { timeout: 60_000 }, () => {
    let cut = 0;
    for (let start = 1000; start < 1150; start++) {
      const instance = draw(start, 3 + (start % 5), 8);
      if (compare(instance, leastPriceByHighs(instance))) cut++;
    }
    expect(cut).toBeGreaterThan(80);
  });

  it('on 200 instances whose lengths have no common unit, some of which fill boards exactly', {
    timeout: 60_000,
  }, () => {
    let cut = 0;
    for (let start = 2000; start < 2200; start++) {
      const instance = finely(draw(start, 2 + (start % 5), 4), start);
      if (compare(instance, leastPriceByHighs(instance))) cut++;
    }
    expect(cut).toBeGreaterThan(100);
  });
});

it('both ways agree with each other', () => {
  for (let start = 0; start < 60; start++) {
    const instance = draw(start, 1 + (start % 4), 3);
    expect(leastPriceByHighs(instance)).toBe(leastPrice(instance));
  }
});
