/** The planner's own process: a question comes in, a plan that holds, what it leads to, or what went wrong goes out. It ends with whoever asks. */
import { answerTo, type PlanQuestion } from './planning.ts';

process.on('message', (question) => process.send?.(answerTo(question as PlanQuestion)));
