/**
 * The planner against published bin packing instances whose optimum is proven.
 *
 * source: instances u120_00 to u1000_19 (E. Falkenauer, Journal of Heuristics 2, 1996; OR-Library,
 * J. E. Beasley, files binpack1 to binpack4); optima from BPPLIB (M. Delorme, M. Iori, S. Martello).
 * source, from memory: first-fit decreasing takes at most 11/9 of the optimum + 6/9 bins (G. Dosa, "The
 * tight bound of first fit decreasing bin-packing algorithm is FFD(I) <= 11/9 OPT(I) + 6/9", ESCAPE 2007).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { provenShort } from '../../server/cutting/shortage.ts';
import type { Plan } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { readInstances, readOptima, requestOf } from '../cutting/published.ts';

const read = (name: string) => readFileSync(new URL(`../cutting/instances/${name}`, import.meta.url), 'utf8');
const optima = readOptima(read('optima.tsv'));
const classes = [1, 2, 3, 4].map((number) => readInstances('binpack', read(`binpack${number}.txt`), optima));
const sizeOf = [120, 250, 500, 1000];

it('the files hold twenty instances each of 120, 250, 500 and 1000 items, each with a proven optimum', () => {
  expect(classes.map((instances) => instances.length)).toEqual([20, 20, 20, 20]);
  expect(new Set(classes.flat().map(({ name }) => name))).toEqual(new Set(optima.keys()));
  classes.forEach((instances, index) => {
    for (const { stock, pieces } of instances) expect([stock[0]?.length, pieces.length]).toEqual([150, sizeOf[index]]);
  });
});

describe.each(classes.flat())('$name', (instance) => {
  const optimum = instance.optimum as number;
  const request = requestOf(instance);

  it('has a first plan that takes no fewer boards than the optimum, nor more than first-fit may', () => {
    const plan = firstPlan(request);
    const boards = plan.totals[0]?.boardCount as number;
    expect(verify(request, plan)).toEqual([]);
    expect(plan.uncut).toEqual([]);
    expect(boards).toBeGreaterThanOrEqual(optimum);
    expect(9 * boards).toBeLessThanOrEqual(11 * optimum + 6);
    expect(plan.totals[0]?.bound.boards).toBeLessThanOrEqual(optimum);
  });

  it('is planned with as many boards as the optimum, and proven with whole numbers', () => {
    let last: Plan | undefined;
    for (const plan of optimal.plan(request)) {
      expect(plan.totals[0]?.bound.boards).toBeLessThanOrEqual(optimum);
      last = plan;
    }
    expect(verify(request, last as Plan)).toEqual([]);
    expect(last?.totals[0]?.boardCount).toBe(optimum);
    expect(last?.totals[0]?.bound).toMatchObject({ cost: optimum * 150, boards: optimum });
    expect(last?.totals[0]?.bound.proof).not.toBe('search');
  });

  it('is not called short of stock when there is just enough, and is when length alone forbids it', () => {
    expect(provenShort(requestOf(instance, optimum))).toEqual([]);
    const total = instance.pieces.reduce((sum, { length, quantity }) => sum + length * quantity, 0);
    expect(provenShort(requestOf(instance, Math.ceil(total / 150) - 1))).toHaveLength(1);
  });
});
