/** The editor used with its keys: what is typed, what then stands there, and what is shown. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { open, said, started, until } from './editing.ts';
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
  const editor = await open('floors/floor-1.closet');
  await put(editor, new vscode.Position(0, 0));
  await shows(where.editor, (editors) => editors.length === 1);
  await started();
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
  await put(await open('floors/floor-1.closet'), new vscode.Position(0, 0));
  await shows(where.editor, (editors) => editors.length === 1);
  await started();
  await press('Shift+Alt+U');
  await shows(where.choices, (rows) => rows.length > 5);
  await typed('linen, mirrored');
  const rows = await shows(where.choices, (now) => now.length > 0 && now.every((row) => /linen/.test(row)));
  assert.ok(rows.length > 1, String(rows));
  await press('Escape');
  await shows(where.choices, (now) => now.length === 0);
});
