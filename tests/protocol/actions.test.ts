/** Code actions of the built server beyond the quick fix of one finding, and the page that a finding links to. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { type CodeAction, LSPErrorCodes } from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, uriOf } from './client.ts';

const folder = folderWith({
  'project.closet': `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft }
`,
});
afterEach(endAll);
afterAll(folder.remove);
const uri = uriOf(join(folder.path, 'layout.closet'));

const text = `template t {
  wall back { length 60in; height 96in }
  zone a on back { width fill; shelf s { at 40in; board whit-12 }; shelf r { at 60in; board whit-12 } }
}
unit u t
survey u { taken "12 March" }
`;

const codeAction = { dataSupport: true, disabledSupport: true, resolveSupport: { properties: ['edit'] } };

async function opened(textDocument: object): Promise<Client> {
  const client = await startClient(folder.path, { workspace: {}, textDocument });
  await client.open(uri, text);
  await client.until(() => (client.diagnostics(uri)?.length ?? 0) >= 2);
  return client;
}

function placeOf(offset: number): [line: number, column: number] {
  const before = text.slice(0, offset).split('\n');
  return [before.length - 1, before.at(-1)?.length ?? 0];
}

function ask(client: Client, line: number, character: number, only?: readonly string[]): Promise<CodeAction[]> {
  const at = { line, character };
  return client.connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri },
    range: { start: at, end: at },
    context: { diagnostics: [], ...(only && { only }) },
  });
}

it('all findings of a rule in a file are mended by one, whose edit is made when it is chosen', async () => {
  const client = await opened({ codeAction });
  const actions = await ask(client, 2, 60);
  const all = actions.find((a) => a.title === 'Fix all "name-not-known" in this file');
  expect(all?.edit).toBeUndefined();
  const resolved = await client.connection.sendRequest<CodeAction>('codeAction/resolve', all);
  const [edit] = resolved.edit?.changes?.[uri] ?? [];
  expect(edit?.newText).toBe('e-12 }; shelf r { at 60in; board white');
  await client.shutDown();
});

it('a change of what stands at a place is not made in another text', async () => {
  const client = await opened({ codeAction });
  // A number in the first shelf is offered to become a parameter.
  const actions = await ask(client, 2, text.split('\n')[2]?.indexOf('40in') ?? 0);
  const offered = actions.find((a) => a.title.startsWith('Make 40in the parameter'));
  expect(offered).toBeDefined();
  const still = await client.connection.sendRequest<CodeAction>('codeAction/resolve', offered);
  expect(still.edit?.changes?.[uri]?.length).toBeGreaterThan(0);
  // The shelf goes, and the next one comes to stand where it stood.
  const [from, to] = [text.indexOf('shelf s'), text.indexOf('shelf r')];
  await client.change(uri, 2, [{ from: placeOf(from), to: placeOf(to), text: '' }]);
  await expect(client.connection.sendRequest('codeAction/resolve', offered)).rejects.toMatchObject({
    code: LSPErrorCodes.ContentModified,
  });
  await client.shutDown();
});

it('a change is meant for the version that it was made of, where the client knows that', async () => {
  const client = await startClient(folder.path, {
    workspace: { workspaceEdit: { documentChanges: true } },
    textDocument: { codeAction },
  });
  await client.open(uri, text);
  await client.until(() => (client.diagnostics(uri)?.length ?? 0) >= 2);
  const fix = (await ask(client, 2, 60)).find(({ edit }) => edit !== undefined);
  expect(fix?.edit).toMatchObject({ documentChanges: [{ textDocument: { uri, version: 1 } }] });
  await client.shutDown();
});

it('a client that cannot wait has the edit at once', async () => {
  const client = await opened({});
  const actions = await ask(client, 2, 60);
  expect(actions.find((a) => a.title.startsWith('Fix all'))?.edit?.changes?.[uri]).toHaveLength(1);
  await client.shutDown();
});

it('only what is asked for is offered', async () => {
  const client = await opened({ codeAction });
  const kinds = async (only: readonly string[]): Promise<string[]> =>
    [...new Set((await ask(client, 2, 60, only)).map((a) => a.kind ?? ''))].sort();
  expect(await kinds(['quickfix'])).toEqual(['quickfix']);
  expect(await kinds(['source.fixAll'])).toEqual(['source.fixAll.storypole']);
  expect(await kinds(['source.organizeImports'])).toEqual([]);
  const refactor = await ask(client, 2, 45, ['refactor']);
  expect(refactor.map((a) => a.title)).toContain('Make 40in the parameter "s-at" of the template');
  await client.shutDown();
});

it('what cannot be done says why to a client that shows it', async () => {
  const reasons = async (client: Client) => (await ask(client, 4, 2, ['refactor'])).map((a) => a.disabled?.reason);
  const shows = await opened({ codeAction });
  expect(await reasons(shows)).toEqual(['Its survey is stated as on site, and would stay as it is.']);
  await shows.shutDown();
  const shown = await opened({});
  expect(await reasons(shown)).toEqual([]);
  await shown.shutDown();
});

it('a finding links to the page of its rule, for a client that opens links', async () => {
  const client = await opened({ publishDiagnostics: { codeDescriptionSupport: true } });
  const href = client.diagnostics(uri)?.[0]?.codeDescription?.href ?? '';
  const path = fileURLToPath(href);
  expect(existsSync(path)).toBe(true);
  expect(readFileSync(path, 'utf8')).toMatch(/^# A name is not known\n\n`name-not-known`\n/);
  await client.shutDown();
  const plain = await opened({});
  expect(plain.diagnostics(uri)?.[0]?.codeDescription).toBeUndefined();
  await plain.shutDown();
});

it('a template is turned round in all files, by one edit that is made when it is chosen', async () => {
  const client = await opened({ codeAction });
  const actions = await ask(client, 0, 2, ['refactor.rewrite']);
  const turns = actions.find((a) => a.title.startsWith('Write template "t" the other way round'));
  expect([turns?.kind, turns?.edit]).toEqual(['refactor.rewrite', undefined]);
  const resolved = await client.connection.sendRequest<CodeAction>('codeAction/resolve', turns);
  expect(resolved.edit?.changes?.[uri]?.map(({ newText }) => newText)).toEqual([' from right', ' mirrored']);
  await client.shutDown();
});

describe('all findings of a rule in a whole building', () => {
  const templates = `template t {
  parameter width: length from 20in to 90in
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at 40in; board white-12 } }
}
`;
  const units = Array.from({ length: 400 }, (_, i) => `unit u${i} t { width ${30 + (i % 40)}in }\n`).join('');
  const wrong = 'unit a t { wdith 30in }\nunit b t { wdith 31in }\n';
  const building = folderWith({
    'project.closet': `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 18.00 EUR unlimited }
`,
    'templates.closet': templates,
    'units.closet': units,
  });
  afterAll(building.remove);
  const wrongUri = uriOf(join(building.path, 'wrong.closet'));

  async function chosen(window = {}): Promise<{ client: Client; action: CodeAction }> {
    const client = await startClient(building.path, { workspace: {}, window, textDocument: { codeAction } });
    await client.open(wrongUri, wrong);
    await client.until(() => (client.diagnostics(wrongUri)?.length ?? 0) >= 2);
    const at = { line: 0, character: 12 };
    const actions = await client.connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
      textDocument: { uri: wrongUri },
      range: { start: at, end: at },
      context: { diagnostics: [] },
    });
    const action = actions.find(({ title }) => title.startsWith('Fix all'));
    expect(action?.edit).toBeUndefined();
    return { client, action: action as CodeAction };
  }

  it('are mended while others are answered', async () => {
    const { client, action } = await chosen();
    const answered: string[] = [];
    const resolved = client.connection.sendRequest<CodeAction>('codeAction/resolve', action);
    const hover = client.connection.sendRequest('textDocument/hover', {
      textDocument: { uri: wrongUri },
      position: { line: 0, character: 6 },
    });
    await Promise.all([resolved.then(() => answered.push('fixes')), hover.then(() => answered.push('hover'))]);
    expect(answered).toEqual(['hover', 'fixes']);
    expect((await resolved).edit?.changes?.[wrongUri]?.[0]?.newText).toBe('idth 30in }\nunit b t { wid');
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('are shown to be worked on where that takes long, and left as they are when that is taken back', async () => {
    const { client, action } = await chosen({ workDoneProgress: true });
    // No two alike, so that each is resolved by itself, in the copy that is tried as well.
    const many = Array.from({ length: 9000 }, (_, i) => `unit m${i} t { width ${30 + i / 1000}in }\n`).join('');
    await client.open(uriOf(join(building.path, 'many.closet')), many);
    const shown: unknown[] = [];
    const begun = new Promise<string | number>((resolve) => {
      client.connection.onRequest('window/workDoneProgress/create', () => null);
      client.connection.onNotification('$/progress', ({ token, value }) => {
        if (!value.cancellable) return;
        shown.push(value);
        resolve(token);
      });
    });
    const resolved = client.connection.sendRequest<CodeAction>('codeAction/resolve', action);
    // source: LSP 3.17, ErrorCodes: RequestCancelled is -32800.
    const outcome = expect(resolved).rejects.toMatchObject({ code: -32800 });
    const token = await begun;
    await client.connection.sendNotification('window/workDoneProgress/cancel', { token });
    await outcome;
    expect(shown).toEqual([{ kind: 'begin', title: 'Storypole tries out changes', cancellable: true }]);
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('are not mended in a text that is edited meanwhile', async () => {
    const { client, action } = await chosen();
    const resolved = client.connection.sendRequest<CodeAction>('codeAction/resolve', action);
    const outcome = expect(resolved).rejects.toMatchObject({ code: -32801 });
    // The answer to the hover says that the work on the fixes is under way.
    await client.connection.sendRequest('textDocument/hover', {
      textDocument: { uri: wrongUri },
      position: { line: 0, character: 6 },
    });
    await client.change(wrongUri, 2, [{ from: [0, 0], to: [0, 0], text: '\n' }]);
    // source: LSP 3.17, ErrorCodes: ContentModified is -32801.
    await outcome;
    await client.shutDown();
  });
});
