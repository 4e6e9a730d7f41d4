/** What is built for browsers: nothing of Node is in it, and it runs where nothing of Node is. */
import { readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import path from 'node:path';
import vm from 'node:vm';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');

/** All that a bundle for a browser takes in, and what it leaves to whoever loads it. */
async function parts(entry: string, external: string[]): Promise<{ inputs: string[]; left: string[] }> {
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: [entry],
    bundle: true,
    write: false,
    metafile: true,
    platform: 'browser',
    mainFields: ['module', 'main'],
    // Left in the bundle rather than refused, so that it is seen below which one it is.
    external: [...external, 'node:*', ...builtinModules],
  });
  const inputs = Object.keys(metafile.inputs);
  const left = Object.values(metafile.inputs).flatMap(({ imports }) =>
    imports.filter((i) => i.external === true).map((i) => i.path),
  );
  return { inputs, left: [...new Set(left)] };
}

describe('what is built for browsers', () => {
  it.each([
    ['server/protocol/browser.ts', []],
    ['server/protocol/web-plan-worker.ts', []],
    ['client/extension-web.ts', ['vscode']],
  ])('%s asks for no module of Node', async (entry, host) => {
    const { inputs, left } = await parts(entry, host);
    expect(left).toEqual(host);
    expect(inputs.length).toBeGreaterThan(5);
    expect(inputs.filter((input) => /\/(node|node-[\w-]+|stdio|plan-thread|plan-worker)[.]ts$/.test(input))).toEqual(
      [],
    );
  });

  it('is found out where it asks for one', async () => {
    expect((await parts('server/protocol/plan-thread.ts', [])).left).toEqual(['node:child_process', 'node:path']);
  });
});

interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly result?: unknown;
  readonly params?: { readonly uri?: string; readonly diagnostics?: { readonly code: string }[] };
}

/** A worker's scope with what a browser has and nothing else: no `process`, `require`, `Buffer` or `setImmediate`. */
function workerOf(script: string): {
  post: (data: unknown) => void;
  posted: Message[];
  until: (holds: () => boolean) => Promise<void>;
} {
  const posted: Message[] = [];
  let wake: (() => void)[] = [];
  const scope: Record<string, unknown> = {
    postMessage: (message: Message) => {
      posted.push(structuredClone(message));
      for (const go of wake.splice(0)) go();
    },
    addEventListener: () => undefined,
    onmessage: null,
    ...{ console, performance, setTimeout, clearTimeout, queueMicrotask, structuredClone },
    ...{ MessageChannel, TextDecoder, TextEncoder, URL, Blob },
  };
  const context = vm.createContext(scope);
  vm.runInContext('globalThis.self = globalThis;', context);
  vm.runInContext(readFileSync(path.join(root, 'dist', script), 'utf8'), context);
  const post = (data: unknown): void => {
    scope.given = JSON.stringify(data);
    vm.runInContext('onmessage({ data: JSON.parse(given) })', context);
  };
  return {
    post,
    posted,
    async until(holds) {
      while (!holds()) await new Promise<void>((go) => wake.push(go));
      wake = [];
    },
  };
}

it('the server answers where there is nothing of Node', async () => {
  const { post, posted, until } = workerOf('server-web.js');
  const answer = (id: number) => posted.find((message) => message.id === id && message.method === undefined);
  post({ jsonrpc: '2.0', id: 1, method: 'initialize', params: { processId: null, rootUri: null, capabilities: {} } });
  await until(() => answer(1) !== undefined);
  expect(answer(1)?.result).toHaveProperty('capabilities.hoverProvider');
  post({ jsonrpc: '2.0', method: 'initialized', params: {} });
  const uri = 'vscode-test-web://mount/a.closet';
  const text =
    'project "Quarry Lane" { show inches }\nboard oak { depth 12 }\nstock oak { length 8ft }\nextra e { board oak; length 24in }\n';
  const textDocument = { uri, languageId: 'closet', version: 1, text };
  post({ jsonrpc: '2.0', method: 'textDocument/didOpen', params: { textDocument } });
  await until(() => posted.some(({ params }) => params?.uri === uri && params.diagnostics?.[0] !== undefined));
  expect(posted.findLast(({ params }) => params?.uri === uri)?.params?.diagnostics?.[0]?.code).toBe(
    'unit-of-measure-missing',
  );
});
