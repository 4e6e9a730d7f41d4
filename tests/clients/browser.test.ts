/** The browser build of the server in a worker of headless Chromium; what it answers is what the server in Node answers. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { CompletionList, Diagnostic, Hover, InitializeResult } from 'vscode-languageserver-protocol/node';
import type { ShownDrawing } from '../../server/protocol/features/drawing.ts';
import { endAll, startClient, told, uriOf } from '../protocol/client.ts';
import { type BrowserClient, type Pages, startPages } from './browser.ts';
import { browser } from './installed.ts';
import type { Texts } from './page.ts';

const example = resolve(import.meta.dirname, '../../examples/quarry-lane');
const files = readdirSync(example, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.closet'))
  .sort();
/** Where a repository stands that no disk holds. */
const there = 'vscode-vfs://github/quarry-lane/closets';
const linen = 'templates/linen.closet';
const textOf = (name: string): string => readFileSync(join(example, name), 'utf8');
const all: Texts = Object.fromEntries(files.map((name) => [`${there}/${name}`, textOf(name)]));

const initialize = (folder: string | undefined, more: object = {}) => ({
  processId: null,
  rootUri: null,
  workspaceFolders: folder === undefined ? null : [{ uri: folder, name: 'closets' }],
  capabilities: { workspace: { workspaceFolders: true, didChangeWatchedFiles: { dynamicRegistration: true } } },
  initializationOptions: { planStatus: true, files: true, ...more },
});

/** Places of a text, line and column from 0. */
function placeOf(text: string, words: string): { line: number; character: number } {
  const before = text.slice(0, text.indexOf(words)).split('\n');
  return { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
}

describe.skipIf(browser.missing)(`the server in a browser: ${browser.title}`, () => {
  let pages: Pages;
  beforeAll(async () => {
    pages = await startPages(browser.program);
  });
  afterAll(() => pages?.close());
  afterEach(endAll);

  async function started(texts: Texts, folder: string | undefined = there, noPlanner = false): Promise<BrowserClient> {
    const client = await pages.open(texts, { noPlanner });
    const { capabilities } = await client.request<InitializeResult>('initialize', initialize(folder));
    expect(capabilities.hoverProvider).toBe(true);
    await client.notify('initialized', {});
    return client;
  }

  const open = (client: BrowserClient, uri: string, text: string) =>
    client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 1, text } });

  const errors = (client: BrowserClient): unknown[] =>
    client.told
      .filter(({ method, params }) => method === 'window/logMessage' && (params as { type: number }).type === 1)
      .map(({ params }) => params);

  const planned = (client: BrowserClient): string | undefined => {
    const status = client.told.findLast(({ method }) => method === 'storypole/planStatus');
    const { state, text } = (status?.params ?? {}) as { state?: string; text?: string };
    return state === 'current' ? text : undefined;
  };

  it('tells of every file of the example, cutting plan and all, what the server in Node tells', async () => {
    const status: { state?: string; text?: string } = {};
    const node = await startClient(example, undefined, {
      initializationOptions: { planStatus: true },
      onNotification: { 'storypole/planStatus': (params) => void Object.assign(status, params) },
    });
    await node.open(uriOf(join(example, linen)), textOf(linen));
    const client = await started(all);
    await open(client, `${there}/${linen}`, textOf(linen));
    // The status is told after the findings that go with it.
    await client.until(() => planned(client) !== undefined);
    while (status.state !== 'current') await new Promise((later) => setTimeout(later, 20));
    expect(planned(client)).toBe(status.text);
    expect(status.text).not.toBe('');
    const bare = (diagnostics: readonly Diagnostic[] | undefined, folder: string): unknown =>
      JSON.parse(JSON.stringify(diagnostics ?? []).replaceAll(folder, ''));
    let count = 0;
    for (const name of files) {
      const here = bare(client.diagnostics(`${there}/${name}`), there);
      expect(here, name).toEqual(bare(node.diagnostics(uriOf(join(example, name))), uriOf(example)));
      count += (here as unknown[]).length;
    }
    expect(count).toBeGreaterThan(0);
    expect(errors(client)).toEqual([]);
    await node.shutDown();
  });

  it('the plan is made by a worker of the server, or by the server itself where there can be none', async () => {
    const plans: unknown[] = [];
    const before = pages.served.length;
    for (const noPlanner of [true, false]) {
      const client = await started(all, there, noPlanner);
      await open(client, `${there}/${linen}`, textOf(linen));
      await client.until(() => planned(client) !== undefined);
      plans.push(planned(client));
      expect(errors(client)).toEqual([]);
    }
    expect(plans[0]).toBe(plans[1]);
    expect(pages.served.slice(before)).toEqual([
      '/alone/server-web.js',
      '/dist/server-web.js',
      '/dist/plan-worker-web.js',
    ]);
  });

  it('hover, completion, the drawing and definition answer as in Node, and an edit is told of', async () => {
    const node = await startClient(example);
    const client = await started(all);
    const text = textOf(linen);
    const [here, uri] = [uriOf(join(example, linen)), `${there}/${linen}`];
    await node.open(here, text);
    await open(client, uri, text);
    const position = placeOf(text, 'shelf top');
    const ask = async <R>(method: string, at: object, more: object = {}): Promise<[R, R]> => [
      await client.request<R>(method, { textDocument: { uri }, position: at, ...more }),
      await node.connection.sendRequest<R>(method, { textDocument: { uri: here }, position: at, ...more }),
    ];
    const [hover, nodeHover] = await ask<Hover>('textDocument/hover', position);
    expect(JSON.stringify(hover)).toContain('Cut');
    expect(hover).toEqual(nodeHover);
    const [items, nodeItems] = await ask<CompletionList>('textDocument/completion', position);
    expect(JSON.stringify(items)).toContain('"shelf"');
    expect(items).toEqual(nodeItems);
    const [drawn, nodeDrawn] = await ask<ShownDrawing>('storypole/drawing', position);
    expect(drawn.current).toEqual(['shelves main.top']);
    expect(JSON.stringify(drawn).replaceAll(there, '')).toBe(JSON.stringify(nodeDrawn).replaceAll(uriOf(example), ''));
    const floor = 'floors/floor-1.closet';
    const asked = { position: placeOf(textOf(floor), 'linen {') };
    const target = await client.request('textDocument/definition', {
      ...asked,
      textDocument: { uri: `${there}/${floor}` },
    });
    const nodeTarget = await node.connection.sendRequest('textDocument/definition', {
      ...asked,
      textDocument: { uri: uriOf(join(example, floor)) },
    });
    expect(JSON.stringify(target)).toContain(uri);
    expect(JSON.stringify(target).replaceAll(there, '')).toBe(
      JSON.stringify(nodeTarget).replaceAll(uriOf(example), ''),
    );

    const start = placeOf(text, '78in');
    const edit = (version: number, length: number, put: string) =>
      client.notify('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ range: { start, end: { ...start, character: start.character + length } }, text: put }],
      });
    const wrong = (): boolean => told(client.diagnostics(uri)).some((t) => t.includes('error unit-of-measure-missing'));
    await edit(2, 4, '78');
    await client.until(wrong);
    await edit(3, 2, '78in');
    await client.until(() => !wrong());
    expect(errors(client)).toEqual([]);
    await node.shutDown();
  });

  it('files that come, change and go are asked of the client again', async () => {
    const wrong = 'project "House" { show inches }\nboard oak { depth 12 }\n';
    const uri = `${there}/house/project.closet`;
    const client = await started({ [uri]: wrong });
    const codes = (): string[] => told(client.diagnostics(uri)).map((t) => t.split(' ').at(-1) ?? '');
    const changed = (address: string, type: number) =>
      client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: address, type }] });
    await client.until(() => codes().includes('unit-of-measure-missing'));
    await client.write(uri, wrong.replace('12', '12in'));
    await changed(uri, 2);
    await client.until(() => !codes().includes('unit-of-measure-missing'));
    await client.write(uri, wrong);
    await changed(uri, 2);
    await client.until(() => codes().includes('unit-of-measure-missing'));
    await client.write(uri);
    await changed(`${there}/house`, 3);
    await client.until(() => codes().length === 0);
    expect(errors(client)).toEqual([]);
  });

  it('a document that nobody can read the surroundings of is told of by itself', async () => {
    const client = await pages.open({});
    await client.request('initialize', { processId: null, rootUri: null, capabilities: {} });
    await client.notify('initialized', {});
    await open(client, 'inmemory://model/1.closet', 'board oak { depth 12 }\n');
    await client.until(() => (client.diagnostics('inmemory://model/1.closet')?.length ?? 0) > 0);
    expect(told(client.diagnostics('inmemory://model/1.closet'))).toContain('1:19-21 error unit-of-measure-missing');
  });
});
