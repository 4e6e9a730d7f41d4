/** Thousands of requests that are taken back: every one is answered, and nothing of them is kept. */
import { spawnSync } from 'node:child_process';
import { afterAll, afterEach, expect, it } from 'vitest';
import { inspect } from '../../bench/soak/inspector.ts';
import { endRaw, folder, good, initializing, type Raw, startedRaw, startRaw, stillWorks, textDocument } from './raw.ts';

afterEach(endRaw);
afterAll(folder.remove);

const methods = [
  'textDocument/hover',
  'textDocument/completion',
  'textDocument/codeLens',
  'textDocument/diagnostic',
  'nothing',
];

/** So many, each taken back: before it is looked at, or afterwards; answers how many were answered. */
async function burst(raw: Raw, count: number, turn: number): Promise<number> {
  const id = (i: number): string => `${turn}-${i}`;
  const params = { textDocument, position: { line: 3, character: 12 } };
  for (let i = 0; i < count; i++) {
    raw.send({ jsonrpc: '2.0', id: id(i), method: methods[i % methods.length], params });
    if (i % 3 !== 0) raw.tell('$/cancelRequest', { id: id(i) });
    if (i % 500 === 0) await new Promise((go) => setTimeout(go));
  }
  // Those that are answered already, and those that never were.
  for (let i = 0; i < count; i++) raw.tell('$/cancelRequest', { id: i % 2 === 0 ? id(i) : `never-${i}` });
  const answered = (): number =>
    raw.got.filter((one) => typeof one.id === 'string' && one.id.startsWith(`${turn}-`)).length;
  await raw.until(() => answered() >= count);
  const all = answered();
  raw.got.length = 0;
  return all;
}

it('thousands of requests that are cancelled are all answered, and leave no memory behind', async () => {
  const raw = await startedRaw({ args: ['--inspect=0'] });
  raw.tell('textDocument/didOpen', { textDocument: { ...textDocument, languageId: 'closet', version: 1, text: good } });
  await raw.until(() => /ws:\/\/\S+/.test(raw.stderr()));
  const inspector = await inspect(/ws:\/\/\S+/.exec(raw.stderr())?.[0] ?? '');
  await burst(raw, 3000, 0);
  const before = (await inspector.memory()).heap;
  for (let turn = 1; turn <= 4; turn++) expect(await burst(raw, 3000, turn)).toBe(3000);
  const { heap } = await inspector.memory();
  // 12,000 requests with what is kept of each, if it were 200 bytes, are 2.4 MB.
  expect(heap - before).toBeLessThan(1.5);
  inspector.close();
  await stillWorks(raw);
});

it('requests that are all asked at once before the first answer are all answered', async () => {
  const raw = startRaw();
  raw.send({ jsonrpc: '2.0', id: 'first', method: 'initialize', params: initializing() });
  raw.tell('initialized', {});
  const answers = await Promise.all(
    Array.from({ length: 500 }, () =>
      raw.ask('textDocument/hover', { textDocument, position: { line: 2, character: 10 } }),
    ),
  );
  for (const { result } of answers) expect(JSON.stringify(result)).toContain('linen');
  await stillWorks(raw);
});

it('whose client is gone ends by itself', async () => {
  // A process that has ended, as its parent would have.
  const gone = spawnSync(process.execPath, ['-e', '']).pid;
  const raw = await startedRaw(undefined, { processId: gone });
  expect(await raw.status).toBe(1);
});

it('opened and closed a thousand times, and edited in between, a document leaves nothing behind', async () => {
  const raw = await startedRaw({ args: ['--inspect=0'] });
  await raw.until(() => /ws:\/\/\S+/.test(raw.stderr()));
  const inspector = await inspect(/ws:\/\/\S+/.exec(raw.stderr())?.[0] ?? '');
  const zero = { line: 0, character: 0 };
  const round = async (count: number, from: number): Promise<void> => {
    for (let i = from; i < from + count; i++) {
      const uri = `untitled:Untitled-${i}`;
      raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 1, text: good } });
      raw.tell('textDocument/didChange', {
        textDocument: { uri, version: 2 },
        contentChanges: [{ range: { start: zero, end: zero }, text: 'unit x linen\n' }],
      });
      for (const method of ['semanticTokens/full', 'codeLens', 'documentSymbol'])
        void raw.ask(`textDocument/${method}`, { textDocument: { uri } });
      await raw.ask('textDocument/hover', { textDocument: { uri }, position: { line: 3, character: 12 } });
      raw.tell('textDocument/didClose', { textDocument: { uri } });
    }
    await raw.ask('storypole/units', {});
    raw.got.length = 0;
  };
  await round(60, 0);
  const before = (await inspector.memory()).heap;
  await round(200, 60);
  const { heap } = await inspector.memory();
  // A project of its own is about 100 kB: 200 would be 20 MB.
  expect(heap - before).toBeLessThan(4);
  inspector.close();
  await stillWorks(raw);
});
