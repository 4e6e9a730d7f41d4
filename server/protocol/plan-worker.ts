/** The planner's own thread: a question comes in, a plan that holds, what it leads to, or what went wrong goes out. */
import { parentPort } from 'node:worker_threads';
import { answerTo, type PlanQuestion } from './planning.ts';

parentPort?.on('message', (question: PlanQuestion) => parentPort?.postMessage(answerTo(question)));
