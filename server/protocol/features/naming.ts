/** Names: where a thing is named, and giving it another name; files that are given one. */
import {
  DocumentHighlightKind,
  FileOperationPatternKind,
  type LinkedEditingRangeParams,
  type LinkedEditingRanges,
  type Location,
  LSPErrorCodes,
  type ReferenceParams,
  type RenameFilesParams,
  type RenameParams,
  ResponseError,
  SymbolKind,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Steps } from '../../checks/steps.ts';
import { linking, nameWhileTyped } from '../../language/linked-editing.ts';
import { editsForMoves } from '../../language/moved-files.ts';
import { highlightsAt, searching } from '../../language/references.ts';
import { type Refused, renameableAt, renaming } from '../../language/rename.ts';
import { symbolsNamed } from '../../language/workspace-symbols.ts';
import type { Project } from '../../model/project.ts';
import { pathOf } from '../addresses.ts';
import { editedMeanwhile } from '../asking.ts';
import { rangeOf } from '../convert.ts';
import { type Feature, offsetAt, workspaceEdit } from './feature.ts';
import { symbolKinds } from './outline.ts';

export const naming: Feature = {
  capabilities: {
    referencesProvider: true,
    documentHighlightProvider: true,
    linkedEditingRangeProvider: true,
    renameProvider: { prepareProvider: true },
    workspaceSymbolProvider: true,
    workspace: {
      fileOperations: {
        willRename: {
          filters: [
            { scheme: 'file', pattern: { glob: '**/*.closet', matches: FileOperationPatternKind.file } },
            { scheme: 'file', pattern: { glob: '**', matches: FileOperationPatternKind.folder } },
          ],
        },
      },
    },
  },
  add: (connection, asking) => {
    const { ask, askAll, askLong, projects, uriOfFile } = asking;
    connection.onReferences(
      askLong(function* (snapshot, params: ReferenceParams): Steps<Location[] | ResponseError> {
        const isAsItWas = unedited(projects());
        const places: Location[] = [];
        for (const one of yield* searching(snapshot, offsetAt(snapshot, params), projects())) {
          const { source, isDeclaration, ...range } = one;
          if (!isDeclaration || params.context.includeDeclaration)
            places.push({ uri: uriOfFile(source.id), range: rangeOf(source, range) });
          yield;
        }
        return isAsItWas() ? places : editedMeanwhile();
      }, 'Storypole looks where this is named'),
    );
    // What stands in the same file is known at once, whatever is still being computed.
    connection.onDocumentHighlight(
      ask('now', (snapshot, params) =>
        highlightsAt(snapshot, offsetAt(snapshot, params)).map(({ kind, ...range }) => ({
          range: rangeOf(snapshot.source, range),
          kind: kind === 'write' ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
        })),
      ),
    );
    connection.languages.onLinkedEditingRange(
      askLong(function* (snapshot, params: LinkedEditingRangeParams): Steps<LinkedEditingRanges | null> {
        const found = yield* linking(snapshot, offsetAt(snapshot, params), projects());
        if (found.length === 0) return null;
        return { ranges: found.map((one) => rangeOf(snapshot.source, one)), wordPattern: nameWhileTyped };
      }, 'Storypole looks where this is named'),
    );
    connection.onPrepareRename(
      ask('fresh', (snapshot, params) => {
        const found = renameableAt(snapshot, offsetAt(snapshot, params));
        if (found.kind === 'refused') return refusal(found);
        return { range: rangeOf(snapshot.source, found), placeholder: found.name };
      }),
    );
    connection.onRenameRequest(
      askLong(function* (snapshot, params: RenameParams): Steps<WorkspaceEdit | ResponseError> {
        const isAsItWas = unedited(projects());
        const result = yield* renaming(snapshot, offsetAt(snapshot, params), params.newName, projects());
        if (!isAsItWas()) return editedMeanwhile();
        return result.kind === 'refused' ? refusal(result) : workspaceEdit(result.edits, asking.projects(), asking);
      }),
    );
    connection.onWorkspaceSymbol(
      askAll('now', ({ query }) =>
        symbolsNamed(projects(), query).map(({ name, word, container, source, ...range }) => ({
          name,
          kind: symbolKinds[word] ?? SymbolKind.Field,
          containerName: container,
          location: { uri: uriOfFile(source.id), range: rangeOf(source, range) },
        })),
      ),
    );
    const moving = askAll('fresh', ({ files }: RenameFilesParams) => {
      const moves = files.flatMap(({ oldUri, newUri }) => {
        const [from, to] = [pathOf(oldUri), pathOf(newUri)];
        return from === undefined || to === undefined ? [] : [{ from, to }];
      });
      const edits = editsForMoves(projects(), moves);
      return edits.length > 0 ? workspaceEdit(edits, asking.projects(), asking) : null;
    });
    connection.workspace.onWillRenameFiles(async (params, token) => {
      const edit = await moving(params, token);
      return edit instanceof ResponseError ? null : edit;
    });
  },
};

/** Whether nothing was edited in any of the projects since. Of the one that was asked about that is seen to. */
function unedited(projects: readonly Project[]): () => boolean {
  const versions = projects.map(({ version }) => version);
  return () => projects.every(({ version }, i) => version === versions[i]);
}

/** A refusal is an answer: it is shown to the person and is no failure of the server. */
function refusal({ why }: Refused): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestFailed, why);
}
