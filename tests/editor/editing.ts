/** What a person does in the editor, said in words: open, find, replace, wait for what the server says. */
import assert from 'node:assert/strict';
import * as vscode from 'vscode';

/** Opens a file of the open folder. Throws when there is none of that name. */
export async function open(name: string): Promise<vscode.TextEditor> {
  const [file, ...more] = await vscode.workspace.findFiles(`**/${name}`);
  assert.ok(file !== undefined && more.length === 0, `one file ${name} was expected`);
  return vscode.window.showTextDocument(await vscode.workspace.openTextDocument(file));
}

/**
 * Where `text` stands in a document: the stretch between bars, `width |48in|`, or the whole of it without any.
 * Throws unless the text stands there exactly once.
 */
export function find(document: vscode.TextDocument, text: string): vscode.Range {
  const [before = '', marked, after] = text.split('|');
  const [whole, lead, length] =
    marked === undefined ? [before, 0, before.length] : [before + marked + (after ?? ''), before.length, marked.length];
  const content = document.getText();
  const at = content.indexOf(whole);
  assert.ok(at >= 0, `"${whole}" is not in ${document.fileName}`);
  assert.equal(content.indexOf(whole, at + 1), -1, `"${whole}" is more than once in ${document.fileName}`);
  return new vscode.Range(document.positionAt(at + lead), document.positionAt(at + lead + length));
}

export async function replace(editor: vscode.TextEditor, range: vscode.Range, text: string): Promise<void> {
  assert.ok(await editor.edit((edit) => edit.replace(range, text)), 'the edit was not taken');
}

export interface Said {
  severity: 'error' | 'warning' | 'note' | 'hint';
  rule: string;
  message: string;
  range: vscode.Range;
}

/** The rule of a diagnostic, with or without a page of its own. */
export function ruleOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === 'object' ? code.value : code);
}

/** In the order of vscode.DiagnosticSeverity. */
const severities = ['error', 'warning', 'note', 'hint'] as const;

/** What is underlined in a document, in the order of the text. */
export function said(document: vscode.TextDocument): Said[] {
  return vscode.languages
    .getDiagnostics(document.uri)
    .map(({ severity, code, message, range }) => {
      const rule = typeof code === 'object' ? code.value : code;
      return { severity: severities[severity], rule: String(rule), message, range };
    })
    .sort((a, b) => a.range.start.compareTo(b.range.start));
}

/** Waits until something holds, looking again whenever the editor says that anything changed. Fails with the last state. */
export async function until<T>(what: string, state: () => T, holds: (state: T) => boolean, limit = 15_000): Promise<T> {
  const found = Promise.withResolvers<T>();
  const look = () => {
    const now = state();
    if (holds(now)) found.resolve(now);
  };
  const listeners = [
    vscode.languages.onDidChangeDiagnostics(look),
    vscode.workspace.onDidChangeTextDocument(look),
    vscode.window.onDidChangeVisibleTextEditors(look),
  ];
  const timer = setTimeout(() => {
    found.reject(new Error(`${what} did not come about. The last seen: ${JSON.stringify(state(), undefined, 1)}`));
  }, limit);
  try {
    look();
    return await found.promise;
  } finally {
    clearTimeout(timer);
    for (const listener of listeners) listener.dispose();
  }
}

/** All that a hover shows, as Markdown. */
export async function hoverText(document: vscode.TextDocument, position: vscode.Position): Promise<string> {
  const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
    'vscode.executeHoverProvider',
    document.uri,
    position,
  );
  return hovers
    .flatMap(({ contents }) => contents)
    .map((content) => (typeof content === 'string' ? content : content.value))
    .join('\n');
}

/** Takes back what was typed and not saved, and closes every file. */
export async function leave(): Promise<void> {
  for (const document of vscode.workspace.textDocuments.filter(({ isDirty, isUntitled }) => isDirty && !isUntitled)) {
    await vscode.window.showTextDocument(document);
    await vscode.commands.executeCommand('workbench.action.files.revert');
  }
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
  await putBack();
}

/** What a test that did not come to its end has saved would be in the way of all others. */
async function putBack(): Promise<void> {
  const [workspace] = vscode.workspace.workspaceFolders ?? [];
  const originals = process.env.STORYPOLE_SUITE_ORIGINALS ?? '';
  if (!workspace || originals === '') return;
  for (const file of await vscode.workspace.findFiles('**/*.closet')) {
    const original = vscode.Uri.file(originals + file.path.slice(workspace.uri.path.length));
    const was = await vscode.workspace.fs.readFile(original).then(
      (bytes) => bytes,
      () => undefined,
    );
    if (was && Buffer.compare(was, await vscode.workspace.fs.readFile(file)) !== 0)
      await vscode.workspace.fs.writeFile(file, was);
  }
}

/** Any command of its starts the extension, wherever it runs. While no file is open, this one says so and does nothing else. */
export async function started(): Promise<void> {
  await vscode.commands.executeCommand('storypole.showCutList');
}
