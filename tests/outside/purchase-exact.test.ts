/**
 * What to buy, and what nearly saves stock, against a search through all ways to cut on small instances drawn at
 * random. The search shares no code with the planner.
 */
import { describe, expect, it } from 'vitest';
import { nearMisses } from '../../server/cutting/near-miss.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { shortfallOf } from '../../server/cutting/purchase.ts';
import { verifiedPlan } from '../../server/cutting/verified.ts';
import { requestOf } from '../cutting/published.ts';
import { type Drawn, draw, leastPrice } from './exhaustive.ts';

/** The instance with so many boards of every length, so that mostly it is too few. */
function counted(start: number, count: number): Drawn {
  const drawn = draw(start, 4, 3);
  return { ...drawn, stock: drawn.stock.map((board, kind) => ({ ...board, count: (start + kind) % (count + 1) })) };
}

/** What is there for nothing, and beyond it without limit at a price of one's own choosing. */
function beyond({ stock, ...rest }: Drawn, price: (board: { length: number; price: number }) => number): Drawn {
  const there = stock.map((board) => ({ ...board, price: 0 }));
  return {
    ...rest,
    stock: [...there, ...stock.map(({ length, price: own }) => ({ length, price: price({ length, price: own }) }))],
  };
}

describe('a purchase', () => {
  it('is the smallest and the cheapest there is, and is proven to be wherever it says so', () => {
    let [short, proven] = [0, 0];
    for (let start = 1; start <= 150; start++) {
      const drawn = counted(start, 2);
      const request = requestOf(drawn);
      const plan = verifiedPlan(request, optimal);
      const shortfall = plan && shortfallOf(request, plan, request.pieces[0]?.material ?? '');
      const boards = leastPrice(beyond(drawn, () => 1));
      const money = leastPrice(beyond(drawn, ({ price }) => price));
      if (!shortfall || shortfall.instead) {
        expect(boards, drawn.name).toBe(0);
        continue;
      }
      short++;
      const of = (aim: 'least' | 'cheapest') => shortfall.purchases.find(({ aims }) => aims.includes(aim));
      const [least, cheapest] = [of('least'), of('cheapest')];
      expect([least?.boardCount, cheapest?.price], drawn.name).toEqual([boards, money]);
      if (shortfall.proven) expect(boards, drawn.name).toBeGreaterThan(0);
      // Of the purchases of so many boards the shortest: its length beside a weight that no length outweighs.
      const length = leastPrice(beyond(drawn, (board) => 10_000 + board.length)) - 10_000 * boards;
      expect(least?.length, drawn.name).toBe(length);
      proven += least?.proven.length ?? 0;
      // What it comes to in all cannot be less than the best plan of the stock with it.
      const raised = drawn.stock.map((board, kind) => {
        const id = request.stock[kind]?.id;
        return {
          ...board,
          count: (board.count ?? 0) + (cheapest?.boards.find(({ stock }) => stock === id)?.count ?? 0),
        };
      });
      expect(cheapest?.totals.price, drawn.name).toBe(leastPrice({ ...drawn, stock: raised }));
    }
    expect(short).toBeGreaterThan(50);
    expect(proven).toBeGreaterThan(0.9 * short);
  });
});

describe('a near miss', () => {
  it('never claims more than is saved, and none that saves a board is missed', () => {
    let [claimed, saving] = [0, 0];
    for (let start = 200; start < 320; start++) {
      const drawn = draw(start, 4, 3);
      const open = { ...drawn, stock: drawn.stock.map(({ count: _, ...board }) => board) };
      const request = requestOf(open);
      const plan = verifiedPlan(request, optimal);
      if (!plan) continue;
      const asIs = leastPrice(open);
      const levers = request.pieces.map(({ id, quantity }) => ({
        id,
        moves: [{ piece: id, quantity, by: 1 as const }],
      }));
      const found = nearMisses(request, plan, levers, { most: 2, step: 1 });
      const costs = [...new Set([0, ...open.stock.map(({ price }) => price)])].sort((a, b) => a - b);
      const worth = Math.min(...costs.slice(1).map((cost, place) => cost - (costs[place] as number)));
      request.pieces.forEach((piece, place) => {
        const shorter = (by: number): number =>
          leastPrice({
            ...open,
            pieces: open.pieces.map((own, index) => (index === place ? { ...own, length: own.length - by } : own)),
          });
        const miss = found.find(({ lever }) => lever === piece.id);
        const best = asIs - shorter(2);
        if (miss) {
          claimed++;
          expect(miss.saves.price, `${open.name} ${piece.id}`).toBeLessThanOrEqual(asIs - shorter(miss.by));
          expect(miss.saves.price, `${open.name} ${piece.id}`).toBeGreaterThanOrEqual(worth);
        }
        if (best >= worth) {
          saving++;
          expect(miss, `${open.name} ${piece.id}: ${best}`).toBeDefined();
          // One step would do where it does.
          expect(miss?.by, `${open.name} ${piece.id}`).toBe(asIs - shorter(1) >= worth ? 1 : 2);
        }
      });
    }
    expect(claimed).toBeGreaterThan(30);
    expect(saving).toBeGreaterThan(30);
  });
});
