/**
 * The first planner: first-fit decreasing. Longest pieces first, each to the first board with room for
 * it. At once, and good enough to look at while a better plan is sought.
 *
 * Source of the method: D. S. Johnson, "Near-optimal bin packing algorithms", 1973 (from memory). With
 * one stock length it takes at most 11/9 of the fewest boards + 6/9 (G. Dosa, 2007).
 */
import { bestPacking } from './pack.ts';
import { type MaterialPlan, type MaterialTask, materialPlan, tasksOf, wholePlan } from './prepare.ts';
import type { Plan, Planner, PlanRequest, Saw } from './types.ts';

export const firstFit: Planner = {
  name: 'first-fit decreasing',
  *plan(request) {
    yield firstPlan(request);
  },
};

/**
 * A plan that does not depend on the order in which pieces and stock are given. Equal lengths are handled
 * together, so that ten million pieces take no longer than ten. Throws RangeError when the request has flaws.
 */
export function firstPlan(request: PlanRequest): Plan {
  return wholePlan(
    request,
    tasksOf(request).map((task) => firstOf(task, request.saw)),
  );
}

function firstOf(task: MaterialTask, saw: Saw): MaterialPlan {
  return materialPlan(task, task.sizes.length > 0 ? bestPacking(task.sizes, task.kinds) : [], saw);
}
