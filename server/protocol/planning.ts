/** What is asked of whoever plans beside the typing, and the answer: plain data, so that it can be a thread of its own. */
import { type Advice, type AdviceRequest, adviceSteps } from '../cutting/advice.ts';
import { finished } from '../cutting/turns.ts';
import type { Plan, PlanRequest } from '../cutting/types.ts';
import { stockPlanSteps } from '../cutting/verified.ts';

export type PlanQuestion =
  | { readonly kind: 'plan'; readonly request: PlanRequest }
  | { readonly kind: 'advise'; readonly asked: AdviceRequest };

/** Undefined plan or advice: there is nothing to cut, or the request is flawed. */
export type PlanAnswer =
  | { readonly kind: 'planned'; readonly plan: Plan | undefined }
  | { readonly kind: 'advised'; readonly advice: Advice | undefined }
  | { readonly kind: 'failed'; readonly why: string };

/** Where plans are made. One question is open at a time. */
export interface PlanThread {
  /** Asks one question. The answer comes later, or never where it is cancelled. */
  readonly ask: (question: PlanQuestion, answer: (answer: PlanAnswer) => void) => void;
  /** Ends what is being worked on; nothing is answered for it. */
  readonly cancel: () => void;
  /** Lets go of it, whatever it is doing; nothing is answered. The next question starts it again. */
  readonly end: () => void;
}

/** The answer, on a thread that has nothing else to do. */
export function answerTo(question: PlanQuestion): PlanAnswer {
  return finished(answering(question));
}

/** The same in steps, for a thread that gives way between two of them. */
export function* answering(question: PlanQuestion): Generator<void, PlanAnswer> {
  try {
    return question.kind === 'plan'
      ? { kind: 'planned', plan: yield* stockPlanSteps(question.request) }
      : { kind: 'advised', advice: yield* adviceSteps(question.asked) };
  } catch (error) {
    return failed(error);
  }
}

/** Milliseconds until a planner that says nothing is ended: plans have their own limits, and take seconds. */
export const patience = 10 * 60_000;

export function gaveNoAnswer(milliseconds: number): PlanAnswer {
  const long = milliseconds < 60_000 ? `${milliseconds / 1000} s` : `${milliseconds / 60_000} minutes`;
  return { kind: 'failed', why: `The planner gave no answer in ${long}; it is started again for the next plan.` };
}

export function failed(error: unknown): PlanAnswer {
  return { kind: 'failed', why: error instanceof Error ? error.message : String(error) };
}
