/** Whoever reads a command may leave, be full, or not be there: it ends as is written down, and says it in a sentence or not at all. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { command, folderWith } from './command.ts';
import { faultIn } from './faults.ts';
import { clean } from './texts.ts';

const sh = (text: string, folder: string, environment: Readonly<Record<string, string>> = {}) =>
  spawnSync('sh', ['-c', text.replaceAll('storypole', `'${process.execPath}' '${command}'`)], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, ...environment },
  });

const commands = [
  'check --format sarif',
  'check --coverage',
  'cuts --format csv',
  'plan --format json',
  'takeoff',
  'explain',
  'compare . .',
  'schema',
  'format --check',
  'flatten a.closet',
  'export --out lists --csv',
  '--help',
];

describe('standard output', () => {
  it.each(commands)('that nobody reads ends it quietly: %s', (words) => {
    const folder = folderWith({ 'a.closet': clean });
    const run = sh(`{ sleep 0.1; storypole ${words}; echo "status $?" >&2; } | true`, folder);
    expect(run.stderr).toMatch(/^(storypole: [^\n]+\n)?status 0\n$/);
    expect(run.stderr).not.toMatch(/EPIPE|\n\s+at /);
  });

  it.runIf(existsSync('/dev/full'))('on a disk that is full is told, with 2', () => {
    const folder = folderWith({ 'a.closet': clean });
    for (const words of ['check', 'export --out lists --json', 'format'])
      expect(sh(`storypole ${words} > /dev/full`, folder)).toMatchObject({
        status: 2,
        stderr: expect.stringMatching(/^storypole: The output cannot be written: [^\n]+\n$/),
      });
  });
});

describe('a disk that fails under a command', () => {
  it.each([
    ['ENOSPC', 'writeFile half', 'the disk is full. Make room on it and try again'],
    ['EIO', 'sync', 'the disk reports an error. Look after it before you try again'],
    ['EROFS', 'open', 'it is on a disk that cannot be written to'],
  ])('%s is one sentence, with 2, and leaves all as it was', (answer, only, why) => {
    const folder = folderWith({ 'a.closet': `${clean}unit   z   linen\n` });
    for (const [words, file] of [
      ['format', 'a.closet'],
      ['cuts --output list.txt', 'list.txt'],
      ['export --out deep/lists --json', 'deep/lists/'],
    ] as const) {
      const run = sh(`storypole ${words}`, folder, faultIn({ folder, at: 1, answer, only: [only] }));
      expect({ status: run.status, out: run.stdout }).toEqual({ status: 2, out: '' });
      expect(run.stderr.startsWith(`storypole: ${file}`)).toBe(true);
      expect(run.stderr.endsWith(` cannot be written: ${why}. Nothing was written.\n`)).toBe(true);
      expect(run.stderr.trimEnd()).not.toContain('\n');
      expect(readdirSync(folder)).toEqual(['a.closet']);
    }
  });
});
