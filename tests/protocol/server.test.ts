/**
 * The built server over standard input and output.
 * source: Language Server Protocol 3.17 for what may be said when; the words and numbers are ours.
 */
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import type {
  CodeAction,
  CompletionItem,
  CompletionList,
  DocumentSymbol,
  Hover,
  Location,
  WorkspaceEdit,
} from 'vscode-languageserver-protocol/node';
import { type Client, command, endAll, folderWith, startClient, told, uriOf } from './client.ts';

const materials = `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/16in }
stock white-12 { length 8ft price 18.90 EUR unlimited }
stock chrome { length 8ft price 9.80 EUR unlimited }
`;
const linen = `template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  zone main on back {
    width fill
    shelf top { at 72in; board white-12 }
  }
}
unit A-101 linen { width 36in }
`;

const folder = folderWith({ 'project.closet': materials, 'linen.closet': linen });
const file = uriOf(join(folder.path, 'linen.closet'));
afterEach(endAll);
afterAll(folder.remove);

/** Where a text begins in the linen file: line and column from 0. */
function placeOf(part: string, text = linen): [number, number] {
  const at = text.indexOf(part);
  expect(at, part).toBeGreaterThanOrEqual(0);
  const before = text.slice(0, at).split('\n');
  return [before.length - 1, before.at(-1)?.length ?? 0];
}

function at(part: string, into = 0): { textDocument: { uri: string }; position: { line: number; character: number } } {
  const [line, column] = placeOf(part);
  return { textDocument: { uri: file }, position: { line, character: column + into } };
}

async function opened(): Promise<Client> {
  const client = await startClient(folder.path);
  await client.open(file, linen);
  await client.until(() => client.diagnostics(file) !== undefined);
  return client;
}

it('a clean file has no diagnostics, and its version is sent with them', async () => {
  const client = await opened();
  expect(client.published.findLast((p) => p.uri === file)).toEqual({ uri: file, version: 1, diagnostics: [] });
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('an edit changes the diagnostics, and undoing it takes them back', async () => {
  const client = await opened();
  const [line, column] = placeOf('72in');
  await client.change(file, 2, [{ from: [line, column + 2], to: [line, column + 4], text: '' }]);
  await client.until(() => client.published.some((p) => p.uri === file && p.version === 2));
  expect(told(client.diagnostics(file))).toEqual(['6:20-22 error unit-of-measure-missing']);
  const [diagnostic] = client.diagnostics(file) ?? [];
  expect(diagnostic?.source).toBe('storypole');
  expect(diagnostic?.message).toMatch(/^72 has no unit of measure/);
  await client.change(file, 3, [{ from: [line, column + 2], to: [line, column + 2], text: 'in' }]);
  await client.until(() => client.published.some((p) => p.uri === file && p.version === 3));
  expect(client.diagnostics(file)).toEqual([]);
  await client.shutDown();
});

it('several changes in one notification are each stated in the text that the one before it left', async () => {
  const client = await opened();
  const [line, column] = placeOf('72in');
  await client.change(file, 2, [
    { from: [0, 0], to: [0, 0], text: '// one line more\n' },
    { from: [line + 1, column], to: [line + 1, column + 4], text: '7.5ft' },
    { from: [line + 1, column + 3], to: [line + 1, column + 5], text: '' },
  ]);
  await client.until(() => client.published.some((p) => p.version === 2));
  expect(told(client.diagnostics(file))).toEqual(['7:20-23 error unit-of-measure-missing']);
  await client.shutDown();
});

it('columns are UTF-16: a wide character before the place counts as two', async () => {
  const client = await startClient(folder.path);
  const text = linen.replace('shelf top { at 72in;', '/* 🚪é */ shelf top { at 72;');
  await client.open(file, text);
  await client.until(() => (client.diagnostics(file)?.length ?? 0) > 0);
  const [line, column] = placeOf('72;', text);
  expect(client.diagnostics(file)?.[0]?.range).toEqual({
    start: { line, character: column },
    end: { line, character: column + 2 },
  });
  await client.shutDown();
});

it('the unsaved text of one file is seen from another, and what is on disk again once it is closed', async () => {
  const client = await opened();
  const project = uriOf(join(folder.path, 'project.closet'));
  await client.open(project, materials.replace('board white-12', 'board white-16'));
  await client.until(() => (client.diagnostics(file)?.length ?? 0) > 0);
  expect(told(client.diagnostics(file))).toEqual(['6:32-40 error name-not-known']);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: project } });
  await client.until(() => client.diagnostics(file)?.length === 0);
  expect(await client.shutDown()).toBe(0);
});

it('an unsaved edit of a library is seen from the project that uses it', async () => {
  const house =
    'project "House" { show inches }\nuse "../trade" as trade\nextra spare { board trade.oak; length 24in }\n';
  const stock = 'stock trade.oak { length 6ft }\n';
  const trade = 'board oak { depth 12in; thickness 3/4in }\n';
  const both = folderWith({ 'house/project.closet': house + stock, 'trade/boards.closet': trade });
  const used = uriOf(join(both.path, 'trade/boards.closet'));
  const using = uriOf(join(both.path, 'house/project.closet'));
  const client = await startClient(both.path);
  await client.open(used, trade);
  await client.until(() => client.diagnostics(used) !== undefined);
  await client.change(used, 2, [{ from: [0, 6], to: [0, 9], text: 'elm' }]);
  await client.until(() => (client.diagnostics(using)?.length ?? 0) > 0);
  expect(told(client.diagnostics(using))).toEqual(['3:21-30 error name-not-known', '4:7-16 error name-not-known']);
  await client.change(used, 3, [{ from: [0, 6], to: [0, 9], text: 'oak' }]);
  await client.until(() => client.diagnostics(using)?.length === 0);
  await client.shutDown();
  both.remove();
});

it('an unsaved document is a project of its own, and its diagnostics go when it is closed', async () => {
  const client = await startClient(folder.path);
  const uri = 'untitled:Untitled-1';
  await client.open(uri, 'board b { depth 12 }\n');
  await client.until(() => (client.diagnostics(uri)?.length ?? 0) > 0);
  expect(told(client.diagnostics(uri))).toContain('1:17-19 error unit-of-measure-missing');
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  await client.until(() => client.diagnostics(uri)?.length === 0);
  await client.shutDown();
});

it('a file that is made, changed and deleted on disk is followed', async () => {
  const client = await opened();
  const path = join(folder.path, 'extra.closet');
  const uri = uriOf(path);
  const tell = (type: number) =>
    client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri, type }] });
  writeFileSync(path, 'board wide { depth 16 }\n');
  await tell(1);
  await client.until(() => (client.diagnostics(uri)?.length ?? 0) > 0);
  writeFileSync(path, 'board wide { depth 16in }\n');
  await tell(2);
  await client.until(() => client.diagnostics(uri)?.length === 0);
  writeFileSync(path, 'board wide { depth 16 }\n');
  await tell(2);
  await client.until(() => (client.diagnostics(uri)?.length ?? 0) > 0);
  rmSync(path);
  await tell(3);
  await client.until(() => client.diagnostics(uri)?.length === 0);
  await client.shutDown();
});

it('hover tells the cut length with its steps', async () => {
  const client = await opened();
  const hover = await client.connection.sendRequest<Hover>('textDocument/hover', at('shelf top', 1));
  const text = (hover.contents as { kind: string; value: string }).value;
  // A zone that fills a wall of 36 in, between the walls: 36 in, and nothing is taken off.
  expect(text).toContain('36in');
  expect(text).toContain('wall back, as drawn');
  expect(hover.range?.start).toEqual(at('shelf top').position);
  await client.shutDown();
});

it('completion offers the words that may stand in a block', async () => {
  const client = await opened();
  const answer = await client.connection.sendRequest<CompletionItem[] | CompletionList>(
    'textDocument/completion',
    at('shelf top', 0),
  );
  const items = Array.isArray(answer) ? answer : answer.items;
  const labels = items.map((i) => i.label);
  expect(labels).toEqual(expect.arrayContaining(['shelf', 'rod', 'panels', 'shelves', 'width']));
  expect(labels).not.toContain('project');
  expect(items.every((i) => i.textEdit !== undefined)).toBe(true);
  await client.shutDown();
});

it('a definition is found in another file', async () => {
  const client = await opened();
  const found = await client.connection.sendRequest<Location>('textDocument/definition', at('white-12', 2));
  const [line, column] = placeOf('white-12', materials);
  expect(found).toEqual({
    uri: uriOf(join(folder.path, 'project.closet')),
    range: { start: { line, character: column }, end: { line, character: column + 'white-12'.length } },
  });
  await client.shutDown();
});

it('the outline holds declarations and what is in them', async () => {
  const client = await opened();
  const symbols = await client.connection.sendRequest<DocumentSymbol[]>('textDocument/documentSymbol', {
    textDocument: { uri: file },
  });
  const names = (list: readonly DocumentSymbol[]): unknown[] =>
    list.map((s) => (s.children && s.children.length > 0 ? [s.name, names(s.children)] : s.name));
  expect(JSON.stringify(names(symbols))).toMatch(/linen.*main.*top.*A-101/);
  await client.shutDown();
});

it('a code action, applied, ends its diagnostic', async () => {
  const client = await opened();
  const [line, column] = placeOf('72in');
  await client.change(file, 2, [{ from: [line, column + 2], to: [line, column + 4], text: '' }]);
  await client.until(() => (client.diagnostics(file)?.length ?? 0) > 0);
  const [diagnostic] = client.diagnostics(file) ?? [];
  const actions = await client.connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri: file },
    range: diagnostic?.range,
    context: { diagnostics: [diagnostic] },
  });
  const [first] = actions;
  expect(first?.title).toBe('Write 72in');
  expect(first?.kind).toBe('quickfix');
  const edits = Object.values((first?.edit as WorkspaceEdit | undefined)?.changes ?? {}).flat();
  expect(edits).toHaveLength(1);
  await client.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: file, version: 3 },
    contentChanges: edits.map(({ range, newText }) => ({ range, text: newText })),
  });
  await client.until(() => client.published.some((p) => p.uri === file && p.version === 3));
  expect(client.diagnostics(file)).toEqual([]);
  await client.shutDown();
});

it('the cut list of the unit under the cursor is a table, and nowhere else there is none', async () => {
  const client = await opened();
  const list = await client.connection.sendRequest<{ title: string; text: string } | null>(
    'storypole/cutList',
    at('unit A-101', 3),
  );
  expect(list?.title).toContain('A-101');
  expect(list?.text).toMatch(/^ +1 +36in +12in +3\/4in +white-12 +main\.top$/m);
  const none = await client.connection.sendRequest('storypole/cutList', {
    textDocument: { uri: uriOf(join(folder.path, 'project.closet')) },
    position: { line: 1, character: 2 },
  });
  expect(none).toBeNull();
  await client.shutDown();
});

it('a request that is cancelled is answered as cancelled', async () => {
  const client = await opened();
  const id = 'to be cancelled';
  // Both messages in one piece, so that the server has read the second before it answers the first.
  const frame = (message: object): string => {
    const body = JSON.stringify({ jsonrpc: '2.0', ...message });
    return `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
  };
  const answers = new Promise<{ code?: number }>((resolve) => {
    let text = '';
    client.process.stdout?.on('data', (piece: Buffer) => {
      text += piece.toString();
      const found = /\{"jsonrpc":"2\.0","id":"to be cancelled"[^\n]*?"error":\{"code":(-?\d+)/.exec(text);
      if (found) resolve({ code: Number(found[1]) });
    });
  });
  const [line, column] = placeOf('72in');
  client.process.stdin?.write(
    frame({
      method: 'textDocument/didChange',
      params: {
        textDocument: { uri: file, version: 2 },
        contentChanges: [
          { range: { start: { line, character: column }, end: { line, character: column } }, text: '1' },
        ],
      },
    }) +
      frame({ id, method: 'textDocument/hover', params: at('shelf top', 1) }) +
      frame({ method: '$/cancelRequest', params: { id } }),
  );
  // source: LSP 3.17, ErrorCodes: RequestCancelled is -32800.
  expect(await answers).toEqual({ code: -32800 });
  await client.shutDown();
});

it('fifty edits and a hover behind them: the hover is about the last text, and comes soon', async () => {
  const client = await opened();
  const [line, column] = placeOf('72in');
  const from = performance.now();
  for (let i = 0; i < 50; i++) {
    void client.change(file, i + 2, [{ from: [line, column], to: [line, column + 2], text: String(30 + i) }]);
  }
  const hover = await client.connection.sendRequest<Hover>('textDocument/hover', at('shelf top', 1));
  const took = performance.now() - from;
  expect(JSON.stringify(hover.contents)).toContain('79in');
  // One check of this project takes a few milliseconds: fifty of them one after the other would not matter,
  // but a wait for each would.
  expect(took).toBeLessThan(2000);
  await client.until(() => client.published.some((p) => p.uri === file && p.version === 51));
  expect(client.diagnostics(file)).toEqual([]);
  await client.shutDown();
});

it('requests about anything that is not there are answered with nothing, and the server lives on', async () => {
  const client = await opened();
  const ask = (uri: string, line: number, character: number) =>
    client.connection.sendRequest('textDocument/hover', { textDocument: { uri }, position: { line, character } });
  expect(await ask(uriOf(join(folder.path, 'nowhere.closet')), 0, 0)).toBeNull();
  expect(await ask('git:/somewhere/a.closet', 0, 0)).toBeNull();
  expect(await ask('not an address', 0, 0)).toBeNull();
  expect(await ask(file, 100_000, 100_000)).toBeNull();
  await client.open('untitled:empty', '');
  expect(await ask('untitled:empty', 0, 0)).toBeNull();
  await client.change('untitled:never-opened', 3, [{ from: [0, 0], to: [0, 0], text: 'x' }]);
  expect(await ask(file, ...placeOf('shelf top'))).not.toBeNull();
  expect(await client.shutDown()).toBe(0);
});

it('nothing but messages is on standard output', async () => {
  const client = await startClient(folder.path);
  let raw = Buffer.alloc(0);
  client.process.stdout?.on('data', (piece: Buffer) => {
    raw = Buffer.concat([raw, piece]);
  });
  await client.open(file, linen.replaceAll('in', ''));
  await client.until(() => (client.diagnostics(file)?.length ?? 0) > 0);
  await client.connection.sendRequest('textDocument/hover', at('shelf top', 1));
  await client.shutDown();
  let frames = 0;
  for (let start = 0; start < raw.length; frames++) {
    const head = raw.indexOf('\r\n\r\n', start);
    const match = /^Content-Length: (\d+)$/.exec(raw.subarray(start, head).toString());
    expect(match, raw.subarray(start, start + 80).toString()).not.toBeNull();
    const end = head + 4 + Number(match?.[1]);
    JSON.parse(raw.subarray(head + 4, end).toString());
    start = end;
  }
  expect(frames).toBeGreaterThan(1);
});

it('the server ends when its client goes away without a word', async () => {
  const client = await opened();
  const ended = new Promise<number | null>((resolve) => client.process.once('exit', resolve));
  client.process.stdin?.end();
  expect(await ended).toBe(1);
});

it('what is offered is what is answered', async () => {
  const client = await startClient(folder.path);
  const { capabilities } = client.initialized;
  expect(capabilities).toMatchObject({
    textDocumentSync: { openClose: true, change: 2 },
    hoverProvider: true,
    definitionProvider: true,
    documentSymbolProvider: true,
  });
  expect(command).toMatch(/storypole\.cjs$/);
  await client.shutDown();
});
