/** A server on a folder, as an editor starts it, with the diagnostics that it has told last. */
import { type ChildProcess, spawn } from 'node:child_process';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  createProtocolConnection,
  type Diagnostic,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { type Inspector, inspect } from './inspector.ts';

const command = resolve(import.meta.dirname, '../../../dist/storypole.cjs');

export interface Session {
  readonly connection: ProtocolConnection;
  readonly process: ChildProcess;
  readonly inspector: Inspector;
  readonly uriOf: (file: string) => string;
  readonly told: Map<string, readonly Diagnostic[]>;
  /** Resolves once a document has been told of in this version, or a later one. */
  readonly toldOf: (uri: string, version: number) => Promise<void>;
  readonly plan: () => string;
  /** Errors in the log, and whatever was written to standard error. */
  readonly faults: string[];
  readonly stop: () => Promise<void>;
}

/** `settings` answers what the server asks about its configuration. */
export async function startSession(folder: string, settings: () => unknown): Promise<Session> {
  const child = spawn(process.execPath, ['--inspect=0', command, 'language-server', '--stdio'], {
    stdio: ['pipe', 'pipe', 'pipe'],
  });
  const faults: string[] = [];
  const address = await new Promise<string>((go, stop) => {
    child.once('exit', (code) => stop(new Error(`the server ended (${code})`)));
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      const found = /ws:\/\/\S+/.exec(text)?.[0];
      if (found) go(found);
      const said = text.split('\n').filter((line) => line !== '' && !/^(Debugger |For help|Waiting)/.test(line));
      faults.push(...said);
    });
  });
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const told = new Map<string, readonly Diagnostic[]>();
  const versions = new Map<string, number>();
  let waiting: { readonly uri: string; readonly version: number; readonly go: () => void }[] = [];
  let plan = 'none';
  connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
    const { uri, diagnostics, version = 0 } = params;
    told.set(uri, diagnostics);
    versions.set(uri, version);
    const due = waiting.filter((one) => one.uri === uri && one.version <= version);
    waiting = waiting.filter((one) => !due.includes(one));
    for (const { go } of due) go();
  });
  connection.onNotification('storypole/planStatus', ({ state }: { state: string }) => {
    plan = state;
  });
  connection.onNotification('storypole/projectChanged', () => undefined);
  connection.onNotification('window/logMessage', ({ type, message }: { type: number; message: string }) => {
    if (type === 1) faults.push(message);
  });
  connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) => items.map(settings));
  for (const method of ['client/registerCapability', 'window/workDoneProgress/create'])
    connection.onRequest(method, () => null);
  for (const shown of ['codeLens', 'inlayHint', 'semanticTokens', 'diagnostic'])
    connection.onRequest(`workspace/${shown}/refresh`, () => null);
  connection.listen();
  const uriOf = (file: string): string => pathToFileURL(join(folder, file)).href;
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: [{ uri: pathToFileURL(folder).href, name: 'soak' }],
    initializationOptions: { planStatus: true, projectView: true, commands: true, diagnostics: 'push' },
    capabilities: {
      window: { workDoneProgress: true },
      workspace: {
        configuration: true,
        workspaceFolders: true,
        didChangeWatchedFiles: { dynamicRegistration: true },
        didChangeConfiguration: { dynamicRegistration: true },
        codeLens: { refreshSupport: true },
        inlayHint: { refreshSupport: true },
        semanticTokens: { refreshSupport: true },
        workspaceEdit: { documentChanges: true },
      },
      textDocument: {
        publishDiagnostics: { versionSupport: true, relatedInformation: true },
        completion: { completionItem: { snippetSupport: true } },
        codeAction: { dataSupport: true, resolveSupport: { properties: ['edit'] }, disabledSupport: true },
        rename: { prepareSupport: true },
      },
    },
  });
  await connection.sendNotification('initialized', {});
  const inspector = await inspect(address);
  return {
    connection,
    process: child,
    inspector,
    uriOf,
    told,
    toldOf: (uri, version) =>
      (versions.get(uri) ?? -1) >= version
        ? Promise.resolve()
        : new Promise((go) => waiting.push({ uri, version, go })),
    plan: () => plan,
    faults,
    async stop() {
      inspector.close();
      const over = new Promise((go) => child.once('exit', go));
      await connection.sendRequest('shutdown');
      await connection.sendNotification('exit');
      await over;
      connection.dispose();
    },
  };
}

/** Everything that an editor shows of some open documents when nothing is being computed any more. */
export async function shown(session: Session, files: readonly string[]): Promise<Map<string, unknown>> {
  const { connection, uriOf } = session;
  const all = new Map<string, unknown>();
  for (const file of files) {
    const textDocument = { uri: uriOf(file) };
    const range = { start: { line: 0, character: 0 }, end: { line: 200, character: 0 } };
    const { data } = await connection.sendRequest<{ data: unknown }>('textDocument/semanticTokens/full', {
      textDocument,
    });
    all.set(`colours of ${file}`, data);
    for (const method of ['documentSymbol', 'foldingRange', 'documentLink'])
      all.set(`${method} of ${file}`, await connection.sendRequest(`textDocument/${method}`, { textDocument }));
    const hints = await connection.sendRequest<{ label: string; position: unknown }[]>('textDocument/inlayHint', {
      textDocument,
      range,
    });
    all.set(
      `hints of ${file}`,
      hints.map(({ label, position }) => ({ label, position })),
    );
  }
  return all;
}
