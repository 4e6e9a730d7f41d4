/** The project view: a tree that the server describes branch by branch. Nothing is worked out here; what is shown is what was answered. */
import * as vscode from 'vscode';
import {
  type BaseLanguageClient,
  type Location,
  RequestType,
  type TextDocumentPositionParams,
} from 'vscode-languageclient';
import { betweenAnswers } from './between-answers.ts';
import { type Branch, branchesOf } from './branches.ts';

export interface ViewNode {
  /** The keys that lead to it from the top. */
  path: string[];
  kind: string;
  label: string;
  description: string;
  tooltip: string;
  severity?: 'error' | 'warning' | 'note';
  /** The id of the rule that it is about. */
  rule?: string;
  hasChildren: boolean;
  location?: Location;
  template?: Location;
  survey?: Location;
}

const childrenRequest = new RequestType<{ path?: string[] }, ViewNode[] | null, void>('storypole/projectView');

const pathRequest = new RequestType<TextDocumentPositionParams, ViewNode[] | null, void>('storypole/projectViewPath');

/** The view's id, by which package.json and the keybindings know it. */
export const viewId = 'storypole.project';

const notRunning = 'The language server is not running. The output "Storypole" says why.';

export interface ProjectView extends vscode.Disposable {
  /** What the tree shows under a node; the projects where none is given. */
  children(node?: ViewNode): Promise<ViewNode[]>;
  item(node: ViewNode): vscode.TreeItem;
  /** Rows of the tree are being drawn anew, with what stands under them; the whole tree where none are told. */
  onDidRefresh: vscode.Event<ViewNode[] | undefined>;
  /** What is selected in the tree. */
  selection(): readonly ViewNode[];
}

/** Registers the view. Everything registered ends with the returned handle. */
export function registerProjectView(client: BaseLanguageClient, onDidChange: vscode.Event<void>): ProjectView {
  const changed = new vscode.EventEmitter<ViewNode[] | undefined>();
  const branches = branchesOf<ViewNode>();
  /** What has to be drawn anew. */
  const due = new Set<Branch<ViewNode>>();

  const redraw = betweenAnswers(() => {
    const rows = [...due];
    due.clear();
    changed.fire(rows.includes(undefined) ? undefined : rows.filter((row) => row !== undefined));
  });

  const look = oneAfterTheOther(async () => {
    // What nobody sees is looked at once it is shown.
    if (!tree.visible) return;
    // A server that has stopped is told of in place of the whole tree.
    for (const row of await branches.outdated(children).catch(() => [undefined])) due.add(row);
    if (due.size > 0) redraw.soon();
  });

  async function children(node?: ViewNode): Promise<ViewNode[]> {
    // Waits for a server that is still starting; one that could not start has been told of.
    await client.start().catch(() => undefined);
    tree.message = client.isRunning() ? '' : notRunning;
    if (!client.isRunning()) return [];
    // Null: the branch has gone meanwhile, and the notice that says so is on its way.
    const found = (await client.sendRequest(childrenRequest, node ? { path: node.path } : {})) ?? [];
    // Not known before: words that stand there while the tree is asked for take the keys, and lose them as they go.
    if (!node) await vscode.commands.executeCommand('setContext', 'storypole.noProject', found.length === 0);
    return found;
  }

  /** The row of what the cursor stands in; undefined where it stands in nothing that the tree shows. */
  async function rowHere(): Promise<ViewNode | undefined> {
    const editor = vscode.window.activeTextEditor;
    if (editor?.document.languageId !== 'closet' || !client.isRunning()) return undefined;
    const textDocument = client.code2ProtocolConverter.asTextDocumentIdentifier(editor.document);
    const position = client.code2ProtocolConverter.asPosition(editor.selection.active);
    const path = (await client.sendRequest(pathRequest, { textDocument, position })) ?? [];
    return path.map(branches.rowOf).at(-1);
  }

  /** Opens the view where it is hidden: somebody has asked for it. */
  async function show(): Promise<void> {
    await client.start();
    const row = await rowHere();
    if (row) await tree.reveal(row, { select: true, focus: true });
    else
      void vscode.window.showInformationMessage('Put the cursor in a .closet file of a project: there is none here.');
  }

  const tree = vscode.window.createTreeView<ViewNode>(viewId, {
    treeDataProvider: {
      onDidChangeTreeData: changed.event,
      getChildren: (node) => redraw.during(async () => branches.drawn(node, await children(node))),
      getParent: branches.above,
      getTreeItem: (node) => itemOf(client, node),
    },
    showCollapseAll: true,
  });
  const heard = vscode.Disposable.from(
    onDidChange(look),
    redraw,
    tree.onDidChangeVisibility(look),
    tree.onDidExpandElement(({ element }) => {
      branches.opened(element);
      look();
    }),
    tree.onDidCollapseElement(({ element }) => branches.shut(element)),
    vscode.commands.registerCommand('storypole.showInProjectView', show),
    followCursor(tree, rowHere),
  );
  return {
    children,
    item: (node) => itemOf(client, node),
    onDidRefresh: changed.event,
    selection: () => tree.selection,
    dispose: () => vscode.Disposable.from(tree, heard, changed).dispose(),
  };
}

/** Does something each time that it is asked for, but not while it is being done: then once more afterwards. */
function oneAfterTheOther(work: () => Promise<void>): () => void {
  let isBusy = false;
  let isDue = false;
  async function go(): Promise<void> {
    isBusy = true;
    while (isDue) {
      isDue = false;
      await work();
    }
    isBusy = false;
  }
  return () => {
    isDue = true;
    if (!isBusy) void go();
  };
}

/** Long enough that a cursor on its way through a file asks nothing. */
const pause = 200;

/**
 * Selects the row of what the cursor stands in while the tree is to be seen. It takes the keys from nobody and opens
 * nothing, and a row that somebody has come from stays selected.
 */
function followCursor(
  tree: vscode.TreeView<ViewNode>,
  rowHere: () => Promise<ViewNode | undefined>,
): vscode.Disposable {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let last = '';

  async function follow(): Promise<void> {
    if (!tree.visible || !vscode.workspace.getConfiguration('storypole').get('projectView.follow')) return;
    const row = await rowHere();
    if (!row || !tree.visible) return;
    const id = idOf(row.path);
    const [selected] = tree.selection;
    if (id === last || (selected && isHere(selected))) return;
    last = id;
    await tree.reveal(row, { select: true, focus: false });
  }
  const soon = (): void => {
    clearTimeout(timer);
    // A row that has gone meanwhile, or a server that is being restarted, is nothing to tell of.
    timer = setTimeout(() => void follow().catch(() => undefined), pause);
  };
  return vscode.Disposable.from(
    new vscode.Disposable(() => clearTimeout(timer)),
    vscode.window.onDidChangeActiveTextEditor(soon),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
      if (textEditor === vscode.window.activeTextEditor) soon();
    }),
    tree.onDidChangeVisibility(() => {
      last = '';
      soon();
    }),
  );
}

/** The cursor is where a row leads to. */
function isHere({ location }: ViewNode): boolean {
  const editor = vscode.window.activeTextEditor;
  if (!editor || !location || editor.document.uri.toString() !== vscode.Uri.parse(location.uri).toString())
    return false;
  const { active } = editor.selection;
  return active.line === location.range.start.line && active.character === location.range.start.character;
}

function idOf(path: readonly string[]): string {
  return JSON.stringify(path);
}

function itemOf(client: BaseLanguageClient, node: ViewNode): vscode.TreeItem {
  const { path, kind, label, description, tooltip, hasChildren, location, template, survey, rule } = node;
  const { Collapsed, Expanded, None } = vscode.TreeItemCollapsibleState;
  const item = new vscode.TreeItem(label, hasChildren ? (kind === 'project' ? Expanded : Collapsed) : None);
  item.id = idOf(path);
  item.description = description;
  item.tooltip = tooltip;
  item.iconPath = iconOf(node);
  item.accessibilityInformation = { label: spoken(node) };
  item.contextValue = [
    kind,
    ...(location ? ['placed'] : []),
    ...(template ? ['templated'] : []),
    ...(survey ? ['measured'] : []),
    ...(rule === undefined ? [] : ['ruled']),
  ].join(' ');
  if (location) item.command = openCommand(client, location);
  return item;
}

function openCommand(client: BaseLanguageClient, location: Location): vscode.Command {
  const { uri, range } = client.protocol2CodeConverter.asLocation(location);
  const selection = new vscode.Range(range.start, range.start);
  return { command: 'vscode.open', title: 'Go to the statement', arguments: [uri, { selection }] };
}

const icons: Readonly<Record<string, string>> = {
  project: 'home',
  floors: 'layers',
  floor: 'layers',
  range: 'ellipsis',
  unit: 'layout',
  templates: 'symbol-structure',
  template: 'symbol-structure',
  findings: 'checklist',
  exceptions: 'compare-changes',
  verdict: 'tasklist',
  stock: 'archive',
  material: 'archive',
  length: 'symbol-ruler',
};

const signs = { error: 'error', warning: 'warning', note: 'info' } as const;

const colours = {
  error: 'problemsErrorIcon.foreground',
  warning: 'problemsWarningIcon.foreground',
  note: 'problemsInfoIcon.foreground',
} as const;

/** What is itself good or bad has the sign of the worst finding; what holds other things keeps its own, in that colour. */
function iconOf({ kind, severity }: ViewNode): vscode.ThemeIcon {
  const icon = icons[kind];
  if (severity === undefined) return new vscode.ThemeIcon(icon ?? 'circle-outline');
  const isOwn = icon === undefined || kind === 'unit';
  return new vscode.ThemeIcon(isOwn ? signs[severity] : icon, new vscode.ThemeColor(colours[severity]));
}

const kinds: Readonly<Record<string, string>> = {
  project: 'Project',
  unit: 'Unit',
  template: 'Template',
  rule: 'Rule',
  material: 'Material',
  length: 'Stock length',
};

function spoken({ kind, label, description, severity }: ViewNode): string {
  const what = kinds[kind] ?? (kind === 'finding' ? (severity ?? '') : '');
  return [`${what} ${label}`.trim(), ...(description === '' ? [] : [description.replaceAll(' · ', ', ')])].join(', ');
}
