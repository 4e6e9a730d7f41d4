/** Tables from site into the surveys of a project: read here, shown and written by the client. */
import { RequestType, type TextDocumentEdit } from 'vscode-languageserver';
import type { Measure } from '../../language/survey-import/measures.ts';
import { type Feature, onceAsked } from './feature.ts';

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

export const importRequest = new RequestType<ImportAsked, ImportAnswer | null, void>('storypole/importSurvey');

export const importing: Feature = {
  capabilities: {},
  add: (connection, asking) => {
    connection.onRequest(
      importRequest,
      onceAsked(async () => {
        const { answerOf } = await import('./import-answer.ts');
        return asking.askProjects('fresh', (projects, asked: ImportAsked) => {
          const loaded = projects.find(({ root }) => root === asked.root);
          return loaded ? answerOf(loaded, asked, asking) : null;
        });
      }),
    );
  },
};
