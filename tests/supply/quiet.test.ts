/**
 * Nothing is asked of any network, nothing is told to anybody, and no program is started but git: looked for in what is
 * shipped, and watched while it works.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { hostileProject } from '../hostile.ts';
import { endAll, folderWith, startClient, uriOf } from '../protocol/client.ts';
import { root } from './lockfile.ts';

const dist = path.join(root, 'dist');
const work = mkdtempSync(path.join(tmpdir(), 'storypole-quiet-'));
afterAll(() => {
  endAll();
  rmSync(work, { recursive: true, force: true });
});

/** What reaches outside, as it stands in a script. */
const ways: readonly [string, RegExp][] = [
  ...['net', 'http', 'https', 'http2', 'tls', 'dgram', 'dns', 'child_process', 'inspector', 'cluster'].map(
    (name): [string, RegExp] => [name, new RegExp(`\\b(?:require|import)\\(\\s*["'](?:node:)?${name}["']\\s*\\)`)],
  ),
  ...['fetch', 'XMLHttpRequest', 'WebSocket', 'EventSource', 'importScripts'].map((name): [string, RegExp] => [
    name,
    new RegExp(
      `(?<![\\w$.])${name}\\s*\\(|\\bnew ${name}\\b|globalThis\\.${name}\\b|self\\.${name}\\b|window\\.${name}\\b`,
    ),
  ]),
  ['sendBeacon', /\.sendBeacon\b/],
  ['eval', /(?<![\w$.])eval\s*\(|new Function\b/],
];

/** Why it stands there all the same. */
const transports =
  'the library of the protocol can also speak over a socket or start a server; ours is told to use neither';
const reasons: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'cli.cjs': {
    net: transports,
    child_process: 'git, for revisions; and the library of the protocol watches the process of an editor',
  },
  'server-web.js': {
    importScripts: 'a worker of a browser is begun with the planner’s own script, where the page is of another origin',
  },
  'server.cjs': { net: transports, child_process: transports },
  'client.cjs': { net: transports, child_process: 'the editor’s side starts the language server, and nothing else' },
};

const waysIn = (text: string): string[] => ways.flatMap(([name, pattern]) => (pattern.test(text) ? [name] : []));

describe('what is shipped', () => {
  const scripts = readdirSync(dist).filter((name) => /[.]c?js$/.test(name));

  it.each(scripts)('%s reaches outside in no way but those that there is a reason for', (name) => {
    const found = waysIn(readFileSync(path.join(dist, name), 'utf8'));
    expect(found.filter((way) => reasons[name]?.[way] === undefined)).toEqual([]);
  });

  it.each([
    ['fetch("https://a.test")', 'fetch'],
    ['globalThis.fetch(a)', 'fetch'],
    ['new WebSocket(a)', 'WebSocket'],
    ['require("node:https")', 'https'],
    ["import('http')", 'http'],
    ['navigator.sendBeacon(a)', 'sendBeacon'],
    ['eval(a)', 'eval'],
    ['new Function("a")', 'eval'],
  ])('would be found out by %s', (text, way) => {
    expect(waysIn(`x();${text};y()`)).toContain(way);
  });
});

const guard = path.join(import.meta.dirname, 'guard.cjs');
const log = path.join(work, 'log');
const tried = (): string[] => (existsSync(log) ? readFileSync(log, 'utf8').trim().split('\n') : []);

describe('at work', () => {
  const folder = folderWith({
    'main.closet': hostileProject('https://evil.test/a.png'),
    'table.csv': 'unit,wall,length\nu-1,back,48in\n',
  });
  afterAll(folder.remove);

  it.each([
    ['check', '--coverage'],
    ['cuts', '--steps'],
    ['plan'],
    ['takeoff'],
    ['draw', '--out', 'drawings', '--unit', 'u-1'],
    ['packet', '--out', 'packet.pdf', '--unit', 'u-1'],
    ['export', '--out', 'job.xlsx'],
    ['export', '--out', 'job.html'],
    ['import', 'table.csv', '--dry-run'],
    ['exceptions'],
    ['hover', 'main.closet:3'],
  ])('storypole %s asks nobody, and starts nothing but git', (...words) => {
    const command = path.join(dist, 'storypole.cjs');
    const env = { ...process.env, QUIET_LOG: log, QUIET_MAY: 'git' };
    const made = spawnSync(process.execPath, ['--require', guard, command, ...words], {
      cwd: folder.path,
      encoding: 'utf8',
      env,
    });
    expect(tried(), made.stderr).toEqual([]);
    expect(made.stderr).not.toContain('was tried');
  });

  it('the language server asks nobody and starts nothing but its own planner', async () => {
    const before = { ...process.env };
    Object.assign(process.env, {
      NODE_OPTIONS: `--require ${guard}`,
      QUIET_LOG: log,
      QUIET_MAY: path.join(dist, 'plan-worker.cjs'),
    });
    try {
      const states: { state: string }[] = [];
      const client = await startClient(folder.path, undefined, {
        initializationOptions: { planStatus: true },
        onNotification: { 'storypole/planStatus': (status) => states.push(status as { state: string }) },
      });
      const uri = uriOf(path.join(folder.path, 'main.closet'));
      const textDocument = { uri };
      await client.open(uri, readFileSync(path.join(folder.path, 'main.closet'), 'utf8'));
      await client.until(() => client.diagnostics(uri) !== undefined);
      const position = { line: 3, character: 7 };
      const range = { start: { line: 0, character: 0 }, end: { line: 60, character: 0 } };
      for (const [method, params] of [
        ['textDocument/hover', { textDocument, position }],
        ['textDocument/completion', { textDocument, position }],
        ['textDocument/inlayHint', { textDocument, range }],
        ['textDocument/codeLens', { textDocument }],
        ['textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } }],
        ['textDocument/documentLink', { textDocument }],
        ['storypole/projectView', {}],
        ['storypole/drawing', { textDocument, position: { line: 34, character: 6 } }],
      ] as const)
        await client.connection.sendRequest(method, params);
      await expect.poll(() => states.at(-1)?.state, { timeout: 30_000 }).toBe('current');
      expect(await client.shutDown()).toBe(0);
      expect(client.errors).toEqual([]);
    } finally {
      for (const name of ['NODE_OPTIONS', 'QUIET_LOG', 'QUIET_MAY']) delete process.env[name];
      Object.assign(process.env, before);
    }
    expect(tried()).toEqual([]);
  });

  it('the watch that is kept would see it', () => {
    const env = { ...process.env, QUIET_LOG: log, QUIET_MAY: 'git' };
    const attempts = [
      'fetch("http://a.test")',
      'require("node:http").get("http://a.test")',
      'require("node:net").connect(1)',
      'require("node:child_process").spawnSync("true")',
      'require("node:dns").lookup("a.test", () => {})',
    ];
    for (const attempt of attempts) {
      writeFileSync(log, '');
      spawnSync(process.execPath, ['--require', guard, '--eval', attempt], { env });
      expect(tried()[0]).not.toBe('');
    }
  });
});
