/** Formatting through the built server: whole, in part, while typing; of the text as it is now. */
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import type { TextEdit } from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, uriOf } from './client.ts';

const folder = folderWith({ 'project.closet': 'project "Quarry Lane" {}\n' });
const uri = uriOf(join(folder.path, 'a.closet'));
const textDocument = { uri };
const options = { tabSize: 8, insertSpaces: false };
afterEach(endAll);
afterAll(folder.remove);

async function opened(text: string): Promise<Client> {
  const client = await startClient(folder.path);
  await client.open(uri, text);
  return client;
}

const edit = (line: number, from: number, to: number, newText: string): TextEdit => ({
  range: { start: { line, character: from }, end: { line, character: to } },
  newText,
});

it('says that it can', async () => {
  const client = await startClient(folder.path);
  expect(client.initialized.capabilities).toMatchObject({
    documentFormattingProvider: true,
    documentRangeFormattingProvider: { rangesSupport: true },
    documentOnTypeFormattingProvider: { firstTriggerCharacter: '}', moreTriggerCharacter: [';', '\n'] },
  });
  await client.shutDown();
});

it('lays out a file, in columns of UTF-16, whatever the client says of tabs', async () => {
  const client = await opened('/* 🚪 */ unit  a b {\r\n\tfloor 1\r\n}\r\n');
  expect(await client.connection.sendRequest('textDocument/formatting', { textDocument, options })).toEqual([
    edit(0, 14, 15, ''),
    edit(1, 0, 1, '  '),
  ]);
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('lays out selections', async () => {
  const client = await opened('unit  a b\nunit  c d\nunit  e f\n');
  const line = (n: number): object => ({ start: { line: n, character: 0 }, end: { line: n, character: 3 } });
  const ask = (method: string, more: object): Promise<unknown> =>
    client.connection.sendRequest(method, { textDocument, options, ...more });
  expect(await ask('textDocument/rangeFormatting', { range: line(1) })).toEqual([edit(1, 5, 6, '')]);
  expect(await ask('textDocument/rangesFormatting', { ranges: [line(2), line(0)] })).toEqual([
    edit(0, 5, 6, ''),
    edit(2, 5, 6, ''),
  ]);
  await client.shutDown();
});

it('lays out what was typed, in the text that the typing left', async () => {
  const client = await opened('unit  a b {\nfloor 1\n\n');
  await client.change(uri, 2, [{ from: [2, 0], to: [2, 0], text: '}' }]);
  const typed = { textDocument, options, position: { line: 2, character: 1 }, ch: '}' };
  expect(await client.connection.sendRequest('textDocument/onTypeFormatting', typed)).toEqual([
    edit(0, 5, 6, ''),
    edit(1, 0, 0, '  '),
  ]);
  await client.shutDown();
});

it('answers for positions past the end, files that are not there and texts with mistakes everywhere', async () => {
  const client = await opened('}}}{{{"/*\u0000 // ;\n}');
  const position = { line: 900, character: 900 };
  const range = { start: position, end: position };
  for (const document of [textDocument, { uri: uriOf(join(folder.path, 'gone.closet')) }]) {
    const ask = (method: string, more: object): Promise<unknown> =>
      client.connection.sendRequest(method, { textDocument: document, options, ...more });
    expect((await ask('textDocument/formatting', {})) ?? []).toEqual([]);
    expect((await ask('textDocument/rangeFormatting', { range })) ?? []).toEqual([]);
    for (const ch of ['}', ';', '\n', 'x'])
      expect((await ask('textDocument/onTypeFormatting', { position, ch })) ?? []).toEqual([]);
  }
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});
