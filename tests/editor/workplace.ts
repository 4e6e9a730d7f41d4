/** The editor as a workplace: the project view, the status bar, going to units, a new project, snippets, the walkthrough. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import type { ViewNode } from '../../client/project-view.ts';
import type { Storypole } from '../../client/start.ts';
import { find, open, said, until } from './editing.ts';
import { it } from './harness.ts';

/** In a page, what runs here cannot ask the extension anything but its commands. */
const isWeb = Boolean(process.env.STORYPOLE_SUITE_WEB);
const inNode = isWeb ? () => undefined : it;

/** Any command of its starts it. */
async function start(): Promise<void> {
  if (isWeb) await vscode.commands.executeCommand('storypole.showCutList');
  else await extension();
}

async function extension(): Promise<Storypole> {
  const found = vscode.extensions.getExtension<Storypole>('storypole.storypole');
  assert.ok(found !== undefined, 'the extension is not installed');
  return found.activate();
}

async function child(label: string, of?: ViewNode): Promise<ViewNode> {
  const { projectView } = await extension();
  const children = await projectView.children(of);
  const found = children.find((node) => node.label === label);
  assert.ok(found !== undefined, `${label} is not among: ${children.map((node) => node.label).join('; ')}`);
  return found;
}

/** Looks again and again: what is waited for here tells nobody of itself. */
async function soon<T>(what: string, look: () => T | undefined | Promise<T | undefined>, limit = 15_000): Promise<T> {
  const end = Date.now() + limit;
  while (Date.now() < end) {
    const found = await look();
    if (found !== undefined) return found;
    await new Promise((go) => setTimeout(go, 50));
  }
  throw new Error(`${what} did not come about within ${limit / 1000} s`);
}

/** The building among all the projects of the examples. */
async function quarryLane(): Promise<ViewNode> {
  const { projectView } = await extension();
  const found = (await projectView.children()).find(({ path }) => path[0]?.endsWith('/quarry-lane'));
  assert.ok(found !== undefined, 'the project is not in the view');
  return found;
}

const lineOf = (text: string) => {
  const editor = vscode.window.activeTextEditor;
  assert.ok(editor !== undefined, 'no editor is active');
  return editor.document.lineAt(editor.selection.active.line).text.includes(text);
};

inNode('the project view shows the building: floors, units, templates, findings, stock', async () => {
  const { projectView } = await extension();
  const project = await quarryLane();
  assert.match(project.description, /^quarry-lane · 72 units/);
  const floors = await child('Floors', project);
  assert.deepEqual(
    (await projectView.children(floors)).map(({ label, description }) => `${label}: ${description}`),
    ['Floor 1: 24 units', 'Floor 2: 24 units', 'Floor 3: 24 units'],
  );
  const unit = await child('A-102-bedroom', await child('Floor 1', floors));
  assert.match(unit.description, /^reach-in, mirrored, measured/);
  const linen = await child('linen', await child('Templates', project));
  assert.match(linen.description, /^24 units/);
  const rules = await projectView.children(await child('Notes', await child('Findings', project)));
  assert.ok(rules.some(({ rule }) => rule === 'studs-uneven'));
  const stock = await child('Stock', project);
  await soon('what the plan takes', async () =>
    /^\d+ boards, [\d,.]+ EUR$/.test((await child('white-16', stock)).description) ? true : undefined,
  );
});

inNode('what the tree shows can be heard, clicked, and acted on by what it is', async () => {
  const { projectView } = await extension();
  const floor = await child('Floor 1', await child('Floors', await quarryLane()));
  const node = await child('A-102-bedroom', floor);
  const item = projectView.item(node);
  assert.match(item.accessibilityInformation?.label ?? '', /^Unit A-102-bedroom, reach-in, mirrored, measured/);
  assert.match(String(item.tooltip), /floor 1, flat A-102, phase 1/);
  assert.match(item.contextValue ?? '', /^unit placed templated measured$/);
  assert.ok(item.command !== undefined);
  await vscode.commands.executeCommand(item.command.command, ...(item.command.arguments ?? []));
  assert.ok(lineOf('unit A-102-bedroom'));
  await vscode.commands.executeCommand('storypole.goToTemplate', node);
  assert.ok(lineOf('template reach-in'));
  await vscode.commands.executeCommand('storypole.goToSurvey', node);
  assert.ok(lineOf('survey A-102-bedroom'));
  await vscode.commands.executeCommand('storypole.showCutList', node);
  await until(
    'its cut list',
    () => vscode.window.visibleTextEditors.map(({ document }) => document.uri.path),
    (paths) => paths.some((path) => path.includes('Cut list of A-102-bedroom')),
  );
});

it('the tree is walked and opened with keys alone', async () => {
  await start();
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
  // Which of the example projects comes first is not told here: the first statement that a key opens is a project's.
  await soon('a statement that was opened with a key', async () => {
    // A tree that has not been filled yet takes no keys.
    await vscode.commands.executeCommand('storypole.project.focus');
    await vscode.commands.executeCommand('list.focusFirst');
    await vscode.commands.executeCommand('list.select');
    return vscode.window.activeTextEditor;
  });
  assert.ok(lineOf('project "'));
  await vscode.commands.executeCommand('storypole.project.focus');
  await vscode.commands.executeCommand('list.collapseAll');
});

inNode('the tree shows what the cursor is in, where it is asked to and while it is seen', async () => {
  const { projectView } = await extension();
  const selected = (label: string) =>
    soon(`the row of ${label}`, () => (projectView.selection()[0]?.label === label ? true : undefined));
  const editor = await open('floors/floor-2.closet');
  const one = find(editor.document, 'unit |A-203-bedroom|').start;
  editor.selection = new vscode.Selection(one, one);
  await vscode.commands.executeCommand('storypole.showInProjectView');
  await selected('A-203-bedroom');
  await vscode.window.showTextDocument(editor.document);
  const other = find(editor.document, 'unit |A-204-bedroom|').start;
  editor.selection = new vscode.Selection(other, other);
  await selected('A-204-bedroom');
  // It has taken the keys from nobody.
  assert.equal(vscode.window.activeTextEditor?.document.uri.toString(), editor.document.uri.toString());
});

inNode('the tree follows an edit', async () => {
  const { projectView } = await extension();
  const editor = await open('floors/floor-1.closet');
  const unit = find(editor.document, 'unit |A-105-linen| linen');
  let refreshed = 0;
  const listening = projectView.onDidRefresh(() => {
    refreshed++;
  });
  await editor.edit((edit) => edit.replace(unit, 'A-105-store'));
  const project = await quarryLane();
  const floor = await child('Floor 1', await child('Floors', project));
  await child('A-105-store', floor);
  await soon('the tree being asked for again', () => (refreshed > 0 ? true : undefined));
  listening.dispose();
  await vscode.commands.executeCommand('undo');
  await child('A-105-linen', floor);
});

inNode('the status bar says which unit or template the cursor is in', async () => {
  const { placeStatus } = await extension();
  const editor = await open('floors/floor-1.closet');
  const unit = find(editor.document, 'unit |A-102-linen|').start;
  editor.selection = new vscode.Selection(unit, unit);
  const shown = await soon('the unit', () =>
    placeStatus.shown()?.text.startsWith('A-102-linen · linen, mirrored, measured') ? placeStatus.shown() : undefined,
  );
  assert.match(shown.tooltip, /Parts to cut: 5 of white-16/);
  await soon('what it costs', () => (placeStatus.shown()?.tooltip.includes('EUR') ? true : undefined));
  editor.selection = new vscode.Selection(0, 0, 0, 0);
  await soon('nothing', () => (placeStatus.shown() === undefined ? true : undefined));
});

it('a unit is gone to by a part of its name', async () => {
  await start();
  let isChosen = false;
  const chosen = vscode.commands.executeCommand('storypole.goToUnit').then(() => {
    isChosen = true;
  });
  // The list is filled once the server has answered; until then there is nothing in it that could be taken.
  await soon('a unit that was chosen', async () => {
    await vscode.commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
    return isChosen ? true : undefined;
  });
  await chosen;
  assert.ok(lineOf('unit '));
});

let begun = 0;

inNode('a new project is written, checked, and opened, and nothing is ever written over', async () => {
  const [workspace] = vscode.workspace.workspaceFolders ?? [];
  assert.ok(workspace !== undefined);
  // What was open is kept for a while, so a second try begins where nothing has been.
  const folder = vscode.Uri.joinPath(workspace.uri, `begun here ${++begun}`);
  try {
    await beginBoth(folder);
  } finally {
    // What a try that failed has left would be in the way of the next, and of other tests.
    await vscode.commands.executeCommand('workbench.action.closeAllEditors');
    await vscode.workspace.fs.delete(folder, { recursive: true });
  }
});

async function beginBoth(folder: vscode.Uri): Promise<void> {
  for (const measure of ['inches', 'millimetres'] as const) {
    const own = vscode.Uri.joinPath(folder, measure);
    await vscode.commands.executeCommand('storypole.newProject', { folder: own, name: 'North wing', measure });
    const editor = vscode.window.activeTextEditor;
    assert.equal(editor?.document.uri.path, vscode.Uri.joinPath(own, 'templates/reach-in.closet').path);
    const project = await child('North wing');
    assert.equal(project.description, '3 units');
    assert.deepEqual(said(editor.document), []);
    // The same again finds files in its way, says so, and leaves what was changed meanwhile.
    const main = vscode.Uri.joinPath(own, 'project.closet');
    // Changed by hand: of what is changed on disk in a folder just made, VS Code's watcher does not always tell.
    const saved = await vscode.window.showTextDocument(main);
    await saved.edit((edit) => edit.replace(find(saved.document, '|"North wing"|'), '"Mine now"'));
    assert.ok(await saved.document.save());
    await vscode.commands.executeCommand('storypole.newProject', { folder: own, name: 'Other', measure });
    await child('Mine now');
    assert.match(Buffer.from(await vscode.workspace.fs.readFile(main)).toString(), /^project "Mine now"/m);
    await vscode.commands.executeCommand('workbench.action.closeAllEditors');
    await vscode.workspace.fs.delete(own, { recursive: true });
  }
}

it('a snippet is offered in a zone and fits in where it is inserted', async () => {
  const editor = await open('templates/linen.closet');
  const { document } = editor;
  const comment = find(document, '// A laundry basket goes under it.');
  await editor.edit((edit) => edit.replace(comment, ''));
  editor.selection = new vscode.Selection(comment.start, comment.start);
  const { items } = await vscode.commands.executeCommand<vscode.CompletionList>(
    'vscode.executeCompletionItemProvider',
    document.uri,
    comment.start,
  );
  const labelOf = ({ label }: vscode.CompletionItem) => (typeof label === 'string' ? label : label.label);
  const rod = items.find((item) => labelOf(item) === 'new-rod');
  assert.ok(rod?.insertText instanceof vscode.SnippetString, items.map(labelOf).join(' '));
  await editor.insertSnippet(rod.insertText, comment.start);
  await vscode.commands.executeCommand('leaveSnippet');
  assert.match(document.getText(), /^ {4}rod upper \{ under top by 3in; from wall 9in; for [a-z-]+ \}$/m);
});

it('the finding at the cursor is explained on the page of its rule, as it is read', async () => {
  const editor = await open('templates/linen.closet');
  await editor.edit((edit) => edit.replace(find(editor.document, 'shelf top { at |78in|'), '78'));
  const number = find(editor.document, 'shelf top { at |78|').start;
  await until(
    'the error',
    () => said(editor.document),
    (list) => list.some(({ rule }) => rule === 'unit-of-measure-missing'),
  );
  editor.selection = new vscode.Selection(number, number);
  await vscode.commands.executeCommand('storypole.explainFinding');
  const labels = () => vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs.map(({ label }) => label));
  await soon('the page', () => (labels().includes('Preview unit-of-measure-missing.md') ? true : undefined));
  await vscode.commands.executeCommand('storypole.openRules');
  await soon('the page of all rules', () => (labels().includes('Preview RULES.md') ? true : undefined));
});

it('from the cursor a command leads to the template of a unit, and to what was measured', async () => {
  const to = async (text: string, command: string) => {
    const editor = await open('floors/floor-1.closet');
    const at = find(editor.document, text).start;
    editor.selection = new vscode.Selection(at, at);
    await vscode.commands.executeCommand(command);
  };
  await to('unit |A-102-bedroom| reach-in', 'storypole.goToTemplate');
  assert.ok(lineOf('template reach-in'));
  await to('unit |A-102-bedroom| reach-in', 'storypole.goToSurvey');
  assert.ok(lineOf('survey A-102-bedroom'));
  // What is not there is told, and the cursor stays.
  await to('unit |A-105-linen| linen', 'storypole.goToSurvey');
  assert.ok(lineOf('unit A-105-linen'));
});

it('the places that a code lens counts are shown from plain data', async () => {
  const { document } = await open('floors/floor-1.closet');
  const range = { start: { line: 4, character: 0 }, end: { line: 4, character: 4 } };
  const location = { uri: document.uri.toString(), range };
  await vscode.commands.executeCommand('storypole.showReferences', location.uri, range.start, [location, location]);
  await vscode.commands.executeCommand('closeReferenceSearch');
});

inNode('the walkthrough opens, and each of its steps leads to a command or a view that is there', async () => {
  const { packageJSON } = vscode.extensions.getExtension('storypole.storypole') ?? {};
  const [walkthrough] = packageJSON.contributes.walkthroughs;
  assert.equal(walkthrough.id, 'firstTenMinutes');
  const commands = new Set(await vscode.commands.getCommands());
  for (const { id, description } of walkthrough.steps) {
    const links = [...description.matchAll(/\(command:([\w.]+)/g)].map(([, command]) => command);
    assert.ok(links.length > 0, id);
    for (const command of links) assert.ok(commands.has(command), `${id}: ${command}`);
  }
  await vscode.commands.executeCommand('workbench.action.openWalkthrough', 'storypole.storypole#firstTenMinutes');
  const labels = () => vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs.map(({ label }) => label));
  await soon('its tab', () =>
    labels().some((label) => /Walkthrough|Welcome|Get Started/.test(label)) ? true : undefined,
  );
});

inNode('a table from site comes into surveys once its changes are agreed to, and not before', async () => {
  const [workspace] = vscode.workspace.workspaceFolders ?? [];
  assert.ok(workspace !== undefined);
  const project = vscode.Uri.joinPath(workspace.uri, 'quarry-lane');
  const table = vscode.Uri.joinPath(project, 'site.csv');
  const mapping = vscode.Uri.joinPath(project, 'survey-columns.json');
  await vscode.workspace.fs.writeFile(
    table,
    Buffer.from('unit,wall,height,length\nA-101-bedroom,back,86in,95-1/2in\nA-101-bedroom,back,42in,95-3/4in\n'),
  );
  try {
    const { document } = await open('surveys/floor-1.closet');
    const before = document.getText();
    const isTaken = () => /survey A-101-bedroom \{[^}]*95-1\/2in at 86in/.test(document.getText());
    // There are several projects here, so it is told which one, as somebody would choose it.
    let isOver = false;
    const imported = vscode.commands
      .executeCommand('storypole.importSurvey', { table, root: project.path })
      .then(() => {
        isOver = true;
      });
    await soon('the changes being taken', async () => {
      // They are shown, and the file is as it was until they are taken.
      if (!isOver && !isTaken()) assert.equal(document.getText(), before);
      // Each file is ticked by whoever takes its changes; before they are shown, there is nothing to be ticked.
      for (const command of [
        'refactorPreview.focus',
        'list.focusFirst',
        'refactorPreview.toggleCheckedState',
        'refactorPreview.apply',
      ])
        await vscode.commands.executeCommand(command);
      return isTaken() ? true : undefined;
    });
    assert.ok(isTaken(), document.getText().slice(0, 600));
    assert.match(document.getText(), /survey A-102-bedroom \{/);
    await imported;
    const names = (await vscode.workspace.fs.readDirectory(project)).map(([name]) => name);
    assert.ok(names.includes('survey-columns.json'), names.join());
    // What was written is whole, and nothing that stood for it meanwhile is left.
    const kept = Buffer.from(await vscode.workspace.fs.readFile(mapping)).toString();
    assert.ok(Array.isArray(JSON.parse(kept).columns), kept);
    assert.deepEqual(
      names.filter((name) => name.startsWith('.storypole')),
      [],
    );
  } finally {
    await vscode.workspace.fs.delete(table);
    await vscode.workspace.fs.delete(mapping).then(undefined, () => {});
  }
});
