/** The planner's thread, and which of its plans are kept. Processes are real; the projects are in memory. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import { type AdviceRequest, adviceOf } from '../../server/cutting/advice.ts';
import type { PlanRequest } from '../../server/cutting/types.ts';
import { stockPlan } from '../../server/cutting/verified.ts';
import type { Project } from '../../server/model/project.ts';
import { inches } from '../../server/model/ticks.ts';
import { ofPlanBefore } from '../../server/protocol/plan-state.ts';
import { createPlanThread } from '../../server/protocol/plan-thread.ts';
import { createPlanFindings, type PlanFindings } from '../../server/protocol/planner.ts';
import type { PlanAnswer, PlanQuestion, PlanThread } from '../../server/protocol/planning.ts';
import { resting } from '../../server/protocol/resting.ts';
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

  it('that had nothing to do for a while is let go of, and started again for the next plan', async () => {
    const file = workerFile(
      'names-itself.mjs',
      "process.on('message', () => process.send({ kind: 'failed', why: String(process.pid) }));",
    );
    const own = resting(thread(file), 200);
    const asked = async (): Promise<number> => {
      const answer = await answerOf(own);
      return answer.kind === 'failed' ? Number(answer.why) : 0;
    };
    const first = await asked();
    expect(first).toBeGreaterThan(0);
    // Asked in time, it stays; and it rests only once it has answered.
    expect(await asked()).toBe(first);
    await vi.waitFor(() => expect(() => process.kill(first, 0)).toThrow(), 5000);
    const second = await asked();
    expect(second).not.toBe(first);
    expect(second).toBeGreaterThan(0);
  });

  it('is not let go of in the middle of a plan, however long that takes', async () => {
    const file = workerFile(
      'takes-its-time.mjs',
      "process.on('message', () => setTimeout(() => process.send({ kind: 'failed', why: 'at last' }), 300));",
    );
    const own = resting(thread(file), 20);
    expect(await answerOf(own)).toEqual({ kind: 'failed', why: 'at last' });
    // The second question comes while it would rest.
    expect(await answerOf(own)).toEqual({ kind: 'failed', why: 'at last' });
  });

  it('that dies says so in one sentence, and is started again for the next plan', async () => {
    const mark = JSON.stringify(join(folder, 'died'));
    const file = workerFile(
      'dies-once.mjs',
      `import { existsSync, writeFileSync } from 'node:fs';
process.on('message', () => {
  if (existsSync(${mark})) process.send({ kind: 'planned', plan: undefined });
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
    const never = workerFile('slow.mjs', "process.on('message', () => { for (;;); });\n");
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
  /** What is being asked. */
  readonly open: () => PlanQuestion | undefined;
  readonly answer: (answer: PlanAnswer) => void;
  readonly cancelled: () => number;
  readonly edit: (from: string, to: string) => void;
}

/** A thread that answers when it is told to. */
function watched(briefly = Infinity, text = closet): Watched {
  const project = projectOf(text);
  const asked: PlanRequest[] = [];
  const advised: AdviceRequest[] = [];
  const seen: string[] = [];
  let waiting: ((answer: PlanAnswer) => void) | undefined;
  let open: PlanQuestion | undefined;
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
        open = question;
      },
      end: () => undefined,
      cancel: () => {
        if (waiting) cancelled++;
        waiting = undefined;
        open = undefined;
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
    open: () => open,
    cancelled: () => cancelled,
    answer: (answer) => {
      const tell = waiting;
      waiting = undefined;
      open = undefined;
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

/** Two materials that are short, each by a board that no adding up shows: 60 goes with none of 45. */
const two = ['oak', 'elm']
  .map(
    (name) => `board ${name} { depth 12in; thickness 3/4in }
stock ${name} { length 100in count 2 }
extra ${name}-long { board ${name}; length 60in }
extra ${name}-short { board ${name}; length 45in; count 3 }
`,
  )
  .join('');

/** Answers what is asked as the thread does. */
function answerTruly(w: Watched): void {
  const question = w.open();
  if (question?.kind === 'plan') w.answer({ kind: 'planned', plan: stockPlan(question.request) });
  else if (question) w.answer({ kind: 'advised', advice: adviceOf(question.asked) });
}

describe('what a plan found', () => {
  const found = (w: Watched): string[] =>
    w.plans.of(w.project).map(({ rule, about, message, advice }) => {
      const mark = message.startsWith(ofPlanBefore) ? 'stale ' : '';
      return `${mark}${rule.id} ${about}: ${advice ?? ''}`;
    });
  const buy = 'Buy 1 of 100in beyond the counts: no purchase is smaller.';
  const later = async (w: Watched): Promise<void> => {
    await quiet();
    answerTruly(w);
    answerTruly(w);
  };

  it('comes in two steps: what is short, then what to buy', async () => {
    const w = watched(Infinity, two);
    w.plans.soon([w.project]);
    await quiet();
    answerTruly(w);
    expect(found(w).map((text) => text.slice(0, 28))).toEqual([
      'stock-plan-does-not-fit elm:',
      'stock-plan-does-not-fit oak:',
    ]);
    expect(w.plans.status(w.project).state).toBe('planning');
    answerTruly(w);
    expect(found(w)).toEqual([`stock-short elm: ${buy}`, `stock-short oak: ${buy}`]);
    expect(w.plans.status(w.project)).toEqual({ state: 'current', text: '4 lengths, 2 without stock' });
    expect(w.open()).toBeUndefined();
  });

  it('is kept and says that it is of the plan before, until the next plan has come', async () => {
    const w = watched(Infinity, two);
    w.plans.soon([w.project]);
    await later(w);
    // Three of 46 in and one of 60: it may be short or not, which nobody knows yet.
    w.edit('extra oak-short { board oak; length 45in', 'extra oak-short { board oak; length 46in');
    expect(found(w)).toEqual([`stock-short elm: ${buy}`, `stale stock-short oak: ${buy}`]);
    expect(w.plans.status(w.project)).toEqual({ state: 'planning', text: '4 lengths, 2 without stock' });
    // A second edit does not mark it twice.
    w.edit('length 46in', 'length 45-1/2in');
    const [, oak] = w.plans.of(w.project);
    expect(oak?.message.split(ofPlanBefore)).toHaveLength(2);
    await later(w);
    expect(found(w)).toEqual([`stock-short elm: ${buy}`, `stock-short oak: ${buy}`]);
  });

  it('goes at once where the stock is seen to do, and with the plan that fits', async () => {
    const w = watched(Infinity, two);
    w.plans.soon([w.project]);
    await later(w);
    w.edit('extra oak-short { board oak; length 45in; count 3 }', '');
    expect(found(w)).toEqual([`stock-short elm: ${buy}`, `stale stock-short oak: ${buy}`]);
    await later(w);
    expect(found(w)).toEqual([`stock-short elm: ${buy}`]);
  });

  it('is planned again for the material that changed, and for no other', async () => {
    const w = watched(Infinity, two);
    w.plans.soon([w.project]);
    await later(w);
    expect(w.asked).toHaveLength(1);
    w.edit('extra oak-short { board oak; length 45in', 'extra oak-short { board oak; length 46in');
    await later(w);
    expect(w.asked).toHaveLength(2);
    expect(w.asked[1]?.pieces.map(({ material }) => material)).toEqual(['oak', 'oak']);
    expect(w.advised[1]?.known.map(({ material }) => material)).toEqual(['elm']);
  });

  it('near a board is taken up by what is written, and is stale meanwhile', async () => {
    const near = `board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft price 20.00 EUR }
extra rail { board oak; length 48in; count 2 }
`;
    const w = watched(Infinity, near);
    w.plans.soon([w.project]);
    await later(w);
    expect(found(w)).toEqual([
      'stock-nearly-saved rail: Cut them 1/16in shorter where that does. Then run the checks again.',
    ]);
    expect(w.plans.status(w.project).text).toBe('2 lengths, 40.00 EUR');
    w.edit('count 2', 'count 4');
    expect(found(w)).toEqual([
      'stale stock-nearly-saved rail: Cut them 1/16in shorter where that does. Then run the checks again.',
    ]);
    await later(w);
    expect(w.plans.status(w.project)).toEqual({ state: 'current', text: '4 lengths, 80.00 EUR' });
    // The dimension itself was written anew: what was said of it is taken down at once.
    w.edit('length 48in; count 4', 'length 47-15/16in; count 2');
    expect(found(w)).toEqual([]);
    await later(w);
    expect(found(w)).toEqual([]);
    expect(w.plans.status(w.project)).toEqual({ state: 'current', text: '1 length, 20.00 EUR' });
  });

  it('is marked too while nobody has had the time to look whether it still holds', async () => {
    const w = watched(0, two);
    w.plans.soon([w.project]);
    await later(w);
    w.edit('extra oak-short { board oak; length 45in', 'extra oak-short { board oak; length 46in');
    expect(found(w)).toEqual([`stale stock-short elm: ${buy}`, `stale stock-short oak: ${buy}`]);
    await quiet();
    expect(found(w)).toEqual([`stock-short elm: ${buy}`, `stale stock-short oak: ${buy}`]);
  });

  it('goes where the plan fails', async () => {
    const w = watched(Infinity, two);
    w.plans.soon([w.project]);
    await later(w);
    w.edit('extra oak-short { board oak; length 45in', 'extra oak-short { board oak; length 46in');
    await quiet();
    w.answer({ kind: 'failed', why: 'The planner ended.' });
    expect(found(w)).toEqual([`stock-short elm: ${buy}`]);
    expect(w.seen).toContain('error: The planner ended.');
  });
});
