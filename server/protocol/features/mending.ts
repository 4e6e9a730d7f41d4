/** Changes that the server offers to make. */
import { CodeActionKind } from 'vscode-languageserver';
import { quickFixesAt } from '../../language/actions.ts';
import { diagnosticOf } from '../../language/diagnostics.ts';
import { offsetOf, protocolDiagnostic } from '../convert.ts';
import { type Feature, workspaceEdit } from './feature.ts';

export const mending: Feature = {
  capabilities: { codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] } },
  add: (connection, { ask, uriOfFile }) => {
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
  },
};
