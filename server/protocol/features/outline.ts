/** What is in a file: its outline, and what of it can be folded away. */
import { type DocumentSymbol, FoldingRangeKind, type SymbolInformation, SymbolKind } from 'vscode-languageserver';
import type { Source } from '../../../grammar/source.ts';
import { foldsOf } from '../../language/folding.ts';
import { type Outlined, symbolsOf } from '../../language/symbols.ts';
import { rangeOf } from '../convert.ts';
import type { Feature } from './feature.ts';

export const outline: Feature = {
  capabilities: { documentSymbolProvider: true, foldingRangeProvider: true },
  add: (connection, { ask, client }) => {
    connection.onDocumentSymbol(
      ask('now', (snapshot, { textDocument }) => {
        const symbols = symbolsOf(snapshot).map((s) => documentSymbol(snapshot.source, s));
        // A client that says nothing of it is given the tree, which all but the oldest take.
        const isTree = client().textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport !== false;
        return isTree ? symbols : flat(symbols, textDocument.uri);
      }),
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
  },
};

export const symbolKinds: Readonly<Record<string, SymbolKind>> = {
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

/** For a client that knows no tree: each after what it is in, which it names. */
function flat(symbols: readonly DocumentSymbol[], uri: string, within?: string): SymbolInformation[] {
  return symbols.flatMap(({ name, kind, range, children = [] }) => [
    { name, kind, location: { uri, range }, ...(within !== undefined && { containerName: within }) },
    ...flat(children, uri, name),
  ]);
}
