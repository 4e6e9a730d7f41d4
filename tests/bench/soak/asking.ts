/** What an editor asks while somebody types, at random, a part of it taken back before it is answered. */
import { CancellationTokenSource, type ProtocolConnection } from 'vscode-languageserver-protocol/node';
import { type Document, positionIn } from './typist.ts';

export interface Asker {
  /** Asks something about a place of a document. */
  readonly ask: (document: Document, offset: number) => void;
  /** The same for a hover, which is timed in milliseconds; undefined where an edit overtook it. */
  readonly hover: (document: Document, offset: number) => Promise<number | undefined>;
  /** Failures that are none of those that the protocol has for requests that are overtaken. */
  readonly failures: string[];
  readonly asked: () => number;
}

/** Cancelled, outdated, refused. */
const proper = new Set([-32800, -32801, -32802, -32803]);

export function createAsker(connection: ProtocolConnection, random: () => number): Asker {
  const failures: string[] = [];
  const tokens = new Map<string, string>();
  let asked = 0;

  async function send<R>(method: string, params: object, mayCancel = true): Promise<R | undefined> {
    asked++;
    const source = new CancellationTokenSource();
    if (mayCancel && random() < 0.2) setTimeout(() => source.cancel(), random() * 20);
    try {
      return await connection.sendRequest<R>(method, params, source.token);
    } catch (error) {
      const { code, message } = error as { code?: number; message?: string };
      if (!proper.has(code ?? 0)) failures.push(`${method}: ${code} ${message}`);
      return undefined;
    } finally {
      source.dispose();
    }
  }

  const requests: readonly ((document: Document, offset: number) => Promise<unknown>)[] = [
    (d, at) => send('textDocument/completion', place(d, at)),
    (d, at) => send('textDocument/signatureHelp', place(d, at)),
    (d, at) => send('textDocument/definition', place(d, at)),
    (d, at) => send('textDocument/typeDefinition', place(d, at)),
    (d, at) => send('textDocument/documentHighlight', place(d, at)),
    (d, at) => send('textDocument/linkedEditingRange', place(d, at)),
    (d, at) => send('textDocument/references', { ...place(d, at), context: { includeDeclaration: true } }),
    (d, at) => send('textDocument/prepareRename', place(d, at)),
    (d, at) => send('textDocument/rename', { ...place(d, at), newName: 'another' }),
    (d, at) => send('textDocument/prepareCallHierarchy', place(d, at)),
    (d, at) => send('textDocument/selectionRange', { ...about(d), positions: [positionIn(d.text, at)] }),
    (d) => send('textDocument/documentSymbol', about(d)),
    (d) => send('textDocument/foldingRange', about(d)),
    (d) => send('textDocument/documentLink', about(d)),
    (d) => send('textDocument/formatting', { ...about(d), options }),
    (d, at) => send('textDocument/rangeFormatting', { ...around(d, at), options }),
    (d, at) => send('textDocument/onTypeFormatting', { ...place(d, at), ch: '}', options }),
    async (d, at) => {
      const hints = await send<object[]>('textDocument/inlayHint', around(d, at));
      for (const hint of hints?.slice(0, 2) ?? []) await send('inlayHint/resolve', hint);
    },
    (d, at) => send('textDocument/semanticTokens/range', around(d, at)),
    (_, at) => send('workspace/symbol', { query: `u${at % 1000}` }),
    (d, at) => send('storypole/drawing', { ...place(d, at), width: 300, height: 200 }),
    (d, at) => send('storypole/cutList', place(d, at)),
    (d, at) => send('storypole/placeStatus', place(d, at)),
    () => send('storypole/projectView', {}),
    async (d, at) => {
      const actions = await send<{ data?: unknown }[]>('textDocument/codeAction', {
        ...around(d, at),
        context: { diagnostics: [] },
      });
      const later = actions?.find(({ data }) => data !== undefined);
      if (later) await send('codeAction/resolve', later);
    },
    async (d) => {
      const lenses = await send<object[]>('textDocument/codeLens', about(d));
      for (const lens of lenses?.slice(0, 5) ?? []) await send('codeLens/resolve', lens);
    },
    async (d) => {
      const previousResultId = tokens.get(d.uri);
      const made = await (previousResultId === undefined
        ? send<{ resultId: string }>('textDocument/semanticTokens/full', about(d))
        : send<{ resultId: string }>('textDocument/semanticTokens/full/delta', { ...about(d), previousResultId }));
      if (made) tokens.set(d.uri, made.resultId);
    },
  ];

  return {
    failures,
    asked: () => asked,
    ask(document, offset) {
      void requests[Math.floor(random() * requests.length)]?.(document, Math.min(offset, document.text.length));
    },
    async hover(document, offset) {
      const from = performance.now();
      const answer = await send('textDocument/hover', place(document, offset), false);
      return answer === undefined ? undefined : performance.now() - from;
    },
  };
}

const options = { tabSize: 2, insertSpaces: true };

function about({ uri }: Document): { textDocument: { uri: string } } {
  return { textDocument: { uri } };
}

function place(document: Document, offset: number) {
  return { ...about(document), position: positionIn(document.text, offset) };
}

/** What is in sight. */
function around(document: Document, offset: number) {
  const { line } = positionIn(document.text, offset);
  const start = { line: Math.max(0, line - 20), character: 0 };
  return { ...about(document), range: { start, end: { line: line + 20, character: 0 } } };
}
