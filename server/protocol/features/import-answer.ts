/** What is answered about a table from site: loaded once somebody imports one. */
import type { TextDocumentEdit } from 'vscode-languageserver';
import { readMapping } from '../../language/survey-import/columns.ts';
import type { Measure } from '../../language/survey-import/measures.ts';
import { importSurvey, mappingName, tableIn } from '../../language/survey-import/survey-import.ts';
import { outcomeSaid, refusedPage } from '../../language/survey-import/told.ts';
import { join, parentOf } from '../../model/files.ts';
import type { LoadedProject } from '../../model/workspace.ts';
import { rangeOf } from '../convert.ts';
import type { Asking } from './feature.ts';

export interface ImportAsked {
  /** Which project, as the project view calls it. */
  readonly root: string;
  /** The name of the file, for telling. */
  readonly name: string;
  /** What it holds, in Base64: a message holds text alone. */
  readonly contents: string;
  /** The text of the mapping file; null where there is none. Left out, its address is answered. */
  readonly mapping?: string | null;
  readonly sheet?: string;
  readonly measure?: Measure;
  readonly decimalComma?: boolean;
}

export type ImportAnswer =
  /** Read the mapping file there, and ask again. */
  | { readonly kind: 'mapping'; readonly uri: string }
  /** No table, or no mapping: a sentence. */
  | { readonly kind: 'unreadable'; readonly why: string }
  | { readonly kind: 'sheet'; readonly sheets: readonly string[] }
  | {
      readonly kind: 'refused';
      /** To be shown as it is. */
      readonly page: string;
      readonly asks: readonly ('unit-of-measure' | 'decimal-comma')[];
    }
  | {
      readonly kind: 'taken';
      readonly said: string;
      readonly notes: readonly string[];
      readonly edits: readonly TextDocumentEdit[];
      /** What the mapping file is to hold from now on. */
      readonly mapping?: { readonly uri: string; readonly text: string } | undefined;
    };

export function answerOf({ project, root, alone }: LoadedProject, asked: ImportAsked, asking: Asking): ImportAnswer {
  const { name, mapping: text, measure, decimalComma } = asked;
  const uri = asking.uriOfFile(join(alone ? parentOf(root) : root, mappingName));
  if (text === undefined) return { kind: 'mapping', uri };
  const mapping = text === null ? { columns: [] } : readMapping(text, mappingName);
  if ('wrong' in mapping) return { kind: 'unreadable', why: mapping.wrong };
  const table = tableIn(bytesOf(asked.contents), name, asked.sheet);
  if ('unreadable' in table) return { kind: 'unreadable', why: table.unreadable };
  if ('asksSheet' in table) return { kind: 'sheet', sheets: table.asksSheet };
  const made = importSurvey(table.sheet, { project, mapping, measure, decimalComma });
  if (made.kind === 'refused') return { kind: 'refused', page: refusedPage(made, name), asks: made.asks };
  const edits = [...Map.groupBy(made.edits, ({ file }) => file)].flatMap(([file, own]): TextDocumentEdit[] => {
    const source = project.sources.get(file);
    if (!source) return [];
    return [
      {
        textDocument: { uri: asking.uriOfFile(file), version: asking.versionOf(file) },
        edits: own.map(({ text: newText, ...range }) => ({ range: rangeOf(source, range), newText })),
      },
    ];
  });
  return {
    kind: 'taken',
    said: outcomeSaid(made.changes),
    notes: made.notes,
    edits,
    ...(made.mapping !== undefined && { mapping: { uri, text: made.mapping } }),
  };
}

function bytesOf(base64: string): Uint8Array {
  const text = atob(base64);
  return Uint8Array.from(text, (char) => char.charCodeAt(0));
}
