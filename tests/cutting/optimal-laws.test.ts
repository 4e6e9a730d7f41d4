/** Laws of the planner and of the bounds it proves, on requests drawn at random. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import type { MaterialTotals, Plan, PlanBound, PlanRequest } from '../../server/cutting/types.ts';
import { verifiedPlan } from '../../server/cutting/verified.ts';
import { verify } from '../../server/cutting/verify.ts';
import { inches, millimetres, ticks } from '../../server/model/ticks.ts';
import { board, piece, requests, shuffledBy } from './requests.ts';

const costOf = (totals: MaterialTotals): number => totals.price ?? totals.boughtLength;

/** The plans that differ from the one before. */
function plansOf(request: PlanRequest): Plan[] {
  const plans: Plan[] = [];
  for (const plan of optimal.plan(request)) if (plan !== plans.at(-1)) plans.push(plan);
  return plans;
}

const lastOf = (request: PlanRequest): Plan => plansOf(request).at(-1) as Plan;

describe('the planner', () => {
  it('hands out only plans that hold before the verifier, the first one at once', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        const plans = plansOf(request);
        for (const plan of plans) expect(verify(request, plan)).toEqual([]);
        const [first] = plans as [Plan];
        expect(first.patterns).toEqual(firstPlan(request).patterns);
        expect(first.totals).toEqual(firstPlan(request).totals);
      }),
      { numRuns: 700 },
    );
  });

  it('never hands out a worse plan, nor a weaker bound for the same pieces', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        const length = (plan: Plan) =>
          plan.uncut.reduce((sum, entry) => sum + (entry.length + request.saw.kerf) * entry.quantity, 0);
        const plans = plansOf(request);
        plans.slice(1).forEach((plan, index) => {
          const before = plans[index] as Plan;
          expect(length(plan)).toBeLessThanOrEqual(length(before));
          if (length(plan) < length(before)) return;
          for (const totals of plan.totals) {
            const known = before.totals.find(({ material }) => material === totals.material);
            if (!known) continue;
            expect(costOf(totals)).toBeLessThanOrEqual(costOf(known));
            expect(totals.bound.cost).toBeGreaterThanOrEqual(known.bound.cost);
          }
        });
      }),
      { numRuns: 500 },
    );
  });

  it('holds in inches and millimetres mixed, with trims and with stock that runs out', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(mixedRequests(), (request) => {
        let count = 0;
        let last: Plan | undefined;
        for (const plan of optimal.plan(request)) {
          if (plan !== last) expect(verify(request, plan)).toEqual([]);
          last = plan;
          if (++count > 150) break;
        }
      }),
      { numRuns: 60 },
    );
  });

  it('proves its bound on the boards that there are, beside a far longer one of which there is none', () => {
    const request: PlanRequest = {
      pieces: [piece('p', ticks(3_000_000), 1)],
      stock: [
        board('none', ticks(120_586_500), { price: 0, count: 0 }),
        board('some', ticks(24_000_000), { price: 1 }),
      ],
      saw: { kerf: inches(0.125), keepOffcutsFrom: inches(24) },
    };
    for (const plan of plansOf(request)) expect(verify(request, plan)).toEqual([]);
    expect(lastOf(request).totals[0]?.bound).toMatchObject({ cost: 1, boards: 1 });
  });

  it('gives the same plan again, and whatever the order of pieces and stock', () => {
    fc.assert(
      fc.property(requests(), fc.infiniteStream(fc.nat()), (request, order) => {
        const shuffled = shuffledBy(request, () => order.next().value as number);
        expect(lastOf(request)).toEqual(lastOf(request));
        expect(lastOf(shuffled)).toEqual(lastOf(request));
      }),
      { numRuns: 300 },
    );
  });

  it('is usable where any planner is, and its plans are plain data', () => {
    fc.assert(
      fc.property(requests(), (request) => {
        const plan = verifiedPlan(request, optimal);
        if (plan) expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
      }),
      { numRuns: 100 },
    );
  });
});

/** Lengths as they come in a shop: their common divisor is so small that a coarser grid is planned on. */
function mixedRequests(): fc.Arbitrary<PlanRequest> {
  const length = (least: number, most: number) =>
    fc.oneof(
      fc.integer({ min: least * 64, max: most * 64 }).map((parts) => ticks(parts * 15_875)),
      fc.integer({ min: least * 25, max: most * 25 }).map(millimetres),
    );
  const pieces = fc.array(fc.record({ length: length(3, 60), quantity: fc.integer({ min: 1, max: 12 }) }), {
    minLength: 1,
    maxLength: 25,
  });
  const stock = fc.array(
    fc.record({
      length: length(24, 144),
      price: fc.integer({ min: 0, max: 3000 }),
      count: fc.option(fc.integer({ min: 0, max: 30 }), { nil: undefined }),
      offcut: fc.boolean(),
    }),
    { minLength: 1, maxLength: 4 },
  );
  const drawnSaw = fc.record({
    kerf: fc.constantFrom(inches(0.125), millimetres(3)),
    trim: fc.constantFrom(ticks(0), inches(0.5)),
  });
  return fc.record({ pieces, stock, saw: drawnSaw }).map((drawn) => ({
    pieces: drawn.pieces.map((each, index) => piece(`p${index}`, each.length, each.quantity)),
    stock: drawn.stock.map(({ length: long, ...more }, index) => board(`s${index}`, long, more)),
    saw: { ...drawn.saw, keepOffcutsFrom: inches(24) },
  }));
}

/** Small requests, most of which first-fit does not settle, so that the bound has to be proven. */
function certified(): fc.Arbitrary<{ request: PlanRequest; plan: Plan; bound: PlanBound & { proof: 'dual' } }> {
  const pieces = fc.array(
    fc.record({ length: fc.integer({ min: 5, max: 40 }), quantity: fc.integer({ min: 1, max: 9 }) }),
    {
      minLength: 2,
      maxLength: 7,
    },
  );
  return fc
    .record({ pieces, prices: fc.tuple(fc.integer({ min: 5, max: 30 }), fc.integer({ min: 5, max: 30 })) })
    .map(
      (drawn): PlanRequest => ({
        pieces: drawn.pieces.map(({ length, quantity }, index) => piece(`p${index}`, ticks(length), quantity)),
        stock: [
          board('a', ticks(50), { price: drawn.prices[0] }),
          board('b', ticks(83), { price: drawn.prices[1] }),
          board('rack', ticks(61), { offcut: true, count: 2 }),
        ],
        saw: { kerf: ticks(2), keepOffcutsFrom: ticks(10) },
      }),
    )
    .map((request) => ({ request, plan: lastOf(request) }))
    .filter(({ plan }) => plan.totals[0]?.bound.proof === 'dual')
    .map(({ request, plan }) => ({
      request,
      plan,
      bound: (plan.totals[0] as MaterialTotals).bound as PlanBound & { proof: 'dual' },
    }));
}

const withBound = (plan: Plan, bound: PlanBound): Plan => ({
  ...plan,
  totals: [{ ...(plan.totals[0] as MaterialTotals), bound }],
});

describe('a certificate', () => {
  it('proves its bound and not one more', () => {
    fc.assert(
      fc.property(certified(), ({ request, plan, bound }) => {
        // A dearer plan, so that the claim is not refused for being above the plan itself.
        const dearer = { ...plan, totals: plan.totals };
        const rules = (claimed: PlanBound) => verify(request, withBound(dearer, claimed)).map(({ rule }) => rule);
        expect(rules(bound)).toEqual([]);
        expect(rules({ ...bound, cost: bound.cost + 1 })).toContain('bound');
        expect(rules({ ...bound, boards: bound.boards + 1 })).toContain('bound');
        if (bound.cost > 0) expect(rules({ ...bound, cost: bound.cost - 1 })).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  it('is refused when its numbers are not what they must be', () => {
    fc.assert(
      fc.property(certified(), fc.nat(), ({ request, plan, bound }, pick) => {
        const refused = (certificate: Partial<typeof bound.certificate>, ...why: string[]) => {
          const violations = verify(
            request,
            withBound(plan, { ...bound, certificate: { ...bound.certificate, ...certificate } }),
          );
          expect(violations.map(({ rule }) => rule)).toContain('bound');
          for (const word of why) expect(violations[0]?.message).toContain(word);
        };
        const { weights } = bound.certificate;
        const at = pick % weights.length;
        const [length, weight] = weights[at] as (typeof weights)[number];
        refused({ weights: weights.with(at, [length, -1]) }, 'weighs');
        refused({ weights: weights.with(at, [length, weight + 0.5]) }, 'weighs');
        refused({ weights: [...weights, [length, weight]] }, 'weighs');
        refused({ weights: [...weights, [ticks(length + 1000), weight]] }, 'weighs');
        refused({ weights: weights.with(at, [length, 2 ** 53 - 1]) }, 'too large');
        refused({ grid: 0 }, 'grid');
        refused({ grid: 1.5 }, 'grid');
      }),
      { numRuns: 100 },
    );
  });

  it('with other weights proves only what those prove, never more than the plan costs', () => {
    fc.assert(
      fc.property(certified(), fc.array(fc.nat({ max: 1000 }), { minLength: 7, maxLength: 7 }), (given, drawn) => {
        const { request, plan, bound } = given;
        const weights = bound.certificate.weights.map(([length], index) => [length, drawn[index] as number] as const);
        const cost = costOf(plan.totals[0] as MaterialTotals);
        // Any weights are valid, so a claim that they do not bear out is refused, and none above the plan is borne out.
        const claim = (figure: number) =>
          verify(request, withBound(plan, { ...bound, cost: figure, boards: 0, certificate: { grid: 1, weights } }));
        expect(claim(0)).toEqual([]);
        expect(claim(cost + 1)).not.toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  it('of a search still has to prove what it certifies', () => {
    fc.assert(
      fc.property(certified(), ({ request, plan, bound }) => {
        const { cost, boards, certificate, measure } = bound;
        const searched = (change: object): PlanBound => ({
          proof: 'search',
          measure,
          cost,
          boards,
          certified: { cost, boards, certificate, ...change },
        });
        const rules = (claimed: PlanBound) => verify(request, withBound(plan, claimed)).map(({ rule }) => rule);
        expect(rules(searched({}))).toEqual([]);
        expect(rules(searched({ cost: cost + 1 }))).toContain('bound');
        expect(rules({ ...searched({}), cost: costOf(plan.totals[0] as MaterialTotals) + 1 })).toContain('bound');
      }),
      { numRuns: 100 },
    );
  });
});
