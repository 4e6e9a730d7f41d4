/** Work that takes seconds, beside the typing: a little at a time, its plans where plans are made. */
import type { Steps } from '../checks/steps.ts';
import type { Plan, PlanRequest } from '../cutting/types.ts';
import type { PlanThread } from './planning.ts';
import { nextTurn } from './turn.ts';

/** Milliseconds of work before messages are looked at. */
const slice = 5;

export interface LongWork {
  /** Asked between two slices: where nobody wants it any more, it is left as it is. */
  readonly isWanted: () => boolean;
  /** A planner of its own, as the one that looks after the plan of the project has its own work. */
  readonly startPlanner: () => PlanThread;
}

/** What it comes to; undefined where it is not wanted any more. Fails as a step of it does, or the planner. */
export async function done<T>(steps: Steps<T>, { isWanted, startPlanner }: LongWork): Promise<T | undefined> {
  let planner: PlanThread | undefined;
  try {
    let step = steps.next();
    for (;;) {
      const until = performance.now() + slice;
      while (!step.done && step.value === undefined && performance.now() < until) step = steps.next();
      if (step.done) return step.value;
      if (step.value !== undefined) {
        planner ??= startPlanner();
        const plan = await planned(planner, step.value, isWanted);
        if (!isWanted()) return undefined;
        step = steps.next(plan);
      } else {
        await new Promise<void>((go) => nextTurn(go));
        if (!isWanted()) return undefined;
        step = steps.next();
      }
    }
  } finally {
    planner?.end();
  }
}

/** Milliseconds between two looks at whether a plan is still wanted. */
const look = 100;

function planned(planner: PlanThread, request: PlanRequest, isWanted: () => boolean): Promise<Plan | undefined> {
  return new Promise((resolve, reject) => {
    const timer = setInterval(() => {
      if (isWanted()) return;
      clearInterval(timer);
      resolve(undefined);
    }, look);
    planner.ask({ kind: 'plan', request }, (answer) => {
      clearInterval(timer);
      if (answer.kind === 'planned') resolve(answer.plan);
      else reject(new Error(answer.kind === 'failed' ? answer.why : 'the planner answered another question'));
    });
  });
}
