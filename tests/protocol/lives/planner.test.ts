/** A planner that runs out of memory, throws, ends, is not there or says nothing: it dies alone, and that is told. */
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { inches } from '../../../server/model/ticks.ts';
import { createPlanThread, type PlanThreadLimits } from '../../../server/protocol/plan-thread.ts';
import type { PlanAnswer, PlanThread } from '../../../server/protocol/planning.ts';
import { createWebPlanThread } from '../../../server/protocol/web-plan-thread.ts';
import { command } from '../client.ts';
import { endRaw, folder, good, type Raw, startedRaw, stillWorks, uri } from './raw.ts';

const own = mkdtempSync(join(tmpdir(), 'storypole-planner-dies-'));
const running: PlanThread[] = [];
afterEach(() => {
  endRaw();
  for (const thread of running.splice(0)) thread.cancel();
});
afterAll(() => {
  rmSync(own, { recursive: true, force: true });
  folder.remove();
});

const said = (work: string): string => `process.on('message', () => { ${work} });\n`;

/** Ways to die at every question. */
const deaths: Readonly<Record<string, string>> = {
  'runs out of memory': said('const kept = []; for (;;) kept.push(new Array(1000).fill(kept.length));'),
  // A thread of the server would end the server by this, whatever its limit.
  'runs out of memory in one step': said('const kept = new Map(); for (let i = 0; ; i++) kept.set(i, { i });'),
  throws: said("throw new Error('out of boards');"),
  'throws nothing that has words': said('throw undefined;'),
  rejects: said("Promise.reject(new Error('out of rods'));"),
  ends: said('process.exit(0);'),
  'ends before it is asked': 'process.exit(3);\n',
  'is no script': 'const = ;\n',
  'overflows the stack': said('const deeper = () => deeper() + 1; deeper();'),
};

const request = {
  pieces: [{ id: 'a', material: 'white-12', length: inches(40), quantity: 3 }],
  stock: [{ id: 'b', material: 'white-12', length: inches(96), offcut: false }],
  saw: { kerf: inches(0.125), keepOffcutsFrom: inches(24) },
};

function answerOf(thread: PlanThread): Promise<PlanAnswer> {
  return new Promise((resolve) => thread.ask({ kind: 'plan', request }, resolve));
}

function threadOf(name: string, text: string, limits: PlanThreadLimits = { memory: 64 }): PlanThread {
  const file = join(own, `${name.replaceAll(' ', '-')}.cjs`);
  writeFileSync(file, text);
  const thread = createPlanThread(file, limits);
  running.push(thread);
  return thread;
}

describe('a planner', () => {
  it.each(Object.entries(deaths))('that %s says so, every time it is asked', async (name, text) => {
    const thread = threadOf(name, text);
    for (let i = 0; i < 2; i++) {
      const answer = await answerOf(thread);
      expect(answer.kind === 'failed' && answer.why).toMatch(/^The planner ended \(.+\); it is started again/);
    }
  });

  it('that says nothing is ended after a while, and started again', async () => {
    const thread = threadOf('says nothing', said('for (;;);'), { patience: 150 });
    for (let i = 0; i < 2; i++) {
      expect(await answerOf(thread)).toEqual({
        kind: 'failed',
        why: 'The planner gave no answer in 0.15 s; it is started again for the next plan.',
      });
    }
  });

  it('of a browser that says nothing is ended after a while too', async () => {
    let ended = 0;
    const silent = () => ({
      postMessage: () => undefined,
      terminate: () => void ended++,
      onmessage: null,
      onerror: null,
    });
    const thread = createWebPlanThread(() => 'plan-worker-web.js', silent, 50);
    expect((await answerOf(thread)).kind).toBe('failed');
    expect((await answerOf(thread)).kind).toBe('failed');
    expect(ended).toBe(2);
  });
});

/** The built server with another planner beside it. */
function serverWith(name: string, planner: string | undefined): string {
  const place = join(own, name.replaceAll(' ', '-'));
  cpSync(dirname(command), place, {
    recursive: true,
    filter: (file) => !/rules|fonts|client|web/.test(file.slice(dirname(command).length)),
  });
  rmSync(join(place, 'plan-worker.cjs'));
  if (planner !== undefined) writeFileSync(join(place, 'plan-worker.cjs'), planner);
  return join(place, 'storypole.cjs');
}

interface Status {
  readonly state: string;
  readonly why?: string;
}

function statuses(raw: Raw): Status[] {
  return raw.got.flatMap(({ method, params }) =>
    method === 'storypole/planStatus' ? [params as unknown as Status] : [],
  );
}

describe('the server', () => {
  it.each([
    ['throws', said("throw new Error('out of boards');")],
    ['is not there', undefined],
  ])('says plainly that its planner %s, lives on, and plans again after an edit', async (name, planner) => {
    const built = serverWith(name, planner);
    const raw = await startedRaw({ command: built }, { initializationOptions: { planStatus: true } });
    raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 1, text: good } });
    await raw.until(() => statuses(raw).some(({ state }) => state === 'failed'));
    const failed = statuses(raw).find(({ state }) => state === 'failed');
    expect(failed?.why).toMatch(/planner ended/);
    await stillWorks(raw);
    const tree = await raw.ask('storypole/projectView', {});
    expect(tree.error).toBeUndefined();
    // Now there is a planner that works.
    cpSync(join(dirname(command), 'plan-worker.cjs'), join(dirname(built), 'plan-worker.cjs'));
    raw.tell('textDocument/didChange', {
      textDocument: { uri, version: 2 },
      contentChanges: [{ text: good.replace('width 36in }\n', 'width 37in }\n') }],
    });
    await raw.until(() => statuses(raw).at(-1)?.state === 'current');
    await stillWorks(raw);
  });
});
