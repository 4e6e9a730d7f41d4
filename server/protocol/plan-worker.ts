/** The planner's own thread: a request comes in, a plan that holds or what went wrong goes out. */
import { parentPort } from 'node:worker_threads';
import type { Plan, PlanRequest } from '../cutting/types.ts';
import { stockPlan } from '../cutting/verified.ts';

/** Undefined plan: there is nothing to cut, or the request is flawed. */
export type PlanAnswer =
  | { readonly kind: 'planned'; readonly plan: Plan | undefined }
  | { readonly kind: 'failed'; readonly why: string };

parentPort?.on('message', (request: PlanRequest) => parentPort?.postMessage(answered(request)));

function answered(request: PlanRequest): PlanAnswer {
  try {
    return { kind: 'planned', plan: stockPlan(request) };
  } catch (error) {
    return { kind: 'failed', why: error instanceof Error ? error.message : String(error) };
  }
}
