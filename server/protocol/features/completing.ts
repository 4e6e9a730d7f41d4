/** What may be written at the cursor, and what is being written there. */
import {
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  InsertTextFormat,
  InsertTextMode,
} from 'vscode-languageserver';
import { completionsAt, mostOffered, waitsForValues } from '../../language/completion.ts';
import type { Completion } from '../../language/offer.ts';
import { signatureAt } from '../../language/signature.ts';
import type { Snapshot } from '../../language/snapshot.ts';
import { rangeOf } from '../convert.ts';
import { documented, ofCompletion, ofSignature } from '../documented.ts';
import { type Feature, offsetAt, safely } from './feature.ts';

export const completing: Feature = {
  capabilities: {
    completionProvider: { triggerCharacters: ['.', ' '], resolveProvider: true },
    signatureHelpProvider: { triggerCharacters: [' ', ';', '{', ','], retriggerCharacters: ['}'] },
  },
  add: (connection, asking) => {
    const { ask, snippets, client } = asking;
    /** Those that were offered last: an editor asks more of one while it narrows the list down by itself. */
    let offered: { readonly list: number; readonly all: readonly Completion[] } = { list: 0, all: [] };
    // Names are known at once, whatever is still being computed.
    connection.onCompletion(
      ask('now', (snapshot, params): CompletionList => {
        const offset = offsetAt(snapshot, params);
        // Whole statements are of several lines, which only who knows snippets puts where they belong.
        const found = completionsAt(snapshot, offset).filter(({ kind }) => snippets() || kind !== 'snippet');
        const list = offered.list + 1;
        offered = { list, all: found };
        return {
          isIncomplete: found.length >= mostOffered || waitsForValues(snapshot, offset),
          items: found.map((c, index) => ({
            ...completionItem(snapshot, c, index, snippets()),
            ...(c.doc && { data: { list, index } }),
          })),
        };
      }),
    );
    connection.onCompletionResolve((item) =>
      safely(asking, item, () => {
        const { list, index } = (item.data ?? {}) as { readonly list?: number; readonly index?: number };
        const doc = list === offered.list ? offered.all[index ?? -1]?.doc?.() : undefined;
        return doc ? { ...item, documentation: documented(doc, ofCompletion(client())) } : item;
      }),
    );
    connection.onSignatureHelp(
      ask('now', (snapshot, params) => {
        const signature = signatureAt(snapshot, offsetAt(snapshot, params));
        if (!signature) return null;
        const { label, doc, parts, active } = signature;
        const kinds = ofSignature(client());
        // Behind the last one, none is marked.
        const activeParameter = active ?? parts.length;
        const { labelOffsetSupport } =
          client().textDocument?.signatureHelp?.signatureInformation?.parameterInformation ?? {};
        const parameters = parts.map((part) => ({
          // Who knows no places in the label finds the text in it.
          label: labelOffsetSupport ? ([part.start, part.end] as [number, number]) : label.slice(part.start, part.end),
          ...(part.doc !== '' && { documentation: documented(part.doc, kinds) }),
        }));
        const documentation = documented(doc, kinds);
        return {
          signatures: [{ label, documentation, parameters, activeParameter }],
          activeSignature: 0,
          activeParameter,
        };
      }),
    );
  },
};

const completionKinds: Readonly<Record<Completion['kind'], CompletionItemKind>> = {
  word: CompletionItemKind.Keyword,
  literal: CompletionItemKind.Keyword,
  name: CompletionItemKind.Reference,
  parameter: CompletionItemKind.Variable,
  dimension: CompletionItemKind.Property,
  value: CompletionItemKind.Value,
  measure: CompletionItemKind.Unit,
  type: CompletionItemKind.TypeParameter,
  snippet: CompletionItemKind.Snippet,
};

/** What ends a value takes it: a space can be part of one, so it does not. */
const commits: Partial<Record<Completion['kind'], string[]>> = {
  name: [';', ','],
  parameter: [';', ','],
  dimension: [';', ','],
  value: [';'],
  measure: [';'],
};

function completionItem(
  { source }: Snapshot,
  completion: Completion,
  index: number,
  snippets: boolean,
): CompletionItem {
  const { kind, label, text, snippet, detail, rank, start, end } = completion;
  const fillIn = snippets && snippet !== undefined;
  const commitCharacters = snippet === undefined ? commits[kind] : undefined;
  return {
    label,
    kind: completionKinds[kind],
    sortText: `${String(rank).padStart(2, '0')} ${String(index).padStart(4, '0')}`,
    textEdit: { range: rangeOf(source, completion), newText: fillIn ? snippet : text },
    // A value is offered for what stands there, whatever that is; an editor would look for it in what is offered.
    ...(kind === 'value' && end > start && { filterText: source.slice(start, end) }),
    ...(commitCharacters && { commitCharacters }),
    ...(fillIn && { insertTextFormat: InsertTextFormat.Snippet, insertTextMode: InsertTextMode.adjustIndentation }),
    ...(detail !== undefined && { detail }),
  };
}
