/** The planner by example: what it reaches, how it is stopped, what it makes of bad input. The laws stand in optimal-laws.test.ts. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal, rememberingPlanner } from '../../server/cutting/optimal.ts';
import type { MaterialTotals, Plan, Planner, PlanRequest } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { inches, millimetres, NONE, ticks } from '../../server/model/ticks.ts';
import { closets } from './projects.ts';
import { board, piece, saw } from './requests.ts';

/** The last plan of at most so many, which must hold. */
function planned(request: PlanRequest, most = Number.POSITIVE_INFINITY, planner: Planner = optimal): Plan {
  let last: Plan | undefined;
  let count = 0;
  for (const plan of planner.plan(request)) {
    last = plan;
    if (++count >= most) break;
  }
  expect(verify(request, last as Plan)).toEqual([]);
  return last as Plan;
}

const onlyTotals = (plan: Plan): MaterialTotals => {
  expect(plan.totals).toHaveLength(1);
  return plan.totals[0] as MaterialTotals;
};
const costOf = (totals: MaterialTotals): number => totals.price ?? totals.boughtLength;

describe('the planner', () => {
  // 48 + 25 + 25 and 35 + 35 + 29 fill two boards of 100; first-fit puts 48 with 35.
  const six = [piece('a', ticks(48)), piece('b', ticks(35), 2), piece('c', ticks(29)), piece('d', ticks(25), 2)];
  const plain = { kerf: NONE, keepOffcutsFrom: ticks(50) };

  it('finds what first-fit misses', () => {
    const request = { pieces: six, stock: [board('b', ticks(100))], saw: plain };
    expect(onlyTotals(firstPlan(request)).boardCount).toBe(3);
    expect(onlyTotals(planned(request))).toMatchObject({ boardCount: 2, bound: { boards: 2 } });
  });

  it('cuts everything where first-fit runs out of boards', () => {
    const request = { pieces: six, stock: [board('b', ticks(100), { count: 2 })], saw: plain };
    expect(firstPlan(request).uncut).not.toEqual([]);
    expect(planned(request).uncut).toEqual([]);
  });

  it('cuts the longest first and takes offcuts before it buys', () => {
    const stock = [board('6ft', inches(72), { price: 900 }), board('r', inches(50), { offcut: true, count: 1 })];
    const plan = planned({ pieces: [piece('a', inches(20), 5), piece('b', inches(9), 3)], stock, saw });
    for (const { cuts } of plan.patterns) {
      expect(cuts.map((cut) => cut.length)).toEqual(cuts.map((cut) => cut.length).sort((a, b) => b - a));
    }
    expect(onlyTotals(plan).boards.map((entry) => entry.stock)).toEqual(['r', '6ft']);
  });

  it('can be left after any plan', () => {
    const request = closets();
    for (let most = 1; most < 40; most++) planned(request, most);
  });

  it('plans 500 closets of 12 lengths at the least cost, and proves it', { timeout: 30_000 }, () => {
    const totals = onlyTotals(planned(closets()));
    expect(totals.pieceCount).toBe(9833);
    expect(totals.bound.cost).toBe(costOf(totals));
  });

  it('gives the materials their turns', () => {
    const both = ['oak', 'white'].flatMap((material) =>
      six.map((each) => ({ ...each, id: `${material} ${each.id}`, material })),
    );
    const stock = ['oak', 'white'].map((material) => board(material, ticks(100), { material }));
    const plan = planned({ pieces: both, stock, saw: plain });
    expect(plan.totals.map((totals) => totals.boardCount)).toEqual([2, 2]);
  });
});

describe('a planner that remembers', () => {
  it('plans a request that differs a little as well as the last one, in its first plans', { timeout: 30_000 }, () => {
    const planner = rememberingPlanner();
    const request = closets(90, 1500);
    planned(request, Number.POSITIVE_INFINITY, planner);
    const [first, ...others] = request.pieces as [PlanRequest['pieces'][number], ...PlanRequest['pieces']];
    const pieces = [{ ...first, quantity: first.quantity + 3 }, ...others, piece('new', inches(31.5), 4)];
    const totals = onlyTotals(planned({ ...request, pieces }, 4, planner));
    expect(costOf(totals) - totals.bound.cost).toBeLessThanOrEqual(costOf(totals) / 100);
    expect(costOf(totals)).toBeLessThan(costOf(onlyTotals(firstPlan({ ...request, pieces }))));
  });
});

describe('bad input', () => {
  it('of pieces longer than any stock, or without any, leaves those uncut', () => {
    const pieces = [piece('a', inches(20), 2, { material: 'oak' }), piece('b', inches(73)), piece('c', inches(40), 3)];
    const plan = planned({ pieces, stock: [board('6ft', inches(72), { count: 2 })], saw });
    expect(plan.uncut.map(({ piece: id, quantity }) => [id, quantity])).toEqual([
      ['a', 2],
      ['b', 1],
      ['c', 1],
    ]);
    const none = { pieces, stock: [board('6ft', inches(72), { count: 0 })], saw };
    expect(planned(none).patterns).toEqual([]);
    expect(planned({ pieces: [], stock: [], saw })).toEqual({ version: 1, patterns: [], uncut: [], totals: [] });
  });

  it('that makes no sense is refused with the reason', () => {
    const refused = { pieces: [piece('a', ticks(0))], stock: [], saw };
    expect(() => [...optimal.plan(refused)]).toThrow(/length of piece "a"/);
  });

  it('of a kerf larger than the pieces is planned', () => {
    const plan = planned({
      pieces: [piece('a', ticks(3), 20), piece('b', ticks(2), 20)],
      stock: [board('b', ticks(40))],
      saw: { kerf: ticks(9), keepOffcutsFrom: ticks(50) },
    });
    // (40 + 9) / (2 + 9) pieces to a board, and as many of the other.
    expect(onlyTotals(plan).boardCount).toBe(10);
  });

  it('of prices of nothing is planned and costs nothing', () => {
    const stock = [board('6ft', inches(72), { price: 0 }), board('8ft', inches(96), { price: 0, count: 3 })];
    expect(onlyTotals(planned({ pieces: [piece('a', inches(40), 9)], stock, saw }))).toMatchObject({
      price: 0,
      bound: { cost: 0 },
    });
    const mixed = [board('6ft', inches(72), { price: 0 }), board('8ft', inches(96), { price: 700 })];
    const pieces = [piece('a', inches(40), 3), piece('b', inches(80), 2)];
    expect(onlyTotals(planned({ pieces, stock: mixed, saw }))).toMatchObject({ price: 1400, bound: { cost: 1400 } });
  });

  it('of a million equal pieces, and of large numbers of few, is planned and proven', { timeout: 10_000 }, () => {
    const stock = [board('6ft', inches(72), { price: 900 }), board('8ft', inches(96), { price: 1250 })];
    const totals = onlyTotals(planned({ pieces: [piece('a', inches(20), 1_000_000)], stock, saw }));
    expect(totals.bound.cost).toBe(totals.price);
    const few = [piece('a', inches(20), 1_000_000), piece('b', inches(31), 700_000), piece('c', inches(11), 300_001)];
    const many = onlyTotals(planned({ pieces: few, stock, saw }, 3000));
    expect(((many.price as number) - many.bound.cost) / many.bound.cost).toBeLessThan(1e-5);
  });

  it('of inches and millimetres mixed is planned on a coarser grid, and its bound holds', () => {
    const pieces = Array.from({ length: 30 }, (_, n) =>
      piece(`p${n}`, n % 2 === 0 ? inches(10 + n / 64) : millimetres(300 + 7 * n), 1 + (n % 5)),
    );
    const stock = [board('8ft', inches(96), { price: 1200 }), board('3m', millimetres(3000), { price: 1500 })];
    const totals = onlyTotals(planned({ pieces, stock, saw: { ...saw, kerf: millimetres(3) } }, 2000));
    expect(totals.bound).toMatchObject({ proof: 'dual' });
    expect(((totals.price as number) - totals.bound.cost) / totals.bound.cost).toBeLessThan(0.04);
  });

  it('of 5,000 different lengths has a plan and a bound at once, and stays within its memory', {
    timeout: 60_000,
  }, () => {
    const pieces = Array.from({ length: 5000 }, (_, n) => piece(`p${n}`, ticks(inches(8) + n * 15_875), 1 + (n % 3)));
    const stock = [board('8ft', inches(96), { price: 1200 }), board('12ft', inches(144), { price: 1700 })];
    const totals = onlyTotals(planned({ pieces, stock, saw }, 2));
    expect(totals.bound.cost).toBeGreaterThan(0);
  });
});

it('the verifier shares no code with any planner', () => {
  const folder = new URL('../../server/cutting/', import.meta.url);
  const reached = new Set(['./verify.ts']);
  for (const file of reached) {
    const text = readFileSync(new URL(file, folder), 'utf8');
    for (const [, , type, from] of text.matchAll(/^(import|export) (type )?[^;]*? from '([^']+)';/gms)) {
      // Types are words, not code: the plan's own may be shared.
      if (from === './types.ts') expect(type).toBe('type ');
      else {
        expect(from).toMatch(/^[.][/]verify-(case|totals|bound|net|spares)[.]ts$/);
        reached.add(from as string);
      }
    }
  }
  expect(reached.size).toBe(6);
});
