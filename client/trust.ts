/**
 * What is off in a workspace that nobody has said to trust, and how people are told. Reading, checking and drawing what is in
 * the open folders is always on: it runs nothing and writes nothing. Off is what writes files or starts another program,
 * and (in the server) reading anything outside of the open folders.
 */
import * as vscode from 'vscode';

const manage = { command: 'workbench.trust.manage', title: 'Manage Workspace Trust' };

/**
 * Whether a command may go on that writes files or starts a program. Where not, it is said which one was asked for and
 * what to do about it. `what` begins a sentence.
 */
export async function isTrustedTo(what: string): Promise<boolean> {
  if (vscode.workspace.isTrusted) return true;
  const said = `${what} is off in Restricted Mode: this workspace is not trusted, so no files are written from it.`;
  // What is chosen comes when it comes; what was asked for is over.
  if ((await vscode.window.showWarningMessage(said, manage.title)) === manage.title)
    await vscode.commands.executeCommand(manage.command);
  return vscode.workspace.isTrusted;
}

/** Says among the language's entries of the status bar what is off, for as long as it is. */
export function registerTrust(): vscode.Disposable {
  if (vscode.workspace.isTrusted) return new vscode.Disposable(() => undefined);
  const item = vscode.languages.createLanguageStatusItem('storypole.trust', { language: 'closet' });
  item.name = 'Workspace trust';
  item.text = 'Restricted Mode';
  item.detail = 'Reads the open folders alone, and writes nothing.';
  item.severity = vscode.LanguageStatusSeverity.Warning;
  item.command = manage;
  return vscode.Disposable.from(
    item,
    vscode.workspace.onDidGrantWorkspaceTrust(() => item.dispose()),
  );
}
