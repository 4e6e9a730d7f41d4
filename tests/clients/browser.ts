/** The browser build in a worker of a page of headless Chromium, and a client in Node that speaks through the page. */
import { createReadStream, existsSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { basename, join, resolve } from 'node:path';
import { build } from 'esbuild';
import { type Browser, chromium, type Page } from 'playwright-core';
import type { Diagnostic, PublishDiagnosticsParams } from 'vscode-languageserver-protocol/node';
import type { Page as InPage, Noted, Texts } from './page.ts';

declare const page: InPage;

const dist = resolve(import.meta.dirname, '../../dist');

export interface BrowserClient {
  /** The page, for whoever wants to look at what else it does. */
  readonly page: Page;
  readonly request: <R>(method: string, params: object) => Promise<R>;
  readonly notify: (method: string, params: object) => Promise<void>;
  /** Changes what the client's file system holds; without a text, the file goes. */
  readonly write: (uri: string, text?: string) => Promise<void>;
  readonly diagnostics: (uri: string) => readonly Diagnostic[] | undefined;
  /** Everything the server has told, in order. */
  readonly told: readonly Noted[];
  readonly until: (holds: () => boolean) => Promise<void>;
}

export interface Pages {
  /** The scripts that were asked for and given. */
  readonly served: readonly string[];
  /** Starts a server in a page of its own; with `noPlanner` the planner's script is not beside the server's. */
  readonly open: (texts: Texts, options?: { readonly noPlanner?: boolean }) => Promise<BrowserClient>;
  readonly close: () => Promise<void>;
}

/** Starts the browser and what serves it the scripts. */
export async function startPages(executablePath: string): Promise<Pages> {
  const client = await build({
    entryPoints: [join(import.meta.dirname, 'page.ts')],
    bundle: true,
    write: false,
    platform: 'browser',
    format: 'iife',
  });
  const script = client.outputFiles[0]?.text ?? '';
  const served: string[] = [];
  const server = createServer(({ url = '' }, response) => {
    const file = join(dist, basename(url));
    const isThere = url.startsWith('/alone/') ? url === '/alone/server-web.js' : url.startsWith('/dist/');
    if (isThere && existsSync(file)) {
      served.push(url);
      response.writeHead(200, { 'content-type': 'text/javascript' });
      createReadStream(file).pipe(response);
    } else if (url === '/') {
      response.writeHead(200, { 'content-type': 'text/html' });
      response.end('<!doctype html><title>Storypole</title>');
    } else response.writeHead(404).end();
  });
  const origin = await listening(server);
  let browser: Browser | undefined;
  const close = async (): Promise<void> => {
    await browser?.close();
    await new Promise((done) => server.close(done));
  };
  try {
    browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
  } catch (error) {
    await close();
    throw error;
  }
  const running = browser;
  return {
    served,
    async open(texts, { noPlanner = false } = {}) {
      const own = await running.newPage();
      await own.goto(origin);
      await own.addScriptTag({ content: script });
      await own.evaluate(([address, all]) => page.start(address, all), [
        `${origin}/${noPlanner ? 'alone' : 'dist'}/server-web.js`,
        texts,
      ] as const);
      return clientOf(own);
    },
    close,
  };
}

function clientOf(own: Page): BrowserClient {
  const told: Noted[] = [];
  return {
    page: own,
    told,
    request: <R>(method: string, params: object) =>
      own.evaluate(([m, p]) => page.request(m, p), [method, params] as const) as Promise<R>,
    notify: (method, params) => own.evaluate(([m, p]) => page.notify(m, p), [method, params] as const),
    write: (uri, text) => own.evaluate(([u, t]) => page.write(u, t), [uri, text] as const),
    diagnostics: (uri) =>
      told
        .filter(({ method }) => method === 'textDocument/publishDiagnostics')
        .map(({ params }) => params as PublishDiagnosticsParams)
        .findLast((params) => params.uri === uri)?.diagnostics,
    async until(holds) {
      while (!holds()) told.push(...(await own.evaluate((from) => page.told(from), told.length)));
    },
  };
}

async function listening(server: Server): Promise<string> {
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}
