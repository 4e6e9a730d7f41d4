/** The suite that runs inside VS Code, against the bundled extension and its own language server. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';
import { find, leave, open, replace, said, until } from './editing.ts';
import { afterEach, it, runAll } from './harness.ts';

/** What VS Code calls. */
export const run = runAll;

afterEach(leave);

const template = 'templates/reach-in.closet';

it('a .closet file is in the language closet', async () => {
  const { document } = await open(template);
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

it('taking a unit of measure away is an error at the number, and undoing it ends it', async () => {
  const editor = await open(template);
  const { document } = editor;
  const shirts = 'zone shirts on back {\n    width ';
  await replace(editor, find(document, `${shirts}|48in|`), '48');
  const number = find(document, `${shirts}|48|\n`);
  const errors = () =>
    said(document).filter(({ severity, rule }) => severity === 'error' && rule === 'unit-of-measure-missing');
  const found = await until('the error', errors, (list) => list.length > 0);
  assert.deepEqual(
    found.map(({ range }) => range),
    [number],
  );
  assert.match(found[0]?.message ?? '', /^48 has no unit of measure/);
  await vscode.commands.executeCommand('undo');
  await until(
    'a file without errors',
    () => said(document),
    (list) => list.every(({ severity }) => severity !== 'error'),
  );
});
