/** The bundler in a folder of its own, with sources of a line each. */
import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(path.join(tmpdir(), 'storypole-bundle-'));
afterAll(() => rmSync(folder, { recursive: true }));

function write(file: string, text: string): void {
  mkdirSync(path.dirname(path.join(folder, file)), { recursive: true });
  writeFileSync(path.join(folder, file), text);
}

const bundle = () => spawnSync(process.execPath, [path.join(folder, 'client/bundle.ts')], { encoding: 'utf8' });
const dist = (): Map<string, string> =>
  new Map(
    readdirSync(path.join(folder, 'dist'), { withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ name }) => name)
      .sort()
      .map((name) => [name, readFileSync(path.join(folder, 'dist', name), 'utf8')]),
  );

it('keeps what was built where something does not build, and leaves nothing lying about', () => {
  symlinkSync(path.join(root, 'node_modules'), path.join(folder, 'node_modules'));
  write('package.json', '{ "type": "module" }');
  write('client/extension.ts', 'console.log("client one");');
  for (const file of ['client/bundle.ts', 'client/bundled.ts', 'client/licences.ts'])
    copyFileSync(path.join(root, file), path.join(folder, file));
  const sources = [
    ...['server/cli/main.ts', 'server/protocol/node.ts', 'server/protocol/plan-worker.ts'],
    ...['server/protocol/browser.ts', 'server/protocol/web-plan-worker.ts', 'client/extension-web.ts'],
    'client/drawing/page.ts',
    'server/sheets/site-page/in-page/main.ts',
  ];
  for (const file of sources) write(file, `console.log(${JSON.stringify(file)});`);
  write('client/drawing/page.css', 'p { margin: 0 }');
  write('server/cli/launcher.cjs', '// launcher');
  for (const old of ['old.cjs', 'old-web.js', 'old.css']) write(`dist/${old}`, '// of an earlier version');
  expect(bundle().status).toBe(0);
  const first = dist();
  expect([...first.keys()]).toEqual([
    ...['cli.cjs', 'client-web.js', 'client.cjs', 'drawing.css', 'drawing.js', 'plan-worker-web.js'],
    ...['plan-worker.cjs', 'server-web.js', 'server.cjs', 'site-page-web.js', 'storypole.cjs'],
    'third-party-notices.txt',
  ]);
  expect(first.get('client.cjs')).toContain('client one');
  expect(first.get('third-party-notices.txt')).toContain('\ndejavu-fonts-ttf@');

  write('client/extension.ts', 'console.log("client two");');
  write('server/protocol/node.ts', 'const half = ');
  const failed = bundle();
  expect(failed.status).toBe(1);
  expect(failed.stderr).toContain('bundle: server/protocol/node.ts does not bundle: ');
  expect(dist()).toEqual(first);

  rmSync(path.join(folder, 'server/protocol/node.ts'));
  expect(bundle().stderr).toContain('server/protocol/node.ts does not exist, so dist/server.cjs was not written.');
  expect(dist()).toEqual(first);

  write('server/protocol/node.ts', 'console.log("mended");');
  expect(bundle().status).toBe(0);
  expect(dist().get('server.cjs')).toContain('mended');
  expect(dist().get('client.cjs')).toContain('client two');

  // A text of a letter beyond Latin 1 takes two bytes for each of its letters in the engine.
  write('server/protocol/node.ts', 'console.log(/^[½⅜𝟛]$/u.test("⅜"), /\\p{L}×/u.test("a×"), "×");');
  expect(bundle().status).toBe(0);
  expect(dist().get('server.cjs')).not.toMatch(/[^\0-\x7f]/);
  expect(spawnSync(process.execPath, [path.join(folder, 'dist/server.cjs')], { encoding: 'utf8' }).stdout).toBe(
    'true true ×\n',
  );
});
