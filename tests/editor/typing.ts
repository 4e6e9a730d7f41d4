/** The editor used with its keys: what is typed, what then stands there, and what is shown. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { find, open, said, started, until } from './editing.ts';
import { it } from './harness.ts';
import { itTypes, press, shows, typed, where } from './keyboard.ts';

const text = () => vscode.window.activeTextEditor?.document.getText() ?? '';

/** A file of its own beside the examples, open, and gone again afterwards. */
async function withFile(name: string, content: string, body: (editor: vscode.TextEditor) => Promise<void>) {
  const [workspace] = vscode.workspace.workspaceFolders ?? [];
  assert.ok(workspace !== undefined);
  const folder = vscode.Uri.joinPath(workspace.uri, 'typed');
  const uri = vscode.Uri.joinPath(folder, name);
  await vscode.workspace.fs.writeFile(uri, Buffer.from(content));
  try {
    await body(await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uri)));
  } finally {
    await vscode.commands.executeCommand('workbench.action.files.revert');
    await vscode.commands.executeCommand('workbench.action.closeActiveEditor');
    await vscode.workspace.fs.delete(folder, { recursive: true });
  }
}

/** Puts the cursor somewhere, in an editor that takes the keys. */
async function put(editor: vscode.TextEditor, at: vscode.Position): Promise<void> {
  editor.selection = new vscode.Selection(at, at);
  editor.revealRange(editor.selection, vscode.TextEditorRevealType.InCenter);
  await vscode.commands.executeCommand('workbench.action.focusActiveEditorGroup');
}

async function types(text: string): Promise<void> {
  // Each character is an event of its own, as from a keyboard: braces close themselves and are typed over.
  for (const character of text) await vscode.commands.executeCommand('type', { text: character });
}

const frame = (inside: string) => `template small {
  wall back { length 36in; height 96in }
  board white-12
${inside}}
`;

it('saving a file writes it in the one style', async () => {
  await withFile('saved.closet', frame('    zone main on back{width fill;shelf top{at 72in}}\n'), async (editor) => {
    await editor.edit((edit) => edit.insert(new vscode.Position(0, 0), '//kept as it is\n\n\n\n'));
    await vscode.commands.executeCommand('workbench.action.files.save');
    assert.equal(text(), `//kept as it is\n\n${frame('  zone main on back { width fill; shelf top { at 72in } }\n')}`);
    assert.equal(editor.document.isDirty, false);
  });
});

it('what cannot be told apart is saved as it stands', async () => {
  const broken = 'template small {\n   wall   back { length 36in\n';
  await withFile('broken.closet', broken, async (editor) => {
    await editor.edit((edit) => edit.insert(new vscode.Position(0, 0), '// half\n'));
    await vscode.commands.executeCommand('workbench.action.files.save');
    assert.equal(text(), `// half\n${broken}`);
    assert.equal(editor.document.isDirty, false);
  });
});

it('a zone that is typed falls into place as each statement ends', async () => {
  await withFile('typing.closet', frame('  \n'), async (editor) => {
    await put(editor, new vscode.Position(3, 2));
    // What is typed on before the answer is there is left as it is typed: the editor drops the answer.
    await types('zone main   on back{\n');
    await until('the zone', text, (now) => now.includes('  zone main on back {\n    \n  }'));
    await types('width   fill\n');
    await until('the width', text, (now) => now.includes('    width fill\n'));
    await types('shelf top{at   72in}');
    const expected = frame('  zone main on back {\n    width fill\n    shelf top { at 72in }\n  }\n');
    await until('the one style', text, (now) => now === expected);
    // The cursor goes on where the typing was.
    const { line, character } = editor.selection.active;
    assert.deepEqual({ line, character }, { line: 5, character: '    shelf top { at 72in }'.length });
    await until(
      'no error',
      () => said(editor.document),
      (list) => list.every(({ rule }) => !/missing|expected/.test(rule) || rule === 'material-missing'),
    );
  });
});

itTypes('a unit is gone to by typing a part of its name', async () => {
  await started();
  const editor = await open('floors/floor-1.closet');
  await put(editor, new vscode.Position(0, 0));
  await shows(where.editor, (editors) => editors.length === 1);
  await press('Shift+Alt+U');
  await shows(where.choices, (rows) => rows.some((row) => row.includes('A-101-bedroom')));
  await typed('A-203-bed');
  const rows = await shows(where.choices, (now) => now.length === 1);
  assert.match(rows[0] ?? '', /^A-203-bedroom\s*reach-in/);
  await press('Enter');
  await until(
    'the unit',
    () => vscode.window.activeTextEditor?.document.uri.path ?? '',
    (path) => path.endsWith('floors/floor-2.closet'),
  );
  const there = vscode.window.activeTextEditor;
  assert.match(there?.document.lineAt(there.selection.active.line).text ?? '', /^unit A-203-bedroom reach-in/);
});

itTypes('a template is typed and found by who uses it', async () => {
  await started();
  await put(await open('floors/floor-1.closet'), new vscode.Position(0, 0));
  await shows(where.editor, (editors) => editors.length === 1);
  await press('Shift+Alt+U');
  await shows(where.choices, (rows) => rows.length > 5);
  await typed('linen, mirrored');
  const rows = await shows(where.choices, (now) => now.length > 0 && now.every((row) => /linen/.test(row)));
  assert.ok(rows.length > 1, String(rows));
  await press('Escape');
  await shows(where.choices, (now) => now.length === 0);
});

itTypes('a new project is begun by typing what is asked for, and leaving the questions writes nothing', async () => {
  await started();
  const [workspace] = vscode.workspace.workspaceFolders ?? [];
  assert.ok(workspace !== undefined);
  const folder = vscode.Uri.joinPath(workspace.uri, 'south-wing');
  await vscode.workspace.fs.createDirectory(folder);
  try {
    // Where: the dialog of a VS Code in a browser is typed into as well.
    void vscode.commands.executeCommand('storypole.newProject');
    await shows(where.title, ([title]) => title === 'New closet project: where is it to be?');
    await press('Control+a');
    await typed(`${folder.path}/`);
    // What: the folder's name in words is proposed; without any the question stays. As long as the dialog still looks for
    // the folder, it takes no answer.
    for (let tries = 5; ; tries--) {
      await press('Enter');
      const asked = shows(where.title, ([title]) => title === 'New closet project: what is it called?', 5_000);
      if (
        await asked.then(
          () => true,
          (error) => (tries === 0 ? Promise.reject(error) : false),
        )
      )
        break;
    }
    await press('Control+a', 'Backspace');
    await shows(where.message, (texts) => texts.includes('A project needs a name.'));
    await press('Enter');
    await shows(where.title, ([title]) => title === 'New closet project: what is it called?');
    await typed('South wing');
    await press('Enter');
    // How: each choice shows how a length reads.
    const choices = await shows(where.choices, (rows) => rows.length === 2);
    assert.match(choices.join(' '), /^Inches\s*93-3\/4in Millimetres\s*2380mm$/);
    await press('Escape');
    await shows(where.choices, (rows) => rows.length === 0);
    assert.deepEqual(await vscode.workspace.fs.readDirectory(folder), []);

    void vscode.commands.executeCommand('storypole.newProject', { folder });
    await shows(where.title, ([title]) => title === 'New closet project: what is it called?');
    await press('Enter');
    await shows(where.choices, (rows) => rows.length === 2);
    await press('ArrowDown', 'Enter');
    await until('its template', text, (now) => now.includes('template reach-in'));
    const main = vscode.Uri.joinPath(folder, 'project.closet');
    const written = Buffer.from(await vscode.workspace.fs.readFile(main)).toString();
    // The name that was proposed, and the second measure.
    assert.match(written, /^project "south wing" \{$[^}]*^ {2}show millimetres$/m);
  } finally {
    await vscode.commands.executeCommand('workbench.action.closeAllEditors');
    await vscode.workspace.fs.delete(folder, { recursive: true });
  }
});

itTypes('a template is renamed where it stands, and every unit follows', async () => {
  await started();
  const editor = await open('templates/linen.closet');
  await put(editor, find(editor.document, 'template li|nen| {').start);
  await shows(where.editor, (editors) => editors.length === 1);
  const rename = async (name: string) => {
    await press('F2');
    await shows(where.rename, (boxes) => boxes.length === 1);
    await press('Control+a');
    await typed(name);
    await press('Enter');
    await until('the new name', text, (now) => now.includes(`template ${name} {`));
  };
  await rename('airing');
  find((await open('floors/floor-1.closet')).document, 'unit A-105-linen airing {');
  // VS Code saves what it renames, so it is named as before.
  await put(await open('templates/linen.closet'), find(editor.document, 'template air|ing| {').start);
  await shows(where.editor, (editors) => editors.length === 1);
  await rename('linen');
  find((await open('floors/floor-1.closet')).document, 'unit A-105-linen linen {');
});

itTypes('with linked editing on, a zone is named anew in all its places while it is typed', async () => {
  const settings = vscode.workspace.getConfiguration('editor');
  await settings.update('linkedEditing', true, vscode.ConfigurationTarget.Global);
  try {
    const zones = (name: string) =>
      frame(`  zone ${name} on back { width 20in }\n  zone rest on back after ${name} { width fill }\n`);
    await withFile('linked.closet', zones('main'), async (editor) => {
      await put(editor, find(editor.document, 'zone main|| on back').start);
      await shows(where.editor, (editors) => editors.length === 1);
      await shows('.linked-editing-decoration', (drawn) => drawn.length === 2);
      await typed('-2');
      await until('both', text, (now) => now === zones('main-2'));
    });
  } finally {
    await settings.update('linkedEditing', undefined, vscode.ConfigurationTarget.Global);
  }
});

itTypes('a mistake is underlined, and its fix is taken from the menu with keys', async () => {
  const editor = await open('templates/linen.closet');
  await put(editor, find(editor.document, 'shelf top { at 78||in').start);
  await shows(where.editor, (editors) => editors.length === 1);
  await press('Delete', 'Delete');
  await shows(where.errors, (drawn) => drawn.length > 0);
  await press('ArrowLeft');
  // The bulb says that the fixes are there.
  await shows(where.bulb, (drawn) => drawn.length > 0);
  await press('Control+Period');
  const rows = await shows(where.actions, (now) => now.some((row) => row.includes('Write 78in')));
  assert.match(rows.find((row) => row.includes('Write')) ?? '', /^Write 78in$/);
  await press('Enter');
  await until('the unit of measure', text, (now) => now.includes('shelf top { at 78in }'));
  await shows(where.errors, (drawn) => drawn.length === 0);
});

itTypes('the status bar, the lenses and the cut list say what the cursor is in', async () => {
  const editor = await open('floors/floor-1.closet');
  await put(editor, find(editor.document, 'unit |A-105-linen| linen').start);
  await shows(where.status, (items) => items.some((item) => item.trim().startsWith('A-105-linen · linen')));
  await shows(where.lenses, (texts) =>
    texts.some((lens) => /^5 parts: about [\d.]+ of white-16, [\d.]+ EUR/.test(lens)),
  );
  await press('Shift+Alt+L');
  await shows(where.tabs, (tabs) => tabs.some((tab) => tab.includes('Cut list of A-105-linen')));
  await shows(where.lines, (lines) => lines.some((line) => /^\s*5 +35-1\/2in .*white-16/.test(line)));
});

itTypes('pointing with keys at a shelf tells where its length comes from', async () => {
  const editor = await open('templates/reach-in.closet');
  // Lenses move the lines below them as they come, and what is told of a place goes when that place moves.
  await put(editor, find(editor.document, '|template| reach-in {').start);
  await shows(where.lenses, (texts) => texts.some((lens) => /used by \d+ units/.test(lens)));
  await put(editor, find(editor.document, 'panels sides\n    shelf |top| {').start);
  await shows(where.editor, (editors) => editors.length === 1);
  await press('Control+k', 'Control+i');
  const told = await shows(where.hover, (texts) => texts.some((hover) => /Cut 22-1\/2in of white-12/.test(hover)));
  // Each line of the sum stands by itself.
  assert.match(told.join('\n'), /24in {2}.*\n/);
  await press('Escape');
});

itTypes('what is typed is completed from the words that may stand there', async () => {
  const editor = await open('templates/linen.closet');
  await editor.edit((edit) => edit.replace(find(editor.document, '// A laundry basket goes under it.'), ''));
  await put(editor, find(editor.document, '16in }\n    ||\n').start);
  await shows(where.editor, (editors) => editors.length === 1);
  await typed('shel');
  const offered = await shows(where.completions, (names) => names.includes('shelf'));
  // Snippets come behind what fits here.
  assert.deepEqual(offered.slice(0, 2), ['shelf', 'shelves']);
  await press('Tab');
  await until('a shelf', text, (now) => /\n {4}shelf \S/.test(now));
  await press('Escape');
});

itTypes('a finding is explained by a key, on a page that is read', async () => {
  const editor = await open('templates/linen.closet');
  await editor.edit((edit) => edit.replace(find(editor.document, 'shelf top { at |78in|'), '78'));
  await put(editor, find(editor.document, 'shelf top { at |78|').start);
  await shows(where.errors, (drawn) => drawn.length > 0);
  await press('Shift+Alt+W');
  await shows('h1', (titles) => titles.some((title) => title.includes('A length without unit of measure')), 25_000);
});
