/** What may be written at the cursor. */
import { type CompletionItem, CompletionItemKind, InsertTextFormat, InsertTextMode } from 'vscode-languageserver';
import type { Source } from '../../../grammar/source.ts';
import { type Completion, completionsAt } from '../../language/completion.ts';
import { rangeOf } from '../convert.ts';
import { type Feature, offsetAt } from './feature.ts';

export const completing: Feature = {
  capabilities: { completionProvider: { triggerCharacters: ['.', ' '] } },
  add: (connection, { ask, snippets }) => {
    // Names are known at once, whatever is still being computed.
    connection.onCompletion(
      ask('now', (snapshot, params) =>
        completionsAt(snapshot, offsetAt(snapshot, params)).map((c) => completionItem(snapshot.source, c, snippets())),
      ),
    );
  },
};

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
