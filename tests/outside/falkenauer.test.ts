/**
 * The first plan against published bin packing instances whose optimum is proven.
 *
 * source: instances u120_00 to u120_19 (E. Falkenauer, Journal of Heuristics 2, 1996; OR-Library,
 * J. E. Beasley, file binpack1); optima from BPPLIB (M. Delorme, M. Iori, S. Martello).
 * source, from memory: first-fit decreasing takes at most 11/9 of the optimum + 6/9 bins (G. Dosa, "The
 * tight bound of first fit decreasing bin-packing algorithm is FFD(I) <= 11/9 OPT(I) + 6/9", ESCAPE 2007).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { provenShort } from '../../server/cutting/shortage.ts';
import type { PlanRequest } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { NONE, ticks } from '../../server/model/ticks.ts';

interface Instance {
  name: string;
  capacity: number;
  sizes: number[];
}

const read = (name: string) => readFileSync(new URL(`instances/${name}`, import.meta.url), 'utf8');

function readInstances(text: string): Instance[] {
  const words = text.split(/\s+/).filter((word) => word !== '');
  const count = Number(words[0]);
  const instances: Instance[] = [];
  for (let at = 1; instances.length < count; ) {
    const [name, capacity, items] = words.slice(at, at + 3) as [string, string, string];
    const sizes = words.slice(at + 4, at + 4 + Number(items)).map(Number);
    instances.push({ name, capacity: Number(capacity), sizes });
    at += 4 + Number(items);
  }
  return instances;
}

const optima = new Map(
  read('optima.tsv')
    .trim()
    .split('\n')
    .slice(1)
    .map((line): [string, number] => {
      const [name, optimum] = line.split('\t') as [string, string];
      return [name, Number(optimum)];
    }),
);

function requestOf({ capacity, sizes }: Instance, count?: number): PlanRequest {
  return {
    pieces: sizes.map((size, index) => ({ id: `item ${index}`, material: 'm', length: ticks(size), quantity: 1 })),
    stock: [{ id: 'bin', material: 'm', length: ticks(capacity), offcut: false, count }],
    saw: { kerf: NONE, keepOffcutsFrom: NONE },
  };
}

const instances = readInstances(read('binpack1.txt'));

it('the file holds twenty instances of 120 items, each with a proven optimum', () => {
  expect(instances.map(({ name }) => name)).toEqual([...optima.keys()]);
  expect(instances.map(({ capacity, sizes }) => [capacity, sizes.length])).toEqual(instances.map(() => [150, 120]));
});

describe.each(instances)('$name', (instance) => {
  const optimum = optima.get(instance.name) as number;
  const request = requestOf(instance);
  const plan = firstPlan(request);
  const boards = plan.totals[0]?.boardCount as number;

  it('has a first plan that holds', () => {
    expect(verify(request, plan)).toEqual([]);
    expect(plan.uncut).toEqual([]);
  });

  it('never takes fewer boards than the optimum, nor more than first-fit decreasing may', () => {
    expect(boards).toBeGreaterThanOrEqual(optimum);
    expect(9 * boards).toBeLessThanOrEqual(11 * optimum + 6);
  });

  it('has a bound that the optimum does not fall below', () => {
    expect(plan.totals[0]?.bound.boards).toBeLessThanOrEqual(optimum);
  });

  it('is not called short of stock when there is just enough, and is when length alone forbids it', () => {
    expect(provenShort(requestOf(instance, optimum))).toEqual([]);
    const total = instance.sizes.reduce((sum, size) => sum + size, 0);
    expect(provenShort(requestOf(instance, Math.ceil(total / instance.capacity) - 1))).toHaveLength(1);
  });
});
