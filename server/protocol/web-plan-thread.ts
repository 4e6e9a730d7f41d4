/**
 * The planner in a browser: a worker of the server's worker where the page allows one, and the server's own thread
 * in small slices where it does not. Which of the two is found out at the first question.
 */
import {
  answering,
  failed,
  gaveNoAnswer,
  type PlanAnswer,
  type PlanQuestion,
  type PlanThread,
  patience,
} from './planning.ts';
import { nextTurn } from './turn.ts';
import { ready, scope, type WebWorker } from './web-worker.ts';

type Tell = (answer: PlanAnswer) => void;

/** `address` tells where the planner's script is; undefined where nobody knows. */
export function createWebPlanThread(
  address: () => string | undefined,
  start: (address: string) => WebWorker | undefined = startWorker,
  longest = patience,
): PlanThread {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const slices = createSlicedPlanner();
  let worker: WebWorker | undefined;
  let isReady = false;
  let isRefused = false;
  let waiting: { readonly question: PlanQuestion; readonly tell: Tell } | undefined;

  function settle(answer: PlanAnswer): void {
    const tell = waiting?.tell;
    waiting = undefined;
    clearTimeout(timer);
    tell?.(answer);
  }

  function started(): WebWorker | undefined {
    const at = isRefused ? undefined : address();
    const made = at === undefined ? undefined : start(at);
    if (!made) return undefined;
    made.onmessage = ({ data }) => {
      if (worker !== made) return;
      if (data === ready) isReady = true;
      else settle(data as PlanAnswer);
    };
    made.onerror = (event) => {
      event.preventDefault?.();
      if (worker !== made) return;
      worker = undefined;
      made.terminate();
      if (isReady) {
        settle(
          failed(`The planner ended (${event.message ?? 'no reason given'}); it is started again for the next plan.`),
        );
        return;
      }
      // The page does not let a worker start another one, or the script is not where it was said to be.
      isRefused = true;
      if (waiting) slices.ask(waiting.question, settle);
    };
    return made;
  }

  function end(): void {
    slices.cancel();
    worker?.terminate();
    worker = undefined;
  }

  function drop(): void {
    waiting = undefined;
    clearTimeout(timer);
    end();
  }

  return {
    ask(question, tell) {
      waiting = { question, tell };
      clearTimeout(timer);
      timer = setTimeout(() => {
        end();
        settle(gaveNoAnswer(longest));
      }, longest);
      try {
        if (!worker) {
          isReady = false;
          worker = started();
        }
        if (worker) worker.postMessage(question);
        else slices.ask(question, settle);
      } catch (error) {
        settle(failed(error));
      }
    },
    cancel() {
      if (waiting) drop();
    },
    end: drop,
  };
}

/** Milliseconds of planning before messages are looked at. One step of the planner may take longer. */
const slice = 8;

/** Plans on the thread that asks, a little at a time. */
export function createSlicedPlanner(): PlanThread {
  let stop: (() => void) | undefined;
  const end = (): void => {
    stop?.();
    stop = undefined;
  };
  return {
    ask(question, tell) {
      const steps = answering(question);
      const work = (): void => {
        const until = performance.now() + slice;
        for (;;) {
          const { done, value } = steps.next();
          if (done) {
            stop = undefined;
            tell(value);
            return;
          }
          if (performance.now() >= until) break;
        }
        later();
      };
      const later = (): void => {
        const cancel = nextTurn(work);
        stop = () => {
          cancel();
          steps.return({ kind: 'failed', why: 'cancelled' });
        };
      };
      later();
    },
    cancel: end,
    end,
  };
}

/** Undefined where there are no workers. A script of another origin is taken in by one of our own. */
function startWorker(address: string): WebWorker | undefined {
  const { Worker } = scope;
  if (!Worker) return undefined;
  try {
    return new Worker(address);
  } catch {
    try {
      const text = `importScripts(${JSON.stringify(address)});`;
      return new Worker(URL.createObjectURL(new Blob([text], { type: 'text/javascript' })));
    } catch {
      return undefined;
    }
  }
}
