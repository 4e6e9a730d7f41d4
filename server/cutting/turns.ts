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
  isEnough?: (plan: Plan) => boolean,
): Outcome {
  return finished(planSteps(request, planner, turns, isEnough));
}

export interface Outcome {
  readonly plan: Plan | undefined;
  /** How many were taken. */
  readonly turns: number;
}

/** The same, turn by turn, for whoever has something else to do between two of them. */
export function* planSteps(
  request: PlanRequest,
  planner: Planner,
  turns: number,
  isEnough: (plan: Plan) => boolean = () => false,
): Generator<void, Outcome> {
  let plan: Plan | undefined;
  let taken = 0;
  for (const better of planner.plan(request)) {
    plan = better;
    taken++;
    if (taken >= turns || isEnough(better)) break;
    yield;
  }
  if (plan) assertHolds(request, plan);
  return { plan, turns: taken };
}

/** All steps at once. */
export function finished<T>(steps: Generator<void, T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/** Throws where a plan does not hold. */
export function assertHolds(request: PlanRequest, plan: Plan): void {
  const [violation] = verify(request, plan);
  if (violation) throw new Error(`the cutting plan does not hold: ${violation.message}`);
}
