/**
 * Every request that the server offers, where it makes no sense: past the end, in files that are not there or no longer,
 * in texts that are nothing but mistakes, in the middle of a computation. The answer is an answer, nothing, or a
 * refusal that says why; never a fault in the log.
 * source: Language Server Protocol 3.17, the error codes of a request that is cancelled, outdated or refused.
 */
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import type { InitializeResult, ServerCapabilities } from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, uriOf } from './client.ts';

const project = `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft unlimited }
`;
const good = `template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  zone main on back { width fill; shelf top { at 72in; board white-12 } }
}
unit A-101 linen { width 36in }
`;
const folder = folderWith({ 'project.closet': project, 'good.closet': good, 'gone.closet': good });
const at = (name: string): string => uriOf(join(folder.path, name));
afterEach(endAll);
afterAll(folder.remove);

const broken: Readonly<Record<string, string>> = {
  'empty.closet': '',
  'mark.closet': '\uFEFF',
  'letter.closet': 'u',
  'brace.closet': '}',
  'mistakes.closet': 'unit { width ; width 12 in in }\n}}} {{ template\n"open\nzone 1/0in after after\n/* never closed',
  'deep.closet': 'zone a { '.repeat(400),
  'wide.closet': `unit u linen { width ${'1 + '.repeat(3000)}1in }`,
  'letters.closet': 'unit 🚪 linen { width 36in } // 🧥\r\nunit é linen\rsurvey 🚪 {\n',
  'good.closet': good,
};

/** Places in a text, and past it. */
const positions = [
  { line: 0, character: 0 },
  { line: 0, character: 7 },
  { line: 1, character: 1_000_000 },
  { line: 1_000_000, character: 3 },
  { line: 4_294_967_295, character: 4_294_967_295 },
];

type Ask = (uri: string, position: (typeof positions)[number]) => object;
const options = { tabSize: 2, insertSpaces: true };
const document: Ask = (uri) => ({ textDocument: { uri } });
const place: Ask = (uri, position) => ({ textDocument: { uri }, position });
const range: Ask = (uri, position) => ({
  textDocument: { uri },
  range: { start: { line: 0, character: 0 }, end: position },
  context: { diagnostics: [] },
  options,
});

const requests: readonly (readonly [offer: keyof ServerCapabilities, method: string, params: Ask])[] = [
  ['hoverProvider', 'textDocument/hover', place],
  ['completionProvider', 'textDocument/completion', place],
  ['signatureHelpProvider', 'textDocument/signatureHelp', place],
  ['definitionProvider', 'textDocument/definition', place],
  ['typeDefinitionProvider', 'textDocument/typeDefinition', place],
  ['documentHighlightProvider', 'textDocument/documentHighlight', place],
  ['linkedEditingRangeProvider', 'textDocument/linkedEditingRange', place],
  ['callHierarchyProvider', 'textDocument/prepareCallHierarchy', place],
  ['renameProvider', 'textDocument/prepareRename', place],
  ['renameProvider', 'textDocument/rename', (uri, position) => ({ ...place(uri, position), newName: 'a.b c' })],
  [
    'referencesProvider',
    'textDocument/references',
    (uri, position) => ({ ...place(uri, position), context: { includeDeclaration: true } }),
  ],
  ['selectionRangeProvider', 'textDocument/selectionRange', (uri, p) => ({ textDocument: { uri }, positions: [p] })],
  ['documentSymbolProvider', 'textDocument/documentSymbol', document],
  ['foldingRangeProvider', 'textDocument/foldingRange', document],
  ['documentLinkProvider', 'textDocument/documentLink', document],
  ['codeLensProvider', 'textDocument/codeLens', document],
  ['semanticTokensProvider', 'textDocument/semanticTokens/full', document],
  [
    'semanticTokensProvider',
    'textDocument/semanticTokens/full/delta',
    (uri) => ({ textDocument: { uri }, previousResultId: 'never given' }),
  ],
  ['semanticTokensProvider', 'textDocument/semanticTokens/range', range],
  ['inlayHintProvider', 'textDocument/inlayHint', range],
  ['codeActionProvider', 'textDocument/codeAction', range],
  ['documentFormattingProvider', 'textDocument/formatting', range],
  ['documentRangeFormattingProvider', 'textDocument/rangeFormatting', range],
  [
    'documentOnTypeFormattingProvider',
    'textDocument/onTypeFormatting',
    (uri, position) => ({ ...place(uri, position), ch: '}', options }),
  ],
  ['diagnosticProvider', 'textDocument/diagnostic', document],
];

/** Cancelled, outdated, refused: what a request may be answered with besides an answer. */
const refusals = [-32800, -32801, -32802, -32803, -32602];

function offered({ capabilities }: InitializeResult): typeof requests {
  return requests.filter(([offer]) => capabilities[offer]);
}

/** Asks everything everywhere; answers what was neither answered nor properly refused. */
async function askAll(client: Client, uri: string): Promise<string[]> {
  const faults: string[] = [];
  const asked = offered(client.initialized).flatMap(([, method, params]) =>
    positions.map(async (position) => {
      try {
        await client.connection.sendRequest(method, params(uri, position));
      } catch (error) {
        const { code, message } = error as { code?: number; message?: string };
        if (!refusals.includes(code ?? 0) || !message) faults.push(`${method} in ${uri}: ${code} ${message}`);
      }
    }),
  );
  await Promise.all(asked);
  return faults;
}

async function started(): Promise<Client> {
  return startClient(folder.path, {
    workspace: { workspaceFolders: true, diagnostics: { refreshSupport: true } },
    textDocument: { diagnostic: {}, rename: { prepareSupport: true } },
  });
}

it.each(Object.keys(broken))('in %s', async (name) => {
  const client = await started();
  client.connection.onRequest('workspace/diagnostic/refresh', () => null);
  await client.open(at(name), broken[name] as string);
  expect(await askAll(client, at(name))).toEqual([]);
  // And while an edit is being computed.
  const under = askAll(client, at(name));
  await client.change(at(name), 2, [{ from: [0, 0], to: [0, 0], text: '/* ' }]);
  const after = askAll(client, at(name));
  expect([...(await under), ...(await after)]).toEqual([]);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('in files that are not there, no longer, or nowhere', async () => {
  const client = await started();
  client.connection.onRequest('workspace/diagnostic/refresh', () => null);
  await client.open(at('gone.closet'), good);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: at('gone.closet') } });
  rmSync(join(folder.path, 'gone.closet'));
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: at('gone.closet'), type: 3 }],
  });
  for (const uri of [at('gone.closet'), at('never.closet'), 'untitled:Untitled-1', 'https://example.org/a.closet', ''])
    expect(await askAll(client, uri)).toEqual([]);
  writeFileSync(join(folder.path, 'gone.closet'), good);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('edits that do not fit the document are taken as far as they go', async () => {
  const client = await started();
  client.connection.onRequest('workspace/diagnostic/refresh', () => null);
  await client.open(at('good.closet'), good);
  await client.change(at('good.closet'), 1, [{ from: [900, 4], to: [901, 0], text: '\nunit A-102 linen' }]);
  await client.change(at('good.closet'), 9, [{ from: [2, 900], to: [1, 0], text: '' }]);
  await client.change(at('never-opened.closet'), 3, [{ from: [0, 0], to: [0, 1], text: 'x' }]);
  expect(await askAll(client, at('good.closet'))).toEqual([]);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});
