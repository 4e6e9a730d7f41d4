/** Work of seconds, in slices between which messages are looked at, with a planner of its own. */
import { describe, expect, it } from 'vitest';
import type { Steps } from '../../server/checks/steps.ts';
import type { Plan, PlanRequest } from '../../server/cutting/types.ts';
import { done } from '../../server/protocol/long-work.ts';
import type { PlanAnswer, PlanThread } from '../../server/protocol/planning.ts';

const request = { parts: [] } as unknown as PlanRequest;
const plan = { version: 1 } as unknown as Plan;

function planner(answer: PlanAnswer | undefined): { thread: PlanThread; said: string[] } {
  const said: string[] = [];
  const thread: PlanThread = {
    ask: ({ kind }, tell) => {
      said.push(kind);
      if (answer) setImmediate(() => tell(answer));
    },
    cancel: () => said.push('cancelled'),
    end: () => said.push('ended'),
  };
  return { thread, said };
}

const noPlanner = (): PlanThread => {
  throw new Error('none was asked for');
};

/** Takes about so many milliseconds, a millisecond a step. */
function* busy(milliseconds: number): Steps<string> {
  for (let i = 0; i < milliseconds; i++) {
    const until = performance.now() + 1;
    while (performance.now() < until);
    yield;
  }
  return 'done';
}

describe('work in slices', () => {
  it('comes to what its steps come to', async () => {
    expect(await done(busy(0), { isWanted: () => true, startPlanner: noPlanner })).toBe('done');
    expect(await done(busy(30), { isWanted: () => true, startPlanner: noPlanner })).toBe('done');
  });

  it('gives way to whatever else has come', async () => {
    const order: string[] = [];
    setImmediate(() => order.push('other'));
    await done(busy(30), { isWanted: () => true, startPlanner: noPlanner }).then(() => order.push('work'));
    expect(order).toEqual(['other', 'work']);
  });

  it('is left as it is once nobody wants it', async () => {
    let steps = 0;
    function* counted(): Steps<string> {
      for (const _ of busy(1000)) {
        steps++;
        yield;
      }
      return 'done';
    }
    expect(await done(counted(), { isWanted: () => steps === 0, startPlanner: noPlanner })).toBeUndefined();
    expect(steps).toBeLessThan(100);
  });

  it('fails as a step of it does', async () => {
    function* failing(): Steps<string> {
      yield;
      throw new Error('a step');
    }
    await expect(done(failing(), { isWanted: () => true, startPlanner: noPlanner })).rejects.toThrow('a step');
  });
});

describe('a plan on the way', () => {
  function* planning(): Steps<Plan | undefined> {
    yield;
    return yield request;
  }

  it('is made by a planner that ends with the work', async () => {
    const { thread, said } = planner({ kind: 'planned', plan });
    expect(await done(planning(), { isWanted: () => true, startPlanner: () => thread })).toBe(plan);
    expect(said).toEqual(['plan', 'ended']);
  });

  it('that fails, fails the work', async () => {
    const { thread, said } = planner({ kind: 'failed', why: 'out of memory' });
    const work = done(planning(), { isWanted: () => true, startPlanner: () => thread });
    await expect(work).rejects.toThrow('out of memory');
    expect(said).toEqual(['plan', 'ended']);
  });

  it('is not waited for once nobody wants the work', async () => {
    const { thread, said } = planner(undefined);
    let asked = 0;
    const isWanted = (): boolean => ++asked < 2;
    expect(await done(planning(), { isWanted, startPlanner: () => thread })).toBeUndefined();
    expect(said).toEqual(['plan', 'ended']);
  });
});
