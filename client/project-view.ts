/** The project view: a tree that the server describes branch by branch. Nothing is worked out here; what is shown is what was answered. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, type Location, RequestType } from 'vscode-languageclient';

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

/** The view's id, by which package.json and the keybindings know it. */
export const viewId = 'storypole.project';

export interface ProjectView extends vscode.Disposable {
  /** What the tree shows under a node; the projects where none is given. */
  children(node?: ViewNode): Promise<ViewNode[]>;
  item(node: ViewNode): vscode.TreeItem;
  /** The tree is being asked for again. */
  onDidRefresh: vscode.Event<undefined>;
}

/** Registers the view. Everything registered ends with the returned handle. */
export function registerProjectView(client: BaseLanguageClient, onDidChange: vscode.Event<void>): ProjectView {
  const changed = new vscode.EventEmitter<undefined>();

  async function children(node?: ViewNode): Promise<ViewNode[]> {
    // Waits for a server that is still starting; one that could not start has been told of.
    await client.start().catch(() => undefined);
    if (!client.isRunning()) return [];
    // Null: the branch has gone meanwhile, and the notice that says so is on its way.
    return (await client.sendRequest(childrenRequest, node ? { path: node.path } : {})) ?? [];
  }

  const tree = vscode.window.createTreeView<ViewNode>(viewId, {
    treeDataProvider: {
      onDidChangeTreeData: changed.event,
      getChildren: children,
      getTreeItem: (node) => itemOf(client, node),
    },
    showCollapseAll: true,
  });
  const heard = onDidChange(() => changed.fire(undefined));
  return {
    children,
    item: (node) => itemOf(client, node),
    onDidRefresh: changed.event,
    dispose: () => vscode.Disposable.from(tree, heard, changed).dispose(),
  };
}

function itemOf(client: BaseLanguageClient, node: ViewNode): vscode.TreeItem {
  const { path, kind, label, description, tooltip, hasChildren, location, template, survey, rule } = node;
  const { Collapsed, Expanded, None } = vscode.TreeItemCollapsibleState;
  const item = new vscode.TreeItem(label, hasChildren ? (kind === 'project' ? Expanded : Collapsed) : None);
  item.id = JSON.stringify(path);
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
