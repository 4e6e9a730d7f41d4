/** The drawing beside the text, in VS Code: it opens, follows the cursor and the typing, leads back, and is closed. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import type { DrawingPanel, DrawingState } from '../../client/drawing-panel.ts';
import type { Storypole } from '../../client/start.ts';
import { find, leave, open, replace } from './editing.ts';
import { it } from './harness.ts';

/** In a page, what runs here cannot ask the extension anything but its commands. */
const isWeb = Boolean(process.env.STORYPOLE_SUITE_WEB);
const inNode = isWeb ? () => undefined : it;

const template = 'templates/reach-in.closet';

async function panel(): Promise<Omit<DrawingPanel, 'dispose'>> {
  const found = vscode.extensions.getExtension<Storypole>('storypole.storypole');
  assert.ok(found !== undefined, 'the extension is not installed');
  return (await found.activate()).drawingPanel;
}

/** Waits until the page says that it shows something of which this holds. */
async function showing(what: string, holds: (state: DrawingState) => boolean): Promise<DrawingState> {
  const drawing = await panel();
  const found = Promise.withResolvers<DrawingState>();
  const look = (): void => {
    const state = drawing.shown();
    if (state && holds(state)) found.resolve(state);
  };
  const listening = drawing.onDidShow(look);
  const timer = setTimeout(
    () => found.reject(new Error(`${what} was not shown. The last: ${JSON.stringify(drawing.shown())}`)),
    15_000,
  );
  try {
    look();
    return await found.promise;
  } finally {
    clearTimeout(timer);
    listening.dispose();
  }
}

const tabs = () => vscode.window.tabGroups.all.flatMap((group) => group.tabs.map(({ label }) => label));

function put(editor: vscode.TextEditor, text: string): void {
  const { start } = find(editor.document, text);
  editor.selection = new vscode.Selection(start, start);
}

const shelf = 'shelf |low| { at 42in }';
const rod = 'rod |long| {';

inNode('the drawing opens beside the text, frames the part at the cursor, and follows the cursor', async () => {
  const editor = await open(template);
  put(editor, shelf);
  await vscode.commands.executeCommand('storypole.showDrawing');
  const first = await showing('the shelf', ({ outlined }) => outlined[0] === 'shelves shirts.low');
  assert.equal(first.view, 'elevation back');
  assert.equal(vscode.window.activeTextEditor, editor, 'the text keeps the keyboard');
  assert.ok(
    tabs().some((label) => label.startsWith('Drawing of ')),
    String(tabs()),
  );
  put(editor, rod);
  const second = await showing('the rod', ({ outlined }) => outlined[0] === 'rods coats.long');
  assert.equal(second.revision, first.revision, 'nothing is drawn anew for a cursor that moves');
  put(editor, 'wall |left| { length 25in');
  await showing('the left wall', ({ view }) => view === 'elevation left');
  await vscode.commands.executeCommand('storypole.showDrawing');
  assert.equal(tabs().filter((label) => label.startsWith('Drawing of ')).length, 1);
});

inNode('the drawing is made anew at an edit at once, and at a burst of them in few messages', async () => {
  const editor = await open(template);
  put(editor, shelf);
  await vscode.commands.executeCommand('storypole.showDrawing');
  const first = await showing('the shelf', ({ outlined }) => outlined[0] === 'shelves shirts.low');
  const drawing = await panel();
  const before = drawing.counts();
  await replace(editor, find(editor.document, 'shelf low { at |42in| }'), '41in');
  await showing(
    'another drawing',
    ({ revision, outlined }) => revision !== first.revision && outlined[0] === 'shelves shirts.low',
  );
  const one = drawing.counts();
  // The edit itself, the cursor that it moves, and two notices: of the findings, and of the plan.
  assert.ok(one.asked - before.asked <= 6, `${one.asked - before.asked} questions for one edit`);
  for (const inches of [40, 39, 38, 37, 36, 35]) {
    await replace(editor, find(editor.document, `shelf low { at |${inches + 1}in| }`), `${inches}in`);
  }
  await vscode.commands.executeCommand('undo');
  await new Promise((go) => setTimeout(go, 1_500));
  const many = drawing.counts();
  assert.ok(many.sent - one.sent <= 7 * 4, `${many.sent - one.sent} messages for seven edits`);
});

inNode('the drawing leads to the statement of a part that is clicked, and Escape back to the text', async () => {
  const editor = await open('floors/floor-1.closet');
  put(editor, 'unit |A-102-bedroom| reach-in');
  await vscode.commands.executeCommand('storypole.showDrawing');
  await showing('the unit', ({ unit }) => unit === 'A-102-bedroom');
  const drawing = await panel();
  await drawing.receive({ kind: 'part', key: 'shelves shirts.low' });
  const there = vscode.window.activeTextEditor;
  assert.ok(there !== undefined);
  assert.match(there.document.uri.path, /templates\/reach-in\.closet$/);
  assert.equal(there.viewColumn, editor.viewColumn, 'never over the drawing');
  assert.deepEqual(there.selection.active, find(there.document, '|shelf low| { at 42in }').start);
  // The unit that was drawn goes on standing for its template.
  const shown = await showing('the shelf', ({ outlined }) => outlined[0] === 'shelves shirts.low');
  assert.equal(shown.unit, 'A-102-bedroom');
  await drawing.receive({ kind: 'view', view: 'plan' });
  await showing('the plan', ({ view }) => view === 'plan');
  await drawing.receive({ kind: 'finding', number: 1 });
  assert.ok(vscode.window.activeTextEditor, 'a finding leads somewhere');
  await drawing.receive({ kind: 'back' });
  assert.equal(vscode.window.activeTextEditor?.document.languageId, 'closet');
});

inNode('the drawing goes on where the cursor is in no unit, and says so where there never was one', async () => {
  const editor = await open('quarry-lane/project.closet');
  editor.selection = new vscode.Selection(0, 0, 0, 0);
  await vscode.commands.executeCommand('storypole.showDrawing');
  const drawing = await panel();
  await new Promise((go) => setTimeout(go, 1_500));
  assert.equal(drawing.shown(), undefined);
  await leave();
  assert.ok(
    tabs().every((label) => !label.startsWith('Drawing')),
    String(tabs()),
  );
});

/** Where only commands can be seen from here: it opens there too. */
it('the drawing has one panel', async () => {
  const editor = await open(template);
  put(editor, shelf);
  await vscode.commands.executeCommand('storypole.showDrawing');
  const end = Date.now() + 15_000;
  while (Date.now() < end && !tabs().some((label) => label.startsWith('Drawing of '))) {
    await new Promise((go) => setTimeout(go, 50));
  }
  assert.equal(tabs().filter((label) => label.startsWith('Drawing of ')).length, 1, String(tabs()));
});
