/** Names through the built server: found, renamed, refused; and the ways that lead from one to another. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import {
  type CallHierarchyItem,
  CancellationTokenSource,
  type DocumentHighlight,
  type DocumentLink,
  type Location,
  LSPErrorCodes,
  type ResponseError,
  type SelectionRange,
  type SymbolInformation,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, uriOf } from './client.ts';

const texts = {
  'job/project.closet': `project "Quarry Lane" { show inches }
use "../shared/parts" as trade
template t { board trade.oak; wall back { length 40in; height 96in }
  zone main on back { width fill; shelf top { at 72in } } }
`,
  'job/units.closet': 'unit a t\nunit b t mirrored { override main.top { at 70in } }\n',
  'shared/parts.closet': 'board oak { depth 12in; thickness 3/4in }\nstock oak { length 8ft }\n',
};
const folder = folderWith(texts);
afterEach(endAll);
afterAll(folder.remove);

const uri = (name: keyof typeof texts): string => uriOf(join(folder.path, name));

/** Where the n-th of a word stands in a file. */
function at(
  name: keyof typeof texts,
  word: string,
  nth = 0,
): { textDocument: { uri: string }; position: { line: number; character: number } } {
  const before = texts[name]
    .split(word)
    .slice(0, nth + 1)
    .join(word)
    .split('\n');
  return {
    textDocument: { uri: uri(name) },
    position: { line: before.length - 1, character: before.at(-1)?.length ?? 0 },
  };
}

const start = (capabilities: object = { workspace: { workspaceFolders: true } }): Promise<Client> =>
  startClient(folder.path, capabilities);

const shown = (found: readonly Location[]): string[] =>
  found.map(({ uri: where, range }) => `${where.split('/').at(-1)} ${range.start.line}:${range.start.character}`);

it('finds where a thing is named, with and without its declaration, and marks them in the file', async () => {
  const { connection, errors, shutDown } = await start();
  const ask = (includeDeclaration: boolean): Promise<Location[]> =>
    connection.sendRequest('textDocument/references', {
      ...at('job/units.closet', 'main'),
      context: { includeDeclaration },
    });
  expect(shown(await ask(true))).toEqual(['project.closet 3:7', 'units.closet 1:29']);
  expect(shown(await ask(false))).toEqual(['units.closet 1:29']);
  const marks: DocumentHighlight[] = await connection.sendRequest(
    'textDocument/documentHighlight',
    at('job/project.closet', 'main'),
  );
  expect(marks).toMatchObject([{ kind: 3 }]);
  expect(errors).toEqual([]);
  expect(await shutDown()).toBe(0);
});

it('links the places of a name that stands in one file alone', async () => {
  const { connection, open, errors } = await start();
  const text = 'template t {\n  zone a on back { width 20in }\n  zone b on back after a { width fill }\n}\n';
  const where = uri('job/units.closet').replace('units', 'more');
  await open(where, text);
  const ask = (line: number, character: number): Promise<unknown> =>
    connection.sendRequest('textDocument/linkedEditingRange', {
      textDocument: { uri: where },
      position: { line, character },
    });
  expect(await ask(1, 8)).toEqual({
    ranges: [
      { start: { line: 1, character: 7 }, end: { line: 1, character: 8 } },
      { start: { line: 2, character: 23 }, end: { line: 2, character: 24 } },
    ],
    wordPattern: expect.any(String),
  });
  expect(await ask(1, 3)).toBeNull();
  expect(await connection.sendRequest('textDocument/linkedEditingRange', at('job/project.closet', 'main'))).toBeNull();
  expect(errors).toEqual([]);
});

it('renames in all files, with versions where the client takes them', async () => {
  const plain = await start();
  const params = { ...at('job/units.closet', 'main'), newName: 'niche' };
  expect(await plain.connection.sendRequest('textDocument/prepareRename', params)).toEqual({
    range: { start: { line: 1, character: 29 }, end: { line: 1, character: 33 } },
    placeholder: 'main',
  });
  const edit: WorkspaceEdit = await plain.connection.sendRequest('textDocument/rename', params);
  expect(Object.keys(edit.changes ?? {})).toEqual([uri('job/project.closet'), uri('job/units.closet')]);

  const versioned = await start({ workspace: { workspaceFolders: true, workspaceEdit: { documentChanges: true } } });
  await versioned.open(uri('job/units.closet'), texts['job/units.closet']);
  const { documentChanges }: WorkspaceEdit = await versioned.connection.sendRequest('textDocument/rename', params);
  expect(documentChanges).toMatchObject([
    { textDocument: { uri: uri('job/project.closet'), version: null }, edits: [{ newText: 'niche' }] },
    { textDocument: { uri: uri('job/units.closet'), version: 1 }, edits: [{ newText: 'niche' }] },
  ]);
});

it('renames what a library declares where another project uses it', async () => {
  const { connection } = await start();
  const edit: WorkspaceEdit = await connection.sendRequest('textDocument/rename', {
    ...at('shared/parts.closet', 'oak'),
    newName: 'ash',
  });
  const lines = Object.entries(edit.changes ?? {}).map(([where, edits]) => [
    where,
    edits.map((e) => e.range.start.line),
  ]);
  expect(Object.fromEntries(lines)).toEqual({ [uri('shared/parts.closet')]: [0, 1], [uri('job/project.closet')]: [2] });
});

describe('in a whole building', () => {
  const count = 4000;
  const building = folderWith({
    'project.closet': 'project "Quarry Lane" { show inches }\n',
    'template.closet': 'template t { wall back { length 40in; height 96in } }\n',
    'units.closet': Array.from({ length: count }, (_, i) => `unit u${i} t { flat ${i} }\n`).join(''),
  });
  afterAll(building.remove);
  const [templateUri, unitsUri] = ['template', 'units'].map((name) => uriOf(join(building.path, `${name}.closet`)));
  const name = { textDocument: { uri: templateUri }, position: { line: 0, character: 9 } };

  it('renames while others are answered', async () => {
    const { connection, errors, shutDown } = await startClient(building.path, {});
    await connection.sendRequest('textDocument/hover', name);
    const answered: string[] = [];
    const renamed = connection.sendRequest<WorkspaceEdit>('textDocument/rename', { ...name, newName: 'plain' });
    const hover = connection.sendRequest('textDocument/hover', name);
    await Promise.all([renamed.then(() => answered.push('rename')), hover.then(() => answered.push('hover'))]);
    expect(answered).toEqual(['hover', 'rename']);
    expect((await renamed).changes?.[unitsUri ?? '']).toHaveLength(count);
    expect(errors).toEqual([]);
    expect(await shutDown()).toBe(0);
  });

  const asked = { ...name, context: { includeDeclaration: true } };

  it('finds where a thing is named while others are answered', async () => {
    const { connection, errors, shutDown } = await startClient(building.path, {});
    await connection.sendRequest('textDocument/hover', name);
    const answered: string[] = [];
    const found = connection.sendRequest<Location[]>('textDocument/references', asked);
    const hover = connection.sendRequest('textDocument/hover', name);
    await Promise.all([found.then(() => answered.push('references')), hover.then(() => answered.push('hover'))]);
    expect(answered).toEqual(['hover', 'references']);
    expect(await found).toHaveLength(count + 1);
    expect(errors).toEqual([]);
    expect(await shutDown()).toBe(0);
  });

  it('does not go on looking once nobody wants to know', async () => {
    const { connection, errors, shutDown } = await startClient(building.path, {});
    await connection.sendRequest('textDocument/hover', name);
    const taking = new CancellationTokenSource();
    const found = connection.sendRequest('textDocument/references', asked, taking.token);
    const outcome = expect(found).rejects.toMatchObject({ code: LSPErrorCodes.RequestCancelled });
    taking.cancel();
    await outcome;
    expect(errors).toEqual([]);
    expect(await shutDown()).toBe(0);
  });

  it('tells of no places in texts that are edited meanwhile', async () => {
    const client = await startClient(building.path, {});
    await client.open(unitsUri ?? '', readFileSync(join(building.path, 'units.closet'), 'utf8'));
    await client.connection.sendRequest('textDocument/hover', name);
    const found = client.connection.sendRequest('textDocument/references', asked);
    const outcome = expect(found).rejects.toMatchObject({ code: LSPErrorCodes.ContentModified });
    await client.change(unitsUri ?? '', 2, [{ from: [0, 0], to: [0, 0], text: '\n' }]);
    await outcome;
    const again = await client.connection.sendRequest<Location[]>('textDocument/references', asked);
    expect(again).toHaveLength(count + 1);
    expect(again[1]?.range.start).toEqual({ line: 1, character: 8 });
    expect(await client.shutDown()).toBe(0);
  });

  it('renames nothing in texts that are edited meanwhile', async () => {
    const client = await startClient(building.path, {});
    await client.open(unitsUri ?? '', readFileSync(join(building.path, 'units.closet'), 'utf8'));
    await client.connection.sendRequest('textDocument/hover', name);
    const renamed = client.connection.sendRequest('textDocument/rename', { ...name, newName: 'plain' });
    // source: LSP 3.17, ErrorCodes: ContentModified is -32801.
    const outcome = expect(renamed).rejects.toMatchObject({ code: LSPErrorCodes.ContentModified });
    // Answered, so that the renaming has begun.
    await client.connection.sendRequest('textDocument/hover', name);
    await client.change(unitsUri ?? '', 2, [{ from: [0, 0], to: [0, 0], text: '\n' }]);
    await outcome;
    expect(await client.shutDown()).toBe(0);
  });
});

it('refuses with a sentence, and logs nothing', async () => {
  const { connection, errors, shutDown } = await start();
  const refusal = async (method: string, params: object): Promise<[number, string]> => {
    try {
      await connection.sendRequest(method, params);
    } catch (error) {
      const { code, message } = error as ResponseError;
      return [code, message];
    }
    return [0, 'it was done'];
  };
  const failed = LSPErrorCodes.RequestFailed;
  expect(await refusal('textDocument/prepareRename', at('job/units.closet', 'unit'))).toEqual([
    failed,
    '"unit" is a word of the language.',
  ]);
  expect(
    await refusal('textDocument/rename', {
      ...at('job/units.closet', ' a ', 0),
      position: { line: 0, character: 5 },
      newName: 'b',
    }),
  ).toEqual([
    failed,
    'There is a unit "b" already, in units.closet, line 2; choose another name, or give that one another first.',
  ]);
  expect(await refusal('textDocument/rename', { ...at('job/project.closet', 'oak'), newName: 'ash' })).toEqual([
    failed,
    'Board "oak" comes from a library outside this project (parts.closet); give it another name there.',
  ]);
  expect(
    await refusal('textDocument/prepareRename', {
      ...at('job/units.closet', 'unit'),
      position: { line: 999, character: 9 },
    }),
  ).toEqual([failed, 'There is no name here; point at one, such as that behind "template" or "zone".']);
  expect(errors).toEqual([]);
  expect(await shutDown()).toBe(0);
});

it('leads to the material, to the users of a template and back, and into libraries', async () => {
  const { connection, errors } = await start();
  const material: Location[] = await connection.sendRequest(
    'textDocument/typeDefinition',
    at('job/project.closet', 'top'),
  );
  expect(shown(material)).toEqual(['parts.closet 0:6']);
  const [item]: CallHierarchyItem[] = await connection.sendRequest(
    'textDocument/prepareCallHierarchy',
    at('job/units.closet', 't', 1),
  );
  expect(item).toMatchObject({ name: 't', uri: uri('job/project.closet') });
  expect(await connection.sendRequest('callHierarchy/incomingCalls', { item })).toMatchObject([
    { from: { name: 'a' }, fromRanges: [{ start: { line: 0, character: 7 } }] },
    { from: { name: 'b', detail: 't mirrored' }, fromRanges: [{ start: { line: 1, character: 7 } }] },
  ]);
  const [unit]: CallHierarchyItem[] = await connection.sendRequest('textDocument/prepareCallHierarchy', {
    ...at('job/units.closet', 'unit'),
    position: { line: 0, character: 5 },
  });
  expect(await connection.sendRequest('callHierarchy/outgoingCalls', { item: unit })).toMatchObject([
    { to: { name: 't' } },
  ]);
  const links: DocumentLink[] = await connection.sendRequest(
    'textDocument/documentLink',
    at('job/project.closet', 'use'),
  );
  expect(links).toMatchObject([
    {
      target: uri('shared/parts.closet'),
      range: { start: { line: 1, character: 5 }, end: { line: 1, character: 20 } },
    },
  ]);
  const [range]: SelectionRange[] = await connection.sendRequest('textDocument/selectionRange', {
    textDocument: { uri: uri('job/units.closet') },
    positions: [at('job/units.closet', 'main').position],
  });
  expect(range?.range).toEqual({ start: { line: 1, character: 29 }, end: { line: 1, character: 33 } });
  expect(range?.parent?.range).toEqual({ start: { line: 1, character: 29 }, end: { line: 1, character: 37 } });
  expect(errors).toEqual([]);
});

it('finds symbols in all projects, and mends the paths of libraries that are moved', async () => {
  const { connection, initialized } = await start();
  const found: SymbolInformation[] = await connection.sendRequest('workspace/symbol', { query: 'o' });
  expect(found.map(({ name, containerName }) => `${name} ${containerName}`)).toEqual([
    'oak parts.closet',
    'oak parts.closet',
    'top t.main',
  ]);
  const move = (from: string, to: string): Promise<WorkspaceEdit | null> =>
    connection.sendRequest('workspace/willRenameFiles', {
      files: [{ oldUri: uriOf(join(folder.path, from)), newUri: uriOf(join(folder.path, to)) }],
    });
  const change = (edit: WorkspaceEdit | null): unknown =>
    Object.entries(edit?.changes ?? {}).map(([where, [one]]) => [where, one?.newText]);
  expect(change(await move('shared/parts.closet', 'shared/all.closet'))).toEqual([
    [uri('job/project.closet'), '../shared/all'],
  ]);
  expect(change(await move('shared', 'job/lib'))).toEqual([[uri('job/project.closet'), 'lib/parts']]);
  expect(change(await move('job', 'jobs/one'))).toEqual([[uri('job/project.closet'), '../../shared/parts']]);
  expect(await move('job/units.closet', 'job/flats.closet')).toBeNull();
  expect(initialized.capabilities.workspace?.fileOperations).toMatchObject({
    willRename: {},
    didRename: {},
    didDelete: {},
  });
});
