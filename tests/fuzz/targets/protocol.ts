/**
 * The server in this process, and a client that says anything in any order: each request is answered or refused for a
 * reason, nothing sound is a fault in its log, and it is there at the end.
 * source: Language Server Protocol 3.17, the error codes of a request that is cancelled, outdated or refused.
 */
import { PassThrough } from 'node:stream';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import {
  CancellationTokenSource,
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { serve } from '../../../server/protocol/connection.ts';
import { createSlicedPlanner } from '../../../server/protocol/web-plan-thread.ts';
import { filesOf, joined, type Part, partsOf } from '../case.ts';
import { anyBit, mutated, mutatedLines, mutatedParts } from '../mutate.ts';
import { diskOf, pathIn, root } from '../projects.ts';
import type { Random } from '../random.ts';
import { smallProjects } from '../seeds.ts';
import { Fault, holds, type Target } from '../target.ts';

/** A line each: `ask METHOD {…}`, `tell METHOD {…}`, `cancel`, `wait`. */
interface Line {
  readonly what: 'ask' | 'tell' | 'cancel' | 'wait';
  readonly method: string;
  readonly params: unknown;
}

function linesOf(text: string): Line[] {
  return text.split('\n').flatMap((line) => {
    const [, what, method = '', rest = ''] = /^(ask|tell|cancel|wait)(?: ([$\w/]+) ?(.*))?$/.exec(line) ?? [];
    if (what === undefined || /^(initialize|exit)$/.test(method)) return [];
    if (method === '' && (what === 'ask' || what === 'tell')) return [];
    return [{ what: what as Line['what'], method, params: parsed(rest) }];
  });
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isCount = (value: unknown): boolean =>
  Number.isInteger(value) && (value as number) >= 0 && (value as number) < 2 ** 31;
const isPosition = (value: unknown): boolean => isObject(value) && isCount(value.line) && isCount(value.character);
const isRange = (value: unknown): boolean => isObject(value) && isPosition(value.start) && isPosition(value.end);
const isDocument = (value: unknown): boolean => isObject(value) && typeof value.uri === 'string';
const listOf =
  (is: (value: unknown) => boolean) =>
  (value: unknown): boolean =>
    Array.isArray(value) && value.every(is);
const isText = (value: unknown): boolean => typeof value === 'string';

/** What a message has to have to be one that a client may send. */
const needed: Readonly<Record<string, (value: unknown) => boolean>> = {
  textDocument: isDocument,
  position: isPosition,
  range: isRange,
  positions: listOf(isPosition),
  ranges: listOf(isRange),
  newName: isText,
  ch: isText,
  query: isText,
  options: isObject,
  context: (value) =>
    isObject(value) &&
    (value.diagnostics === undefined || Array.isArray(value.diagnostics)) &&
    (value.only === undefined || listOf(isText)(value.only)),
  contentChanges: listOf(
    (value) => isObject(value) && isText(value.text) && (value.range === undefined || isRange(value.range)),
  ),
  changes: listOf((value) => isObject(value) && isText(value.uri) && [1, 2, 3].includes(value.type as number)),
  files: listOf((value) => isObject(value) && (isText(value.uri) || (isText(value.oldUri) && isText(value.newUri)))),
  previousResultIds: listOf((value) => isObject(value) && isText(value.uri) && isText(value.value)),
  previousResultId: isText,
  path: listOf(isText),
  event: (value) => isObject(value) && listOf(isFolder)(value.added) && listOf(isFolder)(value.removed),
};
const isFolder = (value: unknown): boolean => isObject(value) && isText(value.uri);

const keysOf: Readonly<Record<string, readonly string[]>> = {
  'textDocument/hover': ['textDocument', 'position'],
  'textDocument/completion': ['textDocument', 'position'],
  'textDocument/signatureHelp': ['textDocument', 'position'],
  'textDocument/definition': ['textDocument', 'position'],
  'textDocument/typeDefinition': ['textDocument', 'position'],
  'textDocument/references': ['textDocument', 'position', 'context'],
  'textDocument/documentHighlight': ['textDocument', 'position'],
  'textDocument/linkedEditingRange': ['textDocument', 'position'],
  'textDocument/prepareCallHierarchy': ['textDocument', 'position'],
  'textDocument/prepareRename': ['textDocument', 'position'],
  'textDocument/rename': ['textDocument', 'position', 'newName'],
  'textDocument/selectionRange': ['textDocument', 'positions'],
  'textDocument/documentSymbol': ['textDocument'],
  'textDocument/foldingRange': ['textDocument'],
  'textDocument/documentLink': ['textDocument'],
  'textDocument/codeLens': ['textDocument'],
  'textDocument/semanticTokens/full': ['textDocument'],
  'textDocument/semanticTokens/full/delta': ['textDocument', 'previousResultId'],
  'textDocument/semanticTokens/range': ['textDocument', 'range'],
  'textDocument/inlayHint': ['textDocument', 'range'],
  'textDocument/codeAction': ['textDocument', 'range', 'context'],
  'textDocument/formatting': ['textDocument', 'options'],
  'textDocument/rangeFormatting': ['textDocument', 'range', 'options'],
  'textDocument/rangesFormatting': ['textDocument', 'ranges', 'options'],
  'textDocument/onTypeFormatting': ['textDocument', 'position', 'ch', 'options'],
  'textDocument/diagnostic': ['textDocument'],
  'workspace/diagnostic': ['previousResultIds'],
  'workspace/symbol': ['query'],
  'storypole/cutList': ['textDocument', 'position'],
  'storypole/drawing': ['textDocument', 'position'],
  'storypole/placeStatus': ['textDocument', 'position'],
  'storypole/projectView': ['path'],
  'storypole/units': [],
};
const told: Readonly<Record<string, readonly string[]>> = {
  'textDocument/didOpen': ['textDocument'],
  'textDocument/didChange': ['textDocument', 'contentChanges'],
  'textDocument/didClose': ['textDocument'],
  'workspace/didChangeWatchedFiles': ['changes'],
  'workspace/didDeleteFiles': ['files'],
  'workspace/didRenameFiles': ['files'],
  'workspace/didChangeWorkspaceFolders': ['event'],
};

function isSound({ what, method, params }: Line): boolean {
  if (what === 'cancel' || what === 'wait') return true;
  const keys = (what === 'ask' ? keysOf : told)[method];
  if (!keys || !isObject(params)) return false;
  if (
    method === 'textDocument/didOpen' &&
    !(isObject(params.textDocument) && isText(params.textDocument.text) && isCount(params.textDocument.version))
  )
    return false;
  if (
    method === 'workspace/didRenameFiles' &&
    !listOf((file) => isObject(file) && isText(file.oldUri) && isText(file.newUri))(params.files)
  )
    return false;
  if (method === 'workspace/didDeleteFiles' && !listOf((file) => isObject(file) && isText(file.uri))(params.files))
    return false;
  return (
    keys.every((key) => needed[key]?.(params[key])) &&
    Object.keys(params).every((key) => needed[key]?.(params[key]) ?? true)
  );
}

/** Cancelled, outdated, refused; of what is not sound also: no such method, no such parameters, and what it led to. */
const refusals = [-32800, -32801, -32802, -32803, -32602, -32600];
const refusalsOfUnsound = [...refusals, -32601, -32603];

/** Longer than any answer takes on any machine. */
const patience = 60_000;

export const protocol: Target = {
  name: 'protocol',
  seeds: () =>
    smallProjects().map((text) => {
      const parts = partsOf(text);
      const uri = uriOf(parts.find(({ name }) => name.startsWith('/'))?.name ?? '/p/a.closet');
      const document = JSON.stringify({ textDocument: { uri } });
      return joined([
        ...parts,
        {
          name: 'messages',
          text: `ask textDocument/documentSymbol ${document}\nask textDocument/codeLens ${document}`,
        },
      ]);
    }),
  mutate: (text, random, others) =>
    mutatedParts(text, random, others, ({ name, text: own }, parts) =>
      name === 'messages' || random.chance(0.4)
        ? mutatedMessages(name === 'messages' ? own : '', random, parts, name === 'messages')
        : undefined,
    ),
  async run(text) {
    const parts = partsOf(text);
    const files = new Map([...filesOf(parts)].map(([name, own]) => [pathIn(name), own]));
    const lines = parts.filter(({ name }) => name === 'messages').flatMap((part) => linesOf(part.text));
    await converse(files, lines);
  },
};

async function converse(files: ReadonlyMap<string, string>, lines: readonly Line[]): Promise<void> {
  const [toServer, toClient] = [new PassThrough(), new PassThrough()];
  const connection = createConnection(
    ProposedFeatures.all,
    new StreamMessageReader(toServer),
    new StreamMessageWriter(toClient),
  );
  serve(connection, { files: diskOf(files), planThread: () => createSlicedPlanner() });
  const client = createProtocolConnection(new StreamMessageReader(toClient), new StreamMessageWriter(toServer));
  const errors: string[] = [];
  client.onNotification('window/logMessage', ({ type, message }: { type: number; message: string }) => {
    if (type === 1) errors.push(message);
  });
  for (const method of [
    'workspace/diagnostic/refresh',
    'workspace/inlayHint/refresh',
    'workspace/semanticTokens/refresh',
    'workspace/codeLens/refresh',
    'client/registerCapability',
    'client/unregisterCapability',
    'window/workDoneProgress/create',
  ])
    client.onRequest(method, () => null);
  client.onRequest('workspace/configuration', () => [null]);
  client.listen();
  const faults: string[] = [];
  const open = new Set<Promise<void>>();
  let isOver = false;
  const ask = (line: Line, cancel: CancellationTokenSource): void => {
    const answered = client
      .sendRequest(line.method, line.params, cancel.token)
      .then(
        () => undefined,
        (error: { code?: number; message?: string }) => {
          const may = isSound(line) ? refusals : refusalsOfUnsound;
          if (!may.includes(error.code ?? 0) || (error.message ?? '') === '')
            faults.push(`${line.method}: ${error.code} ${error.message}`);
        },
      )
      .finally(() => open.delete(answered));
    open.add(answered);
  };
  const settle = async (): Promise<void> => {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<'late'>((resolve) => {
      timer = setTimeout(() => resolve('late'), patience);
    });
    const how = await Promise.race([Promise.all(open), late]);
    clearTimeout(timer);
    if (how === 'late') throw new Fault('every request is answered', `${open.size} are not`);
  };
  try {
    await client.sendRequest('initialize', {
      processId: null,
      rootUri: null,
      workspaceFolders: [{ uri: uriOf(root), name: 'p' }],
      capabilities: {
        workspace: {
          workspaceFolders: true,
          diagnostics: { refreshSupport: true },
          workspaceEdit: { documentChanges: true },
        },
        textDocument: {
          diagnostic: {},
          rename: { prepareSupport: true },
          codeAction: { dataSupport: true, resolveSupport: { properties: ['edit'] } },
        },
      },
    });
    await client.sendNotification('initialized', {});
    let last: CancellationTokenSource | undefined;
    for (const line of lines) {
      if (line.what === 'cancel') last?.cancel();
      else if (line.what === 'wait') await settle();
      else if (line.what === 'tell') await client.sendNotification(line.method, line.params);
      else {
        last = new CancellationTokenSource();
        isOver ||= line.method === 'shutdown';
        ask(line, last);
      }
    }
    await settle();
    if (!isOver) await client.sendRequest('workspace/symbol', { query: 'a' });
    await client.sendRequest('shutdown');
    // What was answered meanwhile is on its way still.
    await new Promise((resolve) => setTimeout(resolve, 2));
  } finally {
    client.dispose();
    connection.dispose();
    toServer.destroy();
    toClient.destroy();
  }
  holds('a request is answered or refused', faults.length === 0, () => faults.join('\n'));
  const [error] = errors;
  if (error !== undefined && lines.every(isSound)) throw logged(error);
}

/** As if it had been thrown here, so that one fault is known from another. */
function logged(message: string): Error {
  const error = new Error(`logged: ${message.split('\n')[0]}`);
  error.stack = message;
  return error;
}

function uriOf(path: string): string {
  return `file://${encodeURI(path)}`;
}

const numbers = [0, 1, 2, 7, 40, 1_000, 4_294_967, 2_147_483_647];

function mutatedMessages(
  text: string,
  random: Random,
  parts: readonly Part[],
  isMessages: boolean,
): string | undefined {
  if (!isMessages) return undefined;
  return mutatedLines(text, random, {
    changes: 5,
    kept: 24,
    ways: 8,
    other: (way, lines, at) => {
      if (way === 2) lines.splice(at, 0, random.pick(['wait', 'cancel']));
      else if (way === 3) spoil(lines, at, random);
      else lines.splice(at, 0, message(random, parts));
    },
  });
}

/** Something in a message that is not as it should be. */
function spoil(lines: string[], at: number, random: Random): void {
  const line = lines[at];
  if (line === undefined || random.chance(0.7)) return;
  lines[at] = line.replace(/"[^"]*"|\d+|[{[]/g, (own) =>
    random.chance(0.1) ? random.pick(['null', '-1', '1e99', '"x"', '{}', '[]', '""', own]) : own,
  );
}

function message(random: Random, parts: readonly Part[]): string {
  const files = parts.filter(({ name }) => name.startsWith('/'));
  const file =
    files.length > 0 && random.chance(0.9)
      ? random.pick(files)
      : { name: random.pick(['/p/new.closet', '/p/none.closet', '/q/a.closet']), text: '' };
  const uri = random.chance(0.98)
    ? uriOf(pathIn(file.name))
    : random.pick(['untitled:Untitled-1', '', 'https://example.org/a.closet']);
  const lineTexts = file.text.split('\n');
  const position = (): object => {
    if (random.chance(0.15)) return { line: random.pick(numbers), character: random.pick(numbers) };
    const line = random.int(lineTexts.length);
    return { line, character: random.int((lineTexts[line] ?? '').length + 2) };
  };
  const range = (): object => ({ start: position(), end: position() });
  const beside = files.map((part) => part.text);
  const made: Readonly<Record<string, () => unknown>> = {
    textDocument: () => ({ uri }),
    position,
    range,
    positions: () => [position()],
    ranges: () => [range(), range()],
    newName: () => anyBit(random, beside),
    ch: () => random.pick(['}', ';', '\n']),
    query: () => anyBit(random, beside),
    options: () => ({ tabSize: 2, insertSpaces: true }),
    context: () => ({
      diagnostics: [],
      includeDeclaration: true,
      ...(random.chance(0.3) && { only: [random.pick(['quickfix', 'refactor', 'source.fixAll'])] }),
    }),
    contentChanges: () =>
      Array.from({ length: 1 + random.int(2) }, () => ({
        ...(random.chance(0.85) && { range: range() }),
        text: random.chance(0.7)
          ? anyBit(random, beside)
          : mutated(random.chance(0.5) ? '' : file.text, random, beside),
      })),
    changes: () => [{ uri, type: 1 + random.int(3) }],
    files: () => [{ uri, oldUri: uri, newUri: uriOf(random.pick(['/p/new.closet', '/p/sub/b.closet'])) }],
    previousResultIds: () => [],
    previousResultId: () => random.pick(['1', '2', 'x']),
    path: () => random.pick([[], ['/p'], ['/p', 'floors'], ['/p', 'stock']]),
    event: () => ({
      added: random.chance(0.5) ? [{ uri: uriOf('/p'), name: 'p' }] : [],
      removed: random.chance(0.5) ? [{ uri: uriOf('/p'), name: 'p' }] : [],
    }),
  };
  const isTold = random.chance(0.4);
  const table = isTold ? told : keysOf;
  const method =
    isTold && random.chance(0.6)
      ? random.pick(['textDocument/didOpen', 'textDocument/didChange'])
      : random.pick(Object.keys(table));
  const params: Record<string, unknown> = Object.fromEntries((table[method] ?? []).map((key) => [key, made[key]?.()]));
  if (method === 'textDocument/didOpen')
    params.textDocument = {
      uri,
      languageId: 'closet',
      version: random.int(5),
      text: random.chance(0.5) ? file.text : mutated(file.text, random, beside),
    };
  if (method === 'textDocument/didChange') params.textDocument = { uri, version: random.int(9) };
  if (!isTold && random.chance(0.01))
    return `ask ${random.pick(['shutdown', 'no/such', 'textDocument/declaration'])} {}`;
  return `${isTold ? 'tell' : 'ask'} ${method} ${JSON.stringify(params)}`;
}
