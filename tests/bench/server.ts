/** A language server spoken to over standard input and output, and how long an edit takes to show. */
import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import {
  createProtocolConnection,
  type ProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

export interface Server {
  readonly connection: ProtocolConnection;
  readonly process: ChildProcess;
  /** Asks for diagnostics of its own accord instead of waiting for them. */
  readonly pull: boolean;
}

export async function start(command: string, args: readonly string[], pull: boolean, folder: string): Promise<Server> {
  const child = spawn(command, args, { stdio: ['pipe', 'pipe', 'ignore'] });
  if (!child.stdout || !child.stdin) throw new Error('no pipes');
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  connection.onRequest('workspace/configuration', (p: { items: unknown[] }) => p.items.map(() => null));
  connection.onRequest('client/registerCapability', () => null);
  connection.listen();
  const textDocument = pull ? { diagnostic: {} } : { publishDiagnostics: { versionSupport: true } };
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: `file://${folder}`,
    capabilities: { textDocument },
    workspaceFolders: null,
  });
  await connection.sendNotification('initialized', {});
  return { connection, process: child, pull };
}

export function stop({ connection, process: child }: Server): void {
  connection.dispose();
  child.kill();
}

/** Resident memory in megabytes, where the system tells. */
export function memoryOf({ process: child }: Server): number {
  try {
    const status = readFileSync(`/proc/${child.pid}/status`, 'utf8');
    return Math.round(Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024);
  } catch {
    return 0;
  }
}

interface Severe {
  readonly severity?: number;
}

const errorsOf = (list: readonly Severe[]): number => list.filter((d) => d.severity === 1).length;

interface Diagnostics {
  readonly uri: string;
  readonly version?: number;
  readonly diagnostics: readonly Severe[];
}

export interface EditTimes {
  /** From opening to the first diagnostics, in milliseconds. */
  readonly open: number;
  /** Median and greatest time from an edit to diagnostics that show it. */
  readonly median: number;
  readonly worst: number;
}

/** Opens a text and makes and mends one error in turn, `rounds` times. */
export async function timeEdits(
  server: Server,
  uri: string,
  languageId: string,
  text: string,
  at: number,
  bad: string,
  rounds: number,
): Promise<EditTimes> {
  const { connection, pull } = server;
  const before = text.slice(0, at);
  const line = before.split('\n').length - 1;
  const character = at - (before.lastIndexOf('\n') + 1);
  let waiting: ((d: Diagnostics) => void) | undefined;
  connection.onNotification('textDocument/publishDiagnostics', (d: Diagnostics) => waiting?.(d));
  const shown = async (version: number, isRight: (count: number) => boolean): Promise<void> => {
    for (;;) {
      if (pull) {
        const { items } = await connection.sendRequest<{ items: readonly Severe[] }>('textDocument/diagnostic', {
          textDocument: { uri },
        });
        if (isRight(errorsOf(items))) return;
        await new Promise((resolve) => setTimeout(resolve, 1));
      } else {
        const d = await new Promise<Diagnostics>((resolve) => {
          waiting = resolve;
        });
        if (d.uri === uri && (d.version ?? version) >= version && isRight(errorsOf(d.diagnostics))) return;
      }
    }
  };
  const started = performance.now();
  const first = pull ? undefined : shown(1, () => true);
  await connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId, version: 1, text } });
  await (first ?? shown(1, () => true));
  const open = performance.now() - started;
  const base = 0;
  const times: number[] = [];
  for (let i = 0; i < rounds; i++) {
    await new Promise((resolve) => setTimeout(resolve, 30));
    const making = i % 2 === 0;
    const range = { start: { line, character }, end: { line, character: character + (making ? 0 : bad.length) } };
    const isRight = (count: number) => (making ? count > base : count === base);
    const done = pull ? undefined : shown(i + 2, isRight);
    const from = performance.now();
    await connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version: i + 2 },
      contentChanges: [{ range, text: making ? bad : '' }],
    });
    await (done ?? shown(i + 2, isRight));
    times.push(performance.now() - from);
  }
  const sorted = times.slice(4).sort((a, b) => a - b);
  return { open, median: sorted[Math.floor(sorted.length / 2)] ?? 0, worst: sorted.at(-1) ?? 0 };
}
