/** Over a pipe, a socket or the channel of Node a client is met as over standard input and output: nothing that it does ends the server, and nothing grows for it without bound. */
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { command } from '../client.ts';
import {
  endRaw,
  folder,
  initializing,
  otherWays,
  type Raw,
  refusals,
  startedOver,
  startRawOver,
  stillWorks,
} from './raw.ts';

const [parseError, invalidRequest, invalidParams, notInitialized] = [-32700, -32600, -32602, -32002];
const streams = ['pipe', 'socket'] as const;

afterEach(endRaw);
afterAll(folder.remove);

describe.each(streams)('over a %s', (way) => {
  it('frames that are wrong are left out one by one, and told on standard error', async () => {
    const raw = await startedOver(way);
    for (const bytes of [
      'Content-Length: -17\r\n\r\n{"id":1}',
      'Content-Length: 99999999999\r\n\r\n{}',
      'Content-Length: 4000\r\n\r\n{"id":1}',
      `\u0000\u00ff${'rubbish '.repeat(3000)}`,
      'Content-Length: 17\r\n\r\n{"jsonrpc":"2.0",',
    ]) {
      raw.write(bytes);
      await stillWorks(raw);
    }
    for (const said of ['"-17"', 'more than', 'a message of 4000 bytes ends after', 'left out before'])
      expect(raw.stderr()).toContain(said);
    expect(refusals(raw)).toContain(parseError);
  });

  it('a client that asks and asks, and reads nothing, is not asked after until it reads', async () => {
    const raw = await startedOver(way);
    const uri = 'untitled:long';
    const text = Array.from({ length: 3000 }, (_, i) => `unit A-${i} linen { width ${i}in }\n`).join('');
    raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 0, text } });
    await raw.ask('textDocument/documentSymbol', { textDocument: { uri } });
    raw.stopReading();
    const answers = Array.from({ length: 70 }, () => raw.ask('textDocument/documentSymbol', { textDocument: { uri } }));
    const more: ReturnType<Raw['ask']>[] = [];
    await untilStuck(raw, () => more.push(raw.ask('textDocument/didNothing', { padding: 'x'.repeat(100_000) })));
    raw.goOnReading();
    for (const { result } of await Promise.all(answers)) expect(result).toHaveLength(3000);
    expect((await Promise.all(more)).every(({ error }) => error?.code === -32601)).toBe(true);
    await stillWorks(raw);
  });

  it('the command serves as the bundle does', async () => {
    const raw = await startRawOver(way, 'command');
    await raw.ask('initialize', initializing());
    raw.tell('initialized', {});
    await stillWorks(raw);
    expect((await raw.ask('shutdown')).error).toBeUndefined();
    raw.tell('exit');
    expect(await raw.status).toBe(0);
  });
});

/** More than this, in bytes, stays with who writes where nobody reads. */
const stuck = 100_000;

/**
 * Asks more as long as it is taken, some hundred megabytes at most: the server reads until it has made answers that
 * nobody takes, and then the system keeps some of it. Resolves once the same amount stays with who writes, look after
 * look: a server that is slow takes some of it meanwhile.
 */
async function untilStuck(raw: Raw, askMore: () => void): Promise<void> {
  let same = 0;
  for (let last = -1, asked = 0; same < 10; await new Promise((go) => setTimeout(go, 50))) {
    const left = raw.input.writableLength;
    if (left <= stuck && asked < 3000) for (let i = 0; i < 100; i++, asked++) askMore();
    same = left === last && (left > stuck || asked >= 3000) ? same + 1 : 0;
    last = left;
  }
  expect(raw.input.writableLength).toBeGreaterThan(stuck);
}

describe.each(otherWays)('over %s', (way) => {
  it('what is no message, and what comes before its time, is answered as such', async () => {
    const raw = await startRawOver(way);
    expect((await raw.ask('textDocument/hover', {})).error?.code).toBe(notInitialized);
    raw.tell('textDocument/didOpen', {});
    raw.send([]);
    raw.send('text');
    raw.send({ jsonrpc: '2.0', id: 77 });
    expect((await raw.ask('initialize', initializing())).error).toBeUndefined();
    raw.tell('initialized', {});
    expect((await raw.ask('initialize', initializing())).error?.code).toBe(invalidRequest);
    expect((await raw.ask('textDocument/hover', { textDocument: { uri: 5 } })).error?.code).toBe(invalidParams);
    await stillWorks(raw);
    expect(refusals(raw).filter((code) => code === invalidRequest)).toHaveLength(2);
    expect(raw.got.find(({ id }) => id === 77)?.error?.code).toBe(invalidRequest);
    expect(raw.stderr()).toContain('textDocument/didOpen came before "initialize"');
  });

  it('a client that stops reading while it types finds all as it is when it reads again', async () => {
    const raw = await startedOver(way);
    await stillWorks(raw);
    const many = Array.from({ length: 1500 }, (_, i) => `unit A-${i} nothing-${i} { width ${i}in }\n`).join('');
    const uri = 'untitled:many';
    const change = (version: number, text: string): void =>
      raw.tell('textDocument/didChange', { textDocument: { uri, version }, contentChanges: [{ text }] });
    raw.stopReading();
    raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 0, text: many } });
    // Each of these is told of in some hundred kilobytes: more in all than any system keeps for a reader that does not come.
    const last = 60;
    for (let version = 1; version < last; version++) {
      change(version, `${many}// ${version}\n`);
      await new Promise((go) => setTimeout(go, 40));
    }
    change(last, 'board oak { depth 12ix }\n');
    const hover = raw.ask('textDocument/hover', { textDocument: { uri }, position: { line: 0, character: 7 } });
    await new Promise((go) => setTimeout(go, 500));
    raw.goOnReading();
    expect(JSON.stringify((await hover).result)).toContain('oak');
    const toldOf = () =>
      raw.got.flatMap(({ params }) => {
        const { uri: of, version } = (params ?? {}) as { uri?: string; version?: number };
        return of === uri ? [version ?? -1] : [];
      });
    await raw.until(() => toldOf().at(-1) === last);
    // In the order of their versions, and far from all of them: as many as the system keeps on its way.
    expect(toldOf()).toEqual(toldOf().toSorted((a, b) => a - b));
    expect(toldOf().length).toBeLessThan(45);
    await stillWorks(raw);
  });

  it('it ends when the client goes away: with 1, and with 0 where it was asked to', async () => {
    const left = await startedOver(way);
    left.input.destroy();
    expect(await left.status).toBe(1);
    const asked = await startedOver(way);
    await asked.ask('shutdown');
    asked.input.destroy();
    expect(await asked.status).toBe(0);
  });
});

describe('where nobody waits', () => {
  it.each([
    ['--pipe=/nowhere/at-all.sock', /^Nobody can be reached at \/nowhere\/at-all\.sock: .*ENOENT/],
    ['--socket=port', /^--socket takes a port from 1 to 65535, which "port" is not\./],
    ['--socket=70000', /which "70000" is not/],
  ])('%s is told, and it ends with 1', (word, said) => {
    const { status, stderr, stdout } = spawnSync(process.execPath, [join(dirname(command), 'server.cjs'), word], {
      encoding: 'utf8',
    });
    expect(stderr).toMatch(said);
    expect({ status, stdout }).toEqual({ status: 1, stdout: '' });
  });

  it.each([
    [['--socket', 'port'], /--socket takes a port/],
    [['--stdio', '--pipe', 'x'], /cannot be used with/],
  ])('the command says so, too: %j', (words, said) => {
    const { status, stderr } = spawnSync(process.execPath, [command, 'language-server', ...words], {
      encoding: 'utf8',
    });
    expect(stderr).toMatch(said);
    expect(status).toBe(2);
  });
});
