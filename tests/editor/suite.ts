/** The suite that runs inside VS Code, against the bundled extension and its own language server. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { find, hoverText, leave, open, replace, ruleOf, said, until } from './editing.ts';
import { afterEach, it, runAll } from './harness.ts';
import './drawing.ts';
import './workplace.ts';
import './typing.ts';

/** What VS Code calls. */
export const run = runAll;

afterEach(leave);

const template = 'templates/reach-in.closet';
const linen = 'templates/linen.closet';
const floor = 'floors/floor-1.closet';

it('a .closet file is in the language closet', async () => {
  const { document } = await open(template);
  assert.equal(document.languageId, 'closet');
});

it('the extension activates and offers its commands', async () => {
  const extension = vscode.extensions.getExtension('storypole.storypole');
  if (process.env.STORYPOLE_SUITE_WEB) {
    // It runs in the page, and what runs here knows it by its commands only, of which the first starts it.
    assert.equal(extension, undefined, 'the extension runs in Node');
    await vscode.commands.executeCommand('storypole.showCutList');
  } else {
    assert.ok(extension !== undefined, 'the extension is not installed');
    await extension.activate();
    assert.equal(extension.isActive, true);
  }
  const commands = await vscode.commands.getCommands(true);
  assert.deepEqual(commands.filter((command) => /^storypole\.(?!project\b)/.test(command)).sort(), [
    'storypole.explainFinding',
    'storypole.goToSurvey',
    'storypole.goToTemplate',
    'storypole.goToUnit',
    'storypole.importSurvey',
    'storypole.newProject',
    'storypole.openReference',
    'storypole.openRules',
    'storypole.restartServer',
    'storypole.saveDrawing',
    'storypole.showCutList',
    'storypole.showDrawing',
    'storypole.showInProjectView',
    'storypole.showReferences',
  ]);
});

it('VS Code reads the grammar and takes a file apart with it', async () => {
  const colour = (uri: vscode.Uri) =>
    vscode.commands.executeCommand<{ tokenizeTime: number }>('_workbench.colorizeTextMateTokens', uri);
  const { document } = await open(template);
  assert.ok((await colour(document.uri)).tokenizeTime >= 0);
  // A file in no language is refused, so the answer above tells something.
  const plain = vscode.Uri.joinPath(document.uri, '../plain.txt');
  await vscode.workspace.fs.writeFile(plain, Buffer.from('template\n'));
  await assert.rejects(async () => colour(plain), /Cannot resolve tokenizer/);
});

it('taking a unit of measure away is one error, at the number, and undoing it ends it', async () => {
  const editor = await open(linen);
  const { document } = editor;
  const errors = () => said(document).filter(({ severity }) => severity === 'error');
  assert.deepEqual(errors(), []);
  await replace(editor, find(document, 'shelf top { at |78in|'), '78');
  const found = await until('the error', errors, (list) => list.length > 0);
  assert.deepEqual(
    found.map(({ rule, range }) => ({ rule, range })),
    [{ rule: 'unit-of-measure-missing', range: find(document, 'shelf top { at |78|') }],
  );
  assert.match(found[0]?.message ?? '', /^78 has no unit of measure/);
  await vscode.commands.executeCommand('undo');
  await until('a file without errors', errors, (list) => list.length === 0);
});

it('what nearly saves a board is told at the dimension, by a plan that is made beside the typing', async () => {
  const editor = await open('templates/accessible-reach-in.closet');
  const { document } = editor;
  const notes = () => said(document).filter(({ rule }) => rule === 'stock-nearly-saved');
  const [note] = await until(
    'the note',
    notes,
    (list) => list.length === 1 && !list[0]?.message.startsWith('Of the plan'),
  );
  assert.match(note?.message ?? '', /^Zone "hang" is 1\/8in from saving stock/);
  assert.deepEqual(note?.range, find(document, '|width 48in|'));
  // Half an inch narrower the shelves save what they can, and the note goes with the plan that it was of.
  await replace(editor, find(document, 'width |48in|'), '47-1/2in');
  await until('no note', notes, (list) => list.length === 0);
  await vscode.commands.executeCommand('undo');
  await until('the note again', notes, (list) => list.length === 1 && !list[0]?.message.startsWith('Of the plan'));
});

it('hovering a shelf tells its cut length', async () => {
  const { document } = await open(template);
  // By hand: the tower is 24 in, its two panels are 3/4 in each, and white-12 loses nothing at its ends.
  const tower = await hoverText(document, find(document, 'panels sides\n    shelf |top| {').start);
  assert.match(tower, /Cut \*\*22-1\/2in\*\* of `white-12`/);
});

it('completion in a zone offers what may stand there, and no wall', async () => {
  const editor = await open(linen);
  const { document } = editor;
  await replace(editor, find(document, '// A laundry basket goes under it.'), 'sh');
  const { items } = await vscode.commands.executeCommand<vscode.CompletionList>(
    'vscode.executeCompletionItemProvider',
    document.uri,
    find(document, '    sh||\n').end,
  );
  const labels = items.map(({ label }) => (typeof label === 'string' ? label : label.label));
  for (const word of ['shelf', 'shelves', 'rod']) assert.ok(labels.includes(word), `${word} in ${labels}`);
  assert.ok(!labels.includes('wall'), String(labels));
});

it('a template named by a unit leads to the template', async () => {
  const { document } = await open(floor);
  const found = await vscode.commands.executeCommand<(vscode.Location | vscode.LocationLink)[]>(
    'vscode.executeDefinitionProvider',
    document.uri,
    find(document, 'unit A-105-linen |linen| {').start,
  );
  assert.equal(found.length, 1);
  const [target] = found;
  assert.ok(target !== undefined);
  const [uri, range] = 'uri' in target ? [target.uri, target.range] : [target.targetUri, target.targetSelectionRange];
  assert.match(uri.path, /templates\/linen\.closet$/);
  const to = await vscode.workspace.openTextDocument(uri);
  assert.equal(range?.start.line, find(to, 'template |linen| {').start.line);
});

it('a quick fix writes the unit of measure, and the error goes', async () => {
  const editor = await open(linen);
  const { document } = editor;
  await replace(editor, find(document, 'shelf top { at |78in|'), '78');
  const number = find(document, 'shelf top { at |78|');
  await until(
    'the error',
    () => said(document),
    (list) => list.some(({ rule }) => rule === 'unit-of-measure-missing'),
  );
  const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
    'vscode.executeCodeActionProvider',
    document.uri,
    number,
    vscode.CodeActionKind.QuickFix.value,
  );
  const fix = actions.find(({ title }) => title.includes('78in'));
  assert.ok(fix?.edit !== undefined, `no fix to 78in among: ${actions.map(({ title }) => title).join('; ')}`);
  assert.ok(await vscode.workspace.applyEdit(fix.edit));
  find(document, 'shelf top { at 78in }');
  await until(
    'a file without errors',
    () => said(document),
    (list) => list.every(({ severity }) => severity !== 'error'),
  );
});

it('the cut list of a unit stands beside its file and follows it', async () => {
  const editor = await open(floor);
  const { document } = editor;
  const unit = find(document, 'unit |A-105-linen| linen');
  editor.selection = new vscode.Selection(unit.start, unit.start);
  await vscode.commands.executeCommand('storypole.showCutList');
  const list = () =>
    vscode.window.visibleTextEditors
      .find((shown) => shown.document.uri.scheme === 'storypole-cuts')
      ?.document.getText() ?? '';
  const first = await until('the cut list', list, (text) => text !== '');
  // By hand: the wall is 35-1/2 in, the one zone fills it, and white-16 loses nothing at its ends. Two shelves and a row of three.
  assert.match(first, /\b5\b.*35-1\/2in|35-1\/2in.*\b5\b/);
  // A line above it moves the unit; a new width changes its shelves. Both are followed.
  await replace(editor, new vscode.Range(0, 0, 0, 0), '// One more line.\n');
  await replace(editor, find(document, 'flat A-105; phase 1| }|\nunit A-105-entry'), '; width 34in }');
  const second = await until('the new cut list', list, (text) => text.includes('34in'));
  assert.ok(!second.includes('35-1/2in'), second);
});

it('without a unit at the cursor the cut list is refused in words', async () => {
  const editor = await open('quarry-lane/project.closet');
  editor.selection = new vscode.Selection(0, 0, 0, 0);
  await vscode.commands.executeCommand('storypole.showCutList');
  assert.equal(vscode.window.activeTextEditor, editor);
  assert.ok(vscode.window.visibleTextEditors.every(({ document }) => document.uri.scheme !== 'storypole-cuts'));
});

it('the cutting plan, made on a thread of its own, tells what does not fit', async () => {
  const { document } = await open(linen);
  const folder = vscode.Uri.joinPath(document.uri, '../../../two-boards');
  const uri = vscode.Uri.joinPath(folder, 'project.closet');
  // By hand: 60 in and three of 45 in go into two boards of 100 in by adding up, and 60 in goes with none of 45 in.
  const text = [
    'project "Quarry Lane" { show inches; kerf 1/8in }',
    'board oak { depth 12in; thickness 3/4in }',
    'stock oak { length 100in count 2 }',
    'extra long { board oak; length 60in }',
    'extra short { board oak; length 45in; count 3 }',
  ].join('\n');
  await vscode.workspace.fs.writeFile(uri, Buffer.from(text));
  const rules = () => vscode.languages.getDiagnostics(uri).map(ruleOf);
  await until('what the plan shows', rules, (found) => found.includes('stock-short'));
  await vscode.workspace.fs.delete(folder, { recursive: true });
  await until('nothing', rules, (found) => found.length === 0);
});

it('a file that is closed and opened again is told of as before', async () => {
  const wrong = (document: vscode.TextDocument) => said(document).filter(({ severity }) => severity === 'error').length;
  const editor = await open(linen);
  await replace(editor, find(editor.document, 'shelf top { at |78in|'), '78');
  await until(
    'the error',
    () => wrong(editor.document),
    (count) => count === 1,
  );
  await leave();
  const again = await open(linen);
  await until(
    'a file without errors',
    () => wrong(again.document),
    (count) => count === 0,
  );
  await replace(again, find(again.document, 'shelf top { at |78in|'), '78');
  await until(
    'the error again',
    () => wrong(again.document),
    (count) => count === 1,
  );
});

it('the server can be started again, and goes on telling', async () => {
  const { document } = await open(linen);
  await vscode.commands.executeCommand('storypole.restartServer');
  const text = await hoverText(document, find(document, '|shelf top|').start);
  assert.ok(text.includes('shelf'), text);
  // A file that is made outside the editor is told of once, and no more when it is gone.
  const uri = vscode.Uri.joinPath(document.uri, '../made-outside.closet');
  const rules = () => vscode.languages.getDiagnostics(uri).map(ruleOf);
  await vscode.workspace.fs.writeFile(uri, Buffer.from('board made-outside { depth 12 }\n'));
  await until('the error', rules, (found) => found.includes('unit-of-measure-missing'));
  assert.equal(rules().filter((rule) => rule === 'unit-of-measure-missing').length, 1);
  await vscode.workspace.fs.delete(uri);
  await until('nothing', rules, (found) => found.length === 0);
});
