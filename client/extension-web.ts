/** The VS Code side where it runs in a browser: the server and its planner are workers, and files are read through VS Code. */
import * as vscode from 'vscode';
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from 'vscode-languageclient/browser';
import { type Storypole, startExtension } from './start.ts';
import { writeThrough } from './writing-through.ts';

/** As much of a browser's worker as is needed here. */
type Port = ConstructorParameters<typeof BrowserMessageReader>[0];
declare const Worker: new (address: string) => Port & { terminate(): void };

let client: LanguageClient | undefined;
let worker: InstanceType<typeof Worker> | undefined;

/** Resolves once the server answers, or once VS Code has shown why it does not. */
export async function activate(context: vscode.ExtensionContext): Promise<Storypole> {
  const [server, planWorker] = await Promise.all(
    ['server-web.js', 'plan-worker-web.js'].map((name) => scriptAddress(context, name)),
  );
  const start = async () => {
    worker?.terminate();
    worker = new Worker(server as string);
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  return startExtension(context, {
    make: (options) => {
      client = new LanguageClient('storypole', 'Storypole', start, options);
      return client;
    },
    options: { planWorker },
    messagesHoldBytes: true,
    write: writeThrough(vscode.workspace.fs),
  });
}

export async function deactivate(): Promise<void> {
  await client?.dispose();
  client = undefined;
  worker?.terminate();
  worker = undefined;
}

/**
 * An address that a worker can be started from. What is served by a file system of VS Code's has none (a remote
 * extension, one that is being worked on), so its text is given one.
 */
async function scriptAddress(context: vscode.ExtensionContext, name: string): Promise<string> {
  const uri = vscode.Uri.joinPath(context.extensionUri, 'dist', name);
  if (uri.scheme === 'http' || uri.scheme === 'https') return uri.toString(true);
  const text = await vscode.workspace.fs.readFile(uri);
  return URL.createObjectURL(new Blob([text.slice()], { type: 'text/javascript' }));
}
