/** A plan that holds, of one planner: plain data in and out, so that it can be made on another thread. */
import { firstFit } from './first-fit.ts';
import { cheapest } from './optimal.ts';
import { flawsOf } from './request.ts';
import { withSpares } from './spares.ts';
import { assertHolds, finished, planSteps } from './turns.ts';
import type { Plan, Planner, PlanRequest } from './types.ts';

/**
 * The planner's last plan, with the spares that find room in it. Undefined where there is nothing to cut, or the
 * request has flaws (see request.ts). Every plan has passed the verifier; one that has not is a fault of the planner and thrown.
 */
export function verifiedPlan(request: PlanRequest, planner: Planner): Plan | undefined {
  return finished(verifiedSteps(request, planner));
}

function* verifiedSteps(request: PlanRequest, planner: Planner): Generator<void, Plan | undefined> {
  if (request.pieces.length === 0 || flawsOf(request).length > 0) return undefined;
  const { spares: _, ...asked } = request;
  const { plan } = yield* planSteps(asked, planner, Infinity);
  return plan && filled(request, plan);
}

/** A plan that holds, with the spares that find room in what it leaves. */
export function filled(request: PlanRequest, plan: Plan): Plan {
  const full = withSpares(request, plan);
  if (full !== plan) assertHolds(request, full);
  return full;
}

/**
 * Enough of a plan to say what is short: the first one, at once; where it runs out of stock, the one that was
 * looked for, so that nothing is called short that a better plan would cut.
 */
export function stockPlan(request: PlanRequest): Plan | undefined {
  return finished(stockPlanSteps(request));
}

/** The same in steps. */
export function* stockPlanSteps(request: PlanRequest): Generator<void, Plan | undefined> {
  const first = yield* verifiedSteps(request, firstFit);
  const isShort = first?.uncut.some(({ reason }) => reason === 'stock used up');
  return isShort ? yield* verifiedSteps(request, cheapest) : first;
}
