/** The planner's own thread: a question comes in, a plan that holds, what it leads to, or what went wrong goes out. */
import { parentPort } from 'node:worker_threads';
import { type Advice, type AdviceRequest, adviceOf } from '../cutting/advice.ts';
import type { Plan, PlanRequest } from '../cutting/types.ts';
import { stockPlan } from '../cutting/verified.ts';

export type PlanQuestion =
  | { readonly kind: 'plan'; readonly request: PlanRequest }
  | { readonly kind: 'advise'; readonly asked: AdviceRequest };

/** Undefined plan or advice: there is nothing to cut, or the request is flawed. */
export type PlanAnswer =
  | { readonly kind: 'planned'; readonly plan: Plan | undefined }
  | { readonly kind: 'advised'; readonly advice: Advice | undefined }
  | { readonly kind: 'failed'; readonly why: string };

parentPort?.on('message', (question: PlanQuestion) => parentPort?.postMessage(answered(question)));

function answered(question: PlanQuestion): PlanAnswer {
  try {
    return question.kind === 'plan'
      ? { kind: 'planned', plan: stockPlan(question.request) }
      : { kind: 'advised', advice: adviceOf(question.asked) };
  } catch (error) {
    return { kind: 'failed', why: error instanceof Error ? error.message : String(error) };
  }
}
