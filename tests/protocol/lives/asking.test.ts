/** A client that asks faster than it is answered: what waits is bounded, every question is answered, and every edit is made. */
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { limits } from '../../../server/model/limits.ts';
import { inspect } from '../../bench/soak/inspector.ts';
import { endRaw, folder, type Raw, startedOver, startedRaw, stillWorks } from './raw.ts';
import { ask, turnstile } from './turnstile.ts';

const { most } = limits.mostWaiting;
const [requestFailed, serverCancelled, unknownMethod] = [-32803, -32802, -32601];

afterEach(endRaw);
afterAll(folder.remove);

describe('where what comes can be left unread', () => {
  it('nothing more is read until half are answered', () => {
    const stand = turnstile(true);
    ask(stand, most - 1);
    expect(stand.held).toEqual([]);
    ask(stand, 1, most);
    expect(stand.held).toEqual([true]);
    for (let id = 0; id < most / 2 - 1; id++) stand.answer({ id });
    expect(stand.held).toEqual([true]);
    stand.answer({ id: most });
    expect(stand.held).toEqual([true, false]);
  });

  it('what had been read before goes through, and none is refused', () => {
    const stand = turnstile(true);
    ask(stand, most + 700);
    stand.come({ method: 'textDocument/didChange' });
    expect(stand.inside).toHaveLength(most + 701);
    expect(stand.written).toEqual([]);
  });

  it('is read on when the server asks for what it cannot go on without: the answer comes behind the questions', () => {
    const stand = turnstile(true);
    ask(stand, most);
    stand.answer({ id: 0, method: 'storypole/readFiles' });
    expect(stand.held).toEqual([true, false]);
    // As long as that takes, there is a bound all the same.
    ask(stand, 3, most);
    expect(stand.inside).toHaveLength(most);
    expect(stand.written.slice(1).map(({ id, error }) => [id, error?.code])).toEqual(
      [0, 1, 2].map((i) => [most + i, requestFailed]),
    );
    // It is the client's answer, and not one of the server with the same id.
    stand.come({ id: 0 });
    expect(stand.inside).toHaveLength(most + 1);
    expect(stand.held).toEqual([true, false, true]);
  });

  it('stays unread when the server asks what nobody waits for', () => {
    for (const method of [
      'workspace/diagnostic/refresh',
      'workspace/codeLens/refresh',
      'client/registerCapability',
      'window/workDoneProgress/create',
    ]) {
      const stand = turnstile(true);
      ask(stand, most);
      stand.answer({ id: 0, method });
      expect(stand.held, method).toEqual([true]);
    }
  });
});

describe('where it cannot', () => {
  it('one more is answered at once, and says why; when some are answered, the next is taken on', () => {
    const stand = turnstile(false);
    ask(stand, most + 1);
    expect(stand.inside).toHaveLength(most);
    expect(stand.written).toMatchObject([
      {
        id: most,
        error: {
          code: requestFailed,
          message:
            'textDocument/hover: 5,000 questions wait for an answer, and no more are taken on until some are answered',
        },
      },
    ]);
    stand.answer({ id: 3 });
    ask(stand, 1, most + 1);
    expect(stand.inside).toHaveLength(most + 1);
  });

  it('who asks for diagnostics is told to ask again', () => {
    const stand = turnstile(false);
    ask(stand, most);
    ask(stand, 1, most, 'textDocument/diagnostic');
    expect(stand.written[0]?.error).toMatchObject({ code: serverCancelled, data: { retriggerRequest: true } });
  });

  it('no edit, no answer, no cancellation and no end is turned away', () => {
    const stand = turnstile(false);
    ask(stand, most);
    const these = [
      { method: 'textDocument/didChange' },
      { method: '$/cancelRequest' },
      { id: 'of the server' },
      { id: most, method: 'shutdown' },
      { method: 'exit' },
    ];
    for (const one of these) stand.come(one);
    expect(stand.inside.slice(most)).toMatchObject(these);
    expect(stand.written).toEqual([]);
  });
});

const uri = 'untitled:asked';
const zero = { line: 0, character: 0 };

/** Questions, nearly all of them short and one in a hundred of the text, and an edit after each `every`. */
function burst(raw: Raw, count: number, every: number): number {
  raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 0, text: '' } });
  let version = 0;
  const padding = 'x'.repeat(700);
  for (let i = 0; i < count; i++) {
    const isOfText = i % 100 === 99;
    const params = isOfText ? { textDocument: { uri }, position: zero } : { padding };
    raw.send({ jsonrpc: '2.0', id: i, method: isOfText ? 'textDocument/hover' : 'textDocument/didNothing', params });
    if (i % every !== every - 1) continue;
    version++;
    raw.tell('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ range: { start: zero, end: zero }, text: `board b-${version} { depth 12in }\n` }],
    });
  }
  return version;
}

/** The answers to all of them, each once, by their codes. */
async function answersTo(raw: Raw, count: number): Promise<Map<number | undefined, number>> {
  let seen = 0;
  const ids = new Set<number>();
  const codes = new Map<number | undefined, number>();
  await raw.until(() => {
    for (; seen < raw.got.length; seen++) {
      const { id, method, error } = raw.got[seen] ?? {};
      if (typeof id !== 'number' || method !== undefined) continue;
      expect(ids.has(id)).toBe(false);
      ids.add(id);
      codes.set(error?.code, (codes.get(error?.code) ?? 0) + 1);
    }
    return ids.size === count;
  });
  raw.got.length = 0;
  return codes;
}

/** All edits are made, in their order: the last one stands first. */
async function hasAll(raw: Raw, edits: number): Promise<void> {
  const { result } = await raw.ask('textDocument/documentSymbol', { textDocument: { uri } });
  const names = (result as { name: string }[]).map(({ name }) => name.replace(/^board /, ''));
  expect(names).toEqual(Array.from({ length: edits }, (_, i) => `b-${edits - i}`));
}

it('a hundred thousand questions at once, from a client that reads nothing, are all answered once it reads', async () => {
  const count = 100_000;
  const raw = await startedRaw({ args: ['--inspect=0'] });
  await raw.until(() => /ws:\/\/\S+/.test(raw.stderr()));
  const inspector = await inspect(/ws:\/\/\S+/.exec(raw.stderr())?.[0] ?? '');
  const before = await inspector.memory();
  raw.stopReading();
  const edits = burst(raw, count, 1000);
  let most = 0;
  for (let look = 0; look < 8; look++) {
    await new Promise((go) => setTimeout(go, 250));
    const { heap, external } = await inspector.memory();
    most = Math.max(most, heap + external - before.heap - before.external);
  }
  // All of them, if they were kept as they came, are more than a hundred.
  expect(most).toBeLessThan(60);
  raw.goOnReading();
  expect(await answersTo(raw, count)).toEqual(
    new Map([
      [undefined, count / 100],
      [unknownMethod, count - count / 100],
    ]),
  );
  await hasAll(raw, edits);
  inspector.close();
  await stillWorks(raw);
});

it('over the channel of Node, those beyond the limit are answered with an error, and every edit is made', async () => {
  const count = 40_000;
  const raw = await startedOver('ipc');
  raw.stopReading();
  const edits = burst(raw, count, 1000);
  await new Promise((go) => setTimeout(go, 1000));
  raw.goOnReading();
  const codes = await answersTo(raw, count);
  expect(codes.get(requestFailed)).toBeGreaterThan(0);
  expect(codes.get(unknownMethod)).toBeGreaterThan(most / 2);
  expect([...codes.keys()].filter((code) => code !== undefined).sort()).toEqual([unknownMethod, requestFailed].sort());
  await hasAll(raw, edits);
  await stillWorks(raw);
});

it('who asks thousands before it hands over the files that the answers wait for is read on, and loses nothing', async () => {
  const count = most + 3000;
  const raw = await startedRaw(undefined, {
    initializationOptions: { files: true },
    workspaceFolders: [{ uri: 'flats://quarry-lane/site', name: 'flats' }],
  });
  const wants = (): (typeof raw.got)[number] | undefined =>
    raw.got.find(({ method }) => method === 'storypole/listFolders');
  await raw.until(() => wants() !== undefined);
  raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 0, text: 'board oak { }' } });
  const params = { textDocument: { uri }, position: { line: 0, character: 7 } };
  for (let id = 0; id < count; id++) raw.send({ jsonrpc: '2.0', id, method: 'textDocument/hover', params });
  raw.send({ jsonrpc: '2.0', id: wants()?.id, result: [[]] });
  expect(await answersTo(raw, count)).toEqual(
    new Map([
      [requestFailed, count - most],
      [undefined, most],
    ]),
  );
  await stillWorks(raw);
});
