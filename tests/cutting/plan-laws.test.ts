/** Laws of the first planner and of proofs of shortage, on requests drawn at random. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { provenShort } from '../../server/cutting/shortage.ts';
import type { Piece, PlanRequest, StockLength } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { ticks } from '../../server/model/ticks.ts';
import { board, piece, requests, shuffledBy } from './requests.ts';

describe('the first plan', () => {
  it('holds before the verifier, whatever is asked for', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        expect(verify(request, firstPlan(request))).toEqual([]);
      }),
      { numRuns: 3000 },
    );
  });

  it('does not depend on the order in which pieces and stock are given', () => {
    fc.assert(
      fc.property(requests(), fc.infiniteStream(fc.nat()), (request, order) => {
        const shuffled = shuffledBy(request, () => order.next().value as number);
        const [one, two] = [firstPlan(request), firstPlan(shuffled)];
        expect(two.patterns).toEqual(one.patterns);
        expect(two.totals).toEqual(one.totals);
        expect(two.uncut).toEqual(one.uncut);
      }),
      { numRuns: 500 },
    );
  });

  it('takes never fewer boards, and never costs less, than its bound', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        for (const totals of firstPlan(request).totals) {
          expect(totals.boardCount).toBeGreaterThanOrEqual(totals.bound.boards);
          expect(totals.price ?? totals.boughtLength).toBeGreaterThanOrEqual(totals.bound.cost);
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('takes as many boards as first-fit decreasing, done piece by piece, does', () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(lengths, fc.integer({ min: 40, max: 90 }), fc.integer({ min: 0, max: 3 }), (drawn, length, kerf) => {
        const pieces = drawn.map((each, index) => piece(`p${index}`, ticks(each)));
        const saw = { kerf: ticks(kerf), keepOffcutsFrom: ticks(0) };
        const plan = firstPlan({ pieces, stock: [board('b', ticks(length))], saw });
        expect(plan.totals[0]?.boardCount).toBe(pieceByPiece(drawn, length, kerf));
      }),
      { numRuns: 1000 },
    );
  });

  it('is never cheaper than the cheapest of all plans, nor its bound dearer, tried one by one', () => {
    fc.assert(
      fc.property(tinyRequests(), (request) => {
        const plan = firstPlan(request);
        fc.pre(plan.uncut.length === 0 && plan.totals.length === 1);
        const cheapest = cheapestOf(request);
        const totals = plan.totals[0];
        expect(totals?.price).toBeGreaterThanOrEqual(cheapest as number);
        expect(totals?.bound.cost).toBeLessThanOrEqual(cheapest as number);
      }),
      { numRuns: 300 },
    );
  });

  it('is plain data', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        const plan = firstPlan(request);
        expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
      }),
    );
  });
});

describe('a proof of shortage', () => {
  it('is never given when a plan cuts everything', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        const { uncut } = firstPlan(request);
        for (const { material } of provenShort(request)) {
          expect(uncut.some((entry) => entry.material === material && entry.reason === 'stock used up')).toBe(true);
        }
      }),
      { numRuns: 3000 },
    );
  });

  it('is never given when there is a plan at all, tried one by one', () => {
    fc.assert(
      fc.property(tinyRequests(), (request) => {
        if (provenShort(request).length > 0) expect(cheapestOf(request)).toBeUndefined();
      }),
      { numRuns: 600 },
    );
  });

  it('states numbers that fall short', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        for (const { need, have } of provenShort(request)) expect(have).toBeLessThan(need);
      }),
    );
  });
});

function pieceByPiece(lengths: readonly number[], board: number, kerf: number): number {
  const left: number[] = [];
  for (const length of [...lengths].sort((a, b) => b - a)) {
    const place = left.findIndex((room) => room >= length + kerf);
    if (place >= 0) left[place] = (left[place] as number) - length - kerf;
    else left.push(board + kerf - length - kerf);
  }
  return left.length;
}

/** One material, a few pieces that fit the longest stock, and priced stock of limited count. */
function tinyRequests(): fc.Arbitrary<PlanRequest> {
  const pieces = fc.array(fc.integer({ min: 2, max: 12 }), { minLength: 1, maxLength: 6 });
  const stock = fc.array(
    fc.record({
      length: fc.integer({ min: 6, max: 20 }),
      price: fc.integer({ min: 0, max: 9 }),
      count: fc.integer({ min: 0, max: 3 }),
    }),
    { minLength: 1, maxLength: 3 },
  );
  return fc.record({ pieces, stock, kerf: fc.integer({ min: 0, max: 2 }) }).map((drawn) => {
    const boards = drawn.stock.map(({ length, price, count }, index) =>
      board(`s${index}`, ticks(length), { price, count }),
    );
    const longest = Math.max(...boards.map(({ length }) => length));
    const fitting = drawn.pieces
      .filter((length) => length <= longest)
      .map((length, index): Piece => piece(`p${index}`, ticks(length)));
    return { pieces: fitting, stock: boards, saw: { kerf: ticks(drawn.kerf), keepOffcutsFrom: ticks(5) } };
  });
}

/** The least price of any plan, by trying every board for every piece; undefined when nothing fits. */
function cheapestOf({ pieces, stock, saw }: PlanRequest): number | undefined {
  const single = stock.flatMap((each) => Array.from({ length: each.count ?? 0 }, (): StockLength => each));
  const left = single.map((each) => each.length + saw.kerf);
  const holds = single.map(() => 0);
  let best: number | undefined;
  const place = (index: number, price: number): void => {
    if (best !== undefined && price >= best) return;
    const next = pieces[index];
    if (!next) {
      best = price;
      return;
    }
    for (let at = 0; at < single.length; at++) {
      if ((left[at] as number) < next.length + saw.kerf) continue;
      const opened = holds[at] === 0;
      left[at] = (left[at] as number) - next.length - saw.kerf;
      holds[at] = (holds[at] as number) + 1;
      place(index + 1, price + (opened ? (single[at]?.price ?? 0) : 0));
      left[at] = (left[at] as number) + next.length + saw.kerf;
      holds[at] = (holds[at] as number) - 1;
    }
  };
  place(0, 0);
  return best;
}
