/**
 * Packs the .vsix: the same bytes from the same files, on whatever day and in whatever folder. A file to be written can be
 * named; else it is dist/storypole.vsix.
 */
import { spawnSync } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..');
const out = path.resolve(process.argv[2] ?? path.join(root, 'dist', 'storypole.vsix'));

/** The first day that a zip file knows: what is packed says nothing of when that was done. */
const day = process.env.SOURCE_DATE_EPOCH ?? '315532800';

const { status } = spawnSync(
  process.execPath,
  [
    ...[path.join(root, 'node_modules', '@vscode', 'vsce', 'vsce'), 'package', '--no-dependencies'],
    ...['--allow-missing-repository', '--no-rewrite-relative-links', '--out', out],
  ],
  // A zip file has its times in those of the place where it was made.
  { cwd: root, stdio: 'inherit', env: { ...process.env, SOURCE_DATE_EPOCH: day, TZ: 'UTC' } },
);
process.exitCode = status ?? 1;
