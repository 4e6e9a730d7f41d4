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
import { type Instance, requestOf } from '../cutting/published.ts';

// The package's types describe its CommonJS form; imported, the default is the loader itself.
const loadHighs = highsModule as unknown as typeof highsModule.default;

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

interface Drawn extends Instance {
  readonly stock: readonly { readonly length: number; readonly price: number; readonly count?: number }[];
}

function draw(start: number, sizes: number, each: number): Drawn {
  const next = numbers(start);
  const kinds = 1 + next(3);
  const stock = Array.from({ length: kinds }, () => {
    const length = 20 + next(60);
    const price = 5 * (1 + next(4)) + length * (1 + next(3));
    return next(3) === 0 ? { length, price, count: next(5) } : { length, price };
  });
  const longest = Math.max(...stock.map(({ length }) => length));
  const lengths = new Set(Array.from({ length: sizes }, () => 5 + next(longest - 5)));
  const pieces = [...lengths].map((length) => ({ length, quantity: 1 + next(each) }));
  return { name: `drawn ${start}`, stock, pieces, kerf: next(4) };
}

/**
 * The same with lengths that nothing divides, as where inches and millimetres mix, so that they are planned on a grid
 * coarser than they are; every other stock length is one that some pieces and their cuts fill to the last unit.
 */
function finely(drawn: Drawn, start: number): Drawn {
  const next = numbers(start + 5000);
  const fine = (length: number) => length * 100_003 + next(9973);
  const kerf = drawn.kerf * 9_967;
  const pieces = drawn.pieces.map((piece) => ({ ...piece, length: fine(piece.length) }));
  const stock = drawn.stock.map((board) => {
    const length = fine(board.length);
    if (next(2) === 0) return { ...board, length };
    let end = 0;
    for (let tries = 0; tries < 8; tries++) {
      const piece = pieces[next(pieces.length)]?.length ?? 0;
      const after = end === 0 ? piece : end + kerf + piece;
      if (after <= length) end = after;
    }
    return { ...board, length: end || length };
  });
  return { ...drawn, pieces, stock, kerf };
}

type Counts = readonly number[];

/** Every way to fill a board, as counts of each length; n pieces need n - 1 cuts. */
function fillings({ pieces, kerf }: Drawn, length: number): Counts[] {
  const found: Counts[] = [];
  const fill = (index: number, counts: number[], used: number) => {
    const piece = pieces[index];
    if (!piece) {
      if (counts.some((count) => count > 0)) found.push(counts);
      return;
    }
    for (let count = 0, end = used; count <= piece.quantity; count++) {
      if (count > 0) end += piece.length + (end === 0 ? 0 : kerf);
      if (end > length) break;
      fill(index + 1, [...counts, count], end);
    }
  };
  fill(0, [], 0);
  return found;
}

/** The least price of cutting everything, by trying every filling for what is open; Infinity: it cannot be cut. */
function leastPrice(instance: Drawn): number {
  const { stock, pieces } = instance;
  const ways = stock.map(({ length }) => fillings(instance, length));
  const known = new Map<string, number>();
  const price = (open: Counts, left: Counts): number => {
    const first = open.findIndex((count) => count > 0);
    if (first < 0) return 0;
    const key = `${open} ${left}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    let best = Number.POSITIVE_INFINITY;
    stock.forEach((board, kind) => {
      if ((left[kind] as number) === 0) return;
      const fewer = left.with(kind, (left[kind] as number) - 1);
      for (const way of ways[kind] as Counts[]) {
        // Some board holds the first open piece: it may as well be this one.
        if (way[first] === 0 || way.some((count, index) => count > (open[index] as number))) continue;
        const rest = open.map((count, index) => count - (way[index] as number));
        best = Math.min(best, board.price + price(rest, fewer));
      }
    });
    known.set(key, best);
    return best;
  };
  return price(
    pieces.map(({ quantity }) => quantity),
    stock.map(({ count }) => count ?? Number.POSITIVE_INFINITY),
  );
}

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
