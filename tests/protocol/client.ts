/**
 * An editor, as far as the built server can tell: it is spawned, and spoken to over standard input and
 * output with the protocol library's own client. Diagnostics are kept as they come.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  createProtocolConnection,
  type Diagnostic,
  type FileSystemWatcher,
  type InitializeResult,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  type RegistrationParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';

export const command = resolve(import.meta.dirname, '../../dist/storypole.cjs');

export interface Client {
  readonly connection: ProtocolConnection;
  readonly process: ChildProcess;
  readonly initialized: InitializeResult;
  /** Errors that the server logged. */
  readonly errors: string[];
  /** What the server has asked to be told of. */
  readonly watched: readonly FileSystemWatcher[];
  /** Every publication, in order. */
  readonly published: PublishDiagnosticsParams[];
  /** The latest diagnostics of a document; undefined where none were ever sent. */
  readonly diagnostics: (uri: string) => readonly Diagnostic[] | undefined;
  /** Waits until something holds, looked at again whenever diagnostics come. Rejects where the server ends meanwhile. */
  readonly until: (holds: () => boolean) => Promise<void>;
  readonly open: (uri: string, text: string) => Promise<void>;
  readonly change: (uri: string, version: number, changes: readonly Change[]) => Promise<void>;
  /** Ends the conversation as the protocol asks; answers the exit status. */
  readonly shutDown: () => Promise<number | null>;
}

/** `from` and `to` are `[line, column]`, from 0. */
export interface Change {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly text: string;
}

const running = new Set<ChildProcess>();

export interface MoreOptions {
  readonly initializationOptions?: object;
  /** What else is listened to, by its name. */
  readonly onNotification?: Readonly<Record<string, (params: unknown) => void>>;
  /** What else stands in the request that starts the server, or in place of what stands there. */
  readonly params?: object;
  /** Of the environment, what is to be otherwise. */
  readonly env?: Readonly<Record<string, string>>;
  /** What the server may ask, by its name. */
  readonly onRequest?: Readonly<Record<string, (params: never) => unknown>>;
}

/** Starts the built server for a folder or several. Throws where it has not been built. */
export async function startClient(
  folder: string | readonly string[] | undefined,
  capabilities: object = { workspace: { workspaceFolders: true }, textDocument: {} },
  more: MoreOptions = {},
): Promise<Client> {
  if (!existsSync(command)) throw new Error('dist/storypole.cjs is not there: run npm run bundle first');
  const child = spawn(process.execPath, [command, 'language-server', '--stdio'], {
    stdio: ['pipe', 'pipe', 'pipe'],
    env: { ...process.env, ...more.env },
  });
  running.add(child);
  // A server that ends answers nothing more: whoever waits for it is told why, and does not wait in vain.
  let stderr = '';
  child.stderr.on('data', (data: Buffer) => {
    stderr += data.toString();
  });
  const ended = new Promise<never>((_, reject) => {
    child.once('close', (code, signal) => reject(new Error(`the server ended (${code ?? signal}): ${stderr.trim()}`)));
  });
  ended.catch(() => undefined);
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const published: PublishDiagnosticsParams[] = [];
  const errors: string[] = [];
  let wake: (() => void)[] = [];
  connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
    published.push(params);
    const waiting = wake;
    wake = [];
    for (const go of waiting) go();
  });
  connection.onNotification('window/logMessage', ({ type, message }: { type: number; message: string }) => {
    if (type === 1) errors.push(message);
  });
  const watched: FileSystemWatcher[] = [];
  connection.onRequest('client/registerCapability', ({ registrations }: RegistrationParams) => {
    for (const { method, registerOptions } of registrations)
      if (method === 'workspace/didChangeWatchedFiles') watched.push(...registerOptions.watchers);
    return null;
  });
  for (const [name, told] of Object.entries(more.onNotification ?? {})) connection.onNotification(name, told);
  for (const [name, answer] of Object.entries(more.onRequest ?? {})) connection.onRequest(name, answer);
  connection.listen();
  const folders = folder === undefined ? null : [folder].flat().map((f) => ({ uri: uriOf(f), name: 'folder' }));
  const answer = connection.sendRequest<InitializeResult>('initialize', {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: folders,
    capabilities,
    ...(more.initializationOptions && { initializationOptions: more.initializationOptions }),
    ...more.params,
  });
  const initialized = await Promise.race([answer, ended]);
  await connection.sendNotification('initialized', {});
  return {
    connection,
    process: child,
    initialized,
    errors,
    watched,
    published,
    diagnostics: (uri) => published.findLast((p) => p.uri === uri)?.diagnostics,
    async until(holds) {
      while (!holds()) await Promise.race([new Promise<void>((go) => wake.push(go)), ended]);
    },
    open: (uri, text) =>
      connection.sendNotification('textDocument/didOpen', {
        textDocument: { uri, languageId: 'closet', version: 1, text },
      }),
    change: (uri, version, changes) =>
      connection.sendNotification('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: changes.map(({ from, to, text }) => ({
          range: { start: { line: from[0], character: from[1] }, end: { line: to[0], character: to[1] } },
          text,
        })),
      }),
    async shutDown() {
      const status = new Promise<number | null>((resolve) => child.once('exit', resolve));
      await connection.sendRequest('shutdown');
      await connection.sendNotification('exit');
      const code = await status;
      connection.dispose();
      running.delete(child);
      return code;
    },
  };
}

/** Ends what a failed test left running. */
export function endAll(): void {
  for (const child of running) child.kill();
  running.clear();
}

/** The address of a file; an address is left as it is. */
export function uriOf(path: string): string {
  return /^[a-z-]+:\/\//.test(path) ? path : pathToFileURL(path).href;
}

/** A folder of its own with these files in it, and what takes it away. */
export function folderWith(files: Readonly<Record<string, string>>): { path: string; remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'storypole-protocol-'));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(path, name)), { recursive: true });
    writeFileSync(join(path, name), text);
  }
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

/** `line:from-to severity rule`, lines and columns from 1, as people count. */
export function told(diagnostics: readonly Diagnostic[] | undefined): string[] {
  const severities = ['', 'error', 'warning', 'note', 'hint'];
  return (diagnostics ?? []).map(
    ({ range: { start, end }, severity, code }) =>
      `${start.line + 1}:${start.character + 1}-${end.character + 1} ${severities[severity ?? 0]} ${code}`,
  );
}
