/** The cut list of a unit, shown as plain text beside the editor and kept current while its file changes. */
import * as vscode from 'vscode';
import {
  type BaseLanguageClient,
  type Location,
  RequestType,
  type TextDocumentPositionParams,
} from 'vscode-languageclient';
import { moved, type Place } from './place.ts';

interface CutList {
  /** What it is the list of, for the tab. */
  title: string;
  /** A finished table, ready to be read. */
  text: string;
}

/** Answered by the server with nothing when no unit and no template stands at the position. */
const cutListRequest = new RequestType<TextDocumentPositionParams, CutList | null, void>('storypole/cutList');

/** A list that is open: the file and the place that it was asked for. */
interface View {
  source: vscode.Uri;
  title: string;
  place: Place;
}

const scheme = 'storypole-cuts';
const refreshDelay = 250;
const noUnit = 'Put the cursor in a unit or a template: there is no unit here.';

/** Registers the command and the read-only document behind it. Everything registered ends with the returned handle. */
export function registerCutList(client: BaseLanguageClient, onDidChange: vscode.Event<void>): vscode.Disposable {
  const views = new Map<string, View>();
  const changed = new vscode.EventEmitter<vscode.Uri>();
  let timer: NodeJS.Timeout | undefined;

  async function ask(source: vscode.Uri, place: Place): Promise<CutList | null> {
    // Waits for a server that is still starting, as it is when a window is restored.
    await client.start();
    const uri = client.code2ProtocolConverter.asUri(source);
    return client.sendRequest(cutListRequest, { textDocument: { uri }, position: place });
  }

  function refreshSoon(): void {
    clearTimeout(timer);
    timer = setTimeout(() => {
      for (const uri of views.keys()) changed.fire(vscode.Uri.parse(uri));
    }, refreshDelay);
  }

  const provider: vscode.TextDocumentContentProvider = {
    onDidChange: changed.event,
    async provideTextDocumentContent(uri) {
      const view = views.get(uri.toString()) ?? viewOf(uri);
      views.set(uri.toString(), view);
      const list = await ask(view.source, view.place);
      return list === null ? `${view.title}: no unit stands at this place any more.\n` : list.text;
    },
  };

  /** Of what stands at a location, or at the cursor. */
  async function show(node?: { location?: Location }): Promise<void> {
    const at = node?.location ? placeOf(client, node.location) : cursor();
    if (!at) {
      void vscode.window.showInformationMessage(noUnit);
      return;
    }
    const { source, place } = at;
    const list = await ask(source, place);
    if (list === null) {
      void vscode.window.showInformationMessage(noUnit);
      return;
    }
    const uri = openUri(views, source, list.title) ?? uriOf({ source, title: list.title, place });
    views.set(uri.toString(), { source, title: list.title, place });
    changed.fire(uri);
    const document = await vscode.workspace.openTextDocument(uri);
    await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true });
  }

  return vscode.Disposable.from(
    changed,
    new vscode.Disposable(() => clearTimeout(timer)),
    vscode.workspace.registerTextDocumentContentProvider(scheme, provider),
    vscode.commands.registerCommand('storypole.showCutList', show),
    // What is not open in an editor changes too, as where another branch is checked out.
    onDidChange(refreshSoon),
    vscode.workspace.onDidCloseTextDocument((document) => views.delete(document.uri.toString())),
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (document.languageId !== 'closet') return;
      const changedUri = document.uri.toString();
      for (const view of views.values()) {
        if (view.source.toString() === changedUri) view.place = moved(view.place, contentChanges);
      }
      // A template in another file can change the list too, so every open list is asked for again.
      refreshSoon();
    }),
  );
}

function placeOf(client: BaseLanguageClient, location: Location): { source: vscode.Uri; place: Place } {
  const { line, character } = location.range.start;
  return { source: client.protocol2CodeConverter.asUri(location.uri), place: { line, character } };
}

function cursor(): { source: vscode.Uri; place: Place } | undefined {
  const editor = vscode.window.activeTextEditor;
  if (editor?.document.languageId !== 'closet') return undefined;
  const { line, character } = editor.selection.active;
  return { source: editor.document.uri, place: { line, character } };
}

/** The open list of this thing of this file, so that asking twice shows one tab. */
function openUri(views: ReadonlyMap<string, View>, source: vscode.Uri, title: string): vscode.Uri | undefined {
  for (const [uri, view] of views) {
    if (view.title === title && view.source.toString() === source.toString()) return vscode.Uri.parse(uri);
  }
  return undefined;
}

/** The address holds all that is needed to ask again, so that a restored window can. */
function uriOf({ source, title, place }: View): vscode.Uri {
  const name = title.replaceAll('/', ' ');
  const query = JSON.stringify({ source: source.toString(), ...place });
  return vscode.Uri.from({ scheme, path: `/${name}`, query });
}

function viewOf(uri: vscode.Uri): View {
  const { source, line, character } = JSON.parse(uri.query) as { source: string } & Place;
  return { source: vscode.Uri.parse(source), title: uri.path.slice(1), place: { line, character } };
}
