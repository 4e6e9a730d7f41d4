/** What the extension writes is told to the server at once: of a folder that was just made, no watcher tells for certain. */
import { type BaseLanguageClient, DidChangeWatchedFilesNotification, FileChangeType } from 'vscode-languageclient';
import type { WriteFiles } from './writing.ts';

/** Writes as `write` does, and says so. A change that is told twice is read twice, and does nothing more. */
export function tellOfWriting(client: BaseLanguageClient, write: WriteFiles): WriteFiles {
  return async (files) => {
    const notes = await write(files);
    const changes = files
      .filter(({ uri }) => uri.path.endsWith('.closet'))
      .map(({ uri }) => ({ uri: client.code2ProtocolConverter.asUri(uri), type: FileChangeType.Changed }));
    if (changes.length > 0 && client.isRunning())
      await client.sendNotification(DidChangeWatchedFilesNotification.method, { changes });
    return notes;
  };
}
