/** In the status bar, what the cursor stands in: the unit or the template, and what was found there. */
import * as vscode from 'vscode';
import {
  type BaseLanguageClient,
  type Location,
  RequestType,
  type TextDocumentPositionParams,
} from 'vscode-languageclient';
import { asWords } from './shown.ts';

export interface PlaceStatus {
  kind: 'unit' | 'template';
  name: string;
  text: string;
  detail: string[];
  severity?: 'error' | 'warning' | 'note';
  /** Of a unit: its template, and what was measured. */
  template?: Location;
  survey?: Location;
}

/** Answered with nothing outside of units, surveys and templates. */
export const placeStatusRequest = new RequestType<TextDocumentPositionParams, PlaceStatus | null, void>(
  'storypole/placeStatus',
);

/** Long enough that a cursor on its way through a file asks nothing. */
const pause = 120;

const signs = { error: '$(error)', warning: '$(warning)', note: '$(info)' } as const;

export interface PlaceStatusItem extends vscode.Disposable {
  /** What is shown now; nothing where it is hidden. */
  shown(): { text: string; tooltip: string } | undefined;
}

/** Registers the item. Everything registered ends with the returned handle. */
export function registerPlaceStatus(client: BaseLanguageClient, onDidChange: vscode.Event<void>): PlaceStatusItem {
  const item = vscode.window.createStatusBarItem('storypole.place', vscode.StatusBarAlignment.Left, 50);
  item.name = 'Storypole: unit at the cursor';
  let timer: ReturnType<typeof setTimeout> | undefined;
  let asked = 0;
  let shown: { text: string; tooltip: string } | undefined;

  function soon(): void {
    clearTimeout(timer);
    timer = setTimeout(() => void ask().catch(() => show(null)), pause);
  }

  async function ask(): Promise<void> {
    const editor = vscode.window.activeTextEditor;
    asked += 1;
    const turn = asked;
    if (editor?.document.languageId !== 'closet' || !client.isRunning()) return show(null);
    const textDocument = client.code2ProtocolConverter.asTextDocumentIdentifier(editor.document);
    // In a browser a message is copied as it is, and what the editor's own classes hold would be lost.
    const position = client.code2ProtocolConverter.asPosition(editor.selection.active);
    const status = await client.sendRequest(placeStatusRequest, { textDocument, position });
    // The cursor may have moved on meanwhile.
    if (turn === asked) show(status);
  }

  function show(status: PlaceStatus | null): void {
    if (status === null) {
      shown = undefined;
      item.hide();
      return;
    }
    const { kind, text, detail, severity } = status;
    shown = { text, tooltip: detail.join('\n') };
    item.text = `${severity === undefined ? '$(layout)' : signs[severity]} ${asWords(text)}`;
    item.tooltip = `${shown.tooltip}\n\nClick to show the cut list of this ${kind}.`;
    item.accessibilityInformation = { label: detail.join(', ') };
    item.command = 'storypole.showCutList';
    item.show();
  }

  const listening = vscode.Disposable.from(
    item,
    new vscode.Disposable(() => clearTimeout(timer)),
    vscode.window.onDidChangeActiveTextEditor(soon),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
      if (textEditor === vscode.window.activeTextEditor) soon();
    }),
    onDidChange(soon),
  );
  soon();
  return { shown: () => shown, dispose: () => listening.dispose() };
}
