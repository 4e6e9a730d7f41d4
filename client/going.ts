/** Commands that lead somewhere: to a unit, its template, its survey, to the places that a code lens counts, to the rules. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, type Location, type Position, RequestType } from 'vscode-languageclient';
import { openPlace } from './open-place.ts';
import type { ViewNode } from './project-view.ts';

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
    return units.flatMap(({ label, description, location }) => (location ? [{ label, description, location }] : []));
  }

  async function explain(node?: ViewNode): Promise<void> {
    const rule = node?.rule ?? (await ruleHere());
    if (rule !== undefined) await openPage('server/checks/RULES.md', rule);
  }

  /** The page as it is read, at one heading of it. */
  async function openPage(file: string, heading?: string): Promise<void> {
    const uri = vscode.Uri.joinPath(extension, file).with({ fragment: heading ?? '' });
    await vscode.commands.executeCommand('markdown.showPreviewToSide', uri);
  }

  const to = (kind: 'template' | 'survey') => async (node?: ViewNode) => {
    const location = node?.[kind];
    if (location) await openPlace(client, location);
  };

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

/** The rule of the finding at the cursor: where there are several, the one that is chosen; where there is none, that is said. */
async function ruleHere(): Promise<string | undefined> {
  const editor = vscode.window.activeTextEditor;
  const found =
    editor?.document.languageId === 'closet' ? findingsAt(editor.document.uri, editor.selection.active) : [];
  const rules = new Map(
    found.map(({ code, message }) => [String(typeof code === 'object' ? code.value : code), message]),
  );
  if (rules.size === 0) {
    void vscode.window.showInformationMessage('Nothing was found at the cursor that could be explained.');
    return undefined;
  }
  if (rules.size === 1) return [...rules.keys()][0];
  const items = [...rules].map(([label, detail]) => ({ label, detail }));
  return (await vscode.window.showQuickPick(items, { title: 'Which finding?' }))?.label;
}

/** Those right at the cursor, else those of its line. */
function findingsAt(uri: vscode.Uri, at: vscode.Position): vscode.Diagnostic[] {
  const ours = vscode.languages.getDiagnostics(uri).filter(({ source }) => source === 'storypole');
  const here = ours.filter(({ range }) => range.contains(at));
  return here.length > 0 ? here : ours.filter(({ range }) => range.start.line <= at.line && at.line <= range.end.line);
}
