/** A drawing as a file: where somebody wants it, or shown by what the system shows such files with, which prints. */
import * as vscode from 'vscode';
import { asWords } from './shown.ts';

export interface DrawingFile {
  name: string;
  svg: string;
}

/** Asks where; `near` is a file beside which it may be meant to stand. */
export async function saveDrawing({ name, svg }: DrawingFile, near: vscode.Uri | undefined): Promise<void> {
  const folder = near && (vscode.workspace.getWorkspaceFolder(near)?.uri ?? vscode.Uri.joinPath(near, '..'));
  const target = await vscode.window.showSaveDialog({
    title: 'Save the drawing',
    filters: { 'SVG drawing': ['svg'] },
    ...(folder && { defaultUri: vscode.Uri.joinPath(folder, fileName(name)) }),
  });
  if (!target) return;
  if (await written(target, svg))
    void vscode.window.showInformationMessage(`The drawing was saved: ${asWords(target.fsPath)}`);
}

/**
 * Opens it outside of the editor, whose pages may not print. Where there is no outside (a page in a browser, a machine far
 * away), it is saved where somebody can print it.
 */
export async function viewDrawing(
  drawing: DrawingFile,
  storage: vscode.Uri,
  near: vscode.Uri | undefined,
): Promise<void> {
  const isHere = vscode.env.uiKind === vscode.UIKind.Desktop && vscode.env.remoteName === undefined;
  if (isHere && storage.scheme === 'file') {
    const target = vscode.Uri.joinPath(storage, fileName(drawing.name));
    await vscode.workspace.fs.createDirectory(storage);
    if ((await written(target, drawing.svg)) && (await vscode.env.openExternal(target))) return;
  }
  void vscode.window.showInformationMessage(
    'From here nothing can be printed. Save the drawing, open it in a browser, and print it there.',
  );
  await saveDrawing(drawing, near);
}

async function written(target: vscode.Uri, svg: string): Promise<boolean> {
  try {
    await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(svg));
    return true;
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    void vscode.window.showErrorMessage(`The drawing could not be written: ${asWords(why)}`);
    return false;
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
