/** One file under several spellings of its address is one file, told of as the client spells it. */
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import type { DocumentSymbol, Hover, Location, WorkspaceEdit } from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, told, uriOf } from './client.ts';

const texts = {
  'project.closet': `project "Quarry Lane" { kerf 1/8in }
template t { wall back { length 40in; height 96in } }
`,
  'units.closet': 'unit a t\n',
};
const folder = folderWith(texts);
afterEach(endAll);
afterAll(folder.remove);

const plain = (name: keyof typeof texts): string => uriOf(join(folder.path, name));
/** The same file, with letters written as numbers. */
const spelled = (name: keyof typeof texts): string =>
  plain(name).replace(name, `%${name.charCodeAt(0).toString(16)}${name.slice(1)}`);
const template = { line: 1, character: 9 };

async function names({ connection }: Client, uri: string): Promise<string[]> {
  const found: DocumentSymbol[] | null = await connection.sendRequest('textDocument/documentSymbol', {
    textDocument: { uri },
  });
  return (found ?? []).map(({ name }) => name);
}

const start = (at = folder.path): Promise<Client> =>
  startClient(at, {
    workspace: { workspaceFolders: true, workspaceEdit: { documentChanges: true } },
    textDocument: { documentSymbol: { hierarchicalDocumentSymbolSupport: true } },
  });

it.each([
  ['with numbers for letters', spelled('units.closet')],
  ['with a host', plain('units.closet').replace('file:///', 'file://localhost/')],
  ['with a way round', plain('units.closet').replace('units.closet', 'walls/../units.closet')],
])('what is opened %s is the file of the folder', async (_, uri) => {
  const client = await start();
  await client.open(uri, 'unit a t { width 30in }\nunit b t\n');
  await client.until(() => (client.diagnostics(uri)?.length ?? 0) > 0);
  expect(told(client.diagnostics(uri))).toEqual(['1:12-17 error name-not-known']);
  expect(client.published.filter((p) => p.uri !== uri && p.diagnostics.length > 0)).toEqual([]);

  const found: Location[] = await client.connection.sendRequest('textDocument/references', {
    textDocument: { uri: plain('project.closet') },
    position: template,
    context: { includeDeclaration: false },
  });
  expect(found.map((one) => one.uri)).toEqual([uri, uri]);
  const { documentChanges }: WorkspaceEdit = await client.connection.sendRequest('textDocument/rename', {
    textDocument: { uri: spelled('project.closet') },
    position: template,
    newName: 'plain',
  });
  expect(documentChanges).toMatchObject([
    { textDocument: { uri: plain('project.closet'), version: null } },
    { textDocument: { uri, version: 1 } },
  ]);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('a folder is opened under any spelling', async () => {
  const client = await startClient(undefined, undefined, {
    params: {
      workspaceFolders: [{ uri: uriOf(folder.path).replace('file:///', 'file://localhost/./'), name: 'flats' }],
    },
  });
  const hover: Hover | null = await client.connection.sendRequest('textDocument/hover', {
    textDocument: { uri: plain('units.closet') },
    position: { line: 0, character: 7 },
  });
  expect(JSON.stringify(hover)).toContain('t');
  expect(hover).not.toBeNull();
  expect(await client.shutDown()).toBe(0);
});

const [one, other] = [plain('units.closet'), spelled('units.closet')];

it('what is open under two spellings is open until both are closed', async () => {
  const client = await start();
  await client.open(one, 'unit a t\nunit b t\n');
  await client.open(other, 'unit a t\nunit b t\n');
  expect(await names(client, one)).toEqual(['a', 'b']);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: other } });
  expect(await names(client, one)).toEqual(['a', 'b']);
  await client.change(one, 2, [{ from: [2, 0], to: [2, 0], text: 'unit c t\n' }]);
  expect(await names(client, one)).toEqual(['a', 'b', 'c']);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: one } });
  // As it is on the disk.
  expect(await names(client, one)).toEqual(['a']);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('of two spellings with a text each the one that was typed in last counts, and its edits are made in its own text', async () => {
  const client = await start();
  await client.open(one, 'unit first t\nunit second t\n');
  await client.open(other, 'unit third t\n');
  expect(await names(client, one)).toEqual(['third']);
  await client.change(one, 2, [{ from: [1, 5], to: [1, 11], text: 'last' }]);
  expect(await names(client, other)).toEqual(['first', 'last']);
  await client.change(other, 2, [{ from: [0, 5], to: [0, 10], text: 'other' }]);
  expect(await names(client, other)).toEqual(['other']);
  // One of them that is closed leaves the other as it was.
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: other } });
  expect(await names(client, one)).toEqual(['first', 'last']);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('edits that a client makes under both spellings are made once', async () => {
  const client = await start();
  await client.open(one, 'unit a t\n');
  await client.open(other, 'unit a t\n');
  for (const [version, name] of [
    [2, 'b'],
    [3, 'c'],
  ] as const)
    for (const uri of [one, other])
      await client.change(uri, version, [{ from: [1, 0], to: [1, 0], text: `unit ${name} t\n` }]);
  expect(await names(client, one)).toEqual(['a', 'c', 'b']);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: one } });
  expect(await names(client, other)).toEqual(['a', 'c', 'b']);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('what is told under one spelling is taken back when another takes its place', async () => {
  const client = await start();
  const wrong = 'unit a t { width 30in }\n';
  await client.open(one, wrong);
  await client.until(() => (client.diagnostics(one)?.length ?? 0) > 0);
  await client.open(other, wrong);
  await client.until(() => (client.diagnostics(other)?.length ?? 0) > 0);
  expect(client.diagnostics(one)).toEqual([]);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: other } });
  await client.until(() => (client.diagnostics(one)?.length ?? 0) > 0);
  expect(client.diagnostics(other)).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});
