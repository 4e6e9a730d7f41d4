/** The VS Code side where it runs in Node. */
import path from 'node:path';
import * as vscode from 'vscode';
import { LanguageClient, type ServerOptions, TransportKind } from 'vscode-languageclient/node';
import { type Storypole, startExtension } from './start.ts';
import { writeOnDisk } from './writing-on-disk.ts';
import { writeThrough } from './writing-through.ts';

let client: LanguageClient | undefined;

/** Resolves once the server answers, or once VS Code has shown why it does not. */
export async function activate(context: vscode.ExtensionContext): Promise<Storypole> {
  return startExtension(context, {
    make: (options) => {
      client = new LanguageClient('storypole', 'Storypole', server(context), options);
      return client;
    },
    messagesHoldBytes: false,
    write: writeOnDisk(writeThrough(vscode.workspace.fs)),
  });
}

export async function deactivate(): Promise<void> {
  await client?.dispose();
  client = undefined;
}

function server(context: vscode.ExtensionContext): ServerOptions {
  const module = context.asAbsolutePath('dist/server.cjs');
  // Its own channel, so that a stray print can never end up between two messages.
  const run = { module, transport: TransportKind.ipc, options: { env: environment(context) } };
  return { run, debug: { ...run, options: { ...run.options, execArgv: ['--nolazy', '--inspect=6009'] } } };
}

/** What was compiled is kept from start to start, where nobody but this person's editor writes. */
function environment({ globalStorageUri }: vscode.ExtensionContext): NodeJS.ProcessEnv {
  return { ...process.env, NODE_COMPILE_CACHE: path.join(globalStorageUri.fsPath, 'compiled') };
}
