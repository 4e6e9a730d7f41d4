/**
 * How soon an editor sees what it asked for: the built server over standard input and output, and peers on the same
 * amount of text in the same run. Printed, never asserted. Run with `npm run bench:editor [-- --sizes 100,1000]`.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  createProtocolConnection,
  type ProtocolConnection,
  type ServerCapabilities,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { ours, oursInTemplate, type Peer, peers, type Sample } from './peers.ts';

const rounds = 30;
/** Edits that come first and do not count. */
const warmup = 4;
/** Nobody has a template of more lines: its wall would be longer than any, which is told. */
const longest = 100;
/** A size is left after this long, in milliseconds. */
const patience = 40_000;

const argument = (name: string): number[] | undefined => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? undefined : process.argv[at + 1]?.split(',').map(Number);
};
const sizes = argument('sizes') ?? [100, 1000, 10_000, 50_000];
const files = argument('files') ?? [10, 100, 1000];

interface Severe {
  readonly severity?: number;
}

interface Running {
  readonly connection: ProtocolConnection;
  readonly process: ChildProcess;
  readonly capabilities: ServerCapabilities;
  readonly folder: string;
  /** From the start of the process until it has said what it can do, in milliseconds. */
  readonly started: number;
  readonly from: number;
  /** Errors of each document as they were last sent, and who waits for the next. */
  readonly sent: Map<string, number>;
  wake: (() => void)[];
}

/** Starts a server in a folder of its own with these files in it. */
async function start(peer: Peer, texts: Readonly<Record<string, string>> = {}): Promise<Running> {
  const folder = mkdtempSync(join(tmpdir(), 'storypole-bench-'));
  for (const [name, text] of Object.entries({ ...peer.files, ...texts })) writeFileSync(join(folder, name), text);
  const from = performance.now();
  const [command, ...args] = peer.command;
  const child = spawn(command, args, { stdio: ['pipe', 'pipe', 'ignore'], cwd: folder });
  if (!child.stdout || !child.stdin) throw new Error('no pipes');
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const settings = peer.settings?.(folder) ?? {};
  connection.onRequest('workspace/configuration', ({ items }: { items: { section?: string }[] }) =>
    items.map(({ section }) => settings[section ?? ''] ?? null),
  );
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/diagnostic/refresh', () => null);
  const running = { sent: new Map<string, number>(), wake: [] as (() => void)[] };
  connection.onNotification(
    'textDocument/publishDiagnostics',
    ({ uri, diagnostics }: { uri: string; diagnostics: Severe[] }) => {
      running.sent.set(uri, errorsOf(diagnostics));
      const waiting = running.wake;
      running.wake = [];
      for (const go of waiting) go();
    },
  );
  connection.listen();
  const { capabilities } = await connection.sendRequest<{ capabilities: ServerCapabilities }>('initialize', {
    processId: process.pid,
    rootUri: `file://${folder}`,
    workspaceFolders: [{ uri: `file://${folder}`, name: 'bench' }],
    initializationOptions: peer.initializationOptions,
    capabilities: {
      textDocument: { diagnostic: {}, publishDiagnostics: { versionSupport: true }, completion: {}, hover: {} },
      workspace: { configuration: true, didChangeConfiguration: {} },
    },
  });
  await connection.sendNotification('initialized', {});
  if (peer.settings) await connection.sendNotification('workspace/didChangeConfiguration', { settings });
  return Object.assign(running, {
    connection,
    process: child,
    capabilities,
    folder,
    from,
    started: performance.now() - from,
  });
}

function stop({ connection, process: child, folder }: Running): void {
  connection.dispose();
  child.kill();
  rmSync(folder, { recursive: true, force: true });
}

/** Warnings too: what a schema does not allow is one. */
const errorsOf = (list: readonly Severe[]): number => list.filter(({ severity = 1 }) => severity <= 2).length;

/** Resident memory in megabytes of a server and what it has started, where the system tells. */
function memoryOf({ process: child }: Running): number {
  let kilobytes = 0;
  const add = (pid: number): void => {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    kilobytes += Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0);
    const children = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim();
    for (const one of children === '' ? [] : children.split(' ')) add(Number(one));
  };
  try {
    add(child.pid ?? 0);
  } catch {
    return Math.round(kilobytes / 1024);
  }
  return Math.round(kilobytes / 1024);
}

/** Waits until a document has as many errors as it should, asked for where the server wants to be asked. */
async function shows(server: Running, uri: string, isRight: (errors: number) => boolean): Promise<void> {
  const { connection, capabilities, sent } = server;
  for (const until = performance.now() + patience; performance.now() < until; ) {
    if (capabilities.diagnosticProvider) {
      const report = await connection.sendRequest<{ items?: readonly Severe[] }>('textDocument/diagnostic', {
        textDocument: { uri },
      });
      if (isRight(errorsOf(report.items ?? []))) return;
      await new Promise((resolve) => setTimeout(resolve, 1));
    } else {
      const errors = sent.get(uri);
      if (errors !== undefined && isRight(errors)) return;
      await new Promise<void>((resolve) => {
        const late = setTimeout(resolve, Math.max(0, until - performance.now()));
        server.wake.push(() => {
          clearTimeout(late);
          resolve();
        });
      });
    }
  }
  throw new Error(`${uri} did not show what was waited for`);
}

function positionIn(text: string, offset: number): { line: number; character: number } {
  const before = text.slice(0, offset);
  return { line: before.split('\n').length - 1, character: offset - (before.lastIndexOf('\n') + 1) };
}

/** An open document with an edit that makes and mends an error in turn. */
async function opened(server: Running, peer: Peer, uri: string, sample: Omit<Sample, 'hover' | 'complete'>) {
  const { connection } = server;
  const { text, at, good, bad } = sample;
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: peer.languageId, version: 1, text },
  });
  const begin = positionIn(text, at);
  let version = 1;
  return {
    /** Makes the next edit; answers whether it made an error. */
    async edit(): Promise<boolean> {
      const makes = version % 2 === 1;
      version++;
      const end = { line: begin.line, character: begin.character + (makes ? good : bad).length };
      await connection.sendNotification('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ range: { start: begin, end }, text: makes ? bad : good }],
      });
      return makes;
    },
  };
}

const rightAfter = (makes: boolean) => (errors: number) => (makes ? errors > 0 : errors === 0);
const pause = () => new Promise((resolve) => setTimeout(resolve, 30));

function median(times: readonly number[]): number {
  const sorted = times.slice(times.length > 2 * warmup ? warmup : 0).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

type Figures = Record<string, number>;

async function single(peer: Peer, lines: number): Promise<Figures> {
  const server = await start(peer);
  const sample = peer.sample(lines);
  const uri = `file://${server.folder}/sample.${peer.extension}`;
  const document = await opened(server, peer, uri, sample);
  await shows(server, uri, (errors) => errors === 0);
  const figures: Figures = { start: server.started, 'start to diagnostics': performance.now() - server.from };
  const times: number[] = [];
  const give = performance.now() + patience;
  for (let i = 0; i < rounds && performance.now() < give; i++) {
    await pause();
    const from = performance.now();
    await shows(server, uri, rightAfter(await document.edit()));
    times.push(performance.now() - from);
  }
  figures.keystroke = median(times);
  const at = (offset: number) => ({ textDocument: { uri }, position: positionIn(sample.text, offset) });
  const { capabilities } = server;
  const requests: readonly (readonly [name: string, offered: unknown, method: string, params: object])[] = [
    ['hover', capabilities.hoverProvider, 'textDocument/hover', at(sample.hover)],
    ['completion', capabilities.completionProvider, 'textDocument/completion', at(sample.complete)],
    ['symbols', capabilities.documentSymbolProvider, 'textDocument/documentSymbol', { textDocument: { uri } }],
    [
      'formatting',
      capabilities.documentFormattingProvider,
      'textDocument/formatting',
      { textDocument: { uri }, options: { tabSize: 2, insertSpaces: true } },
    ],
  ];
  for (const [name, offered, method, params] of requests) {
    if (!offered) continue;
    const took: number[] = [];
    const enough = performance.now() + patience / 3;
    for (let i = 0; i < rounds && performance.now() < enough; i++) {
      await pause();
      const makes = await document.edit();
      const from = performance.now();
      await ask(server, method, params);
      took.push(performance.now() - from);
      await shows(server, uri, rightAfter(makes));
    }
    figures[name] = median(took);
  }
  figures.MB = memoryOf(server);
  figures['MB in a pause'] = await mostMemory(server);
  stop(server);
  return figures;
}

/** What is done once nobody types, as planning is, takes memory too: the most of two seconds, in megabytes. */
async function mostMemory(server: Running): Promise<number> {
  let most = 0;
  for (let i = 0; i < 20; i++) {
    await new Promise((resolve) => setTimeout(resolve, 100));
    most = Math.max(most, memoryOf(server));
  }
  return most;
}

/** One that is answered with a cancellation is asked once more. */
async function ask({ connection }: Running, method: string, params: object): Promise<void> {
  await connection.sendRequest(method, params).catch(() => connection.sendRequest(method, params));
}

/** An edit of a shared file until three open dependants show it, and, where they are told of their own accord, all. */
async function dependants(peer: Peer, count: number): Promise<Figures> {
  const { shared } = peer;
  if (!shared) return {};
  const name = (i: number) => `dep${i}.${peer.extension}`;
  const sharedName = `shared.${peer.extension}`;
  const texts = Object.fromEntries(Array.from({ length: count }, (_, i) => [name(i), shared.dependant(i)]));
  const server = await start(peer, { ...texts, [sharedName]: shared.sample.text });
  const uriOf = (file: string) => `file://${server.folder}/${file}`;
  const open = [0, Math.floor(count / 2), count - 1];
  for (const i of open) {
    await server.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri: uriOf(name(i)), languageId: peer.languageId, version: 1, text: shared.dependant(i) },
    });
  }
  const document = await opened(server, peer, uriOf(sharedName), shared.sample);
  for (const i of open) await shows(server, uriOf(name(i)), (errors) => errors === 0);
  const [times, whole]: [number[], number[]] = [[], []];
  const isSent = !server.capabilities.diagnosticProvider;
  // Which files are told of their own accord is seen at the first edit, which does not count.
  const dependants = () => [...server.sent.keys()].filter((uri) => uri.includes('/dep'));
  await document.edit();
  for (const until = performance.now() + 3000; dependants().length < count && performance.now() < until; )
    await pause();
  const told = isSent ? dependants() : [];
  for (let i = 0; i < rounds; i++) {
    await pause();
    const from = performance.now();
    const right = rightAfter(await document.edit());
    for (const k of open) await shows(server, uriOf(name(k)), right);
    times.push(performance.now() - from);
    for (const uri of told) await shows(server, uri, right);
    whole.push(performance.now() - from);
  }
  stop(server);
  return {
    'open dependants': median(times),
    ...(told.length > open.length && { [`all ${told.length}`]: median(whole) }),
  };
}

const shown = (value: number): string => value.toFixed(value < 10 ? 1 : 0);
const line = (figures: Figures): string =>
  Object.entries(figures)
    .map(([name, value]) => `${name} ${shown(value)}`)
    .join(', ');

async function main(): Promise<void> {
  const others = peers();
  console.log('Medians in milliseconds, memory in MB. Right behind an edit: hover, completion, symbols, formatting.');
  for (const lines of sizes) {
    console.log(`${lines.toLocaleString('en')} lines`);
    const own = await single(ours, lines);
    console.log(`  ${ours.name}: ${line(own)}`);
    for (const peer of others) {
      const figures = await single(peer, lines);
      const ratios = Object.entries(figures).flatMap(([name, value]) =>
        own[name] === undefined ? [] : [`${name} ${(own[name] / value).toFixed(2)}`],
      );
      console.log(`  ${peer.name}: ${line(figures)}\n    ours over it: ${ratios.join(', ')}`);
    }
    if (lines <= longest) console.log(`  ${oursInTemplate.name}: ${line(await single(oursInTemplate, lines))}`);
  }
  for (const count of files) {
    console.log(`a shared declaration edited, ${count.toLocaleString('en')} files that use it`);
    for (const peer of [ours, ...others.filter(({ shared }) => shared)]) {
      console.log(`  ${peer.name}: ${line(await dependants(peer, count))}`);
    }
  }
}

await main();
