/** One request after the other: what the server offers, and which function of server/language answers it. */
import {
  type CancellationToken,
  CodeActionKind,
  type CompletionItem,
  CompletionItemKind,
  type Connection,
  type DocumentSymbol,
  FoldingRangeKind,
  InsertTextFormat,
  InsertTextMode,
  type Position,
  RequestType,
  type ResponseError,
  type ServerCapabilities,
  SymbolKind,
  type TextDocumentIdentifier,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Source } from '../../grammar/source.ts';
import { quickFixesAt } from '../language/actions.ts';
import { type Completion, completionsAt } from '../language/completion.ts';
import { type CutList, cutListAt } from '../language/cut-list.ts';
import { definitionAt } from '../language/definition.ts';
import { diagnosticOf } from '../language/diagnostics.ts';
import { foldsOf } from '../language/folding.ts';
import { hoverAt } from '../language/hover.ts';
import type { Snapshot, TextEdit } from '../language/snapshot.ts';
import { type Outlined, symbolsOf } from '../language/symbols.ts';
import { offsetOf, protocolDiagnostic, rangeOf } from './convert.ts';

export const capabilities: ServerCapabilities = {
  hoverProvider: true,
  completionProvider: { triggerCharacters: ['.', ' '] },
  definitionProvider: true,
  documentSymbolProvider: true,
  foldingRangeProvider: true,
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
};

interface AboutDocument {
  readonly textDocument: TextDocumentIdentifier;
}

interface AboutPosition extends AboutDocument {
  readonly position: Position;
}

/** The cut list of the unit under a position, or of all units of the template there; null elsewhere. */
export const cutListRequest = new RequestType<AboutPosition, CutList | null, void>('storypole/cutList');

export interface Asking {
  readonly uriOfFile: (file: string) => string;
  /** The client can fill in places of what it inserts. */
  readonly snippets: () => boolean;
  /** Wraps a question so that it never fails; `fresh` waits until everything is computed. */
  readonly ask: <P extends AboutDocument, R>(
    ready: 'now' | 'fresh',
    question: (snapshot: Snapshot, params: P) => R | null,
  ) => (params: P, token: CancellationToken) => Promise<R | ResponseError | null>;
}

export function addFeatures(connection: Connection, { ask, uriOfFile, snippets }: Asking): void {
  const at = (snapshot: Snapshot, { position }: AboutPosition): number => offsetOf(snapshot.source, position);

  connection.onHover(
    ask('fresh', (snapshot, params) => {
      const hover = hoverAt(snapshot, at(snapshot, params));
      return hover
        ? { contents: { kind: 'markdown', value: hover.text }, range: rangeOf(snapshot.source, hover) }
        : null;
    }),
  );
  // Names are known at once, whatever is still being computed.
  connection.onCompletion(
    ask('now', (snapshot, params) =>
      completionsAt(snapshot, at(snapshot, params)).map((c) => completionItem(snapshot.source, c, snippets())),
    ),
  );
  connection.onDefinition(
    ask('fresh', (snapshot, params) => {
      const found = definitionAt(snapshot, at(snapshot, params));

      return found ? { uri: uriOfFile(found.source.id), range: rangeOf(found.source, found.name) } : null;
    }),
  );
  connection.onDocumentSymbol(
    ask('now', (snapshot) => symbolsOf(snapshot).map((s) => documentSymbol(snapshot.source, s))),
  );
  connection.onFoldingRanges(
    ask('now', (snapshot) =>
      foldsOf(snapshot).flatMap(({ kind, ...range }) => {
        const { start, end } = rangeOf(snapshot.source, range);
        // The line of the closing brace stays in sight.
        const endLine = kind === 'block' ? end.line - 1 : end.line;
        if (endLine <= start.line) return [];
        return [{ startLine: start.line, endLine, ...(kind === 'comment' && { kind: FoldingRangeKind.Comment }) }];
      }),
    ),
  );
  connection.onCodeAction(
    ask('fresh', (snapshot, { range }) => {
      const { source } = snapshot;
      const touched = { start: offsetOf(source, range.start), end: offsetOf(source, range.end) };
      return quickFixesAt(snapshot, touched).map(({ title, finding, edits, preferred }) => ({
        title,
        kind: CodeActionKind.QuickFix,
        isPreferred: preferred,
        diagnostics: [protocolDiagnostic(source, diagnosticOf(finding), uriOfFile)],
        edit: workspaceEdit(snapshot, edits, uriOfFile),
      }));
    }),
  );
  connection.onRequest(
    cutListRequest,
    ask('fresh', (snapshot, params: AboutPosition) => cutListAt(snapshot, at(snapshot, params)) ?? null),
  );
}

const completionKinds: Readonly<Record<Completion['kind'], CompletionItemKind>> = {
  word: CompletionItemKind.Keyword,
  literal: CompletionItemKind.Keyword,
  name: CompletionItemKind.Reference,
  parameter: CompletionItemKind.Variable,
  measure: CompletionItemKind.Unit,
  type: CompletionItemKind.TypeParameter,
};

function completionItem(source: Source, completion: Completion, snippets: boolean): CompletionItem {
  const { kind, label, text, snippet, detail, doc, rank } = completion;
  const fillIn = snippets && snippet !== undefined;
  return {
    label,
    kind: completionKinds[kind],
    sortText: `${String(rank).padStart(2, '0')} ${label}`,
    textEdit: { range: rangeOf(source, completion), newText: fillIn ? snippet : text },
    ...(fillIn && { insertTextFormat: InsertTextFormat.Snippet, insertTextMode: InsertTextMode.adjustIndentation }),
    ...(detail !== undefined && { detail }),
    ...(doc !== undefined && { documentation: { kind: 'markdown', value: doc } }),
  };
}

const symbolKinds: Readonly<Record<string, SymbolKind>> = {
  project: SymbolKind.Package,
  use: SymbolKind.Namespace,
  template: SymbolKind.Class,
  unit: SymbolKind.Object,
  survey: SymbolKind.Interface,
  parameter: SymbolKind.Variable,
  zone: SymbolKind.Module,
  wall: SymbolKind.Struct,
};

function documentSymbol(source: Source, symbol: Outlined): DocumentSymbol {
  return {
    name: symbol.name,
    detail: symbol.detail,
    kind: symbolKinds[symbol.word] ?? SymbolKind.Field,
    range: rangeOf(source, symbol),
    selectionRange: rangeOf(source, symbol.selection),
    children: symbol.children.map((c) => documentSymbol(source, c)),
  };
}

function workspaceEdit(
  { project }: Snapshot,
  edits: readonly TextEdit[],
  uriOfFile: (file: string) => string,
): WorkspaceEdit {
  const changes: NonNullable<WorkspaceEdit['changes']> = {};
  for (const { file, text, ...range } of edits) {
    const source = project.sources.get(file);
    if (!source) continue;
    const uri = uriOfFile(file);
    changes[uri] = [...(changes[uri] ?? []), { range: rangeOf(source, range), newText: text }];
  }
  return { changes };
}
