/**
 * A repository of anybody's, unpacked with its .git folder: what its configuration names as programs is not run, by any
 * command that asks git something. source: git documentation, "git-config" (core.fsmonitor, core.hooksPath, filters,
 * diff and pager commands, sshCommand) and "gitattributes" (filter, diff, textconv)
 */
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

const closet = `project "Quarry Lane" { currency EUR }
board white { depth 12in; thickness 3/4in }
stock white { length 8ft unlimited }
template t { board white; wall back { length 48in; height 96in }; zone a on back { width fill; shelf s { at 40in } } }
unit u-1 t
`;

function strange(): { folder: string; git: (...words: string[]) => string } {
  const folder = folderWith({ 'main.closet': closet });
  const git = (...words: string[]): string => {
    const who = ['-c', 'user.name=somebody', '-c', 'user.email=somebody@quarry.test'];
    const made = spawnSync('git', [...who, ...words], { cwd: folder, encoding: 'utf8' });
    if (made.status !== 0) throw new Error(made.stderr);
    return made.stdout.trim();
  };
  git('init', '-q');
  git('add', '-A');
  git('commit', '-qm', 'first');
  writeFileSync(join(folder, 'main.closet'), closet.replace('40in', '41in'));
  git('commit', '-qam', 'second');
  const run = join(folder, '.git', 'run');
  writeFileSync(run, `#!/bin/sh\necho "$0 $@" >> "${join(folder, '.git', 'ran')}"\ncat\n`);
  chmodSync(run, 0o755);
  for (const key of [
    ...['core.fsmonitor', 'core.pager', 'core.editor', 'core.sshCommand', 'core.askPass', 'core.alternateRefsCommand'],
    ...['filter.x.clean', 'filter.x.smudge', 'filter.x.process', 'diff.x.textconv', 'diff.x.command', 'diff.external'],
    ...['pager.status', 'pager.show', 'uploadpack.packObjectsHook', 'credential.helper', 'gpg.program', 'alias.status'],
  ])
    git('config', key, run);
  const hooks = join(folder, '.git', 'hooks');
  mkdirSync(hooks, { recursive: true });
  for (const hook of [
    'post-checkout',
    'post-index-change',
    'fsmonitor-watchman',
    'pre-commit',
    'reference-transaction',
  ]) {
    writeFileSync(join(hooks, hook), `#!/bin/sh\n"${run}"\n`);
    chmodSync(join(hooks, hook), 0o755);
  }
  mkdirSync(join(folder, '.git', 'info'), { recursive: true });
  writeFileSync(join(folder, '.git', 'info', 'attributes'), '*.closet filter=x diff=x\n');
  // As it is after unpacking: git knows nothing of the times of the files, and looks into them.
  utimesSync(join(folder, 'main.closet'), 1, 1);
  return { folder, git };
}

it('git would run them', () => {
  const { folder, git } = strange();
  try {
    git('status', '--porcelain');
  } catch {
    // Whatever it says of it.
  }
  expect(existsSync(join(folder, '.git', 'ran'))).toBe(true);
});

it.each([
  [['check']],
  [['draw', '--out', 'drawings']],
  [['packet', '--out', 'packet.pdf']],
  [['boards', '--out', 'boards.pdf']],
  [['labels', '--out', 'labels.pdf']],
  [['export', '--out', 'job.html']],
  [['export', '--out', 'job.xlsx']],
  [['compare', 'HEAD~1']],
  [['compare', 'HEAD~1', 'HEAD', '--format', 'markdown']],
  [['check', '--changed-since', 'HEAD~1']],
])('storypole %s runs none of them', (words) => {
  const { folder } = strange();
  const { err, status } = storypole(words, folder);
  expect(existsSync(join(folder, '.git', 'ran')), err).toBe(false);
  expect(err).not.toContain('Something went wrong');
  if (!words.includes('--changed-since')) expect(status, err).not.toBe(2);
});
