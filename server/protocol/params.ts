/**
 * What the parameters of each method must hold for it to be answered, and no more: what a method does not look at is
 * not looked at here. Whoever asks otherwise is told what is wrong, in words.
 * source: Language Server Protocol 3.17, the parameters of each method.
 */

/** What is wrong with a value that is called `path`; undefined where nothing is. */
type Check = (value: unknown, path: string) => string | undefined;

const text: Check = (value, path) => (typeof value === 'string' ? undefined : `${path} must be a string`);
const flag: Check = (value, path) => (typeof value === 'boolean' ? undefined : `${path} must be true or false`);
const number: Check = (value, path) => (typeof value === 'number' ? undefined : `${path} must be a number`);
const integer: Check = (value, path) => (Number.isInteger(value) ? undefined : `${path} must be a whole number`);

const listOf =
  (item: Check): Check =>
  (value, path) => {
    if (!Array.isArray(value)) return `${path} must be a list`;
    for (let i = 0; i < value.length; i++) {
      const wrong = item(value[i], `${path}[${i}]`);
      if (wrong !== undefined) return wrong;
    }
    return undefined;
  };

/** Left out, or null, where there is nothing to say. */
const optional =
  (check: Check): Check =>
  (value, path) =>
    value === undefined || value === null ? undefined : check(value, path);

const record =
  (fields: Readonly<Record<string, Check>>): Check =>
  (value, path) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return `${path} must be an object`;
    for (const [key, check] of Object.entries(fields)) {
      const own = Object.hasOwn(value, key) ? (value as Record<string, unknown>)[key] : undefined;
      const wrong = check(own, path === 'params' ? key : `${path}.${key}`);
      if (wrong !== undefined) return wrong;
    }
    return undefined;
  };

const anything = record({});
const document = record({ uri: text });
/** One before the text, or past it, is taken for the nearest that is in it. */
const position = record({ line: integer, character: integer });
const range = record({ start: position, end: position });
const uris = listOf(record({ uri: text }));

const aboutDocument = { textDocument: document };
const aboutPlace = { ...aboutDocument, position };
const aboutRange = { ...aboutDocument, range };
const item = record({ item: record({ uri: text, selectionRange: range }) });
const renamed = record({ files: listOf(record({ oldUri: text, newUri: text })) });

const checks: Readonly<Record<string, Check>> = {
  initialize: record({
    capabilities: anything,
    processId: optional(number),
    rootUri: optional(text),
    rootPath: optional(text),
    workspaceFolders: optional(uris),
  }),
  '$/cancelRequest': record({ id: (id, path) => (typeof id === 'number' ? undefined : text(id, path)) }),

  'textDocument/didOpen': record({ textDocument: record({ uri: text, text, version: optional(integer) }) }),
  'textDocument/didChange': record({
    textDocument: record({ uri: text, version: optional(integer) }),
    contentChanges: listOf(record({ text, range: optional(range) })),
  }),
  'textDocument/didClose': record(aboutDocument),
  'textDocument/didSave': record(aboutDocument),
  'workspace/didChangeWatchedFiles': record({ changes: listOf(record({ uri: text, type: number })) }),
  'workspace/didChangeWorkspaceFolders': record({ event: record({ added: uris, removed: uris }) }),
  'workspace/didChangeConfiguration': anything,
  'workspace/didDeleteFiles': record({ files: uris }),
  'workspace/didRenameFiles': renamed,
  'workspace/willRenameFiles': renamed,

  'textDocument/hover': record(aboutPlace),
  'textDocument/completion': record(aboutPlace),
  'completionItem/resolve': anything,
  'textDocument/signatureHelp': record(aboutPlace),
  'textDocument/definition': record(aboutPlace),
  'textDocument/typeDefinition': record(aboutPlace),
  'textDocument/documentHighlight': record(aboutPlace),
  'textDocument/linkedEditingRange': record(aboutPlace),
  'textDocument/references': record({ ...aboutPlace, context: record({ includeDeclaration: flag }) }),
  'textDocument/prepareRename': record(aboutPlace),
  'textDocument/rename': record({ ...aboutPlace, newName: text }),
  'textDocument/prepareCallHierarchy': record(aboutPlace),
  'callHierarchy/incomingCalls': item,
  'callHierarchy/outgoingCalls': item,
  'textDocument/selectionRange': record({ ...aboutDocument, positions: listOf(position) }),
  'textDocument/documentSymbol': record(aboutDocument),
  'textDocument/foldingRange': record(aboutDocument),
  'textDocument/documentLink': record(aboutDocument),
  'textDocument/codeLens': record(aboutDocument),
  'codeLens/resolve': record({ range }),
  'textDocument/codeAction': record({ ...aboutRange, context: record({ only: optional(listOf(text)) }) }),
  'codeAction/resolve': record({
    data: optional(record({ textDocument: optional(document), later: optional(anything) })),
  }),
  'textDocument/inlayHint': record(aboutRange),
  'inlayHint/resolve': anything,
  'textDocument/semanticTokens/full': record(aboutDocument),
  'textDocument/semanticTokens/full/delta': record({ ...aboutDocument, previousResultId: text }),
  'textDocument/semanticTokens/range': record(aboutRange),
  'textDocument/formatting': record(aboutDocument),
  'textDocument/rangeFormatting': record(aboutRange),
  'textDocument/rangesFormatting': record({ ...aboutDocument, ranges: listOf(range) }),
  'textDocument/onTypeFormatting': record({ ...aboutPlace, ch: text }),
  'textDocument/diagnostic': record({ ...aboutDocument, previousResultId: optional(text) }),
  'workspace/diagnostic': record({ previousResultIds: listOf(record({ uri: text, value: text })) }),
  'workspace/symbol': record({ query: text }),

  'storypole/cutList': record(aboutPlace),
  'storypole/placeStatus': record(aboutPlace),
  'storypole/drawing': record({ ...aboutPlace, width: optional(number), height: optional(number) }),
  'storypole/projectView': record({ path: optional(listOf(text)) }),
  'storypole/units': anything,
  'storypole/newProject': record({ name: text, measure: text }),
  'storypole/importSurvey': record({ root: text, name: text, contents: text, mapping: optional(text) }),
};

/** Why the parameters of a method are none that it could be answered with; undefined where they are, or nothing is known of it. */
export function wrongParams(method: string, params: unknown): string | undefined {
  return Object.hasOwn(checks, method) ? checks[method]?.(params, 'params') : undefined;
}

/** The methods whose parameters are looked at. */
export const checkedMethods: readonly string[] = Object.keys(checks);
