/**
 * The thread that plans, so that a plan of seconds delays no keystroke. Started when there is first
 * something to plan, ended in the middle of a plan that nobody wants any more, started again at the next.
 */
import path from 'node:path';
import { Worker } from 'node:worker_threads';
import { failed, gaveNoAnswer, type PlanAnswer, type PlanThread, patience } from './planning.ts';

/** Megabytes that a planner may keep. The plan of ten thousand units takes less than a tenth of it; what takes more has run wild. */
const mostMemory = 1024;

export interface PlanThreadLimits {
  /** Megabytes. */
  readonly memory?: number;
  /** Milliseconds until one that says nothing is ended. */
  readonly patience?: number;
}

/** Beside this file: its source, or its bundle where this is one. */
const workerFile = path.join(
  import.meta.dirname,
  import.meta.filename.endsWith('.ts') ? 'plan-worker.ts' : 'plan-worker.cjs',
);

export function createPlanThread(file: string = workerFile, limits: PlanThreadLimits = {}): PlanThread {
  const { memory = mostMemory, patience: longest = patience } = limits;
  let timer: NodeJS.Timeout | undefined;
  let worker: Worker | undefined;
  let waiting: ((answer: PlanAnswer) => void) | undefined;

  function started(): Worker {
    // What it might print must not end up between two messages of the protocol.
    const resourceLimits = { maxOldGenerationSizeMb: memory };
    const made = new Worker(file, { stdout: true, execArgv: [], resourceLimits });
    made.stdout.resume();
    // A server whose client has gone away is not kept alive by its planner.
    made.unref();
    const lost = (why: string): void => {
      if (worker !== made) return;
      worker = undefined;
      settle({ kind: 'failed', why: `The planner ended (${why}); it is started again for the next plan.` });
    };
    made.on('message', (answer: PlanAnswer) => {
      if (worker === made) settle(answer);
    });
    made.on('error', (error: unknown) => lost(error instanceof Error ? error.message : String(error)));
    made.on('messageerror', (error) => lost(error.message));
    made.on('exit', (status) => lost(`status ${status}`));
    return made;
  }

  function settle(answer: PlanAnswer): void {
    const tell = waiting;
    waiting = undefined;
    clearTimeout(timer);
    tell?.(answer);
  }

  function end(): void {
    const gone = worker;
    worker = undefined;
    void gone?.terminate();
  }

  return {
    ask(question, answer) {
      waiting = answer;
      clearTimeout(timer);
      timer = setTimeout(() => {
        end();
        settle(gaveNoAnswer(longest));
      }, longest).unref();
      try {
        worker ??= started();
        worker.postMessage(question);
      } catch (error) {
        settle(failed(error));
      }
    },
    cancel() {
      if (!waiting) return;
      waiting = undefined;
      clearTimeout(timer);
      end();
    },
  };
}
