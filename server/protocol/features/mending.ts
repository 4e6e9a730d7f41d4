/** Changes that the server offers to make. What takes long to find out is found out when it is chosen. */
import { type CancellationToken, type CodeAction, CodeActionKind, type CodeActionParams } from 'vscode-languageserver';
import type { Steps } from '../../checks/steps.ts';
import { quickFixesAt } from '../../language/actions.ts';
import { diagnosticOf } from '../../language/diagnostics.ts';
import { type FixAll, fixingAll, rulesWithMore } from '../../language/fix-all.ts';
import { refactor, refactorings } from '../../language/refactor/refactor.ts';
import type { Snapshot, TextEdit } from '../../language/snapshot.ts';
import { editedMeanwhile } from '../asking.ts';
import { offsetOf, protocolDiagnostic } from '../convert.ts';
import { type AboutDocument, type Feature, workspaceEdit } from './feature.ts';

const fixAllKind = `${CodeActionKind.SourceFixAll}.storypole`;

const refactorKinds = [CodeActionKind.RefactorExtract, CodeActionKind.RefactorInline, CodeActionKind.RefactorRewrite];

/** What an action has to say of itself to be found out later. */
type Later =
  | ({ readonly kind: 'fix-all' } & FixAll)
  | { readonly kind: 'refactor'; readonly id: string; readonly start: number; readonly end: number };

interface Resolving extends AboutDocument {
  /** Of the text that it was offered for. */
  readonly version: number | null;
  readonly later: Later;
  readonly action: CodeAction;
}

export const mending: Feature = {
  capabilities: {
    codeActionProvider: {
      codeActionKinds: [CodeActionKind.QuickFix, fixAllKind, ...refactorKinds],
      resolveProvider: true,
    },
  },
  add: (connection, { askLong, client, projects, planOf, versionedEdits, ...links }) => {
    const { versionOf } = links;
    const edit = ({ project }: Snapshot, edits: readonly TextEdit[]) =>
      workspaceEdit(edits, [project], { ...links, versionedEdits });
    const support = () => client().textDocument?.codeAction;
    function* editOf(snapshot: Snapshot, later: Later): Steps<readonly TextEdit[]> {
      if (later.kind === 'fix-all') return yield* fixingAll(snapshot, later);
      return refactor(snapshot, later.id, later, projects())?.edits ?? [];
    }
    const resolve = askLong(function* (snapshot, asked: Resolving): Steps<CodeAction | null> {
      const { action, later } = asked;
      // What is to be changed is told by its place, which is one of that text alone.
      if (later.kind === 'refactor' && asked.version !== versionOf(snapshot.path)) return null;
      return { ...action, edit: edit(snapshot, yield* editOf(snapshot, later)) };
    });

    connection.onCodeAction(
      askLong(function* (snapshot, { range, context, textDocument }: CodeActionParams): Steps<CodeAction[]> {
        const { source } = snapshot;
        const canWait = support()?.dataSupport === true && support()?.resolveSupport?.properties.includes('edit');
        /** With its edit, or with what leads to it where the client comes back for that. */
        function* promised(action: CodeAction, later: Later): Steps<CodeAction> {
          if (canWait) return { ...action, data: { textDocument, version: versionOf(snapshot.path), later } };
          return { ...action, edit: edit(snapshot, yield* editOf(snapshot, later)) };
        }
        const touched = { start: offsetOf(source, range.start), end: offsetOf(source, range.end) };
        const wanted = (kind: string): boolean => isWanted(kind, context.only);
        const actions: CodeAction[] = [];
        if (wanted(CodeActionKind.QuickFix)) {
          const fixes = quickFixesAt(snapshot, touched, planOf(snapshot.project));
          for (const { title, finding, edits, preferred } of fixes) {
            actions.push({
              title,
              kind: CodeActionKind.QuickFix,
              isPreferred: preferred,
              diagnostics: [protocolDiagnostic(source, diagnosticOf(finding), links)],
              edit: edit(snapshot, edits),
            });
          }
          for (const more of rulesWithMore(snapshot, new Set(fixes.map(({ finding }) => finding.rule.id)))) {
            const where = more.scope === 'file' ? 'in this file' : 'in the whole project';
            const action = { title: `Fix all "${more.rule}" ${where}`, kind: CodeActionKind.QuickFix };
            actions.push(yield* promised(action, { kind: 'fix-all', ...more }));
          }
        }
        // Asked for when a file is saved; nobody wants it among the others.
        if (context.only && wanted(fixAllKind)) {
          const action = { title: 'Make all obvious fixes in this file', kind: fixAllKind };
          actions.push(yield* promised(action, { kind: 'fix-all', scope: 'file' }));
        }
        // Some are tried before they are offered, which nobody should wait for who asks for something else.
        const offered = refactorKinds.some(wanted) ? refactorings(snapshot, touched, projects()) : [];
        for (const { id, title, kind, disabled } of offered) {
          if (!wanted(kind)) continue;
          if (disabled !== undefined) {
            if (support()?.disabledSupport) actions.push({ title, kind, disabled: { reason: disabled } });
          } else actions.push(yield* promised({ title, kind }, { kind: 'refactor', id, ...touched }));
        }
        return actions;
      }),
    );

    connection.onCodeActionResolve(async (action, token: CancellationToken) => {
      const { textDocument, version = null, later } = (action.data ?? {}) as Partial<Resolving>;
      if (!textDocument || !later) return action;
      return (await resolve({ textDocument, version, later, action }, token)) ?? editedMeanwhile();
    });
  },
};

/** `refactor` asks for `refactor.extract` too. */
function isWanted(kind: string, only: readonly string[] | undefined): boolean {
  return only === undefined || only.some((asked) => asked === '' || kind === asked || kind.startsWith(`${asked}.`));
}
