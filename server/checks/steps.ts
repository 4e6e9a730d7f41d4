/** Work that is done in small steps, for who has something else to do between two of them. */
import type { Plan, PlanRequest } from '../cutting/types.ts';
import { stockPlan } from '../cutting/verified.ts';

/** Now and then it asks for a plan, which takes seconds in a whole building, and goes on with it. */
export type Steps<T> = Generator<PlanRequest | undefined, T, Plan | undefined>;

/** All steps at once. */
export function atOnce<T>(steps: Steps<T>): T {
  let step = steps.next();
  while (!step.done) step = steps.next(step.value && stockPlan(step.value));
  return step.value;
}
