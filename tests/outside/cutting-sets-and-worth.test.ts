/**
 * The planner with matched sets and with offcuts that are worth something, against an integer programme over all
 * ways to cut each board, solved by HiGHS: small instances drawn at random with several lengths of stock, prices,
 * limited counts, offcuts on the rack, kerf and trims. The fillings and what they cost are worked out here from
 * what the words mean, piece by piece along the board; no code of the planner or the verifier is shared.
 *
 * source: HiGHS (Q. Huangfu and J. A. J. Hall, Mathematical Programming Computation 10, 2018;
 * https://highs.dev), as the package `highs`.
 */
import type { LegacyHighs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { flawsOf } from '../../server/cutting/request.ts';
import type { MaterialTotals, Plan, PlanRequest } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { ticks } from '../../server/model/ticks.ts';
import { leastByProgramme, loadHighs } from './programme.ts';

let highs: LegacyHighs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** Repeatable numbers in [0, limit): the multiplicative generator of Park and Miller (1988). */
function numbers(start: number): (limit: number) => number {
  let state = start * 7919 + 1;
  const next = (limit: number) => {
    state = (state * 48271) % 2147483647;
    return state % limit;
  };
  for (let warm = 0; warm < 5; warm++) next(2);
  return next;
}

/** Lengths that must follow one another on a board; a single piece is a list of one. */
interface Wanted {
  readonly lengths: readonly number[];
  readonly quantity: number;
}

interface Drawn {
  readonly stock: readonly { length: number; price: number; count?: number; offcut: boolean }[];
  readonly wanted: readonly Wanted[];
  readonly kerf: number;
  readonly trim: number;
  readonly keepFrom: number;
  /** Minor units for so many ticks; 0: kept offcuts are worth nothing. */
  readonly worth: { readonly price: number; readonly per: number };
}

function draw(start: number, sizes: number, each: number, sets: boolean, worth: boolean): Drawn {
  const next = numbers(start);
  const bought = Array.from({ length: 1 + next(3) }, () => {
    const length = 20 + next(50);
    const price = 8 + next(10) + length * (1 + next(3));
    return { length, price, offcut: false, ...(next(4) === 0 && { count: 1 + next(5) }) };
  });
  const rack = Array.from({ length: next(3) }, () => ({
    length: 8 + next(30),
    price: next(3) === 0 ? next(20) : 0,
    offcut: true,
    count: 1 + next(2),
  }));
  const longest = Math.max(...bought.map(({ length }) => length));
  const wanted = Array.from({ length: sizes }, (_, index): Wanted => {
    const many = sets && index % 2 === 0 ? 2 + next(2) : 1;
    const lengths = Array.from({ length: many }, () => 3 + next(Math.max(1, Math.floor((longest - 10) / many))));
    return { lengths, quantity: 1 + next(each) };
  });
  // Less than the cheapest board costs by its length.
  const cheapest = Math.min(...bought.map(({ price, length }) => price / length));
  const per = 1 + next(7);
  const price = worth ? Math.max(0, Math.ceil(cheapest * per) - 1 - next(2)) : 0;
  return {
    stock: [...bought, ...rack],
    wanted,
    kerf: next(3),
    trim: next(3) === 0 ? 1 : 0,
    keepFrom: next(20),
    worth: { price, per },
  };
}

function requestOf({ stock, wanted, kerf, trim, keepFrom, worth }: Drawn): PlanRequest {
  const pieces = wanted.flatMap(({ lengths, quantity }, set) =>
    lengths.map((length, at) => ({ id: `${set}.${at}`, material: 'm', length: ticks(length), quantity })),
  );
  const sets = wanted.flatMap(({ lengths, quantity }, set) =>
    lengths.length === 1
      ? []
      : [{ id: `set ${set}`, quantity, runs: lengths.map((_, at) => ({ piece: `${set}.${at}`, quantity: 1 })) }],
  );
  return {
    pieces,
    sets,
    stock: stock.map((board, index) => ({
      ...board,
      id: `stock ${index}`,
      material: 'm',
      length: ticks(board.length),
    })),
    saw: { kerf: ticks(kerf), trim: ticks(trim), keepOffcutsFrom: ticks(keepFrom) },
    worth: worth.price > 0 ? [{ material: 'm', price: worth.price, per: ticks(worth.per) }] : [],
  };
}

function worthLeft({ keepFrom, worth }: Drawn, offcut: number): number {
  return offcut > 0 && offcut >= keepFrom ? Math.floor((offcut * worth.price) / worth.per) : 0;
}

interface Filling {
  readonly counts: readonly number[];
  readonly cost: number;
}

/** Every way to fill a board with counts of what is wanted, and what it costs less what is left. */
function fillings(drawn: Drawn, board: Drawn['stock'][number]): Filling[] {
  const { wanted, kerf, trim } = drawn;
  const usable = board.length - 2 * trim;
  const taking = board.offcut ? Math.max(board.price, worthLeft(drawn, board.length)) : board.price;
  const found: Filling[] = [];
  const fill = (index: number, counts: number[], used: number) => {
    const item = wanted[index];
    if (!item) {
      if (used === 0) return;
      // The last cut parts the rest from the last piece.
      found.push({ counts, cost: taking - worthLeft(drawn, usable - used - kerf) });
      return;
    }
    for (let count = 0, end = used; count <= item.quantity; count++) {
      if (count > 0) for (const length of item.lengths) end += length + (end === 0 ? 0 : kerf);
      if (end > usable) break;
      fill(index + 1, [...counts, count], end);
    }
  };
  fill(0, [], 0);
  return found;
}

/** Infinity when not everything can be cut. */
function leastByHighs(drawn: Drawn): number {
  const { stock, wanted } = drawn;
  const columns = stock.flatMap((board, kind) => fillings(drawn, board).map((filling) => ({ kind, ...filling })));
  return leastByProgramme(highs, columns, wanted, stock);
}

function judgedBy({ price = 0, takenValue = 0, keptValue = 0 }: MaterialTotals): number {
  return price + takenValue - keptValue;
}

interface Compared {
  cut: number;
  /** Equal by a bound that can be computed again. */
  certified: number;
  proven: number;
}

/** Plans it and holds every plan on the way to the optimum; the last plan is the optimum, and never called worse. */
function compare(drawn: Drawn, so: Compared): void {
  const request = requestOf(drawn);
  expect(flawsOf(request)).toEqual([]);
  const optimum = leastByHighs(drawn);
  const first = firstPlan(request);
  expect(verify(request, first)).toEqual([]);
  let last: Plan = first;
  for (const plan of optimal.plan(request)) {
    if (plan === last) continue;
    expect(verify(request, plan)).toEqual([]);
    if (plan.uncut.length === 0) expect(plan.totals[0]?.bound.cost).toBeLessThanOrEqual(optimum);
    last = plan;
  }
  if (optimum === Number.POSITIVE_INFINITY) {
    expect(last.uncut).not.toEqual([]);
    return;
  }
  expect(last.uncut).toEqual([]);
  const [totals] = last.totals as [MaterialTotals];
  expect(judgedBy(totals)).toBe(optimum);
  so.cut++;
  if (totals.bound.cost === optimum) {
    so.proven++;
    if (totals.bound.proof !== 'search') so.certified++;
  }
}

describe('a plan costs what the cheapest of all costs', () => {
  it.each([
    ['with matched sets', 0, true, false],
    ['with offcuts that are worth something', 10_000, false, true],
    ['with both', 20_000, true, true],
  ] as const)('%s: 250 instances solved by HiGHS', { timeout: 120_000 }, (_, from, sets, worth) => {
    const so: Compared = { cut: 0, certified: 0, proven: 0 };
    for (let start = from; start < from + 250; start++) compare(draw(start, 1 + (start % 6), 5, sets, worth), so);
    expect(so.cut).toBeGreaterThan(150);
    // All of them are proven as well, most by weights that can be added up again.
    expect(so.proven).toBe(so.cut);
    expect(so.certified).toBeGreaterThan(so.cut / 2);
  });
});
