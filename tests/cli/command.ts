/** The built command, run as a person would, in folders made for the purpose. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll } from 'vitest';

export const root = resolve(import.meta.dirname, '../..');
export const command = join(root, 'dist/storypole.cjs');

export interface Run {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs `storypole` with these words. Without a folder it runs where nothing is. */
export function storypole(
  words: readonly string[],
  folder = emptyFolder(),
  environment: Readonly<Record<string, string>> = {},
): Run {
  const { NO_COLOR: _, FORCE_COLOR: __, STORYPOLE_DEBUG: ___, ...rest } = process.env;
  const run = spawnSync(process.execPath, [command, ...words], {
    cwd: folder,
    env: { ...rest, ...environment },
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
  });
  return { status: run.status, out: run.stdout, err: run.stderr };
}

/** The same for many lists of words, one after the other in one process: to start one takes longer than most answers. */
export function storypoleEach(asked: readonly (readonly string[])[], folder: string): Run[] {
  const { NO_COLOR: _, FORCE_COLOR: __, STORYPOLE_DEBUG: ___, ...env } = process.env;
  const script = join(import.meta.dirname, 'one-after-the-other.cjs');
  const run = spawnSync(process.execPath, [script, join(dirname(command), 'cli.cjs')], {
    cwd: folder,
    env,
    input: JSON.stringify(asked),
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
  });
  if (run.status !== 0) throw new Error(`ended with ${run.status ?? run.signal}: ${run.stderr}`);
  return JSON.parse(run.stdout) as Run[];
}

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

/** Where files are soon on the disk: in memory, where this system has such a place. For what is written thousands of times. */
export const quickly = existsSync('/dev/shm') ? '/dev/shm' : tmpdir();

/** A new folder with these files in it; links followed, as the command sees it. It goes when the tests of the file are done. */
export function folderWith(files: Readonly<Record<string, string | Uint8Array>>, above = tmpdir()): string {
  const folder = realpathSync(mkdtempSync(join(above, 'storypole-')));
  made.push(folder);
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  return folder;
}

let empty: string | undefined;

function emptyFolder(): string {
  empty ??= folderWith({});
  return empty;
}
