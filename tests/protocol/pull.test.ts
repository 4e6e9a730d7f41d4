/**
 * Diagnostics that a client asks for, progress and cancelled questions.
 * source: Language Server Protocol 3.17, textDocument/diagnostic, workspace/diagnostic, window/workDoneProgress.
 */
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import {
  CancellationTokenSource,
  type DocumentDiagnosticReport,
  type WorkspaceDiagnosticReport,
} from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, type MoreOptions, startClient, told, uriOf } from './client.ts';

const project = `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft unlimited }
`;
const linen = `template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  zone main on back { width fill; shelf top { at 72in; board white-12 } }
}
`;
const units = 'unit A-101 linen { width 36in }\nunit A-102 linen { width 50in }\n';

const folder = folderWith({ 'project.closet': project, 'linen.closet': linen, 'units.closet': units });
const [linenUri, unitsUri] = ['linen.closet', 'units.closet'].map((name) => uriOf(join(folder.path, name))) as [
  string,
  string,
];
afterEach(endAll);
afterAll(folder.remove);

const pulling = {
  workspace: { workspaceFolders: true, diagnostics: { refreshSupport: true } },
  textDocument: { diagnostic: {} },
};

/** A client that asks, and how often it has been told to ask again. */
async function asking(
  capabilities: object = {},
  more: MoreOptions = {},
): Promise<{ client: Client; refreshed: () => number }> {
  const client = await startClient(folder.path, { ...pulling, ...capabilities }, more);
  let refreshed = 0;
  client.connection.onRequest('workspace/diagnostic/refresh', () => {
    refreshed++;
    return null;
  });
  return { client, refreshed: () => refreshed };
}

function pull({ connection }: Client, uri: string, previousResultId?: string): Promise<DocumentDiagnosticReport> {
  return connection.sendRequest('textDocument/diagnostic', { textDocument: { uri }, previousResultId });
}

it('a client that asks is sent nothing, and told once that nothing has changed', async () => {
  const { client } = await asking();
  expect(client.initialized.capabilities.diagnosticProvider).toMatchObject({ workspaceDiagnostics: true });
  await client.open(unitsUri, units);
  const first = await pull(client, unitsUri);
  expect(first.kind).toBe('full');
  if (first.kind !== 'full') return;
  expect(told(first.items)).toEqual(['2:26-30 error argument-out-of-range']);
  expect(await pull(client, unitsUri, first.resultId)).toEqual({ kind: 'unchanged', resultId: first.resultId });
  await client.change(unitsUri, 2, [{ from: [1, 25], to: [1, 27], text: '40' }]);
  expect(await pull(client, unitsUri, first.resultId)).toMatchObject({ kind: 'full', items: [] });
  expect(client.published).toEqual([]);
  await client.shutDown();
});

it('is told to ask again when an edit reaches another file', async () => {
  const { client, refreshed } = await asking();
  await client.open(linenUri, linen);
  await client.open(unitsUri, units);
  await pull(client, unitsUri);
  const before = refreshed();
  const at = linen.split('\n')[1]?.indexOf('42in') ?? 0;
  await client.change(linenUri, 2, [{ from: [1, at], to: [1, at + 2], text: '52' }]);
  expect(await pull(client, unitsUri)).toMatchObject({ kind: 'full', items: [] });
  await expect.poll(refreshed).toBeGreaterThan(before);
  await client.shutDown();
});

it('answers for the whole workspace, with the files that are not open', async () => {
  const { client } = await asking();
  await client.open(linenUri, linen);
  await pull(client, linenUri);
  const ask = (previousResultIds: object[]): Promise<WorkspaceDiagnosticReport> =>
    client.connection.sendRequest('workspace/diagnostic', { previousResultIds });
  const { items } = await ask([]);
  const found = items.find(({ uri }) => uri === unitsUri);
  expect(found).toMatchObject({ kind: 'full', version: null });
  const again = await ask([{ uri: unitsUri, value: found?.resultId ?? '' }]);
  expect(again.items.find(({ uri }) => uri === unitsUri)?.kind).toBe('unchanged');
  await client.shutDown();
});

it('sends them to a client that cannot be told to ask again, or says that it wants them sent', async () => {
  for (const [capabilities, more] of [
    [{ textDocument: { diagnostic: {}, publishDiagnostics: {} } }, {}],
    [pulling, { initializationOptions: { diagnostics: 'push' } }],
  ] as const) {
    const client = await startClient(folder.path, capabilities, more);
    expect(client.initialized.capabilities.diagnosticProvider).toBeUndefined();
    await client.open(unitsUri, units);
    await client.until(() => client.diagnostics(unitsUri) !== undefined);
    await client.shutDown();
  }
});

it('a question about a file that is not there is answered with nothing', async () => {
  const { client } = await asking();
  for (const uri of [`${unitsUri}.gone`, 'untitled:Untitled-1', 'file:///']) {
    expect(await pull(client, uri)).toMatchObject({ kind: 'full', items: [] });
  }
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('a question that is cancelled while everything is computed is answered at once', async () => {
  const many = Array.from({ length: 3000 }, (_, i) => `unit b-${i} linen { width ${30 + (i % 12)}in }\n`).join('');
  const { client } = await asking();
  await client.open(unitsUri, many);
  const controller = new CancellationTokenSource();
  const answer = client.connection.sendRequest(
    'textDocument/hover',
    { textDocument: { uri: unitsUri }, position: { line: 0, character: 6 } },
    controller.token,
  );
  controller.cancel();
  await expect(answer).rejects.toMatchObject({ code: -32800 });
  await client.shutDown();
});

it('tells how far it is where that takes long', async () => {
  const values: { kind: string; percentage?: number }[] = [];
  const begun: unknown[] = [];
  const { client } = await asking(
    { window: { workDoneProgress: true } },
    { onNotification: { '$/progress': (params) => values.push((params as { value: { kind: string } }).value) } },
  );
  client.connection.onRequest('window/workDoneProgress/create', (params) => {
    begun.push(params);
    return null;
  });
  // No two alike, so that each is resolved by itself.
  const many = Array.from({ length: 6000 }, (_, i) => `unit b-${i} linen { width ${30 + i / 1000}in }\n`).join('');
  await client.open(unitsUri, many);
  await pull(client, unitsUri);
  await expect.poll(() => values.at(-1)?.kind).toBe('end');
  expect(begun).toHaveLength(1);
  expect(values[0]?.kind).toBe('begin');
  const shares = values.flatMap(({ percentage }) => (percentage === undefined ? [] : [percentage]));
  expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  expect(client.errors).toEqual([]);
  await client.shutDown();
});
