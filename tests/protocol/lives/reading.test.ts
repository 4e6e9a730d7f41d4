/** A client that stops reading, and goes on: nothing grows without bound, nothing blocks, and all that is so now arrives. */
import { PassThrough, Writable } from 'node:stream';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { GatheringWriter } from '../../../server/protocol/gathering-writer.ts';
import { endRaw, folder, startedRaw, stillWorks, textDocument } from './raw.ts';

afterEach(endRaw);
afterAll(folder.remove);

/** An output that takes what is written when it is told to. */
function output(): { stream: Writable; take: () => void; text: () => string } {
  const taken: string[] = [];
  let pending: (() => void)[] = [];
  const stream = new Writable({
    highWaterMark: 100,
    decodeStrings: false,
    write(chunk: string, _, done) {
      taken.push(String(chunk));
      pending.push(done);
    },
  });
  return {
    stream,
    take() {
      const now = pending;
      pending = [];
      for (const done of now) done();
    },
    text: () => taken.join(''),
  };
}

const turn = (): Promise<void> => new Promise((go) => setTimeout(go, 1));
const about = (uri: string, n: number) => ({
  jsonrpc: '2.0',
  method: 'textDocument/publishDiagnostics',
  params: { uri, diagnostics: [], version: n, padding: 'x'.repeat(200) },
});
const parsed = (text: string) =>
  [...text.matchAll(/Content-Length: \d+\r\n\r\n(.*?)(?=Content-Length|$)/gs)].map(([, json]) =>
    JSON.parse(json ?? ''),
  );

describe('the writer', () => {
  it('says of each file what was said last, and every answer, in order', async () => {
    const { stream, take, text } = output();
    const writer = new GatheringWriter(stream);
    void writer.write(about('a', 0));
    await turn();
    for (let n = 1; n <= 50; n++) {
      void writer.write(about('a', n));
      void writer.write(about('b', n));
      if (n % 10 === 0) void writer.write({ jsonrpc: '2.0', id: n, result: n } as never);
    }
    await turn();
    // Only what was on its way before the client stopped.
    expect(parsed(text())).toHaveLength(1);
    take();
    await turn();
    take();
    await turn();
    const said = parsed(text()).map(({ id, params }) => id ?? `${params.uri} ${params.version}`);
    expect(said).toEqual(['a 0', 'a 50', 'b 50', 10, 20, 30, 40, 50]);
  });

  it('does not overtake what ends by what came before it', async () => {
    const { stream, take, text } = output();
    const writer = new GatheringWriter(stream);
    void writer.write(about('a', 0));
    await turn();
    const progress = (kind: string, percentage?: number) =>
      writer.write({
        jsonrpc: '2.0',
        method: '$/progress',
        params: { token: 't', value: { kind, percentage } },
      } as never);
    void progress('begin');
    for (let n = 0; n < 100; n++) void progress('report', n);
    void progress('end');
    for (let i = 0; i < 3; i++) {
      take();
      await turn();
    }
    const said = parsed(text()).slice(1);
    expect(said.map(({ params }) => `${params.value.kind} ${params.value.percentage ?? ''}`.trim())).toEqual([
      'begin',
      'report 99',
      'end',
    ]);
  });

  it('has no more asked while answers pile up, and again when they are gone', async () => {
    const { stream, take } = output();
    const told: boolean[] = [];
    const writer = new GatheringWriter(stream, { onFull: (isFull) => told.push(isFull) });
    const answer = (id: number) => writer.write({ jsonrpc: '2.0', id, result: 'x'.repeat(1_000_000) } as never);
    void answer(0);
    await turn();
    for (let id = 1; id < 30; id++) void answer(id);
    expect(told).toEqual([true]);
    for (let i = 0; i < 3; i++) {
      take();
      await turn();
    }
    expect(told).toEqual([true, false]);
  });

  it('keeps few lines of the log for nobody', async () => {
    const { stream, take, text } = output();
    const writer = new GatheringWriter(stream);
    void writer.write(about('a', 0));
    await turn();
    for (let n = 0; n < 5000; n++)
      void writer.write({ jsonrpc: '2.0', method: 'window/logMessage', params: { type: 1, message: `${n}` } } as never);
    for (let i = 0; i < 3; i++) {
      take();
      await turn();
    }
    expect(parsed(text()).length).toBeLessThan(300);
  });

  it('lets what few messages a turn says go in one piece, and of many the first before the last are made', async () => {
    const pieces: string[] = [];
    const stream = new Writable({
      highWaterMark: 1_000_000,
      decodeStrings: false,
      write(chunk: string, _, done) {
        pieces.push(chunk);
        done();
      },
    });
    const writer = new GatheringWriter(stream);
    for (let n = 0; n < 10; n++) void writer.write(about(`few ${n}`, n));
    expect(pieces).toEqual([]);
    await turn();
    expect(pieces).toHaveLength(1);
    for (let n = 0; n < 999; n++) void writer.write(about(`many ${n}`, n));
    const before = parsed(pieces.join('')).length - 10;
    expect(before).toBeGreaterThan(900);
    expect(before).toBeLessThan(999);
    await turn();
    const said = parsed(pieces.join('')).map(({ params }) => params.version);
    expect(said.slice(10)).toEqual(Array.from({ length: 999 }, (_, n) => n));
  });

  it('is told once that nobody will read', async () => {
    const gone: string[] = [];
    const stream = new PassThrough();
    const writer = new GatheringWriter(stream, { onGone: ({ message }) => gone.push(message) });
    writer.onError(() => undefined);
    stream.destroy(new Error('EPIPE'));
    await turn();
    expect(gone).toEqual(['EPIPE']);
  });
});

it('a client that stops reading while it types finds all as it is when it reads again', async () => {
  const raw = await startedRaw();
  await stillWorks(raw);
  const many = Array.from({ length: 400 }, (_, i) => `unit A-${i} nothing-${i} { width ${i}in }\n`).join('');
  const uri = 'untitled:many';
  const change = (version: number, text: string): void =>
    raw.tell('textDocument/didChange', { textDocument: { uri, version }, contentChanges: [{ text }] });
  raw.stopReading();
  raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 0, text: many } });
  // Each of these is told of in about 100 kB: ten megabytes if all were.
  for (let version = 1; version <= 100; version++) {
    change(version, `${many}// ${version}\n`);
    await new Promise((go) => setTimeout(go, 10));
  }
  change(101, 'board oak { depth 12ix }\n');
  const hover = raw.ask('textDocument/hover', { textDocument: { uri }, position: { line: 0, character: 7 } });
  await new Promise((go) => setTimeout(go, 1500));
  raw.goOnReading();
  expect(JSON.stringify((await hover).result)).toContain('oak');
  await raw.until(() => raw.got.some(({ params }) => (params as { version?: number } | undefined)?.version === 101));
  const told = raw.got.flatMap(({ params }) => {
    const { uri: of, version } = (params ?? {}) as { uri?: string; version?: number };
    return of === uri ? [version ?? -1] : [];
  });
  expect(told.at(-1)).toBe(101);
  // In the order of their versions, and far from all of them.
  expect(told).toEqual(told.toSorted((a, b) => a - b));
  expect(told.length).toBeLessThan(40);
  await stillWorks(raw);
});

it('a client that asks and asks, and reads nothing, is not asked after until it reads', async () => {
  const raw = await startedRaw();
  const uri = 'untitled:long';
  const text = Array.from({ length: 3000 }, (_, i) => `unit A-${i} linen { width ${i}in }\n`).join('');
  raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 0, text } });
  raw.stopReading();
  // About half a megabyte each.
  const answers = Array.from({ length: 70 }, () => raw.ask('textDocument/documentSymbol', { textDocument: { uri } }));
  let isDrained = false;
  const more = Array.from({ length: 200 }, () => raw.ask('textDocument/didNothing', { padding: 'x'.repeat(20_000) }));
  raw.input.once('drain', () => {
    isDrained = true;
  });
  await new Promise((go) => setTimeout(go, 3000));
  // The server has stopped reading: what is written to it stays with who writes.
  expect(isDrained).toBe(false);
  raw.goOnReading();
  for (const { result } of await Promise.all(answers)) expect(result).toHaveLength(3000);
  expect((await Promise.all(more)).every(({ error }) => error?.code === -32601)).toBe(true);
  await stillWorks(raw);
  expect(textDocument.uri).toContain('good');
});
