/** A drawing as a file: where somebody wants it, or shown by what the system shows such files with, which prints. */
import * as vscode from 'vscode';
import { asWords } from './shown.ts';
import { type WriteFiles, whyOf } from './writing.ts';

export interface DrawingFile {
  name: string;
  svg: string;
}

/** Asks where; `near` is a file beside which it may be meant to stand. */
export async function saveDrawing(
  { name, svg }: DrawingFile,
  near: vscode.Uri | undefined,
  write: WriteFiles,
): Promise<void> {
  const folder = near && (vscode.workspace.getWorkspaceFolder(near)?.uri ?? vscode.Uri.joinPath(near, '..'));
  const target = await vscode.window.showSaveDialog({
    title: 'Save the drawing',
    filters: { 'SVG drawing': ['svg'] },
    ...(folder && { defaultUri: vscode.Uri.joinPath(folder, fileName(name)) }),
  });
  if (!target) return;
  const notes = await written(target, svg, write);
  if (notes)
    void vscode.window.showInformationMessage(
      asWords([`The drawing was saved: ${target.fsPath}`, ...notes].join('. ')),
    );
}

/**
 * Opens it outside of the editor, whose pages may not print. Where there is no outside (a page in a browser, a machine far
 * away), it is saved where somebody can print it.
 */
export async function viewDrawing(
  drawing: DrawingFile,
  storage: vscode.Uri,
  near: vscode.Uri | undefined,
  write: WriteFiles,
): Promise<void> {
  const isHere = vscode.env.uiKind === vscode.UIKind.Desktop && vscode.env.remoteName === undefined;
  if (isHere && storage.scheme === 'file') {
    const target = vscode.Uri.joinPath(storage, fileName(drawing.name));
    if ((await written(target, drawing.svg, write)) && (await vscode.env.openExternal(target))) return;
  }
  void vscode.window.showInformationMessage(
    'From here nothing can be printed. Save the drawing, open it in a browser, and print it there.',
  );
  await saveDrawing(drawing, near, write);
}

/** What is to be known of it; undefined where it could not be written, which has been told. */
async function written(uri: vscode.Uri, text: string, write: WriteFiles): Promise<readonly string[] | undefined> {
  try {
    // Whoever chose a file that is there has been asked whether it may be written over.
    return await write([{ uri, text, over: 'anything' }]);
  } catch (error) {
    void vscode.window.showErrorMessage(`The drawing was not saved. ${asWords(whyOf(error))}`);
    return undefined;
  }
}

/** A name that every file system takes. */
function fileName(name: string): string {
  const plain = name
    .replaceAll(/[^\p{L}\p{N}._ -]+/gu, '-')
    .slice(0, 100)
    .replaceAll(/^[-. ]+|[-. ]+$/g, '');
  // Windows keeps some names for devices.
  const isDevice = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$|clock\$)(\.|$)/i.test(plain);
  return `${isDevice ? '_' : ''}${plain || 'drawing'}.svg`;
}
