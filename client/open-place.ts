/** Shows a place that the server named, with the cursor at its beginning. */
import * as vscode from 'vscode';
import type { BaseLanguageClient, Location } from 'vscode-languageclient';

export async function openPlace(client: BaseLanguageClient, location: Location): Promise<vscode.TextEditor> {
  const { uri, range } = client.protocol2CodeConverter.asLocation(location);
  const selection = new vscode.Range(range.start, range.start);
  return vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uri), { selection });
}
