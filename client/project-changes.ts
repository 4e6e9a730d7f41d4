/** What the server tells when a project may hold something else. A client keeps one listener for each notification, so it is shared from here. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, NotificationType0 } from 'vscode-languageclient';

const projectChanged = new NotificationType0('storypole/projectChanged');

export interface Changes extends vscode.Disposable {
  readonly event: vscode.Event<void>;
}

export function listenForChanges(client: BaseLanguageClient): Changes {
  const changed = new vscode.EventEmitter<void>();
  const heard = client.onNotification(projectChanged, () => changed.fire());
  return { event: changed.event, dispose: () => vscode.Disposable.from(heard, changed).dispose() };
}
