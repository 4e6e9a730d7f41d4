/** Reads files for a server that cannot: in a browser all of them, elsewhere those of a file system that only VS Code knows. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, RequestType } from 'vscode-languageclient';

interface Entry {
  name: string;
  kind: 'file' | 'folder';
}

type Read =
  | { kind: 'read'; bytes: Uint8Array | number[] }
  | { kind: 'failed'; why: string }
  | { kind: 'too-large'; size: number };

const listFolders = new RequestType<{ uris: string[] }, (Entry[] | null)[], void>('storypole/listFolders');
const readFiles = new RequestType<{ uris: string[]; largest: number }, (Read | null)[], void>('storypole/readFiles');

/** Answers the server's two requests. Nothing is written, and a file that cannot be read is told, never thrown. */
export function answerAboutFiles(client: BaseLanguageClient, messagesHoldBytes: boolean): vscode.Disposable {
  const sent = (bytes: Uint8Array) => (messagesHoldBytes ? bytes : Array.from(bytes));
  return vscode.Disposable.from(
    client.onRequest(listFolders, ({ uris }) => Promise.all(uris.map((uri) => list(vscode.Uri.parse(uri))))),
    client.onRequest(readFiles, ({ uris, largest }) =>
      Promise.all(uris.map((uri) => read(vscode.Uri.parse(uri), largest, sent))),
    ),
  );
}

async function list(uri: vscode.Uri): Promise<Entry[] | null> {
  try {
    const entries = await vscode.workspace.fs.readDirectory(uri);
    return entries.flatMap(([name, type]): Entry[] => {
      // A folder that is a link may lead back to where it stands.
      if (type === vscode.FileType.Directory) return [{ name, kind: 'folder' }];
      return (type & vscode.FileType.File) !== 0 ? [{ name, kind: 'file' }] : [];
    });
  } catch {
    return null;
  }
}

async function read(
  uri: vscode.Uri,
  largest: number,
  sent: (bytes: Uint8Array) => Uint8Array | number[],
): Promise<Read | null> {
  try {
    const { type, size } = await vscode.workspace.fs.stat(uri);
    if ((type & vscode.FileType.Directory) !== 0) return null;
    if (size > largest) return { kind: 'too-large', size };
    // A copy of its own: what is read may be a window on something much larger, which would be sent as a whole.
    return { kind: 'read', bytes: sent((await vscode.workspace.fs.readFile(uri)).slice()) };
  } catch (error) {
    if (error instanceof vscode.FileSystemError && error.code === 'FileNotFound') return null;
    return { kind: 'failed', why: error instanceof Error ? error.message : String(error) };
  }
}
