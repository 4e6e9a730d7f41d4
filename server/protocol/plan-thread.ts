/**
 * Where plans are made, so that a plan of seconds delays no keystroke: a process of its own. Started when there is first
 * something to plan, ended in the middle of a plan that nobody wants any more, started again at the next.
 *
 * It is no thread of the server, because a thread does not die alone: one that goes beyond its limit of memory within
 * a single step takes the whole process with it, as tests/protocol/lives/planner.test.ts shows of a process.
 */
import { type ChildProcess, fork } from 'node:child_process';
import type { Socket } from 'node:net';
import path from 'node:path';
import { failed, gaveNoAnswer, type PlanAnswer, type PlanThread, patience } from './planning.ts';

/** Megabytes that a planner may keep. The plan of ten thousand units takes less than a tenth of it; what takes more has run wild. */
const mostMemory = 1024;
/** So much of the end of what it says on standard error is kept. */
const mostSaid = 10_000;

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
  let worker: ChildProcess | undefined;
  let waiting: ((answer: PlanAnswer) => void) | undefined;

  function started(): ChildProcess {
    const made = fork(file, [], {
      serialization: 'advanced',
      execArgv: [`--max-old-space-size=${memory}`],
      // Options of whoever started the server are not meant for it; in VS Code it is Node by this.
      env: { ...process.env, NODE_OPTIONS: '', ELECTRON_RUN_AS_NODE: '1' },
      // What it might print must not end up between two messages of the protocol.
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    });
    let said = '';
    made.stderr?.setEncoding('utf8').on('data', (text: string) => {
      said = (said + text).slice(-mostSaid);
    });
    // A server whose client has gone away is not kept alive by its planner.
    made.unref();
    made.channel?.unref();
    (made.stderr as Socket | null)?.unref();
    const lost = (why: string): void => {
      if (worker !== made) return;
      worker = undefined;
      settle({ kind: 'failed', why: `The planner ended (${why}); it is started again for the next plan.` });
    };
    made.on('message', (answer: unknown) => {
      if (worker === made) settle(answer as PlanAnswer);
    });
    made.on('error', (error) => lost(error.message));
    // What it said last has come when its output is closed.
    made.on('close', (status, signal) => lost(lastWords(said) ?? (signal === null ? `status ${status}` : signal)));
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
    gone?.kill('SIGKILL');
  }

  function drop(): void {
    waiting = undefined;
    clearTimeout(timer);
    end();
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
        // One that has ended, and of which that has not been heard yet, hears nothing either.
        if (worker?.connected === false) worker = undefined;
        worker ??= started();
        worker.send(question, () => undefined);
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

/** Why a process of Node says that it ends, in a few words. */
function lastWords(said: string): string | undefined {
  if (said.includes('heap out of memory')) return 'out of memory';
  return /^(?:Uncaught )?\w*Error(?: \[\w+\])?: (.+)$/m.exec(said)?.[1];
}
