/** Commands that lead somewhere: to a unit, its template, its survey, to the places that a code lens counts, to the rules. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, type Location, type Position, RequestType } from 'vscode-languageclient';
import { openPlace } from './open-place.ts';
import { type PlaceStatus, placeStatusRequest } from './place-status.ts';
import type { ViewNode } from './project-view.ts';
import { asWords } from './shown.ts';

const unitsRequest = new RequestType<object, ViewNode[] | null, void>('storypole/units');

interface UnitChoice extends vscode.QuickPickItem {
  location: Location;
}

/** Registers the commands. Everything registered ends with the returned handle. */
export function registerGoing(client: BaseLanguageClient, extension: vscode.Uri): vscode.Disposable {
  async function goToUnit(): Promise<void> {
    const chosen = await vscode.window.showQuickPick(choices(), {
      title: 'Go to a unit',
      placeHolder: 'Its name, its template, or what was found in it',
      matchOnDescription: true,
    });
    if (chosen) await openPlace(client, chosen.location);
  }

  async function choices(): Promise<UnitChoice[]> {
    await client.start();
    const units = (await client.sendRequest(unitsRequest, {})) ?? [];
    return units.flatMap(({ label, description, location }) =>
      location ? [{ label: asWords(label), description: asWords(description), location }] : [],
    );
  }

  async function explain(node?: ViewNode): Promise<void> {
    const rule = node?.rule ?? (await ruleHere());
    if (rule !== undefined) await openPage(`dist/rules/${rule}.md`);
  }

  /** The page as it is read; its text where nothing here shows it so. */
  async function openPage(file: string): Promise<void> {
    const uri = vscode.Uri.joinPath(extension, file);
    const shown = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    try {
      // A preview of what is not there would be an empty one.
      const document = await vscode.workspace.openTextDocument(uri);
      await vscode.commands.executeCommand('markdown.showPreviewToSide', uri).then(undefined, () =>
        // The preview belongs to an extension of its own, which can be missing or switched off.
        vscode.window.showTextDocument(document, shown),
      );
    } catch {
      void vscode.window.showErrorMessage(
        `The page ${uri.path.slice(uri.path.lastIndexOf('/') + 1)} is missing from the extension. Install it again.`,
      );
    }
  }

  /** From a row of the project view, or from the unit or survey at the cursor. */
  const to = (kind: 'template' | 'survey') => async (node?: ViewNode) => {
    const from = node ?? (await statusHere());
    const location = from?.[kind];
    if (location) await openPlace(client, location);
    else void vscode.window.showInformationMessage(asWords(nowhere(kind, from)));
  };

  async function statusHere(): Promise<PlaceStatus | undefined> {
    const editor = vscode.window.activeTextEditor;
    if (editor?.document.languageId !== 'closet') return undefined;
    await client.start();
    const textDocument = client.code2ProtocolConverter.asTextDocumentIdentifier(editor.document);
    const position = client.code2ProtocolConverter.asPosition(editor.selection.active);
    return (await client.sendRequest(placeStatusRequest, { textDocument, position })) ?? undefined;
  }

  return vscode.Disposable.from(
    vscode.commands.registerCommand('storypole.goToUnit', goToUnit),
    vscode.commands.registerCommand('storypole.goToTemplate', to('template')),
    vscode.commands.registerCommand('storypole.goToSurvey', to('survey')),
    vscode.commands.registerCommand('storypole.explainFinding', explain),
    vscode.commands.registerCommand('storypole.openRules', () => openPage('server/checks/RULES.md')),
    vscode.commands.registerCommand('storypole.openReference', () => openPage('grammar/REFERENCE.md')),
    // What a code lens sends are plain data; the editor's own command wants its own classes.
    vscode.commands.registerCommand(
      'storypole.showReferences',
      (uri: string, position: Position, locations: Location[]) =>
        vscode.commands.executeCommand(
          'editor.action.showReferences',
          client.protocol2CodeConverter.asUri(uri),
          client.protocol2CodeConverter.asPosition(position),
          locations.map(client.protocol2CodeConverter.asLocation),
        ),
    ),
  );
}

/** Why there is nothing to go to. */
function nowhere(kind: 'template' | 'survey', from: ViewNode | PlaceStatus | undefined): string {
  if (from?.kind !== 'unit') return 'Put the cursor in a unit or in its survey: there is no unit here.';
  const name = 'name' in from ? from.name : from.label;
  return kind === 'survey'
    ? `Nothing has been measured for ${name} yet. The snippet new-survey writes what is needed.`
    : `The template of ${name} is in no file that could be shown.`;
}

/** The rule of the finding at the cursor: where there are several, the one that is chosen; where there is none, that is said. */
async function ruleHere(): Promise<string | undefined> {
  const editor = vscode.window.activeTextEditor;
  const found =
    editor?.document.languageId === 'closet' ? findingsAt(editor.document.uri, editor.selection.active) : [];
  const rules = new Map(
    found.map(({ code, message }) => [String(typeof code === 'object' ? code.value : code), message]),
  );
  if (rules.size === 0) {
    void vscode.window.showInformationMessage(
      'Nothing was found at the cursor that could be explained. Put it on something that is underlined.',
    );
    return undefined;
  }
  if (rules.size === 1) return [...rules.keys()][0];
  const items = [...rules].map(([label, detail]) => ({ label, detail: asWords(detail) }));
  return (await vscode.window.showQuickPick(items, { title: 'Which finding?' }))?.label;
}

/** Those right at the cursor, else those of its line. */
function findingsAt(uri: vscode.Uri, at: vscode.Position): vscode.Diagnostic[] {
  const ours = vscode.languages.getDiagnostics(uri).filter(({ source }) => source === 'storypole');
  const here = ours.filter(({ range }) => range.contains(at));
  return here.length > 0 ? here : ours.filter(({ range }) => range.start.line <= at.line && at.line <= range.end.line);
}
