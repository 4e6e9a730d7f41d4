/**
 * The planner against two other ways to the optimum, on small instances drawn at random with several lengths
 * of stock, prices, limited counts and kerf: a search through all ways to cut, written here, and an integer
 * programme over all patterns, solved by HiGHS. Neither shares code with the planner.
 *
 * source: HiGHS (Q. Huangfu and J. A. J. Hall, Mathematical Programming Computation 10, 2018;
 * https://highs.dev), as the package `highs`.
 */
import highsModule, { type LegacyHighs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { optimal } from '../../server/cutting/optimal.ts';
import type { Plan } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { requestOf } from '../cutting/published.ts';
import { type Drawn, draw, fillings, finely, leastPrice } from './exhaustive.ts';

// The package's types describe its CommonJS form; imported, the default is the loader itself.
const loadHighs = highsModule as unknown as typeof highsModule.default;

let highs: LegacyHighs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** The same by an integer programme over all fillings; Infinity when it has no solution. */
function leastPriceByHighs(instance: Drawn): number {
  const { stock, pieces } = instance;
  const columns = stock.flatMap(({ length }, kind) => fillings(instance, length).map((counts) => ({ kind, counts })));
  if (columns.length === 0) return Number.POSITIVE_INFINITY;
  const sum = (terms: [number, number][]) => terms.map(([factor, index]) => `+ ${factor} x${index}`).join('\n ');
  const demands = pieces.map(({ quantity }, size) => {
    const terms = columns.flatMap(({ counts }, index): [number, number][] =>
      counts[size] ? [[counts[size] as number, index]] : [],
    );
    return terms.length === 0 ? undefined : ` d${size}: ${sum(terms)} = ${quantity}`;
  });
  if (demands.includes(undefined)) return Number.POSITIVE_INFINITY;
  const limits = stock.flatMap(({ count }, kind) => {
    const terms = columns.flatMap((column, index): [number, number][] => (column.kind === kind ? [[1, index]] : []));
    return count === undefined || terms.length === 0 ? [] : [` s${kind}: ${sum(terms)} <= ${count}`];
  });
  const { Status, ObjectiveValue } = highs.solve(
    [
      'Minimize',
      ` cost: ${sum(columns.map(({ kind }, index) => [(stock[kind] as { price: number }).price, index]))}`,
      'Subject To',
      ...demands,
      ...limits,
      'General',
      ...columns.map((_, index) => ` x${index}`),
      'End',
    ].join('\n'),
    { output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.1 },
  );
  if (Status === 'Infeasible') return Number.POSITIVE_INFINITY;
  expect(Status).toBe('Optimal');
  return Math.round(ObjectiveValue);
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
