/** The planner in a browser: a worker where there can be one, slices of the server's own thread where there cannot. */
import { describe, expect, it } from 'vitest';
import type { PlanRequest } from '../../server/cutting/types.ts';
import { inches } from '../../server/model/ticks.ts';
import { answerTo, type PlanAnswer, type PlanQuestion, type PlanThread } from '../../server/protocol/planning.ts';
import { createSlicedPlanner, createWebPlanThread } from '../../server/protocol/web-plan-thread.ts';
import { ready, type WebWorker } from '../../server/protocol/web-worker.ts';

/** Boards run out, so a better plan than the first is looked for. */
const request: PlanRequest = {
  pieces: Array.from({ length: 30 }, (_, i) => ({
    id: `p${i}`,
    material: 'oak',
    length: inches(17 + ((i * 7) % 41) + i / 8),
    quantity: 1 + (i % 4),
  })),
  stock: [{ id: 'b', material: 'oak', length: inches(96), offcut: false, count: 20 }],
  saw: { kerf: inches(0.125), keepOffcutsFrom: inches(24) },
};
const plan: PlanQuestion = { kind: 'plan', request };

const answerOf = (on: PlanThread, question: PlanQuestion = plan): Promise<PlanAnswer> =>
  new Promise((resolve) => on.ask(question, resolve));

interface Fake extends WebWorker {
  readonly asked: unknown[];
  ended: boolean;
}

/** A worker that does what its test says. */
function fake(onAsked: (worker: Fake, question: PlanQuestion) => void): Fake {
  const made: Fake = {
    asked: [],
    ended: false,
    onmessage: null,
    onerror: null,
    postMessage(question) {
      made.asked.push(question);
      onAsked(made, question as PlanQuestion);
    },
    terminate() {
      made.ended = true;
    },
  };
  return made;
}

const works = () =>
  fake((worker, question) => {
    setTimeout(() => worker.onmessage?.({ data: ready }));
    setTimeout(() => worker.onmessage?.({ data: answerTo(question) }));
  });
const refused = () => fake((worker) => setTimeout(() => worker.onerror?.({ message: 'blocked' })));

describe('slices', () => {
  it('come to the same plan and the same advice as a thread of its own', async () => {
    const planned = await answerOf(createSlicedPlanner());
    expect(planned).toEqual(answerTo(plan));
    expect(planned.kind === 'planned' && planned.plan?.patterns.length).toBeGreaterThan(0);
    const advise: PlanQuestion = {
      kind: 'advise',
      asked: {
        request,
        plan: (planned as { plan: NonNullable<(PlanAnswer & { kind: 'planned' })['plan']> }).plan,
        isBest: false,
        known: [],
        levers: [{ id: 'l', moves: [{ piece: 'p3', quantity: 4, by: 1 }] }],
        shorten: { most: inches(1), step: inches(1 / 8) },
      },
    };
    expect(await answerOf(createSlicedPlanner(), advise)).toEqual(answerTo(advise));
  });

  it('give way to what else there is to do', async () => {
    let turns = 0;
    let open = true;
    const count = (): void => {
      turns++;
      if (open) setImmediate(count);
    };
    count();
    await answerOf(createSlicedPlanner());
    open = false;
    expect(turns).toBeGreaterThan(2);
  });

  it('answer nothing for what was cancelled, and answer the next', async () => {
    const own = createSlicedPlanner();
    let answers = 0;
    own.ask(plan, () => answers++);
    own.cancel();
    own.ask(plan, () => answers++);
    await new Promise((later) => setTimeout(later, 15));
    own.cancel();
    const last = await answerOf(own);
    expect(last.kind).toBe('planned');
    expect(answers).toBe(0);
  });

  it('say what went wrong in one sentence', async () => {
    const broken = { kind: 'plan', request: { ...request, pieces: undefined } } as unknown as PlanQuestion;
    expect((await answerOf(createSlicedPlanner(), broken)).kind).toBe('failed');
  });
});

describe('a worker', () => {
  it('is asked again and again, and ended with what nobody wants any more', async () => {
    const started: Fake[] = [];
    const start = (): WebWorker => {
      const made = works();
      started.push(made);
      return made;
    };
    const own = createWebPlanThread(() => 'https://example.org/plan.js', start);
    for (let i = 0; i < 2; i++) expect(await answerOf(own)).toEqual(answerTo(plan));
    expect(started).toHaveLength(1);
    let answers = 0;
    own.ask(plan, () => answers++);
    own.cancel();
    expect(started[0]?.ended).toBe(true);
    expect((await answerOf(own)).kind).toBe('planned');
    expect(started).toHaveLength(2);
    expect(answers).toBe(0);
  });

  it('that the page refuses is done without, from then on', async () => {
    let starts = 0;
    const own = createWebPlanThread(
      () => 'https://example.org/plan.js',
      () => {
        starts++;
        return refused();
      },
    );
    for (let i = 0; i < 2; i++) expect(await answerOf(own)).toEqual(answerTo(plan));
    expect(starts).toBe(1);
  });

  it('that nobody knows the script of is done without', async () => {
    const own = createWebPlanThread(
      () => undefined,
      () => {
        throw new Error('not to be started');
      },
    );
    expect((await answerOf(own)).kind).toBe('planned');
    // Here there is no such thing as a worker of a browser.
    expect((await answerOf(createWebPlanThread(() => 'https://example.org/plan.js'))).kind).toBe('planned');
  });

  it('that ends in the middle says so, and is started again', async () => {
    let starts = 0;
    const own = createWebPlanThread(
      () => 'https://example.org/plan.js',
      () => {
        starts++;
        if (starts > 1) return works();
        return fake((worker) => {
          setTimeout(() => worker.onmessage?.({ data: ready }));
          setTimeout(() => worker.onerror?.({ message: 'out of memory' }));
        });
      },
    );
    expect(await answerOf(own)).toEqual({
      kind: 'failed',
      why: 'The planner ended (out of memory); it is started again for the next plan.',
    });
    expect((await answerOf(own)).kind).toBe('planned');
  });
});
