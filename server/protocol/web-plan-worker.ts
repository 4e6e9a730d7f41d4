/** The planner's own thread in a browser; plan-worker.ts is the same in Node. */
import { answerTo, type PlanQuestion } from './planning.ts';
import { ready, scope } from './web-worker.ts';

scope.onmessage = ({ data }) => scope.postMessage(answerTo(data as PlanQuestion));
scope.postMessage(ready);
