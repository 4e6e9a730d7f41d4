/**
 * Speeds, printed and never asserted. The peer is the TypeScript compiler's own language server, which is
 * here already: the same number of lines, an error made and mended in the middle, in the same run.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { memoryOf, start, stop, timeEdits } from './server.ts';
import { longTemplate, manyUnits, typescript } from './texts.ts';

const root = join(import.meta.dirname, '../..');
const command = join(root, 'dist/storypole.cjs');
const tsc = join(root, 'node_modules/.bin/tsc');
const folder = mkdtempSync(join(tmpdir(), 'storypole-bench-'));
const rounds = 34;

const ms = (n: number): string => `${n.toFixed(n < 10 ? 1 : 0)} ms`;
const ratio = (ours: number, theirs: number): string => `${(ours / theirs).toFixed(2)} x the peer`;

async function ours(name: string, text: string, at: number, bad: string) {
  const server = await start(process.execPath, [command, 'language-server', '--stdio'], false, folder);
  const times = await timeEdits(server, `file://${folder}/${name}.closet`, 'closet', text, at, bad, rounds);
  const memory = memoryOf(server);
  stop(server);
  return { ...times, memory };
}

async function theirs(lines: number) {
  const text = typescript(lines);
  const server = await start(tsc, ['--lsp', '--stdio'], true, folder);
  const at = text.indexOf(',\n', Math.floor(text.length / 2));
  const times = await timeEdits(server, `file://${folder}/peer.ts`, 'typescript', text, at, "+'x'", rounds);
  const memory = memoryOf(server);
  stop(server);
  return { ...times, memory };
}

/** Behind the number of a width in the middle of the text. */
function middle(text: string): number {
  return text.indexOf('in\n', Math.floor(text.length / 2));
}

async function main(): Promise<void> {
  console.log('A keystroke to its diagnostics, over stdio, many small declarations (median, worst; open; memory)');
  let at1000 = 0;
  for (const lines of [100, 1000, 10_000, 50_000]) {
    const text = manyUnits(lines);
    const a = await ours(`many-${lines}`, text, middle(text), 'x');
    const b = await theirs(lines);
    if (lines === 1000) at1000 = a.median;
    console.log(
      `  ${String(lines).padStart(6)} lines: ${ms(a.median)}, ${ms(a.worst)}; open ${ms(a.open)}; ${a.memory} MB | peer ${ms(b.median)}, open ${ms(b.open)}, ${b.memory} MB | ${ratio(a.median, b.median)}`,
    );
    if (lines === 50_000 && at1000 > 0)
      console.log(`  50,000 lines against 1,000: ${(a.median / at1000).toFixed(1)} x`);
  }

  console.log('What is slower, and why');
  const long = longTemplate(2000);
  const c = await ours('long', long, long.indexOf('in\n', Math.floor(long.length / 2)), 'x');
  console.log(
    `  one template of 2,000 lines: ${ms(c.median)}, ${ms(c.worst)}: the whole template and its unit are resolved again, the text of one zone is read`,
  );
  for (const [name, bad] of [
    ['{', '{'],
    ['/*', '/*'],
  ] as const) {
    const text = manyUnits(10_000);
    const d = await ours('top', text, 0, bad);
    console.log(
      `  ${name} typed at the top of 10,000 lines: ${ms(d.median)}, ${ms(d.worst)}: it ends at the next declaration; the file stands alone for as long, and its project goes on with what it has computed`,
    );
  }
  const used = manyUnits(10_000);
  const e = await ours('rename', used, used.indexOf('board white-12') + 'board white-12'.length, 'x');
  console.log(
    `  renaming a board that all of 10,000 lines use: ${ms(e.median)}, ${ms(e.worst)}: every unit rests on it and is evaluated again`,
  );

  console.log('From the command, cold');
  const file = join(folder, 'cold.closet');
  for (const [label, text] of [
    ['10,000 lines', manyUnits(10_000)],
    ['10,000 units of ten templates', manyUnits(50_110)],
  ] as const) {
    writeFileSync(file, text);
    const from = performance.now();
    const run = spawnSync(
      '/usr/bin/env',
      [
        'sh',
        '-c',
        `"${process.execPath}" "${command}" check "${file}" --format json > /dev/null; grep -h VmHWM /proc/self/status || true`,
      ],
      { encoding: 'utf8' },
    );
    console.log(`  check of ${label}: ${ms(performance.now() - from)}, process start included; status ${run.status}`);
    const inside = spawnSync(
      process.execPath,
      [
        '--input-type=module',
        '-e',
        `import { createWorkspace } from '${join(root, 'server/checks/analysis.ts')}'; import { nodeFiles } from '${join(root, 'server/model/node-files.ts')}'; const t = performance.now(); const w = createWorkspace(nodeFiles, []); w.loadFile('${file}'); const { project } = w.projects[0]; project.refreshNow(); const n = project.findings().length; console.log((performance.now() - t).toFixed(0) + ' ms to all findings, ' + Math.round(process.memoryUsage().rss / 1e6) + ' MB, ' + project.stats.unitsEvaluated + ' units, ' + project.stats.layoutsResolved + ' layouts resolved');`,
      ],
      { encoding: 'utf8' },
    );
    console.log(`    inside: ${inside.stdout.trim() || inside.stderr.trim().split('\n')[0]}`);
  }
  console.log('The whole book of rules: 10,000 units of ten templates, 2,000 of them surveyed, no two alike');
  const book = spawnSync(process.execPath, [join(root, 'tests/bench/rules.ts')], { encoding: 'utf8' });
  console.log(book.status === 0 ? book.stdout.trimEnd() : `  ${book.stderr.trim().split('\n')[0]}`);
  rmSync(folder, { recursive: true, force: true });
}

await main();
