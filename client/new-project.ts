/** Begins a project: asks where, what it is called and how it is measured, and writes the files that the server answers. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, RequestType } from 'vscode-languageclient';
import { asWords } from './shown.ts';
import { isTrustedTo } from './trust.ts';
import { type WriteFiles, whyOf } from './writing.ts';

type Measure = 'inches' | 'millimetres';

interface NewProject {
  files: { path: string; text: string }[];
  main: string;
}

const newProjectRequest = new RequestType<{ name: string; measure: Measure }, NewProject | null, void>(
  'storypole/newProject',
);

/** What would be asked for; whatever is given is not asked. */
export interface Answers {
  folder?: vscode.Uri;
  name?: string;
  measure?: Measure;
}

/** Registers the command. Everything registered ends with the returned handle. */
export function registerNewProject(client: BaseLanguageClient, write: WriteFiles): vscode.Disposable {
  async function begin(answers: Answers = {}): Promise<void> {
    if (!(await isTrustedTo('Beginning a project'))) return;
    const folder = answers.folder ?? (await askFolder());
    if (!folder) return;
    const name = answers.name ?? (await askName(folder));
    if (name === undefined) return;
    const measure = answers.measure ?? (await askMeasure());
    if (!measure) return;
    await client.start();
    const made = await client.sendRequest(newProjectRequest, { name, measure });
    if (made) await make(folder, made, write);
  }

  return vscode.commands.registerCommand('storypole.newProject', begin);
}

async function askFolder(): Promise<vscode.Uri | undefined> {
  const open = vscode.workspace.workspaceFolders?.[0]?.uri;
  const chosen = await vscode.window.showOpenDialog({
    title: 'New closet project: where is it to be?',
    openLabel: 'Begin here',
    canSelectFiles: false,
    canSelectFolders: true,
    ...(open && { defaultUri: open }),
  });
  return chosen?.[0];
}

function askName(folder: vscode.Uri): Thenable<string | undefined> {
  const last = folder.path.split('/').findLast((part) => part !== '') ?? '';
  return vscode.window.showInputBox({
    title: 'New closet project: what is it called?',
    prompt: 'The name of the building or of the job.',
    value: last.replaceAll(/[-_]+/g, ' '),
    validateInput: (value) => (value.trim() === '' ? 'A project needs a name.' : undefined),
    ignoreFocusOut: true,
  });
}

async function askMeasure(): Promise<Measure | undefined> {
  const choices: (vscode.QuickPickItem & { measure: Measure })[] = [
    { label: 'Inches', description: '93-3/4in', measure: 'inches' },
    { label: 'Millimetres', description: '2380mm', measure: 'millimetres' },
  ];
  const chosen = await vscode.window.showQuickPick(choices, {
    title: 'New closet project: how is it measured?',
    placeHolder: 'Lengths are shown so; either can be written',
    ignoreFocusOut: true,
  });
  return chosen?.measure;
}

/** All of the files or none: nothing is written over, and nothing beside .closet files that are there already. */
async function make(folder: vscode.Uri, { files, main }: NewProject, write: WriteFiles): Promise<void> {
  const there = await firstThere(folder, files);
  if (there !== undefined) {
    void vscode.window.showErrorMessage(
      `${asWords(there)} is in that folder already, so nothing was written. Choose a folder without .closet files.`,
    );
    return;
  }
  try {
    await write(files.map(({ path, text }) => ({ uri: vscode.Uri.joinPath(folder, path), text, over: 'nothing' })));
  } catch (error) {
    void vscode.window.showErrorMessage(asWords(whyOf(error)));
    return;
  }
  await vscode.window.showTextDocument(vscode.Uri.joinPath(folder, main));
  if (vscode.workspace.getWorkspaceFolder(folder)) return;
  const open = 'Open the folder';
  const said = 'The new project is in a folder that is not open here.';
  if ((await vscode.window.showInformationMessage(said, open)) === open)
    await vscode.commands.executeCommand('vscode.openFolder', folder);
}

/** The name of something that is in the way; undefined where nothing is. */
async function firstThere(folder: vscode.Uri, files: NewProject['files']): Promise<string | undefined> {
  const entries = await vscode.workspace.fs.readDirectory(folder).then(
    (found) => found.map(([name]) => name),
    () => [],
  );
  const closet = entries.find((name) => name.endsWith('.closet'));
  if (closet !== undefined) return closet;
  for (const { path } of files) {
    const isThere = await vscode.workspace.fs.stat(vscode.Uri.joinPath(folder, path)).then(
      () => true,
      () => false,
    );
    if (isThere) return path;
  }
  return undefined;
}
