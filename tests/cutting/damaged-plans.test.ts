/**
 * Plans at every stage of the planner, of requests with matched sets, offcuts, trims, kerf, counts and limits: each
 * holds before the verifier, and none does once it is damaged. The verifier imports no planner (tests/rooms.test.ts).
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { flawsOf } from '../../server/cutting/request.ts';
import type { Cut, Pattern, Plan, PlanRequest } from '../../server/cutting/types.ts';
import { verifiedPlan } from '../../server/cutting/verified.ts';
import { verify } from '../../server/cutting/verify.ts';
import type { Ticks } from '../../server/model/ticks.ts';
import { runs } from '../runs.ts';
import { richRequests } from './requests.ts';

/** First, each better one, the last; and the one at hand where somebody stops after so many steps. */
function stagesOf(request: PlanRequest, stopAfter: number): Plan[] {
  const stages = new Set([firstPlan(request)]);
  let step = 0;
  for (const plan of optimal.plan(request)) {
    stages.add(plan);
    if (++step === stopAfter) break;
  }
  const last = verifiedPlan(request, optimal);
  return last ? [...stages, last] : [...stages];
}

const first = (plan: Plan, change: (pattern: Pattern) => Pattern): Plan => ({
  ...plan,
  patterns: plan.patterns.map((pattern, i) => (i === 0 ? change(pattern) : pattern)),
});
const firstCut = (plan: Plan, change: (cut: Cut) => Partial<Cut>): Plan =>
  first(plan, (pattern) => ({
    ...pattern,
    cuts: pattern.cuts.map((cut, i) => (i === 0 ? { ...cut, ...change(cut) } : cut)),
  }));
const longer = (length: number, by: number): Ticks => (length + by) as Ticks;

/** What can go wrong with a sheet on its way to the saw. Each is given a plan that cuts something. */
const damages: Readonly<Record<string, (plan: Plan, request: PlanRequest) => Plan>> = {
  'a piece is moved to another board': (plan) => {
    const [one, ...others] = plan.patterns as [Pattern, ...Pattern[]];
    const other = others.at(-1);
    const [cut] = one.cuts as readonly [Cut, ...Cut[]];
    if (!other) return firstCut(plan, ({ quantity }) => ({ quantity: quantity + 1 }));
    const moved = [...others.slice(0, -1), { ...other, cuts: [...other.cuts, { ...cut, quantity: 1 }] }];
    return {
      ...plan,
      patterns: [{ ...one, cuts: [{ ...cut, quantity: cut.quantity + 1 }, ...one.cuts.slice(1)] }, ...moved],
    };
  },
  'a piece is dropped': (plan) => first(plan, (pattern) => ({ ...pattern, cuts: pattern.cuts.slice(1) })),
  'a piece is added': (plan) => firstCut(plan, ({ quantity }) => ({ quantity: quantity + 1 })),
  'a piece is a tick too long': (plan) => firstCut(plan, ({ length }) => ({ length: longer(length, 1) })),
  'the kerf is forgotten': (plan) =>
    first(plan, (pattern) => ({
      ...pattern,
      kerfLoss: 0 as Ticks,
      offcut: longer(pattern.offcut, pattern.kerfLoss || 1),
    })),
  'a board is used twice': (plan) => first(plan, (pattern) => ({ ...pattern, times: pattern.times + 1 })),
  'a pattern stands twice': (plan) => ({ ...plan, patterns: [...plan.patterns, plan.patterns[0] as Pattern] }),
  'a board is of another material': (plan) =>
    first(plan, (pattern) => ({ ...pattern, material: `${pattern.material} veneer` })),
  'a board is of stock that there is none of': (plan) => first(plan, (pattern) => ({ ...pattern, stock: 'none' })),
  'an offcut is longer than what is left': (plan) =>
    first(plan, (pattern) => ({ ...pattern, offcut: longer(pattern.offcut, 1) })),
  'an offcut is kept that is not, or not kept that is': (plan) =>
    first(plan, (pattern) => ({ ...pattern, keep: !pattern.keep })),
  'a total is not the sum': (plan) => ({
    ...plan,
    totals: plan.totals.map((totals, i) =>
      i === 0 ? { ...totals, usedLength: longer(totals.usedLength, -1) } : totals,
    ),
  }),
  'a bound is above what is spent': (plan) => ({
    ...plan,
    totals: plan.totals.map((totals, i) =>
      i === 0
        ? {
            ...totals,
            bound: {
              ...totals.bound,
              cost: (totals.price ?? totals.boughtLength) + (totals.keptValue ?? 0) + (totals.takenValue ?? 0) + 1,
            },
          }
        : totals,
    ),
  }),
  'what cannot be cut is not told': (plan) => ({
    ...plan,
    uncut:
      plan.uncut.length > 0
        ? []
        : [
            {
              ...(plan.patterns[0]?.cuts[0] as Cut),
              material: plan.patterns[0]?.material as string,
              reason: 'stock used up' as const,
            },
          ],
  }),
};

it('hold at every stage, read again as JSON too, and not once they are damaged', () => {
  let damaged = 0;
  fc.assert(
    fc.property(richRequests(), fc.integer({ min: 1, max: 12 }), (request, stopAfter) => {
      fc.pre(flawsOf(request).length === 0);
      for (const plan of stagesOf(request, stopAfter)) {
        expect(verify(request, plan)).toEqual([]);
        expect(verify(JSON.parse(JSON.stringify(request)), JSON.parse(JSON.stringify(plan)))).toEqual([]);
        if (plan.patterns.length === 0) continue;
        for (const [what, damage] of Object.entries(damages)) {
          expect([what, verify(request, damage(plan, request)).length > 0]).toEqual([what, true]);
          damaged++;
        }
      }
    }),
    runs(100),
  );
  expect(damaged).toBeGreaterThan(1000);
});
