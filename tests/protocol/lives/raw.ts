/**
 * A client that keeps to no protocol: it writes bytes to the built server, and sees all that comes back. Reading can be
 * stopped. `stillWorks` is what each abuse ends with.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { createServer, type Socket } from 'node:net';
import { dirname, join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { expect } from 'vitest';
import { command, folderWith, uriOf } from '../client.ts';

export interface Answer {
  readonly id?: number | string | null;
  readonly method?: string;
  readonly params?: never;
  readonly result?: unknown;
  readonly error?: { readonly code: number; readonly message: string };
}

export interface Raw {
  readonly process: ChildProcess;
  /** What the server reads, and what it writes. */
  readonly input: Writable;
  readonly output: Readable;
  readonly write: (bytes: string | Uint8Array) => void;
  /** A message, well framed. */
  readonly send: (message: unknown) => void;
  /** A request; resolves with its answer, whatever that is. */
  readonly ask: (method: string, params?: unknown) => Promise<Answer>;
  readonly tell: (method: string, params?: unknown) => void;
  /** All that has come, in order. */
  readonly got: Answer[];
  readonly until: (holds: () => boolean) => Promise<void>;
  readonly stderr: () => string;
  /** The exit status, once it ends. */
  readonly status: Promise<number | null>;
  readonly stopReading: () => void;
  readonly goOnReading: () => void;
}

const running = new Set<Raw['process']>();

export function endRaw(): void {
  for (const child of running) child.kill();
  running.clear();
}

export interface RawOptions {
  /** For Node itself. */
  readonly args?: readonly string[];
  /** Another command than the one that was built. */
  readonly command?: string;
}

export function startRaw({ args = [], command: own = command }: RawOptions = {}): Raw {
  const child = spawn(process.execPath, [...args, own, 'language-server', '--stdio'], {
    stdio: ['pipe', 'pipe', 'pipe'],
  });
  return rawOver(child, child.stdin, child.stdout, framing);
}

/** The other ways in which a client and the server can meet. */
export const otherWays = ['pipe', 'socket', 'ipc'] as const;
export type OtherWay = (typeof otherWays)[number];

let pipes = 0;

/** The server's own bundle, as VS Code starts it; or the command, where it is met over a pipe or a socket. */
export async function startRawOver(way: OtherWay, by: 'bundle' | 'command' = 'bundle'): Promise<Raw> {
  const script = by === 'bundle' ? [join(dirname(command), 'server.cjs')] : [command, 'language-server'];
  if (way === 'ipc') {
    // Node speaks over a pair of sockets, a line of JSON a message; here nobody but the test reads and writes them.
    const child = spawn(process.execPath, [...script, '--node-ipc'], {
      stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
      env: { ...process.env, NODE_CHANNEL_FD: '3', NODE_CHANNEL_SERIALIZATION_MODE: 'json' },
    });
    const channel = child.stdio[3] as Socket;
    return rawOver(child, channel, channel, lines);
  }
  const meeting = createServer();
  const where = way === 'pipe' ? join(folder.path, `meeting-${++pipes}.sock`) : '127.0.0.1';
  await new Promise<void>((go) => {
    if (way === 'pipe') meeting.listen(where, go);
    else meeting.listen(0, where, go);
  });
  const address = meeting.address();
  const word = typeof address === 'string' ? `--pipe=${where}` : `--socket=${address?.port}`;
  const met = new Promise<Socket>((go) => meeting.once('connection', go));
  const child = spawn(process.execPath, [...script, word], { stdio: ['ignore', 'pipe', 'pipe'] });
  const socket = await met;
  meeting.close();
  return rawOver(child, socket, socket, framing);
}

interface Framing {
  readonly frame: (message: unknown) => string;
  /** The first message of what has come, and how long it is with what is around it; or how much has to have come for it to be there. */
  readonly first: (bytes: Buffer) => { readonly text: string; readonly length: number } | { readonly wanted: number };
}

const framing: Framing = {
  frame,
  first(bytes) {
    const end = bytes.indexOf('\r\n\r\n');
    if (end < 0) return { wanted: 0 };
    const length = end + 4 + Number(/Content-Length: (\d+)/.exec(bytes.toString('latin1', 0, end))?.[1]);
    return bytes.length < length ? { wanted: length } : { text: bytes.toString('utf8', end + 4, length), length };
  },
};

const lines: Framing = {
  frame: (message) => `${JSON.stringify(message)}\n`,
  first(bytes) {
    const end = bytes.indexOf('\n');
    return end < 0 ? { wanted: 0 } : { text: bytes.toString('utf8', 0, end), length: end + 1 };
  },
};

function rawOver(child: ChildProcess, input: Writable, output: Readable, { frame: framed, first }: Framing): Raw {
  running.add(child);
  input.on('error', () => undefined);
  output.on('error', () => undefined);
  const got: Answer[] = [];
  let stderr = '';
  child.stderr?.setEncoding('utf8').on('data', (text: string) => {
    stderr += text;
    wakeAll();
  });
  let rest = Buffer.alloc(0);
  let parts: Buffer[] = [];
  let wake: (() => void)[] = [];
  const wakeAll = (): void => {
    const waiting = wake;
    wake = [];
    for (const go of waiting) go();
  };
  let wanted = 0;
  output.on('data', (data: Buffer) => {
    parts.push(data);
    if (parts.reduce((sum, part) => sum + part.length, rest.length) < wanted) return;
    rest = Buffer.concat([rest, ...parts]);
    parts = [];
    wanted = 0;
    for (;;) {
      const next = first(rest);
      if ('wanted' in next) {
        wanted = next.wanted;
        break;
      }
      got.push(JSON.parse(next.text));
      rest = rest.subarray(next.length);
    }
    wakeAll();
  });
  const status = new Promise<number | null>((resolve) =>
    child.once('exit', (code) => {
      running.delete(child);
      resolve(code);
      wakeAll();
    }),
  );
  let ended = false;
  void status.then(() => {
    ended = true;
  });
  let last = 0;
  const send = (message: unknown): void => {
    input.write(framed(message));
  };
  const raw: Raw = {
    process: child,
    input,
    output,
    write: (bytes) => void input.write(bytes),
    send,
    tell: (method, params) => send({ jsonrpc: '2.0', method, params }),
    async ask(method, params) {
      const id = `own-${++last}`;
      send({ jsonrpc: '2.0', id, method, params });
      let answer: Answer | undefined;
      await raw.until(() => {
        answer = got.find((one) => one.id === id && one.method === undefined);
        return answer !== undefined;
      });
      return answer as Answer;
    },
    got,
    async until(holds) {
      while (!holds()) {
        if (ended) throw new Error(`the server ended: ${stderr.slice(-2000)}`);
        await new Promise<void>((go) => wake.push(go));
      }
    },
    stderr: () => stderr,
    status,
    stopReading: () => void output.pause(),
    goOnReading: () => void output.resume(),
  };
  return raw;
}

export function frame(message: unknown): string {
  return frameOf(JSON.stringify(message));
}

export function frameOf(text: string): string {
  return `Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`;
}

export const good = `board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft unlimited }
template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  zone main on back { width fill; shelf top { at 72in; board white-12 } }
}
unit A-101 linen { width 36in }
`;

export const folder = folderWith({ 'project.closet': 'project "Quarry Lane" { show inches }\n', 'good.closet': good });
export const uri = uriOf(`${folder.path}/good.closet`);
export const textDocument = { uri };

export const initializing = (more: object = {}) => ({
  processId: process.pid,
  rootUri: null,
  workspaceFolders: [{ uri: uriOf(folder.path), name: 'flats' }],
  capabilities: { textDocument: { publishDiagnostics: { versionSupport: true } } },
  ...more,
});

/** One that is ready to be abused. */
export async function startedRaw(options?: RawOptions, more?: object): Promise<Raw> {
  return ready(startRaw(options), more);
}

export const startedOver = async (way: OtherWay): Promise<Raw> => ready(await startRawOver(way));

async function ready(raw: Raw, more?: object): Promise<Raw> {
  expect((await raw.ask('initialize', initializing(more))).error).toBeUndefined();
  raw.tell('initialized', {});
  return raw;
}

let unsaved = 0;

/** A new text with one mistake is told of just so, and what stands in it can be asked about. */
export async function stillWorks(raw: Raw): Promise<void> {
  const own = `untitled:Untitled-${++unsaved}`;
  raw.tell('textDocument/didOpen', {
    textDocument: { uri: own, languageId: 'closet', version: 7, text: 'board oak { depth 12in; thickness 3/4ix }\n' },
  });
  const toldOf = () =>
    raw.got.findLast(
      ({ method, params }) =>
        method === 'textDocument/publishDiagnostics' && (params as { uri?: string } | undefined)?.uri === own,
    )?.params as { diagnostics: { code: string; range: { start: { character: number } } }[] } | undefined;
  await raw.until(() => toldOf() !== undefined);
  const errors = toldOf()?.diagnostics.filter(({ code }) => code !== 'no-project') ?? [];
  expect(errors.map(({ range }) => range.start.character)).toEqual([37]);
  const hover = await raw.ask('textDocument/hover', {
    textDocument: { uri: own },
    position: { line: 0, character: 7 },
  });
  expect(JSON.stringify(hover.result)).toContain('oak');
  raw.tell('textDocument/didClose', { textDocument: { uri: own } });
}

/** The codes of the answers that belong to no request. */
export function refusals(raw: Raw): (number | undefined)[] {
  return raw.got.filter(({ id }) => id === null).map(({ error }) => error?.code);
}
