/**
 * The language server: messages in, answers of server/language out. Nothing is decided here. Lines and
 * columns become offsets at this edge and nowhere else; a request that fails is logged and answered
 * with nothing, and no request ends the server.
 */
import {
  type CancellationToken,
  type ClientCapabilities,
  type Connection,
  DidChangeWatchedFilesNotification,
  FileChangeType,
  type InitializeParams,
  type InitializeResult,
  NotificationType,
  NotificationType0,
  type PreviousResultId,
  type TextDocumentContentChangeEvent,
  TextDocumentSyncKind,
  WatchKind,
} from 'vscode-languageserver';
import { createWorkspace } from '../checks/analysis.ts';
import type { Snapshot } from '../language/snapshot.ts';
import { isWithin } from '../model/files.ts';
import { editTo } from '../model/open-files.ts';
import type { LoadedProject, Workspace } from '../model/workspace.ts';
import { pathOf, uriOf } from './addresses.ts';
import { cancelled, createQuestions } from './asking.ts';
import { createClientFiles } from './client-files.ts';
import { offsetOf } from './convert.ts';
import { createDocuments } from './documents.ts';
import type { Closed } from './features/feature.ts';
import { addFeatures, capabilities } from './features.ts';
import { type Host, type InitializationOptions, initializationOptions } from './host.ts';
import { createImpatient } from './impatient.ts';
import { createMailbox } from './mailbox.ts';
import { createNotice, type Notice } from './notice.ts';
import { createPatience } from './patience.ts';
import { createPlanFindings, type PlanStatus } from './planner.ts';
import { createProgress, noProgress, showWork, unshownWork } from './progress.ts';
import { createPublisher, type OpenDocument } from './publisher.ts';
import { createRefresher } from './refresher.ts';
import { createRefreshing, oneAtATime } from './refreshing.ts';
import { resting } from './resting.ts';
import { createSecondLook } from './second-look.ts';
import { keepSettings } from './settings.ts';
import { withinFolders } from './within-folders.ts';

/** How far the cutting plan is of the project that is worked on; told to clients that ask for it with `planStatus`. */
export const planStatusNotification = new NotificationType<PlanStatus>('storypole/planStatus');

/** What is shown of the projects may be another now; told to clients that ask for it with `projectView`. */
export const projectChangedNotification = new NotificationType0('storypole/projectChanged');

/** Serves one client. Files are those of the host and those of the client; texts of open documents go before them. */
export function serve(connection: Connection, host: Host): void {
  const log = (error: unknown): void => {
    try {
      connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
    } catch {
      // The client has gone away: there is nobody to be told, and what was asked of it fails for that reason alone.
    }
  };
  const files = createClientFiles(connection, host.files, log);
  const folders: string[] = [];
  const readable = withinFolders(files, folders, () => options.withinFolders === true);
  const workspace = createWorkspace(readable, folders, () => options.withinFolders === true);
  const documents = createDocuments({ textOf: (path) => workspace.openText(path), replace });
  const { open } = documents;
  let lastEdited: string | undefined;
  let watches = false;
  /** Folders outside the workspace can be watched as well; those that are. */
  let watchesAbove = false;
  const watchedAbove = new Set<string>();
  let followsFolders = false;
  let snippets = false;
  let versionedEdits = false;
  let options: InitializationOptions = {};
  let client: ClientCapabilities = {};
  let runsCommands = false;
  let toldStatus: PlanStatus | undefined;
  /** The client asks for diagnostics; to any other they are sent. */
  let pulls = false;
  /** It can be told to ask again. */
  let refreshes = false;
  /** The document of which the client will ask because it was edited. */
  let editedLast: string | undefined;
  /** The document that somebody has typed in since all was told. */
  let typedIn: string | undefined;
  /** All but units is as it should be, and units are not yet. */
  let isDeclared = false;
  /** Documents of which the client was told, when it asked, what was known so far. */
  const toldSoFar = new Set<string>();
  /** What is to be done when a document was closed. */
  const forgetting: ((closed: Closed) => void)[] = [];
  let showsProgress = false;
  let progress = noProgress;
  /** While the files of the folders are on their way: nothing can be said before they are there. */
  let loading: Promise<void> | undefined;
  /** A project has been read and told of. */
  let hasRead = false;
  let isOver = false;
  let notice: Notice | undefined;

  const uriOfFile = (file: string): string => open.get(file)?.uri ?? uriOf(file);
  const pageOf = (rule: string): string | undefined =>
    client.textDocument?.publishDiagnostics?.codeDescriptionSupport && host.rulePages !== undefined
      ? `${host.rulePages}${rule}.md`
      : undefined;
  const isShown = (file: string, { project, alone }: LoadedProject): boolean => {
    if (open.has(file)) return true;
    if (folders.some((folder) => isWithin(folder, file))) return true;
    return !alone && [...open.keys()].some((path) => project.sources.has(path));
  };
  const thread = resting(host.planThread(() => options.planWorker));
  const plans = createPlanFindings({ onPlanned: publish, onError: log, thread });
  const refreshing = createRefreshing(connection, log);
  const settings = keepSettings(connection, { onChanged: () => refreshing.soon('hints', 'lenses'), onError: log });
  /** Something has changed that the client does not see in the text before it. */
  let changedElsewhere = false;
  /** What was last seen of plans and of the names that tokens rest on. */
  let seen = { plans: '', garments: 0 };
  const mailbox = createMailbox();
  const secondLook = createSecondLook((made) =>
    onceThere(made, () => {
      if (made.filter((folder) => workspace.folderMade(folder)).length > 0) changed();
    }),
  );
  const patience = createPatience(400);
  const impatient = createImpatient();
  const pullAgain = oneAtATime(() => connection.languages.diagnostics.refresh(), log);
  const publisher = createPublisher({
    send: (params) => {
      if (pulls) mailbox.send(params);
      else void connection.sendDiagnostics(params);
    },
    open,
    uriOfFile,
    pageOf,
    isShown,
    beside: ({ project }) => plans.of(project),
  });
  const refresher = createRefresher({
    projects: () => lookedAtFirst(workspace, open).map((p) => p.project),
    isFirst: (file) => open.has(file),
    onReached: (reached) => {
      isDeclared = true;
      if (pulls) return;
      const projects = lookedAtFirst(workspace, open);
      if (reached === 'first') publisher.publishFirst(projects, lastEdited);
      else if (lastEdited !== undefined && patience.isOver()) publisher.publishMeanwhile(projects, lastEdited);
    },
    onLeft: (declarations) => {
      progress.left(declarations);
      if (declarations > 0) guard(tellImpatient);
    },
    onFresh: () => {
      isDeclared = false;
      typedIn = undefined;
      patience.end();
      editedLast = lastEdited;
      plans.soon(lookedAtFirst(workspace, open).map((p) => p.project));
      publish();
      if (!hasRead && workspace.projects.length > 0) {
        hasRead = true;
        host.afterFirstReading?.();
      }
    },
    onError: log,
  });
  function publish(): void {
    publisher.publish(lookedAtFirst(workspace, open), lastEdited);
    if (pulls && refreshes) askToPull();
    tellStatus();
    notice?.soon();
    refreshShown();
  }
  /** After an edit the client asks again by itself, for the text that was edited. */
  function refreshShown(): void {
    const projects = lookedAtFirst(workspace, open).map((p) => p.project);
    const now = {
      plans: projects.map((project) => Object.values(plans.status(project)).join(' ')).join('\n'),
      garments: projects.reduce((sum, { names }) => sum + names.turnOf('garment'), 0),
    };
    if (changedElsewhere) refreshing.soon('hints', 'lenses');
    if (now.plans !== seen.plans) refreshing.soon('lenses');
    if (now.garments !== seen.garments) refreshing.soon('tokens');
    changedElsewhere = false;
    seen = now;
  }
  /** A client that asks for diagnostics does so after an edit, and for that document; of anything else it is told. */
  function askToPull(): void {
    const edited = editedLast === undefined ? undefined : uriOfFile(editedLast);
    editedLast = undefined;
    // Who was told half of it does not know that there is more, unless it has asked once more by now.
    const willAsk = edited !== undefined && (!toldSoFar.has(edited) || impatient.isAsked(edited));
    toldSoFar.clear();
    for (const uri of mailbox.changed()) {
      if (uri === edited && willAsk) continue;
      pullAgain.soon();
      return;
    }
  }
  /** A client that asks while somebody types in what a thousand units rest on is told as much as one that is sent it. */
  function tellImpatient(): void {
    if (!pulls || !isDeclared || typedIn === undefined || !open.has(typedIn)) return;
    const uri = uriOfFile(typedIn);
    if (!impatient.isHeard(uri) || !patience.isOver()) return;
    publisher.publishMeanwhile(lookedAtFirst(workspace, open), typedIn);
    impatient.tell(uri);
  }
  function tellStatus(): void {
    const edited = lastEdited === undefined ? undefined : workspace.projectOf(lastEdited);
    const worked = edited ?? lookedAtFirst(workspace, open)[0];
    // Of nothing only who has been told of something is told.
    if (options.planStatus !== true || (!worked && !toldStatus)) return;
    const now: PlanStatus = worked ? plans.status(worked.project) : { state: 'none', text: '' };
    if (toldStatus?.state === now.state && toldStatus.text === now.text && toldStatus.why === now.why) return;
    toldStatus = now;
    void connection.sendNotification(planStatusNotification, now);
  }
  function changed(elsewhere = true): void {
    changedElsewhere ||= elsewhere;
    if (loading) return;
    plans.wait();
    isDeclared = false;
    patience.begin();
    refresher.restart();
  }

  connection.onInitialize((params: InitializeParams): InitializeResult => {
    for (const path of rootsOf(params)) if (!folders.includes(path)) folders.push(path);
    const watching = params.capabilities.workspace?.didChangeWatchedFiles;
    watches = watching?.dynamicRegistration === true;
    watchesAbove = watches && watching?.relativePatternSupport === true;
    snippets = params.capabilities.textDocument?.completion?.completionItem?.snippetSupport === true;
    client = params.capabilities;
    versionedEdits = params.capabilities.workspace?.workspaceEdit?.documentChanges === true;
    options = initializationOptions(params.initializationOptions);
    files.offered = options.files === true;
    const { diagnostic, publishDiagnostics } = params.capabilities.textDocument ?? {};
    refreshes = params.capabilities.workspace?.diagnostics?.refreshSupport === true;
    // One that cannot be told to ask again is told in the other way, where it knows that one at all.
    pulls = diagnostic !== undefined && (refreshes || publishDiagnostics === undefined);
    if (options.diagnostics === 'push') pulls = false;
    runsCommands = options.commands === true;
    settings.onInitialize(params);
    refreshing.onInitialize(params);
    showsProgress = params.capabilities.window?.workDoneProgress === true;
    if (showsProgress) progress = createProgress(connection, log);
    if (options.projectView) notice = createNotice(() => void connection.sendNotification(projectChangedNotification));
    followsFolders = params.capabilities.workspace?.workspaceFolders === true;
    return {
      serverInfo: { name: 'storypole' },
      capabilities: {
        positionEncoding: 'utf-16',
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
        ...capabilities,
        // How it is done is said only to a client that knows more than one way.
        ...(params.capabilities.textDocument?.rename?.prepareSupport !== true && { renameProvider: true }),
        ...(pulls && { diagnosticProvider: { interFileDependencies: true, workspaceDiagnostics: true } }),
        workspace: {
          workspaceFolders: { supported: true, changeNotifications: true },
          fileOperations: {
            ...capabilities.workspace?.fileOperations,
            didDelete: folderChanges,
            didRename: folderChanges,
          },
        },
      },
    };
  });
  connection.onInitialized(() => {
    loading = files.bring(folders)?.then(() => {
      loading = undefined;
      guard(loadAnew);
    });
    if (!loading)
      guard(() => {
        for (const folder of folders) loadFolder(folder);
        watchAbove();
        changed();
      });
    settings.onInitialized();
    if (followsFolders) followFolders();
    if (watches) {
      // Of a folder that goes, or comes, as a whole, some clients tell the folder and nothing in it.
      const watchers = [
        { globPattern: '**/*.closet' },
        { globPattern: '**', kind: WatchKind.Create | WatchKind.Delete },
      ];
      connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }).catch(log);
    }
  });
  // A client that shuts down politely is not kept waiting by work that nobody will see.
  connection.onShutdown(() => {
    isOver = true;
    refresher.stop();
    plans.stop();
    notice?.stop();
    refreshing.stop();
    secondLook.stop();
  });

  function followFolders(): void {
    connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
      // Which they are is known at once: one that goes again before it has been read must not come in late.
      for (const { uri } of removed) {
        const at = folders.indexOf(pathOf(uri) ?? '');
        if (at >= 0) folders.splice(at, 1);
      }
      for (const path of pathsOf(added)) if (!folders.includes(path)) folders.push(path);
      onceThere(pathsOf(added), loadAnew);
    });
  }

  function loadAnew(): void {
    for (const { problem } of workspace.foldersChanged()) warn(problem);
    watchAbove();
    changed();
  }

  /** The folder that is open may lie within a project: what is in that and not in the folder changes as well. */
  function watchAbove(): void {
    if (!watchesAbove) return;
    for (const { root, alone } of workspace.projects) {
      if (alone || watchedAbove.has(root) || folders.some((folder) => isWithin(folder, root))) continue;
      watchedAbove.add(root);
      const watchers = [{ globPattern: { baseUri: uriOf(root), pattern: '**/*.closet' } }];
      connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }).catch(log);
    }
  }

  /** Does something at once, or once those of the files that it is about which only the client can read have come. */
  function onceThere(paths: readonly string[], work: () => void): void {
    const coming = files.bring(paths);
    if (coming) void coming.then(() => guard(work));
    else guard(work);
  }

  function loadFolder(folder: string): void {
    warn(workspace.loadFolder(folder).problem);
  }

  function warn(problem: string | undefined): void {
    if (problem !== undefined) connection.console.warn(problem);
  }

  // Documents. Texts are kept by the projects, as trees that an edit changes in place.

  connection.onDidOpenTextDocument(({ textDocument: { uri, version, text } }) =>
    guard(() => {
      const path = pathOf(uri);
      if (path === undefined) return;
      documents.opened(path, { uri, version: version ?? 0 });
      lastEdited = path;
      workspace.openDocument(path, text);
      watchAbove();
      changed(open.size > 1);
    }),
  );
  connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) =>
    guard(() => {
      const path = pathOf(uri);
      const document = path === undefined ? undefined : documents.edited(path, uri);
      if (path === undefined || !document) return;
      // Some clients count none; what is asked of the text before must not be answered from the one after.
      document.version = version ?? document.version + 1;
      lastEdited = path;
      typedIn = path;
      for (const change of contentChanges) edit(path, change);
      changed(open.size > 1);
    }),
  );
  connection.onDidCloseTextDocument(({ textDocument: { uri } }) =>
    guard(() => {
      const path = pathOf(uri);
      const left = path === undefined ? 'was-not-open' : documents.closed(path, uri);
      if (path === undefined || left === 'was-not-open') return;
      if (left === 'closed') workspace.closeDocument(path);
      const source = workspace.projectOf(path)?.project.sources.get(path);
      for (const forget of forgetting) forget({ uri, source });
      changed();
      if (left === 'open') return;
      // What was saved while it was open nobody may have told: not every file system of an editor is watched.
      const coming = files.bring([path]);
      void coming?.then(() =>
        guard(() => {
          workspace.changedOnDisk(path);
          changed();
        }),
      );
    }),
  );
  connection.onDidChangeWatchedFiles(({ changes }) =>
    onceThere(pathsOf(changes), () => {
      let any = false;
      for (const { uri, type } of changes) {
        const path = pathOf(uri);
        if (path === undefined) continue;
        any = (type === FileChangeType.Deleted ? deleted(path) : made(path)) || any;
      }
      if (any) changed();
    }),
  );
  connection.workspace.onDidDeleteFiles(({ files: gone }) =>
    onceThere(pathsOf(gone), () => {
      for (const { uri } of gone) deleted(pathOf(uri));
      changed();
    }),
  );
  connection.workspace.onDidRenameFiles(({ files: renamed }) =>
    onceThere(pathsOf(renamed.flatMap(({ oldUri, newUri }) => [{ uri: oldUri }, { uri: newUri }])), () => {
      for (const { oldUri, newUri } of renamed) {
        deleted(pathOf(oldUri));
        made(pathOf(newUri));
      }
      changed();
    }),
  );

  /** Each change is stated in the text that the one before it left. */
  function edit(path: string, change: TextDocumentContentChangeEvent): void {
    const document = workspace.documentAt(path);
    if (!document) return;
    const range = 'range' in change ? change.range : undefined;
    const [one, other] = range
      ? [offsetOf(document, range.start), offsetOf(document, range.end)]
      : [0, document.length];
    // The wrong way round it means the same stretch, as other servers take it.
    workspace.editDocument(path, [{ start: Math.min(one, other), end: Math.max(one, other), text: change.text }]);
  }

  /** Another text of an open document takes the place of the one it has; what is the same in both stays as it is. */
  function replace(path: string, text: string): void {
    const before = workspace.openText(path);
    if (before !== undefined && before !== text) workspace.editDocument(path, [editTo(before, text)]);
  }

  /** A file was made or changed, or a folder with all that is in it. Whether that is anything to us. */
  function made(path: string | undefined): boolean {
    if (path === undefined) return false;
    if (files.kindOf(path) === 'folder') {
      const isOurs = workspace.folderMade(path);
      if (isOurs) secondLook.into(path);
      return isOurs;
    }
    if (!path.endsWith('.closet')) return false;
    workspace.changedOnDisk(path);
    return true;
  }

  /** A file went, or a folder with all that was in it. Whether that is anything to us. */
  function deleted(path: string | undefined): boolean {
    if (path === undefined) return false;
    return workspace.wentAway(path);
  }

  function guard(work: () => void): void {
    try {
      work();
    } catch (error) {
      log(error);
    }
  }

  // Requests

  function snapshotOf(uri: string): Snapshot | undefined {
    const path = pathOf(uri);
    if (path === undefined) return undefined;
    // What is asked about a file that is not there is no reason to take it for one.
    if (!open.has(path) && files.kindOf(path) !== 'file') return undefined;
    const project = (open.has(path) ? workspace.projectOf(path) : workspace.askedAbout(path))?.project;
    if (!project) return undefined;
    const source = project.sources.get(path);
    return source && { project, source, path };
  }

  connection.languages.diagnostics.on(async ({ textDocument: { uri }, previousResultId }, token) => {
    // However an address is spelled, it is told under the one that we know the file by.
    const path = pathOf(uri);
    const known = path === undefined ? uri : uriOfFile(path);
    await toldOf(known, token);
    if (token.isCancellationRequested) throw cancelled();
    return mailbox.report(known, previousResultId);
  });
  connection.languages.diagnostics.onWorkspace(async ({ previousResultIds }, token, _, parts) => {
    const versionOf = (uri: string): number | null => open.get(pathOf(uri) ?? '')?.version ?? null;
    let previous: readonly PreviousResultId[] = previousResultIds;
    let isBegun = false;
    // What is known so far is said of no version, and ahead of the rest.
    const tellPart = (uri: string): void => {
      const { resultId, ...report } = mailbox.report(uri, previous.find((one) => one.uri === uri)?.value);
      if (resultId === undefined || report.kind === 'unchanged') return;
      previous = [...previous.filter((one) => one.uri !== uri), { uri, value: resultId }];
      parts?.report({ items: [{ ...report, resultId, uri, version: null }] });
      isBegun = true;
    };
    const leave = parts ? impatient.wait(undefined, token, tellPart) : undefined;
    await settled(token, 'told').finally(leave);
    if (token.isCancellationRequested) throw cancelled();
    const items = mailbox.workspaceReport(previous, versionOf);
    if (!isBegun) return { items };
    // An answer that was begun in parts ends in parts.
    parts?.report({ items });
    return { items: [] };
  });

  /**
   * Until all is told, or as much as is known so far of a document that is typed in. That only to who can be told to ask
   * again: any other would be left with half of it.
   */
  function toldOf(uri: string, token: CancellationToken): Promise<void> {
    return new Promise((resolve, reject) => {
      const leave = impatient.wait(uri, token, () => {
        if (!refreshes) return;
        toldSoFar.add(uri);
        leave();
        resolve();
      });
      settled(token, 'told').then(resolve, reject).finally(leave);
    });
  }

  /** Until everything is up to date, and told where that is asked for, or nobody wants to know any more. */
  function settled(token: CancellationToken, how: 'settled' | 'told' = 'settled'): Promise<void> {
    return new Promise((resolve, reject) => {
      const watch = token.onCancellationRequested(() => resolve());
      Promise.resolve(loading)
        .then(() => refresher[how]())
        .then(resolve, reject)
        .finally(() => watch.dispose());
    });
  }

  const questions = createQuestions({
    isOver: () => isOver,
    loading: () => loading,
    settled,
    versionOf: (uri) => open.get(pathOf(uri) ?? '')?.version,
    snapshotOf,
    loaded: () => lookedAtFirst(workspace, open),
    startPlanner: () => host.planThread(() => options.planWorker),
    showWork: (title) => (showsProgress ? showWork(connection, title, log) : unshownWork),
    log,
  });

  addFeatures(connection, {
    uriOfFile,
    pageOf,
    client: () => client,
    projects: () => lookedAtFirst(workspace, open).map((p) => p.project),
    loaded: () => lookedAtFirst(workspace, open),
    versionOf: (file) => open.get(file)?.version ?? null,
    versionedEdits: () => versionedEdits,
    snippets: () => snippets,
    planOf: plans.made,
    runsCommands: () => runsCommands,
    settings: settings.now,
    onClosed: (forget) => forgetting.push(forget),
    planFigures: plans.figures,
    log,
    ...questions,
  });

  connection.listen();
}

const folderChanges = {
  filters: [{ pattern: { glob: '**', matches: 'folder' as const } }],
};

/** The folders that are open; a client that knows of one only names it in the way of an older protocol. */
function rootsOf({ workspaceFolders, rootUri, rootPath }: InitializeParams): string[] {
  if (workspaceFolders && workspaceFolders.length > 0) return pathsOf(workspaceFolders);
  return pathsOf([{ uri: rootUri ?? (rootPath ? uriOf(rootPath) : '') }]);
}

function pathsOf(named: readonly { readonly uri: string }[]): string[] {
  return named.flatMap(({ uri }) => pathOf(uri) ?? []);
}

/** Projects with open documents go before the others. */
function lookedAtFirst(workspace: Workspace, open: ReadonlyMap<string, OpenDocument>): LoadedProject[] {
  const first = new Set([...open.keys()].map((path) => workspace.projectOf(path)).filter((p) => p !== undefined));
  return [...first, ...workspace.projects.filter((p) => !first.has(p))];
}
