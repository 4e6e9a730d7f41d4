/** What the npm package and the .vsix hold: what is needed, and nothing else; and that it is all that is needed. */
import { spawnSync } from 'node:child_process';
import { globSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { root } from './lockfile.ts';

const work = mkdtempSync(path.join(tmpdir(), 'storypole-shipped-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));

function run(program: string, words: readonly string[], cwd: string, env: NodeJS.ProcessEnv = {}): string {
  const made = spawnSync(program, words, {
    cwd,
    encoding: 'utf8',
    env: { ...process.env, ...env },
    maxBuffer: 1 << 26,
  });
  if (made.status !== 0) throw new Error(`${program} ${words.join(' ')}: ${made.status}\n${made.stdout}${made.stderr}`);
  return made.stdout;
}

const rules = readFileSync(path.join(root, 'server/checks/RULES.md'), 'utf8');
/** All that is shipped, with the kilobytes that it may have. */
const shipped: Readonly<Record<string, number>> = {
  'package.json': 30,
  'README.md': 40,
  LICENSE: 2,
  'dist/storypole.cjs': 2,
  'dist/cli.cjs': 3200,
  'dist/server.cjs': 1500,
  'dist/server-web.js': 1500,
  'dist/plan-worker.cjs': 150,
  'dist/plan-worker-web.js': 150,
  'dist/client.cjs': 550,
  'dist/client-web.js': 520,
  'dist/drawing.js': 20,
  'dist/drawing.css': 8,
  'dist/site-page-web.js': 16,
  'dist/third-party-notices.txt': 120,
  'dist/fonts/DejaVuSansCondensed.ttf': 700,
  'dist/fonts/DejaVuSansCondensed-Bold.ttf': 700,
  'dist/fonts/LICENSE': 10,
  'client/language-configuration.json': 4,
  'client/icons/closet-dark.svg': 2,
  'client/icons/closet-light.svg': 2,
  'client/icons/project-view.svg': 2,
  'client/icons/storypole.png': 8,
  'client/icons/storypole.svg': 2,
  'client/media/editor.png': 300,
  ...Object.fromEntries(
    ['begin', 'building', 'cut-length', 'cut-list', 'finding', 'survey'].map((name) => [
      `client/media/first-steps/${name}.svg`,
      16,
    ]),
  ),
  'grammar/closet.tmLanguage.json': 120,
  'grammar/REFERENCE.md': 120,
  'server/checks/RULES.md': 280,
  'examples/README.md': 20,
  ...Object.fromEntries([...rules.matchAll(/^### (.+)$/gm)].map(([, id]) => [`dist/rules/${id}.md`, 8])),
  ...Object.fromEntries(globSync('examples/**/*.closet', { cwd: root }).map((file) => [file, 64])),
};
const names = Object.keys(shipped)
  .map((file) => file.replaceAll(path.sep, '/'))
  .sort();

describe('the npm package', () => {
  run('npm', ['pack', '--ignore-scripts', '--silent', '--pack-destination', work], root);
  const archive = path.join(work, readdirSync(work).find((name) => name.endsWith('.tgz')) ?? '');

  it('holds what is on the list, none of it larger than it should be', () => {
    const listed = run('tar', ['tzf', archive], work).trim().split('\n');
    expect(listed.map((file) => file.replace(/^package\//, '')).sort()).toEqual(names);
    for (const [file, kilobytes] of Object.entries(shipped))
      expect(statSync(path.join(root, file)).size, file).toBeLessThan(kilobytes * 1024);
    expect(statSync(archive).size).toBeLessThan(3.5 * 1024 * 1024);
  });

  it('is installed without a network and without running anything, and then does its work', () => {
    const place = path.join(work, 'place');
    mkdirSync(place);
    writeFileSync(path.join(place, 'package.json'), '{ "private": true }');
    run('npm', ['install', '--offline', '--ignore-scripts', '--omit=dev', '--no-audit', '--no-fund', archive], place);
    expect(readdirSync(path.join(place, 'node_modules')).filter((name) => !name.startsWith('.'))).toEqual([
      'storypole',
    ]);
    const command = path.join(place, 'node_modules/storypole/dist/storypole.cjs');
    const storypole = (...words: string[]) => run(process.execPath, [command, ...words], place, { NODE_PATH: '' });
    storypole('new', 'job', '--name', 'Quarry Lane');
    expect(storypole('check', 'job')).toMatch(/^No findings in 4 files, 3 units/);
    // What has files of its own beside it: a worker, fonts, a page.
    expect(storypole('plan', 'job')).toContain('white');
    storypole('packet', 'job', '--out', 'packet.pdf');
    expect(readFileSync(path.join(place, 'packet.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
    storypole('export', 'job', '--out', 'job.xlsx');
    storypole('export', 'job', '--out', 'job.html');
    expect(readFileSync(path.join(place, 'job.html'), 'utf8')).toContain('<script');
  });
});

it('the .vsix holds the same, and nothing of its own', () => {
  const vsce = path.join(root, 'node_modules/@vscode/vsce/vsce');
  expect(run(process.execPath, [vsce, 'ls', '--no-dependencies'], root).trim().split('\n').sort()).toEqual(names);
});
