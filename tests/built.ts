/** Builds the command once before the tests, where what stands in dist is missing or older than its sources. */
import { spawnSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '..');
const sources = ['client', 'grammar', 'server'];
const products = [
  ...['cli.cjs', 'server.cjs', 'plan-worker.cjs', 'client.cjs', 'storypole.cjs'],
  'fonts/DejaVuSansCondensed.ttf',
  ...['server-web.js', 'plan-worker-web.js', 'client-web.js'],
];

export default function setup(): void {
  if (oldestProduct() >= newestSource()) return;
  const { status, stderr } = spawnSync(process.execPath, [join(root, 'client/bundle.ts')], { encoding: 'utf8' });
  // Tests of what is not built need nothing of it, so this is told and not thrown.
  if (status !== 0) process.stderr.write(`The command could not be built, so tests of it see an older one.\n${stderr}`);
}

/** 0 where one is missing. */
function oldestProduct(): number {
  return Math.min(...products.map((name) => changedAt(join(root, 'dist', name))));
}

function newestSource(): number {
  const files = sources.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(ts|cjs|json)$/.test(name))
      .map((name) => join(root, folder, name)),
  );
  return Math.max(...[...files, join(root, 'package.json')].map(changedAt));
}

function changedAt(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
