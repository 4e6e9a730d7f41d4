/**
 * What is no message, or none that may come now: told, answered where somebody waits, and forgotten.
 * source: Language Server Protocol 3.17, base protocol and lifecycle messages; JSON-RPC 2.0, error codes and batches.
 */
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import {
  endRaw,
  folder,
  frame,
  frameOf,
  good,
  initializing,
  refusals,
  startedRaw,
  startRaw,
  stillWorks,
  textDocument,
  uri,
} from './raw.ts';

const [parseError, invalidRequest, methodNotFound, invalidParams, notInitialized] = [
  -32700, -32600, -32601, -32602, -32002,
];

afterEach(endRaw);
afterAll(folder.remove);

describe('frames that are wrong', () => {
  it('are left out one by one, and told on standard error', async () => {
    const raw = await startedRaw();
    const wrong = [
      'Content-Length: -17\r\n\r\n{"id":1}',
      'Content-Length: 99999999999\r\n\r\n{}',
      'Content-Length: 4000\r\n\r\n{"id":1}',
      'Content-Type: application/json\r\n\r\n{"id":1}',
      `\u0000\u00ff${'rubbish '.repeat(3000)}`,
      'Content-Length: 3\r\n\r\n{"jsonrpc":"2.0"}',
    ];
    for (const bytes of wrong) {
      raw.write(bytes);
      await stillWorks(raw);
    }
    for (const said of [
      '"-17"',
      'more than',
      'a message of 4000 bytes ends after',
      'without a Content-Length',
      'left out before',
    ])
      expect(raw.stderr()).toContain(said);
  });

  it('that are random bytes end nothing', async () => {
    const raw = await startedRaw();
    for (let i = 1; i < 40; i++)
      raw.write(Uint8Array.from({ length: 97 * i }, (_, k) => (k * k * 31 + i * 7 + (k >> 3)) % 256));
    raw.write('\r\n\r\n');
    await stillWorks(raw);
  });
});

describe('what is no message', () => {
  it('is answered as such, where it is JSON and where it is not', async () => {
    const raw = await startedRaw();
    const texts: readonly (readonly [text: string, code: number, id?: number])[] = [
      ['{"jsonrpc":"2.0","id":', parseError],
      ['[]', invalidRequest],
      ['[{"jsonrpc":"2.0","id":5,"method":"shutdown"}]', invalidRequest],
      ['null', invalidRequest],
      ['7', invalidRequest],
      ['"text"', invalidRequest],
      ['{}', invalidRequest],
      ['{"jsonrpc":"2.0","id":77}', invalidRequest, 77],
      ['{"jsonrpc":"2.0","id":78,"method":5}', invalidRequest, 78],
      ['{"jsonrpc":"2.0","id":{},"method":"textDocument/hover"}', invalidRequest],
      ['{"jsonrpc":"2.0","id":null,"method":"textDocument/hover"}', invalidRequest],
      [`${'['.repeat(200_000)}${']'.repeat(200_000)}`, invalidRequest],
      [`${'{"a":'.repeat(100_000)}1${'}'.repeat(100_000)}`, invalidRequest],
    ];
    for (const [text, code, id = null] of texts) {
      const before = raw.got.length;
      raw.write(frameOf(text));
      await raw.until(() => raw.got.slice(before).some((one) => one.id === id && one.error?.code === code));
    }
    // Answers to nothing.
    raw.write(frameOf('{"jsonrpc":"2.0","id":null,"error":{"code":1,"message":"x"}}'));
    raw.write(frameOf('{"jsonrpc":"2.0","id":4711,"result":null}'));
    raw.write(frameOf('{"jsonrpc":"2.0","id":"never","result":{"a":1},"error":5}'));
    await stillWorks(raw);
  });

  it('is nothing unusual where it is deep within what may be anything', async () => {
    const raw = await startedRaw();
    let settings: object = {};
    for (let i = 0; i < 20_000; i++) settings = { storypole: settings };
    const text = (params: string, method: string, id = '') =>
      `{"jsonrpc":"2.0"${id},"method":"${method}","params":${params}}`;
    const deep = `${'{"a":'.repeat(50_000)}1${'}'.repeat(50_000)}`;
    raw.write(frameOf(text(`{"settings":${deep}}`, 'workspace/didChangeConfiguration')));
    raw.write(frameOf(text(`{"label":"x","data":${deep}}`, 'completionItem/resolve', ',"id":900')));
    await raw.until(() => raw.got.some(({ id }) => id === 900));
    await stillWorks(raw);
  });
});

describe('methods', () => {
  it('that nobody knows are refused where somebody waits, and passed over where nobody does', async () => {
    const raw = await startedRaw();
    for (const method of [
      'textDocument/nothing',
      '$/nothing',
      '',
      '__proto__',
      'constructor',
      'workspace/executeCommand',
    ])
      expect((await raw.ask(method, { command: 'storypole.none', arguments: [] })).error?.code).toBe(methodNotFound);
    for (const method of [
      'textDocument/nothing',
      '$/nothing',
      '',
      '__proto__',
      '$/setTrace',
      '$/cancelRequest',
      '$/progress',
    ]) {
      raw.tell(method, { value: 'verbose', id: {}, token: 1 });
      raw.tell(method);
      raw.tell(method, null);
    }
    await stillWorks(raw);
  });

  it('that come before their time, or after it, are told so', async () => {
    const raw = startRaw();
    expect(
      (await raw.ask('textDocument/hover', { textDocument, position: { line: 0, character: 0 } })).error?.code,
    ).toBe(notInitialized);
    expect((await raw.ask('shutdown')).error?.code).toBe(notInitialized);
    raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 1, text: good } });
    raw.tell('initialized', {});
    for (const params of [
      null,
      undefined,
      [],
      5,
      {},
      { capabilities: 5 },
      { capabilities: {}, workspaceFolders: [{}] },
    ])
      expect((await raw.ask('initialize', params)).error?.code, JSON.stringify(params)).toBe(invalidParams);
    expect((await raw.ask('initialize', initializing())).result).toBeDefined();
    raw.tell('initialized', {});
    expect((await raw.ask('initialize', initializing())).error?.code).toBe(invalidRequest);
    raw.tell('initialized', {});
    await stillWorks(raw);
    expect((await raw.ask('shutdown')).result).toBeNull();
    for (const method of ['textDocument/hover', 'shutdown', 'initialize', 'codeLens/resolve', 'workspace/diagnostic'])
      expect((await raw.ask(method, { textDocument })).error?.code).toBe(invalidRequest);
    raw.tell('textDocument/didChange', { textDocument, contentChanges: [{ text: 'x' }] });
    raw.tell('exit');
    expect(await raw.status).toBe(0);
  });
});

describe('the end', () => {
  it('without a shutdown is status 1', async () => {
    const raw = await startedRaw();
    raw.tell('exit');
    expect(await raw.status).toBe(1);
  });

  it('before anything was asked is status 1 too', async () => {
    const raw = startRaw();
    raw.tell('exit');
    expect(await raw.status).toBe(1);
  });

  it('of the input in the middle of a message is told', async () => {
    const raw = await startedRaw();
    await stillWorks(raw);
    raw.input.end(frame({ jsonrpc: '2.0', id: 1, method: 'shutdown' }).slice(0, -4));
    expect(await raw.status).toBe(1);
    expect(raw.stderr()).toContain('ended in the middle of a message');
    expect(refusals(raw)).toEqual([]);
  });

  it('of the input after a shutdown is status 0', async () => {
    const raw = await startedRaw();
    await raw.ask('shutdown');
    raw.input.end();
    expect(await raw.status).toBe(0);
  });

  it('of who reads ends the server, though its input stays open', async () => {
    const raw = await startedRaw();
    raw.output.destroy();
    raw.send({ jsonrpc: '2.0', id: 1, method: 'workspace/symbol', params: { query: '' } });
    expect(await raw.status).toBe(1);
  });
});
