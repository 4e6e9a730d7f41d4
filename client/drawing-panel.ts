/**
 * The drawing of the unit at the cursor, in a panel beside the text. It is drawn by the server and shown by a page of its
 * own (drawing/page.ts); here the two are brought together, and what is clicked is found in the text.
 */
import * as vscode from 'vscode';
import {
  type BaseLanguageClient,
  type Location,
  RequestType,
  State,
  type TextDocumentPositionParams,
} from 'vscode-languageclient';
import { pageHtml } from './drawing/html.ts';
import {
  type DrawingShown,
  type FindingShown,
  type FromPage,
  fromPage,
  type Kept,
  keptFrom,
  type PartShown,
  type ToPage,
} from './drawing/messages.ts';
import { saveDrawing, viewDrawing } from './drawing-file.ts';
import { moved, type Place } from './place.ts';
import { isTrustedTo } from './trust.ts';
import type { WriteFiles } from './writing.ts';

interface Asked extends TextDocumentPositionParams {
  known?: number;
  view?: string;
  lastView?: string;
  before?: { kind: 'unit' | 'template'; name: string };
  width?: number;
  height?: number;
  isInFeet: boolean;
  isSlackHidden: boolean;
  isForPaper?: boolean;
}

interface Answer extends Omit<DrawingShown, 'parts' | 'findings' | 'follows'> {
  parts: (PartShown & { location?: Location })[];
  findings: (FindingShown & { location?: Location })[];
}

const drawingRequest = new RequestType<Asked, Answer | null, void>('storypole/drawing');

/** The panel's type, by which package.json and a restored window know it. */
export const drawingViewType = 'storypole.drawing';

/** What the panel shows, for whoever has to know. */
export interface DrawingState {
  unit: string;
  view: string | undefined;
  /** Another one for another picture. */
  revision: number | undefined;
  /** Keys of the parts that the page outlines. */
  outlined: string[];
  problem: string | undefined;
}

export interface DrawingPanel extends vscode.Disposable {
  /** Undefined where there is no panel, or it shows nothing yet. */
  shown(): DrawingState | undefined;
  /** The page shows something anew. */
  onDidShow: vscode.Event<void>;
  /** How many messages have been sent to the page, and how many questions to the server. */
  counts(): { sent: number; asked: number };
  /** As if it came from the page. */
  receive(message: FromPage): Promise<void>;
}

const nothingHere = 'Put the cursor in a unit or a template to see its drawing.';

/** Registers the commands, and what restores a panel. Everything registered ends with the returned handle. */
export function registerDrawingPanel(
  client: BaseLanguageClient,
  onDidChange: vscode.Event<void>,
  context: Pick<vscode.ExtensionContext, 'extensionUri' | 'storageUri' | 'globalStorageUri'>,
  write: WriteFiles,
): DrawingPanel {
  const dist = vscode.Uri.joinPath(context.extensionUri, 'dist');
  const didShow = new vscode.EventEmitter<void>();
  const counts = { sent: 0, asked: 0 };
  let panel: vscode.WebviewPanel | undefined;
  let source: { uri: vscode.Uri; place: Place; column: vscode.ViewColumn | undefined } | undefined;
  /** The view that was chosen; undefined: that of the cursor. */
  let view: string | undefined;
  let room: { width: number; height: number } | undefined;
  let answer: Answer | undefined;
  /** The page is there, and has this picture. */
  let isReady = false;
  let known: number | undefined;
  let state: DrawingState | undefined;
  let isAsking = false;
  let isDue = false;

  // Asking. One question at a time: whatever comes meanwhile is asked in one more.

  function ask(): void {
    isDue = true;
    if (!isAsking) void askWhileDue();
  }

  async function askWhileDue(): Promise<void> {
    isAsking = true;
    while (isDue && panel && isReady) {
      isDue = false;
      // What fails has failed because of an edit, which asks again, or of a server that is not there.
      await askOnce(panel).catch(() => undefined);
    }
    isAsking = false;
  }

  async function askOnce(on: vscode.WebviewPanel): Promise<void> {
    const at = lookedAt();
    if (!at) return send(on, { kind: 'nothing', text: nothingHere });
    await client.start();
    counts.asked += 1;
    const next = await client.sendRequest(drawingRequest, {
      ...asked(at),
      ...room,
      ...(known !== undefined && { known }),
    });
    if (panel !== on) return;
    answer = next ?? undefined;
    if (!next) {
      known = undefined;
      return send(on, { kind: 'nothing', text: nothingHere });
    }
    known = next.sheet?.revision;
    const { kind, name } = next.unit;
    on.title = `Drawing of ${name}`;
    const kept: Kept = {
      source: at.uri.toString(),
      ...at.place,
      before: { kind, name },
      ...(view !== undefined && { view }),
      ...(next.view !== undefined && { lastView: next.view }),
    };
    const parts = next.parts.map(({ location: _, ...part }) => part);
    const findings = next.findings.map(({ location: _, ...finding }) => finding);
    send(on, { kind: 'drawing', drawing: { ...next, parts, findings, follows: view === undefined }, kept });
  }

  function asked({ uri, place }: { uri: vscode.Uri; place: Place }): Asked {
    const settings = vscode.workspace.getConfiguration('storypole.drawing');
    const before = answer?.unit ?? restored?.before;
    const lastView = answer?.view ?? restored?.lastView;
    return {
      textDocument: { uri: client.code2ProtocolConverter.asUri(uri) },
      position: place,
      ...(view !== undefined && { view }),
      ...(lastView !== undefined && { lastView }),
      ...(before && { before: { kind: before.kind, name: before.name } }),
      isInFeet: settings.get('feet') === true,
      isSlackHidden: settings.get('slack') === false,
    };
  }

  /** The cursor where there is one; else the place where it was, moved with the text. */
  function lookedAt(): { uri: vscode.Uri; place: Place } | undefined {
    if (!source) return undefined;
    const editor = editorOf(source.uri);
    if (!editor) return source;
    const { line, character } = editor.selection.active;
    source = { uri: source.uri, place: { line, character }, column: editor.viewColumn };
    return source;
  }

  function follow(editor: vscode.TextEditor | undefined): void {
    if (editor?.document.languageId !== 'closet') return;
    const { line, character } = editor.selection.active;
    source = { uri: editor.document.uri, place: { line, character }, column: editor.viewColumn };
    if (panel) ask();
  }

  function send(on: vscode.WebviewPanel, message: ToPage): void {
    counts.sent += 1;
    void on.webview.postMessage(message);
  }

  // What comes from the page

  async function receive(message: FromPage): Promise<void> {
    switch (message.kind) {
      case 'ready':
        isReady = true;
        known = undefined;
        return ask();
      case 'room':
        room = { width: message.width, height: message.height };
        return ask();
      case 'view':
        // One that is offered, and no other.
        view = answer?.views.some(({ id }) => id === message.view) ? message.view : undefined;
        return ask();
      case 'part':
        return goTo(answer?.parts.find(({ key }) => key === message.key)?.location);
      case 'finding':
        return goTo(answer?.findings.find(({ number }) => number === message.number)?.location);
      case 'back':
        return back();
      case 'save':
        return save();
      case 'print':
        return print();
      case 'shown':
        state = answer && {
          unit: answer.unit.name,
          view: answer.view,
          revision: message.revision,
          outlined: message.outlined,
          problem: answer.problem,
        };
        return didShow.fire();
    }
  }

  async function goTo(location: Location | undefined): Promise<void> {
    if (!location) return;
    const { uri, range } = client.protocol2CodeConverter.asLocation(location);
    await show(uri, new vscode.Range(range.start, range.start));
  }

  async function back(): Promise<void> {
    if (source) await show(source.uri);
  }

  /** In the column where the text is, never over the drawing. */
  async function show(uri: vscode.Uri, selection?: vscode.Range): Promise<void> {
    const viewColumn = editorOf(uri)?.viewColumn ?? source?.column ?? vscode.ViewColumn.One;
    const document = await vscode.workspace.openTextDocument(uri);
    await vscode.window.showTextDocument(document, { viewColumn, ...(selection && { selection }) });
  }

  /** The drawing for paper: in black on white, with its own rules in it, as wide as a page of A4 on its side. */
  async function paper(): Promise<{ name: string; svg: string } | undefined> {
    const at = lookedAt();
    if (!at || !answer?.sheet) return undefined;
    const shown = { ...asked(at), ...(answer.view !== undefined && { view: answer.view }) };
    const drawn = await client.sendRequest(drawingRequest, { ...shown, isForPaper: true, width: 280, height: 190 });
    const svg = drawn?.sheet?.svg;
    return svg === undefined ? undefined : { name: `${drawn?.unit.name} ${drawn?.view}`, svg };
  }

  async function save(): Promise<void> {
    if (!(await isTrustedTo('Saving a drawing'))) return;
    const drawn = await paper();
    if (drawn) await saveDrawing(drawn, source?.uri, write);
    else
      void vscode.window.showInformationMessage(
        'There is no drawing that could be saved. Put the cursor in a unit or a template first.',
      );
  }

  async function print(): Promise<void> {
    if (!(await isTrustedTo('Printing a drawing'))) return;
    const drawn = await paper();
    if (drawn) await viewDrawing(drawn, context.storageUri ?? context.globalStorageUri, source?.uri, write);
    else
      void vscode.window.showInformationMessage(
        'There is no drawing that could be printed. Put the cursor in a unit or a template first.',
      );
  }

  // The panel

  /** What was kept of a panel that is being restored, until there is something newer. */
  let restored: Kept | undefined;

  function open(): void {
    follow(vscode.window.activeTextEditor);
    if (panel) {
      panel.reveal(undefined, true);
      ask();
      return;
    }
    const column = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    fill(vscode.window.createWebviewPanel(drawingViewType, 'Drawing', column, optionsOf(dist)));
  }

  function fill(made: vscode.WebviewPanel): void {
    panel = made;
    isReady = false;
    known = undefined;
    const { webview } = made;
    const address = (name: string): string => webview.asWebviewUri(vscode.Uri.joinPath(dist, name)).toString();
    const icon = (name: string): vscode.Uri => vscode.Uri.joinPath(context.extensionUri, 'client', 'icons', name);
    made.iconPath = { light: icon('closet-light.svg'), dark: icon('closet-dark.svg') };
    webview.onDidReceiveMessage((said: unknown) => {
      const message = fromPage(said);
      if (message) void receive(message);
    });
    made.onDidDispose(() => {
      if (panel !== made) return;
      panel = undefined;
      answer = undefined;
      state = undefined;
      view = undefined;
      restored = undefined;
      setOpen(false);
    });
    // A page that is hidden is let go of, and says that it is ready when it is there again.
    made.onDidChangeViewState(() => {
      if (!made.visible) isReady = false;
    });
    webview.html = pageHtml({
      script: address('drawing.js'),
      style: address('drawing.css'),
      cspSource: webview.cspSource,
      nonce: nonce(),
    });
    setOpen(true);
  }

  const setOpen = (isOpen: boolean): void => {
    void vscode.commands.executeCommand('setContext', 'storypole.drawingIsOpen', isOpen);
  };

  const serializer: vscode.WebviewPanelSerializer = {
    async deserializeWebviewPanel(made, kept: unknown) {
      restored = keptFrom(kept);
      if (restored && !source) {
        const { line, character } = restored;
        source = { uri: vscode.Uri.parse(restored.source), place: { line, character }, column: undefined };
      }
      view = restored?.view;
      made.webview.options = optionsOf(dist);
      fill(made);
    },
  };

  follow(vscode.window.activeTextEditor);
  const registered = vscode.Disposable.from(
    didShow,
    vscode.window.registerWebviewPanelSerializer(drawingViewType, serializer),
    vscode.commands.registerCommand('storypole.showDrawing', open),
    vscode.commands.registerCommand('storypole.saveDrawing', save),
    vscode.window.onDidChangeActiveTextEditor(follow),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => follow(textEditor)),
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (document.languageId !== 'closet') return;
      if (source && document.uri.toString() === source.uri.toString())
        source = { ...source, place: moved(source.place, contentChanges) };
      if (panel) ask();
    }),
    vscode.workspace.onDidChangeConfiguration((changed) => {
      if (panel && changed.affectsConfiguration('storypole.drawing')) ask();
    }),
    onDidChange(() => {
      if (panel) ask();
    }),
    client.onDidChangeState(({ newState }) => {
      // Another server counts its pictures anew.
      known = undefined;
      if (panel && newState === State.Running) ask();
    }),
  );
  return {
    shown: () => state,
    onDidShow: didShow.event,
    counts: () => ({ ...counts }),
    receive,
    dispose() {
      registered.dispose();
      panel?.dispose();
    },
  };
}

function editorOf(uri: vscode.Uri): vscode.TextEditor | undefined {
  const address = uri.toString();
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  const all = [...(activeTextEditor ? [activeTextEditor] : []), ...visibleTextEditors];
  return all.find(({ document }) => document.uri.toString() === address);
}

function optionsOf(dist: vscode.Uri): vscode.WebviewOptions {
  return { enableScripts: true, enableForms: false, localResourceRoots: [dist] };
}

function nonce(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(18));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
