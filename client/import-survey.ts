/** Brings a table from site into the surveys of a project: asks what the server cannot know, and shows every change before it is made. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, RequestType, type TextDocumentEdit } from 'vscode-languageclient';
import type { ViewNode } from './project-view.ts';
import { asWords } from './shown.ts';
import { isTrustedTo } from './trust.ts';
import { type WriteFiles, whyOf } from './writing.ts';

type Measure = 'inches' | 'feet' | 'millimetres' | 'centimetres' | 'metres';

interface Asked {
  root: string;
  name: string;
  contents: string;
  mapping?: string | null;
  sheet?: string;
  measure?: Measure;
  decimalComma?: boolean;
}

type Answer =
  | { kind: 'mapping'; uri: string }
  | { kind: 'unreadable'; why: string }
  | { kind: 'sheet'; sheets: string[] }
  | { kind: 'refused'; page: string; asks: ('unit-of-measure' | 'decimal-comma')[] }
  | {
      kind: 'taken';
      said: string;
      notes: string[];
      edits: TextDocumentEdit[];
      mapping?: { uri: string; text: string };
    };

const importRequest = new RequestType<Asked, Answer | null, void>('storypole/importSurvey');
const projectsRequest = new RequestType<object, ViewNode[] | null, void>('storypole/projectView');

/** What would be asked for; whatever is given is not asked. */
export interface ImportAnswers {
  table?: vscode.Uri;
  root?: string;
  sheet?: string;
  measure?: Measure;
  decimalComma?: boolean;
  /** Makes the changes without showing them first. */
  unseen?: boolean;
}

/** How what was read is taken. */
interface Taking {
  readonly unseen: boolean;
  /** The mapping file, as it was read. */
  readonly columns?: Uint8Array;
}

const largest = 64 * 1024 * 1024;

/** Registers the command. Everything registered ends with the returned handle. */
export function registerImportSurvey(client: BaseLanguageClient, write: WriteFiles): vscode.Disposable {
  async function bringIn(answers: ImportAnswers = {}): Promise<void> {
    if (!(await isTrustedTo('Importing a survey table'))) return;
    await client.start();
    const root = answers.root ?? (await askProject(client));
    if (root === undefined) return;
    const table = answers.table ?? (await askTable());
    if (!table) return;
    const { size } = await vscode.workspace.fs.stat(table);
    const name = table.path.slice(table.path.lastIndexOf('/') + 1);
    if (size > largest) {
      void vscode.window.showErrorMessage(
        `${asWords(name)} has ${Math.ceil((size / 1024 / 1024) * 10) / 10} MB; 64 MB are the most that is read of such a file. Leave the survey in it and nothing else.`,
      );
      return;
    }
    const contents = base64(await vscode.workspace.fs.readFile(table));
    const { sheet, measure, decimalComma } = answers;
    await converse(
      {
        root,
        name,
        contents,
        ...(sheet !== undefined && { sheet }),
        ...(measure && { measure }),
        ...(decimalComma !== undefined && { decimalComma }),
      },
      { unseen: answers.unseen ?? false },
    );
  }

  /** Asks the server, and people what the server asks, until the table is taken or not. */
  async function converse(asked: Asked, taking: Taking): Promise<void> {
    const answer = await client.sendRequest(importRequest, asked);
    switch (answer?.kind) {
      case 'mapping': {
        const columns = await bytesOf(vscode.Uri.parse(answer.uri));
        const mapping = columns ? new TextDecoder().decode(columns) : null;
        return converse({ ...asked, mapping }, { ...taking, ...(columns && { columns }) });
      }
      case 'sheet': {
        const sheet = await vscode.window.showQuickPick(answer.sheets, { title: `${asked.name}: which sheet?` });
        return sheet === undefined ? undefined : converse({ ...asked, sheet }, taking);
      }
      case 'unreadable':
        void vscode.window.showErrorMessage(asWords(answer.why));
        return;
      case 'refused':
        return refused(asked, answer.page, answer.asks, taking);
      case 'taken':
        return take(answer, taking);
      default:
        void vscode.window.showErrorMessage(
          'The project that the survey was to go into is not there any more, so nothing was written.',
        );
    }
  }

  async function refused(
    asked: Asked,
    page: string,
    asks: readonly ('unit-of-measure' | 'decimal-comma')[],
    taking: Taking,
  ): Promise<void> {
    if (asks.includes('unit-of-measure') && asked.measure === undefined) {
      const measure = await askMeasure(asked.name);
      return measure ? converse({ ...asked, measure }, taking) : undefined;
    }
    if (asks.includes('decimal-comma') && asked.decimalComma === undefined) {
      const decimalComma = await askComma(asked.name);
      return decimalComma === undefined ? undefined : converse({ ...asked, decimalComma }, taking);
    }
    const document = await vscode.workspace.openTextDocument({ content: page, language: 'plaintext' });
    await vscode.window.showTextDocument(document, { preview: true });
  }

  async function take({ said, notes, edits, mapping }: Answer & { kind: 'taken' }, taking: Taking): Promise<void> {
    const edit = (await client.protocol2CodeConverter.asWorkspaceEdit({
      documentChanges: edits,
    })) as vscode.WorkspaceEdit;
    if (mapping && (await isLink(vscode.Uri.parse(mapping.uri)))) {
      void vscode.window.showErrorMessage(
        'The mapping file of this project is a link, which may lead anywhere, so nothing was written. Put the file itself there.',
      );
      return;
    }
    // Whoever discards the changes that are shown wants none of it.
    const shown = taking.unseen ? edit : toBeConfirmed(edit, said);
    if (edits.length > 0 && !(await vscode.workspace.applyEdit(shown))) return;
    if (mapping && !(await keep(mapping, taking.columns))) return;
    void vscode.window.showInformationMessage(asWords([`Surveys: ${said}.`, ...notes].join(' ')));
  }

  /** Over what was read and nothing else. Answers whether it could be; why not has been told. */
  async function keep({ uri, text }: { uri: string; text: string }, columns: Uint8Array | undefined): Promise<boolean> {
    const file = vscode.Uri.parse(uri);
    try {
      await write([{ uri: file, text, over: columns ?? 'nothing', within: vscode.Uri.joinPath(file, '..') }]);
      return true;
    } catch (error) {
      const said = 'The surveys were taken, but what the columns of the table hold could not be kept.';
      void vscode.window.showErrorMessage(asWords(`${said} ${whyOf(error)}`));
      return false;
    }
  }

  return vscode.commands.registerCommand('storypole.importSurvey', bringIn);
}

/** The same changes, each of which VS Code shows and lets be left out before any is made. */
function toBeConfirmed(edit: vscode.WorkspaceEdit, label: string): vscode.WorkspaceEdit {
  const metadata: vscode.WorkspaceEditEntryMetadata = { label, needsConfirmation: true };
  const shown = new vscode.WorkspaceEdit();
  for (const [uri, edits] of edit.entries())
    shown.set(
      uri,
      edits.map((one): [vscode.TextEdit, vscode.WorkspaceEditEntryMetadata] => [one, metadata]),
    );
  return shown;
}

async function askProject(client: BaseLanguageClient): Promise<string | undefined> {
  const projects = (await client.sendRequest(projectsRequest, {})) ?? [];
  if (projects.length === 0) {
    void vscode.window.showErrorMessage(
      'There is no closet project here for the surveys to go into. Open its folder first, or begin one: Storypole: New closet project…',
    );
    return undefined;
  }
  if (projects.length === 1) return projects[0]?.path[0];
  const items = projects.map(({ label, description, path }) => ({
    label: asWords(label),
    description: asWords(description),
    root: path[0],
  }));
  return (await vscode.window.showQuickPick(items, { title: 'Import a survey table: into which project?' }))?.root;
}

async function askTable(): Promise<vscode.Uri | undefined> {
  const chosen = await vscode.window.showOpenDialog({
    title: 'Import a survey table',
    openLabel: 'Import',
    filters: { 'Tables from site': ['csv', 'xlsx', 'tsv', 'txt'] },
  });
  return chosen?.[0];
}

async function askMeasure(name: string): Promise<Measure | undefined> {
  const choices: (vscode.QuickPickItem & { measure: Measure })[] = [
    { label: 'Inches', description: '93 3/4', measure: 'inches' },
    { label: 'Feet', description: '7-9 3/4', measure: 'feet' },
    { label: 'Millimetres', description: '2381', measure: 'millimetres' },
    { label: 'Centimetres', description: '238.1', measure: 'centimetres' },
    { label: 'Metres', description: '2.381', measure: 'metres' },
  ];
  const title = `${name}: what are numbers in for which nothing says a unit of measure?`;
  return (await vscode.window.showQuickPick(choices, { title, ignoreFocusOut: true }))?.measure;
}

async function askComma(name: string): Promise<boolean | undefined> {
  const choices = [
    { label: 'Decimals', description: '93,75 is 93.75', comma: true },
    { label: 'Something else', description: 'Show the cells', comma: false },
  ];
  const title = `${name}: what does a comma in a number stand for?`;
  return (await vscode.window.showQuickPick(choices, { title, ignoreFocusOut: true }))?.comma;
}

/** It came with the folder, and is nobody's wish to write elsewhere. */
function isLink(uri: vscode.Uri): Thenable<boolean> {
  return vscode.workspace.fs.stat(uri).then(
    ({ type }) => (type & vscode.FileType.SymbolicLink) !== 0,
    () => false,
  );
}

/** Undefined where there is no such file. */
async function bytesOf(uri: vscode.Uri): Promise<Uint8Array | undefined> {
  return vscode.workspace.fs.readFile(uri).then(
    (bytes) => bytes,
    () => undefined,
  );
}

/** In pieces: a call has only so many arguments. */
function base64(bytes: Uint8Array): string {
  const pieces: string[] = [];
  for (let at = 0; at < bytes.length; at += 0x8000)
    pieces.push(String.fromCharCode(...bytes.subarray(at, at + 0x8000)));
  return btoa(pieces.join(''));
}
