/** What is in a file: its outline, and what of it can be folded away. */
import { type DocumentSymbol, FoldingRangeKind, SymbolKind } from 'vscode-languageserver';
import type { Source } from '../../../grammar/source.ts';
import { foldsOf } from '../../language/folding.ts';
import { type Outlined, symbolsOf } from '../../language/symbols.ts';
import { rangeOf } from '../convert.ts';
import type { Feature } from './feature.ts';

export const outline: Feature = {
  capabilities: { documentSymbolProvider: true, foldingRangeProvider: true },
  add: (connection, { ask }) => {
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
