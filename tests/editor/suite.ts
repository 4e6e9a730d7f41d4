/** The suite that runs inside VS Code, against the bundled extension and its own language server. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { it, runAll } from './harness.ts';

/** What VS Code calls. */
export const run = runAll;

async function openText(content: string): Promise<vscode.TextEditor> {
  const document = await vscode.workspace.openTextDocument({ language: 'closet', content });
  return vscode.window.showTextDocument(document);
}

it('a .closet file is in the language closet', async () => {
  const [file] = await vscode.workspace.findFiles('**/*.closet', undefined, 1);
  assert.ok(file !== undefined, 'no .closet file in the examples');
  const document = await vscode.workspace.openTextDocument(file);
  assert.equal(document.languageId, 'closet');
});

it('the extension activates and offers its commands', async () => {
  const extension = vscode.extensions.getExtension('storypole.storypole');
  assert.ok(extension !== undefined, 'the extension is not installed');
  await extension.activate();
  assert.equal(extension.isActive, true);
  const commands = await vscode.commands.getCommands(true);
  assert.deepEqual(commands.filter((command) => command.startsWith('storypole.')).sort(), [
    'storypole.restartServer',
    'storypole.showCutList',
  ]);
});

it('the cut list is asked for and refused in words outside a unit', async () => {
  const editor = await openText('// nothing here\n');
  await vscode.commands.executeCommand('storypole.showCutList');
  assert.equal(vscode.window.activeTextEditor, editor);
});
