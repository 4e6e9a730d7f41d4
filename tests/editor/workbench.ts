/** VS Code in a page of headless Chromium: a server started for one run, and the page that shows it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { ensureHost } from './install-host.ts';

export interface Workbench {
  page: Page;
  /** The page's address, with the folder open and the extension loaded from its source folder. */
  address: string;
  /** What the server printed, for the day it does not work. */
  serverLog(): string;
  /** Ends the browser, the server and everything they started, and removes what they wrote. */
  close(): Promise<void>;
}

export interface Opening {
  /** The folder to open. */
  folder: string;
  /** The extension under development. */
  extension: string;
  /** Settings beside those that every workbench here has. */
  settings?: Readonly<Record<string, unknown>>;
  /** Asks whether the folder is trusted, as VS Code does on a desktop; else everything is. */
  asksForTrust?: boolean;
  /** A suite to run in the extension host; none for a page that is driven from outside. */
  suite?: string;
}

/** A browser that shows one page and asks nobody for anything. */
export const browserArguments: string[] = [
  ...['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'],
  ...['--disable-background-networking', '--disable-component-update', '--disable-sync'],
];

const startLimit = 60_000;

/** Nothing beside the editor (what VS Code offers a newcomer covers half of a page), and nothing that a page does alone. */
export const quiet = {
  'workbench.startupEditor': 'none',
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.tips.enabled': false,
  'chat.disableAIFeatures': true,
  'extensions.ignoreRecommendations': true,
  'git.enabled': false,
  // As on the desktop; a page saves by itself unless it is told not to.
  'files.autoSave': 'off',
  // A cursor that blinks never stands still for a picture.
  'editor.cursorBlinking': 'solid',
};

/** Starts the server and a browser with an empty page; `page.goto(address)` opens VS Code. */
export async function startWorkbench({
  folder,
  extension,
  suite,
  settings,
  asksForTrust,
}: Opening): Promise<Workbench> {
  const host = ensureHost();
  const data = mkdtempSync(path.join(tmpdir(), 'storypole-editor-'));
  mkdirSync(path.join(data, 'data', 'Machine'), { recursive: true });
  writeFileSync(path.join(data, 'data', 'Machine', 'settings.json'), JSON.stringify({ ...quiet, ...settings }));
  const port = await freePort();
  const server = spawn(
    process.execPath,
    [
      host.server,
      ...['--host', '127.0.0.1', '--port', String(port), '--server-data-dir', data],
      ...['--without-connection-token', '--accept-server-license-terms', '--disable-telemetry'],
      // Without it a built VS Code takes no extension and no suite from its address.
      '--enable-smoke-test-driver',
      ...(asksForTrust ? [] : ['--disable-workspace-trust']),
    ],
    { detached: true, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  const lines: string[] = [];
  server.stdout.on('data', (chunk: Buffer) => lines.push(chunk.toString()));
  server.stderr.on('data', (chunk: Buffer) => lines.push(chunk.toString()));

  let browser: Browser | undefined;
  async function close(): Promise<void> {
    await browser?.close();
    await end(server);
    rmSync(data, { recursive: true, force: true, maxRetries: 5 });
  }

  try {
    const origin = `127.0.0.1:${port}`;
    await answering(`http://${origin}/`, server);
    browser = await chromium.launch({
      executablePath: host.chromium,
      args: browserArguments,
    });
    const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
    return { page, address: addressOf(origin, folder, extension, suite), serverLog: () => lines.join(''), close };
  } catch (error) {
    process.stderr.write(lines.join(''));
    await close();
    throw error;
  }
}

function addressOf(origin: string, folder: string, extension: string, suite: string | undefined): string {
  const remote = (file: string) => `vscode-remote://${origin}${file}`;
  const payload = [['extensionDevelopmentPath', remote(extension)]];
  if (suite !== undefined) payload.push(['extensionTestsPath', remote(suite)]);
  return `http://${origin}/?${new URLSearchParams({ folder, payload: JSON.stringify(payload) })}`;
}

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((resolve) => probe.listen(0, '127.0.0.1', resolve));
  const address = probe.address();
  await new Promise((resolve) => probe.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no free port was given');
  return address.port;
}

async function answering(address: string, server: ChildProcess): Promise<void> {
  const until = Date.now() + startLimit;
  while (Date.now() < until) {
    if (server.exitCode !== null) throw new Error(`the VS Code server ended with status ${server.exitCode}`);
    const response = await fetch(address).catch(() => undefined);
    if (response?.ok === true) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`the VS Code server did not answer within ${startLimit / 1000} s`);
}

/** Ends the server with the extension hosts and language servers that it started: they share its process group. */
async function end(server: ChildProcess): Promise<void> {
  if (server.pid === undefined) return;
  const gone = new Promise((resolve) => server.once('exit', resolve));
  for (const signal of ['SIGTERM', 'SIGKILL'] as const) {
    try {
      process.kill(-server.pid, signal);
    } catch {
      return; // No such group: all of it has ended.
    }
    await Promise.race([gone, new Promise((resolve) => setTimeout(resolve, 2_000).unref())]);
  }
}
