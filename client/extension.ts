/** The VS Code side: starts the language server, offers the commands, and decides nothing about closets. */
import * as vscode from 'vscode';
import { LanguageClient, type ServerOptions, TransportKind } from 'vscode-languageclient/node';
import { registerCutList } from './cut-list.ts';
import { registerPlanStatus } from './plan-status.ts';

let client: LanguageClient | undefined;

/** How long a server is waited for when it is asked to end, in milliseconds. */
const patience = 15_000;

/** Resolves once the server answers, or once VS Code has shown why it does not. */
export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const log = vscode.window.createOutputChannel('Storypole', { log: true });
  client = new LanguageClient('storypole', 'Storypole', server(context), {
    documentSelector: [{ language: 'closet' }],
    outputChannel: log,
    // Sent, they come for every document that an edit reaches, without being asked for.
    initializationOptions: { planStatus: true, diagnostics: 'push' },
    // Which files are watched the server says itself, as it does in any editor.
  });
  const running = client;
  context.subscriptions.push(
    log,
    registerCutList(running),
    registerPlanStatus(running),
    vscode.commands.registerCommand('storypole.restartServer', async () => {
      log.info('Restarting the language server.');
      // A server that is in the middle of a large plan may need longer than the two seconds it is given by default,
      // and one that is given up on would end the connection of the next when it ends.
      await running.stop(patience);
      await running.start();
    }),
  );
  try {
    await running.start();
  } catch (error) {
    log.error(error instanceof Error ? error : String(error));
    void vscode.window.showErrorMessage(
      'The Storypole language server did not start. The output "Storypole" says why.',
    );
  }
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
