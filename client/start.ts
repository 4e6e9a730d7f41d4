/** What the extension does wherever it runs: starts the language server, offers the commands, and decides nothing about closets. */
import * as vscode from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { registerCutList } from './cut-list.ts';
import { type DrawingPanel, registerDrawingPanel } from './drawing-panel.ts';
import { answerAboutFiles } from './files.ts';
import { firstSteps } from './first-steps.ts';
import { registerGoing } from './going.ts';
import { registerImportSurvey } from './import-survey.ts';
import { registerNewProject } from './new-project.ts';
import { type PlaceStatusItem, registerPlaceStatus } from './place-status.ts';
import { registerPlanStatus } from './plan-status.ts';
import { listenForChanges } from './project-changes.ts';
import { type ProjectView, registerProjectView } from './project-view.ts';
import { restart } from './restart.ts';
import { registerTrust } from './trust.ts';
import type { WriteFiles } from './writing.ts';
import { tellOfWriting } from './writing-told.ts';

/** What other extensions, and the tests, can ask of this one. */
export interface Storypole {
  readonly projectView: Pick<ProjectView, 'children' | 'item' | 'onDidRefresh' | 'selection'>;
  readonly placeStatus: Pick<PlaceStatusItem, 'shown'>;
  readonly drawingPanel: Omit<DrawingPanel, 'dispose'>;
}

/** What differs between Node and a browser. */
export interface Surroundings {
  readonly make: (options: LanguageClientOptions) => BaseLanguageClient;
  /** What the server is told when it starts, beside what every client of ours tells it. */
  readonly options?: object;
  /** Whether a message can hold bytes; else they are sent as numbers. */
  readonly messagesHoldBytes: boolean;
  readonly write: WriteFiles;
}

/** Resolves once the server answers, or once VS Code has shown why it does not. */
export async function startExtension(
  context: vscode.ExtensionContext,
  { make, options, messagesHoldBytes, write: writeFiles }: Surroundings,
): Promise<Storypole> {
  const log = vscode.window.createOutputChannel('Storypole', { log: true });
  const client = make({
    documentSelector: [{ language: 'closet' }],
    outputChannel: log,
    // Sent, diagnostics come for every document that an edit reaches, without being asked for.
    initializationOptions: () => ({
      planStatus: true,
      projectView: true,
      commands: true,
      diagnostics: 'push',
      files: true,
      withinFolders: !vscode.workspace.isTrusted,
      ...options,
    }),
    middleware: firstSteps(),
    // Which files are watched the server says itself, as it does in any editor.
    // No text of a file can name a command, or be a page within the page.
    markdown: { isTrusted: false, supportHtml: false },
  });
  const again = 'Reload the window';
  function tellNotStarted(error: unknown): void {
    log.error(error instanceof Error ? error : String(error));
    vscode.window
      .showErrorMessage(
        'The Storypole language server did not start. The output "Storypole" says why. Reloading the window tries again.',
        again,
      )
      .then((chosen) => {
        if (chosen === again) void vscode.commands.executeCommand('workbench.action.reloadWindow');
      });
  }
  const write = tellOfWriting(client, writeFiles);
  const changes = listenForChanges(client);
  const projectView = registerProjectView(client, changes.event);
  const placeStatus = registerPlaceStatus(client, changes.event);
  const drawingPanel = registerDrawingPanel(client, changes.event, context, write);
  context.subscriptions.push(
    log,
    changes,
    answerAboutFiles(client, messagesHoldBytes),
    registerCutList(client, changes.event),
    registerPlanStatus(client),
    registerTrust(),
    projectView,
    placeStatus,
    drawingPanel,
    registerGoing(client, context.extensionUri),
    registerNewProject(client, write),
    registerImportSurvey(client, write),
    vscode.commands.registerCommand('storypole.restartServer', () => {
      log.info('Restarting the language server.');
      return restart(client).catch(tellNotStarted);
    }),
    vscode.workspace.onDidGrantWorkspaceTrust(() => {
      log.info('The workspace is trusted: the language server is restarted, and reads what lies above its folders.');
      restart(client).catch(tellNotStarted);
    }),
  );
  await client.start().catch(tellNotStarted);
  void vscode.commands.executeCommand('setContext', 'storypole.isActive', true);
  return { projectView, placeStatus, drawingPanel };
}
