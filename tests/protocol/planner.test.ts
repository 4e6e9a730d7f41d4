/** The planner's thread, and which of its plans are kept. Worker threads are real; the projects are in memory. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import type { AdviceRequest } from '../../server/cutting/advice.ts';
import type { PlanRequest } from '../../server/cutting/types.ts';
import type { Project } from '../../server/model/project.ts';
import { inches } from '../../server/model/ticks.ts';
import { createPlanThread, type PlanThread } from '../../server/protocol/plan-thread.ts';
import type { PlanAnswer } from '../../server/protocol/plan-worker.ts';
import { createPlanFindings, type PlanFindings } from '../../server/protocol/planner.ts';
import { projectOf } from '../model/support.ts';

const folder = mkdtempSync(join(tmpdir(), 'storypole-planner-'));
const running: (() => void)[] = [];
afterEach(() => {
  for (const stop of running.splice(0)) stop();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A worker's file with this text. */
function workerFile(name: string, text: string): string {
  const file = join(folder, name);
  writeFileSync(file, text);
  return file;
}

function thread(file?: string): PlanThread {
  const made = createPlanThread(file);
  running.push(made.cancel);
  return made;
}

const request: PlanRequest = {
  pieces: [{ id: 'a', material: 'white-12', length: inches(40), quantity: 3 }],
  stock: [{ id: 'b', material: 'white-12', length: inches(96), offcut: false }],
  saw: { kerf: inches(0.125), keepOffcutsFrom: inches(24) },
};

const answerOf = (on: PlanThread): Promise<PlanAnswer> =>
  new Promise((resolve) => on.ask({ kind: 'plan', request }, resolve));

describe('the thread', () => {
  it('plans, again and again', async () => {
    const own = thread();
    for (let i = 0; i < 3; i++) {
      const answer = await answerOf(own);
      // Two of 40 in fit a board of 96 in, so three take two boards.
      expect(answer.kind === 'planned' && answer.plan?.totals[0]?.boardCount).toBe(2);
    }
  });

  it('that dies says so in one sentence, and is started again for the next plan', async () => {
    const mark = JSON.stringify(join(folder, 'died'));
    const file = workerFile(
      'dies-once.mjs',
      `import { parentPort } from 'node:worker_threads';
import { existsSync, writeFileSync } from 'node:fs';
parentPort.on('message', () => {
  if (existsSync(${mark})) parentPort.postMessage({ kind: 'planned', plan: undefined });
  else { writeFileSync(${mark}, ''); throw new Error('out of boards'); }
});
`,
    );
    const own = thread(file);
    expect(await answerOf(own)).toEqual({
      kind: 'failed',
      why: 'The planner ended (out of boards); it is started again for the next plan.',
    });
    expect(await answerOf(own)).toEqual({ kind: 'planned', plan: undefined });
  });

  it('that is not there is told like one that died', async () => {
    const answer = await answerOf(thread(join(folder, 'nowhere.cjs')));
    expect(answer.kind).toBe('failed');
  });

  it('answers nothing for a plan that was cancelled, and plans the next', async () => {
    const never = workerFile(
      'slow.mjs',
      "import { parentPort } from 'node:worker_threads';\nparentPort.on('message', () => { for (;;); });\n",
    );
    const slow = thread(never);
    let answers = 0;
    slow.ask({ kind: 'plan', request }, () => answers++);
    await new Promise((go) => setTimeout(go, 200));
    slow.cancel();
    const own = thread();
    own.ask({ kind: 'plan', request }, () => answers++);
    own.cancel();
    expect((await answerOf(own)).kind).toBe('planned');
    expect(answers).toBe(0);
  });
});

/** Three shelves of 36 in, and one board of 96 in, that holds two. */
const closet = `template t {
  wall back { length 36in; height 96in }
  board oak
  zone main on back {
    width fill
    shelf low { at 20in }
    shelf mid { at 40in }
    shelf top { at 72in }
  }
}
unit u t
board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft count 1 }
`;

interface Watched {
  readonly project: Project;
  readonly plans: PlanFindings;
  /** What the findings were after each turn that could have changed them. */
  readonly seen: string[];
  /** Requests that were planned. */
  readonly asked: PlanRequest[];
  /** What was asked about a plan. */
  readonly advised: AdviceRequest[];
  readonly answer: (answer: PlanAnswer) => void;
  readonly cancelled: () => number;
  readonly edit: (from: string, to: string) => void;
}

/** A thread that answers when it is told to. */
function watched(briefly = Infinity): Watched {
  const project = projectOf(closet);
  const asked: PlanRequest[] = [];
  const advised: AdviceRequest[] = [];
  const seen: string[] = [];
  let waiting: ((answer: PlanAnswer) => void) | undefined;
  let cancelled = 0;
  const plans = createPlanFindings({
    onPlanned: () => see(),
    onError: (error) => seen.push(`error: ${error}`),
    quiet: 5,
    briefly,
    thread: {
      ask: (question, tell) => {
        if (question.kind === 'advise') advised.push(structuredClone(question.asked));
        else asked.push(structuredClone(question.request));
        waiting = tell;
      },
      cancel: () => {
        if (waiting) cancelled++;
        waiting = undefined;
      },
    },
  });
  running.push(plans.stop);
  const see = (): void => {
    const of = plans.of(project).map(({ rule, place }) => `${rule.id} at ${place.statement.text.slice(0, 24)}`);
    seen.push(of.join(', '));
  };
  return {
    project,
    plans,
    seen,
    asked,
    advised,
    cancelled: () => cancelled,
    answer: (answer) => {
      const tell = waiting;
      waiting = undefined;
      tell?.(answer);
    },
    edit(from, to) {
      const text = project.sources.get('/p/main.closet')?.text ?? '';
      const start = text.indexOf(from);
      expect(start, from).toBeGreaterThanOrEqual(0);
      plans.wait();
      project.editFile('/p/main.closet', [{ start, end: start + from.length, text: to }]);
      see();
      project.refreshNow();
      plans.soon([project]);
      see();
    },
  };
}

const quiet = (): Promise<void> => new Promise((go) => setTimeout(go, 60));
const planned: PlanAnswer = { kind: 'planned', plan: undefined };

describe('which plan is kept', () => {
  it('is asked for once it is quiet, and not again while the demand is the same', async () => {
    const w = watched();
    w.plans.soon([w.project]);
    expect(w.asked).toEqual([]);
    await quiet();
    expect(w.asked).toHaveLength(1);
    w.answer(planned);
    expect(w.plans.of(w.project).map((f) => f.rule.id)).toEqual(['stock-short']);
    w.seen.length = 0;
    // Nothing of these changes what is to be cut: another height, a comment in the stock, a line above all.
    w.edit('at 40in', 'at 41in');
    w.edit('count 1', '/* one */ count 1');
    w.edit('template t', '// a line\ntemplate t');
    await quiet();
    expect(w.asked).toHaveLength(1);
    expect(w.seen.length).toBeGreaterThan(5);
    for (const now of w.seen) expect(now).toMatch(/^stock-short at stock oak/);
  });

  it('is given up when what is to be cut changes, in the middle of it too', async () => {
    const w = watched();
    w.plans.soon([w.project]);
    await quiet();
    expect(w.asked).toHaveLength(1);
    w.edit('at 40in', 'at 41in');
    await quiet();
    expect([w.asked.length, w.cancelled()]).toEqual([1, 0]);
    w.edit('shelf mid { at 41in }', '');
    // At once, before it is quiet.
    expect(w.cancelled()).toBe(1);
    await quiet();
    expect(w.asked).toHaveLength(2);
    w.answer(planned);
    expect(w.plans.of(w.project)).toEqual([]);
    expect(w.seen.at(-1)).toBe('');
  });

  it('is given up once it is quiet where looking takes long, and its findings stay till then', async () => {
    const w = watched(0);
    w.plans.soon([w.project]);
    await quiet();
    w.seen.length = 0;
    w.edit('shelf mid { at 40in }', '');
    expect([w.cancelled(), ...w.seen]).toEqual([0, ...w.seen.map(() => expect.stringMatching(/^stock-short/))]);
    await quiet();
    expect([w.cancelled(), w.asked.length, w.seen.at(-1)]).toEqual([1, 2, '']);
  });

  it('is found at its place again while a building is too large to be looked at between keystrokes', async () => {
    const w = watched(0);
    w.plans.soon([w.project]);
    await quiet();
    w.answer(planned);
    // Nothing is looked at here: the findings of before are carried to the text as it is now.
    const text = w.project.sources.get('/p/main.closet')?.text ?? '';
    const start = text.indexOf('count 1');
    const height = text.indexOf('at 40in');
    w.project.editFile('/p/main.closet', [
      { start, end: start, text: 'price 9 EUR ' },
      { start: height, end: height, text: 'fixed; ' },
    ]);
    const [finding] = w.plans.of(w.project);
    expect(finding?.place.statement.text).toBe('stock oak { length 8ft price 9 EUR count 1 }');
    expect(finding?.related.map((r) => r.place.statement.text)).toContain('shelf mid { fixed; at 40in }');
    w.project.editFile('/p/main.closet', [{ start: text.indexOf('stock oak'), end: text.length, text: '' }]);
    expect(w.plans.of(w.project)).toEqual([]);
  });

  it('that fails is said, and the same is not tried again', async () => {
    const w = watched();
    w.plans.soon([w.project]);
    await quiet();
    w.answer({ kind: 'failed', why: 'The planner ended.' });
    w.plans.soon([w.project]);
    await quiet();
    expect(w.seen).toContain('error: The planner ended.');
    expect(w.asked).toHaveLength(1);
    // What is proven by adding up needs no plan.
    expect(w.plans.of(w.project).map((f) => f.rule.id)).toEqual(['stock-short']);
  });
});
