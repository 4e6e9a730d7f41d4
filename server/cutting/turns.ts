/** A planner that is not given all the time in the world: its turns are counted, so that every machine stops alike. */
import type { Plan, Planner, PlanRequest } from './types.ts';
import { verify } from './verify.ts';

/**
 * The last plan after so many turns, or after the first that is good enough. Undefined where the planner makes
 * none. It has passed the verifier; one that has not is a fault of the planner and thrown.
 */
export function planWithin(
  request: PlanRequest,
  planner: Planner,
  turns: number,
  isEnough: (plan: Plan) => boolean = () => false,
): { readonly plan: Plan | undefined; readonly turns: number } {
  let plan: Plan | undefined;
  let taken = 0;
  for (const better of planner.plan(request)) {
    plan = better;
    taken++;
    if (taken >= turns || isEnough(better)) break;
  }
  if (plan) assertHolds(request, plan);
  return { plan, turns: taken };
}

/** Throws where a plan does not hold. */
export function assertHolds(request: PlanRequest, plan: Plan): void {
  const [violation] = verify(request, plan);
  if (violation) throw new Error(`the cutting plan does not hold: ${violation.message}`);
}
