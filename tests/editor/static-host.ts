/**
 * A VS Code that is nothing but files: its web build, the extension and the examples served as they lie, with no server
 * of VS Code's behind it, as a code host in a browser has it. What is opened is on no disk.
 */
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { build } from 'esbuild';

export interface StaticHost {
  readonly address: string;
  close(): void;
}

const types: Readonly<Record<string, string>> = {
  html: 'text/html',
  js: 'text/javascript',
  mjs: 'text/javascript',
  css: 'text/css',
  json: 'application/json',
  svg: 'image/svg+xml',
  png: 'image/png',
  wasm: 'application/wasm',
  ttf: 'font/ttf',
  md: 'text/markdown',
};

/** The extension as a browser has it: the same files, without the entry for Node. */
export function copyWebExtension(root: string, folder: string): void {
  for (const name of ['client', 'dist', 'grammar'])
    cpSync(path.join(root, name), path.join(folder, name), { recursive: true });
  cpSync(path.join(root, 'server/checks/RULES.md'), path.join(folder, 'server/checks/RULES.md'));
  const { main: _, type: __, ...manifest } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));
  writeFileSync(path.join(folder, 'package.json'), JSON.stringify({ ...manifest, extensionKind: ['web'] }));
}

/** The extension that holds the files of a folder. */
async function writeFilesExtension(folder: string, examples: string): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const manifest = {
    ...{ name: 'static-files', publisher: 'storypole', version: '0.0.1', engines: { vscode: '^1.101.0' } },
    ...{ browser: './files.js', activationEvents: ['onFileSystem:quarry'] },
  };
  writeFileSync(path.join(folder, 'package.json'), JSON.stringify(manifest));
  const names = readdirSync(examples, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.closet'));
  const texts = names.map((name) => [name.split(path.sep).join('/'), readFileSync(path.join(examples, name), 'utf8')]);
  writeFileSync(path.join(folder, 'files.json'), JSON.stringify(Object.fromEntries(texts)));
  await build({
    entryPoints: [path.join(import.meta.dirname, 'static-files.ts')],
    outfile: path.join(folder, 'files.js'),
    bundle: true,
    platform: 'browser',
    format: 'cjs',
    external: ['vscode'],
  });
}

const page = (origin: string, settings: object) => `<!DOCTYPE html>
<html>
<head>
<meta charset="utf-8">
<link rel="stylesheet" href="/vscode/out/vs/workbench/workbench.web.main.internal.css">
<script>globalThis._VSCODE_FILE_ROOT = '${origin}/vscode/out/';</script>
<script type="module" src="/vscode/out/nls.messages.js"></script>
</head>
<body></body>
<script type="module">
import init from '/vscode/workbench.js';
const at = (path) => ({ scheme: 'http', authority: '${origin.slice('http://'.length)}', path });
init(document.body, {
  folderUri: { scheme: 'quarry', path: '/quarry-lane' },
  additionalBuiltinExtensions: [at('/storypole'), at('/files')],
  configurationDefaults: ${JSON.stringify(settings)},
  productConfiguration: {
    nameShort: 'Code', nameLong: 'Code', applicationName: 'code', dataFolderName: '.code', version: '1.137.0',
    webEndpointUrlTemplate: '${origin}/vscode', quality: 'stable', extensionEnabledApiProposals: {},
  },
});
</script>
</html>`;

/** Serves the web build in `vscode`; `work` takes what is made for it. */
export async function startStaticHost(given: {
  readonly vscode: string;
  readonly root: string;
  readonly work: string;
  readonly settings: object;
}): Promise<StaticHost> {
  const { vscode, root, work, settings } = given;
  copyWebExtension(root, path.join(work, 'storypole'));
  await writeFilesExtension(path.join(work, 'files'), path.join(root, 'examples'));
  const roots = [
    ['/vscode/', vscode],
    ['/storypole/', path.join(work, 'storypole')],
    ['/files/', path.join(work, 'files')],
  ] as const;
  let origin = '';
  const server = createServer((request, response) => {
    const asked = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    if (asked === '/') {
      response.setHeader('Content-Type', 'text/html');
      return response.end(page(origin, settings));
    }
    const [prefix, folder] = roots.find(([start]) => asked.startsWith(start)) ?? [];
    const file = folder === undefined ? undefined : path.join(folder, asked.slice(prefix?.length));
    try {
      if (file === undefined || !file.startsWith(`${folder}${path.sep}`)) throw new Error(asked);
      const bytes = readFileSync(file);
      response.setHeader('Content-Type', types[path.extname(file).slice(1)] ?? 'application/octet-stream');
      return response.end(bytes);
    } catch {
      response.statusCode = 404;
      return response.end();
    }
  });
  await new Promise<void>((go) => server.listen(0, 'localhost', go));
  // The page of the extension host's worker lets scripts come from localhost, by that name.
  origin = `http://localhost:${(server.address() as AddressInfo).port}`;
  return {
    address: `${origin}/`,
    close: () => {
      server.close();
      server.closeAllConnections();
    },
  };
}
