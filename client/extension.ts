/** The VS Code side where it runs in Node. */
import type * as vscode from 'vscode';
import { LanguageClient, type ServerOptions, TransportKind } from 'vscode-languageclient/node';
import { type Storypole, startExtension } from './start.ts';

let client: LanguageClient | undefined;

/** Resolves once the server answers, or once VS Code has shown why it does not. */
export async function activate(context: vscode.ExtensionContext): Promise<Storypole> {
  return startExtension(context, {
    make: (options) => {
      client = new LanguageClient('storypole', 'Storypole', server(context), options);
      return client;
    },
    messagesHoldBytes: false,
  });
}

export async function deactivate(): Promise<void> {
  await client?.dispose();
  client = undefined;
}

function server(context: vscode.ExtensionContext): ServerOptions {
  const module = context.asAbsolutePath('dist/server.cjs');
  // Its own channel, so that a stray print can never end up between two messages.
  const run = { module, transport: TransportKind.ipc };
  return { run, debug: { ...run, options: { execArgv: ['--nolazy', '--inspect=6009'] } } };
}
