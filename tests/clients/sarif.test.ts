/** SARIF read by another program: the validator of the SARIF SDK, which knows the standard's own rules beside its schema. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderWith, root, storypole } from '../cli/command.ts';

it('what check writes is read without an error, and with no warning but that the tool names no page of its own', () => {
  const folder = folderWith({});
  storypole(['check', 'examples/mistakes', '--format', 'sarif', '--output', join(folder, 'all.sarif')], root);
  const bin = join(root, 'node_modules/.bin/sarif-multitool');
  const run = spawnSync(bin, ['validate', 'all.sarif'], { cwd: folder, encoding: 'utf8' });
  const told = run.stdout.split('\n').filter((line) => /\b(error|warning) [A-Z]+\d+/.test(line));
  expect(run.stdout).toContain('Analysis completed successfully.');
  expect(told.map((line) => /\b(?:error|warning) [A-Z]+\d+/.exec(line)?.[0])).toEqual(['warning SARIF2005']);
});
