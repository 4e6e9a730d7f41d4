/**
 * Runs the editor suite in a real VS Code: the desktop one, downloaded, with STORYPOLE_VSCODE=download;
 * else the one that tests/editor/install-host.ts installs from the package registries.
 * A word or two on the command line runs only the tests whose names hold them (`|` between one and another); --web before them runs the extension
 * as it is built for browsers, in the page and its workers, while the suite stays in Node.
 */
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Writable } from 'node:stream';
import { downloadAndUnzipVSCode, runTests } from '@vscode/test-electron';
import { build } from 'esbuild';
import { mark } from './harness.ts';
import { vscodeVersion } from './install-host.ts';
import { copyWebExtension } from './static-host.ts';

const root = path.resolve(import.meta.dirname, '../..');
const work = mkdtempSync(path.join(tmpdir(), 'storypole-suite-'));
const web = process.argv[2] === '--web';
const words = process.argv.slice(web ? 3 : 2);

try {
  const suite = path.join(work, 'suite.cjs');
  const results = path.join(work, 'results.json');
  const folder = copyOfExamples(work);
  await build({
    entryPoints: [path.join(root, 'tests/editor/suite.ts')],
    outfile: suite,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    target: 'node22',
    external: ['vscode'],
    sourcemap: 'inline',
  });
  const download = process.env.STORYPOLE_VSCODE === 'download';
  const { sink, everything } = listen();
  const passed = await runTests({
    vscodeExecutablePath: download
      ? await downloadAndUnzipVSCode(vscodeVersion)
      : path.join(import.meta.dirname, 'host.ts'),
    extensionDevelopmentPath: web ? webExtension(work) : root,
    extensionTestsPath: suite,
    launchArgs: [folder],
    extensionTestsEnv: {
      STORYPOLE_SUITE_RESULTS: results,
      STORYPOLE_SUITE_ORIGINALS: path.join(root, 'examples'),
      STORYPOLE_SUITE_ONLY: words.join(' '),
      STORYPOLE_SUITE_WEB: web ? 'yes' : '',
    },
    stdout: sink(),
    stderr: sink(),
  }).then(
    () => true,
    () => false,
  );
  if (!passed) process.stdout.write(`\nAll that VS Code printed:\n${everything()}\n`);
  if (!existsSync(results)) throw new Error('the editor suite ended without results');
  const counts = JSON.parse(readFileSync(results, 'utf8')) as { passed: number; failed: number };
  process.stdout.write(`${counts.passed} passed, ${counts.failed} failed\n`);
  process.exitCode = passed && counts.failed === 0 && counts.passed > 0 ? 0 : 1;
} finally {
  rmSync(work, { recursive: true, force: true });
}

/** The suite edits and saves, so it works on a copy of the examples. */
function copyOfExamples(parent: string): string {
  const folder = path.join(parent, 'examples');
  mkdirSync(folder);
  cpSync(path.join(root, 'examples'), folder, { recursive: true });
  return folder;
}

function webExtension(parent: string): string {
  const folder = path.join(parent, 'extension');
  copyWebExtension(root, folder);
  return folder;
}

/**
 * Shows the suite's lines as they come. VS Code says much beside them, most of it about a gallery and a sign-in
 * that a test has no use for, so that is kept for a run that fails.
 */
function listen(): { sink: () => Writable; everything: () => string } {
  let all = '';
  function sink(): Writable {
    let rest = '';
    return new Writable({
      write(chunk: Buffer, _encoding, done) {
        all += chunk.toString();
        const lines = (rest + chunk.toString()).split('\n');
        rest = lines.pop() ?? '';
        for (const line of lines) if (line.startsWith(mark)) process.stdout.write(`${line.slice(mark.length)}\n`);
        done();
      },
    });
  }
  return { sink, everything: () => all };
}
