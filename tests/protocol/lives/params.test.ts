/**
 * Every method that the server offers, asked with parameters that are none: answered with what is wrong with them, or
 * passed over where nobody waits, and never a fault in the log.
 * source: Language Server Protocol 3.17, the methods that each capability stands for.
 */
import { afterAll, afterEach, expect, it } from 'vitest';
import type { ServerCapabilities } from 'vscode-languageserver-protocol/node';
import { checkedMethods } from '../../../server/protocol/params.ts';
import { endRaw, folder, good, initializing, type Raw, startRaw, stillWorks, textDocument, uri } from './raw.ts';

afterEach(endRaw);
afterAll(folder.remove);

const zero = { line: 0, character: 0 };
const range = { start: zero, end: zero };
const place = { textDocument, position: zero };
const options = { tabSize: 2, insertSpaces: true };
const file = { oldUri: uri, newUri: `${uri}.closet` };

type Methods = Readonly<Record<string, object>>;

/** What each capability stands for, with parameters that are right. */
const offered: Readonly<Partial<Record<keyof ServerCapabilities, Methods>>> = {
  hoverProvider: { 'textDocument/hover': place },
  completionProvider: { 'textDocument/completion': place, 'completionItem/resolve': { label: 'a' } },
  signatureHelpProvider: { 'textDocument/signatureHelp': place },
  definitionProvider: { 'textDocument/definition': place },
  typeDefinitionProvider: { 'textDocument/typeDefinition': place },
  documentHighlightProvider: { 'textDocument/documentHighlight': place },
  linkedEditingRangeProvider: { 'textDocument/linkedEditingRange': place },
  referencesProvider: { 'textDocument/references': { ...place, context: { includeDeclaration: true } } },
  renameProvider: { 'textDocument/prepareRename': place, 'textDocument/rename': { ...place, newName: 'a' } },
  callHierarchyProvider: {
    'textDocument/prepareCallHierarchy': place,
    'callHierarchy/incomingCalls': { item: { name: 'a', kind: 5, uri, range, selectionRange: range } },
    'callHierarchy/outgoingCalls': { item: { name: 'a', kind: 5, uri, range, selectionRange: range } },
  },
  selectionRangeProvider: { 'textDocument/selectionRange': { textDocument, positions: [zero] } },
  documentSymbolProvider: { 'textDocument/documentSymbol': { textDocument } },
  foldingRangeProvider: { 'textDocument/foldingRange': { textDocument } },
  documentLinkProvider: { 'textDocument/documentLink': { textDocument } },
  codeLensProvider: { 'textDocument/codeLens': { textDocument }, 'codeLens/resolve': { range } },
  codeActionProvider: {
    'textDocument/codeAction': { textDocument, range, context: { diagnostics: [] } },
    'codeAction/resolve': { title: 'a' },
  },
  inlayHintProvider: {
    'textDocument/inlayHint': { textDocument, range },
    'inlayHint/resolve': { position: zero, label: 'a' },
  },
  semanticTokensProvider: {
    'textDocument/semanticTokens/full': { textDocument },
    'textDocument/semanticTokens/full/delta': { textDocument, previousResultId: '1' },
    'textDocument/semanticTokens/range': { textDocument, range },
  },
  documentFormattingProvider: { 'textDocument/formatting': { textDocument, options } },
  documentRangeFormattingProvider: {
    'textDocument/rangeFormatting': { textDocument, range, options },
    'textDocument/rangesFormatting': { textDocument, ranges: [range], options },
  },
  documentOnTypeFormattingProvider: { 'textDocument/onTypeFormatting': { ...place, ch: '}', options } },
  diagnosticProvider: {
    'textDocument/diagnostic': { textDocument },
    'workspace/diagnostic': { previousResultIds: [] },
  },
  workspaceSymbolProvider: { 'workspace/symbol': { query: '' } },
};

/** Ours, and what is offered below `workspace`. */
const others: Methods = {
  'workspace/willRenameFiles': { files: [file] },
  'storypole/cutList': place,
  'storypole/placeStatus': place,
  'storypole/drawing': place,
  'storypole/projectView': {},
  'storypole/units': {},
  'storypole/newProject': { name: 'a', measure: 'inches' },
  'storypole/importSurvey': { root: '/', name: 'a.csv', contents: '', mapping: null },
};

const notifications: Methods = {
  'textDocument/didOpen': { textDocument: { uri, languageId: 'closet', version: 1, text: good } },
  'textDocument/didChange': { textDocument: { uri, version: 2 }, contentChanges: [{ range, text: '' }] },
  'textDocument/didClose': { textDocument },
  'textDocument/didSave': { textDocument },
  'workspace/didChangeWatchedFiles': { changes: [{ uri, type: 2 }] },
  'workspace/didChangeWorkspaceFolders': { event: { added: [], removed: [] } },
  'workspace/didChangeConfiguration': { settings: null },
  'workspace/didDeleteFiles': { files: [] },
  'workspace/didRenameFiles': { files: [] },
  '$/cancelRequest': { id: 1 },
};

const wrongValues: readonly unknown[] = [
  null,
  undefined,
  0,
  -1,
  1.5,
  1e300,
  '',
  'x',
  true,
  [],
  [null],
  {},
  { uri: 5 },
  { line: null },
];

/** The same with one value in it, at any depth, put in another's place or left out. */
function* spoilt(value: unknown): Generator<unknown> {
  yield* wrongValues;
  if (typeof value !== 'object' || value === null) return;
  for (const [key, own] of Object.entries(value))
    for (const wrong of spoilt(own)) {
      const made = Array.isArray(value) ? [...value] : { ...value };
      if (wrong === undefined && !Array.isArray(made)) delete (made as Record<string, unknown>)[key];
      else (made as Record<string, unknown>)[key] = wrong;
      yield made;
    }
}

it('every method is answered, whatever it is asked with', async () => {
  const raw = startRaw();
  const client = {
    ...initializing(),
    capabilities: { textDocument: { diagnostic: {} }, workspace: { workspaceFolders: true } },
  };
  const { result } = await raw.ask('initialize', client);
  raw.tell('initialized', {});
  raw.tell('textDocument/didOpen', notifications['textDocument/didOpen']);
  const { capabilities } = result as { capabilities: ServerCapabilities };

  // What is offered is known here, and what is known here is looked at.
  const provided = Object.keys(capabilities).filter((key) => key.endsWith('Provider'));
  expect(provided.filter((key) => !(key in offered))).toEqual([]);
  const requests: Methods = Object.assign({}, ...Object.values(offered), others);
  const known = [...Object.keys(requests), ...Object.keys(notifications)];
  expect(known.filter((method) => !checkedMethods.includes(method))).toEqual([]);

  const faults: string[] = [];
  const logged: string[] = [];
  let refused = 0;
  for (const [method, right] of Object.entries(requests)) {
    expect((await raw.ask(method, right)).error?.code, method).not.toBe(-32602);
    const answers = await Promise.all(
      [...spoilt(right)].map(async (params) => [params, await raw.ask(method, params)] as const),
    );
    for (const [params, { error }] of answers) {
      if (error?.code === -32602) refused++;
      // Cancelled, outdated, refused with a reason: what the protocol has for a request that is right.
      else if (error && ![-32800, -32801, -32802, -32803].includes(error.code))
        faults.push(`${method} ${JSON.stringify(params)}: ${error.code} ${error.message}`);
    }
    logged.push(...loggedIn(raw));
    raw.got.length = 0;
  }
  expect(faults).toEqual([]);
  expect(refused).toBeGreaterThan(1000);

  for (const [method, right] of Object.entries(notifications)) {
    for (const params of spoilt(right)) raw.tell(method, params);
    raw.tell('textDocument/didClose', { textDocument });
    raw.tell('textDocument/didOpen', notifications['textDocument/didOpen']);
  }
  await raw.ask('storypole/units', {});
  logged.push(...loggedIn(raw));
  expect(logged).toEqual([]);
  const hover = await raw.ask('textDocument/hover', { textDocument, position: { line: 0, character: 7 } });
  expect(JSON.stringify(hover.result)).toContain('white-12');
  expect(raw.stderr()).not.toContain('fault');
});

function loggedIn(raw: Raw): string[] {
  const lines = raw.got.filter(({ method }) => method === 'window/logMessage');
  return lines.map(({ params }) => (params as unknown as { message: string }).message);
}

it('asked of a client that is known by nonsense', async () => {
  const nonsense = [5, [], { resolveSupport: 5 }];
  for (const capabilities of nonsense.flatMap((value) => [
    { textDocument: value, workspace: value, window: value },
    {
      textDocument: { codeAction: value, publishDiagnostics: value, completion: value, rename: value },
      workspace: { workspaceEdit: value, diagnostics: value },
    },
  ])) {
    const raw = startRaw();
    const { error } = await raw.ask('initialize', {
      ...initializing(),
      capabilities,
      initializationOptions: capabilities,
    });
    expect(error).toBeUndefined();
    raw.tell('initialized', {});
    await stillWorks(raw);
    const answer = await raw.ask('textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } });
    expect(answer.error).toBeUndefined();
    raw.process.kill();
  }
});
