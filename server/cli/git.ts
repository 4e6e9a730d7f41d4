/** git, asked about a repository that may be anybody's: nothing that its configuration names as a program is run. */
import { spawnSync } from 'node:child_process';
import { limits } from '../model/limits.ts';
import { Stop } from './stop.ts';

export interface Ran {
  readonly status: number;
  readonly stdout: Buffer;
  readonly stderr: string;
}

/** What git may answer at most, in bytes: the files of one revision, and one that is told of as too large. */
const mostAnswered = limits.largestRevision.most + limits.largestFile.most;

/**
 * Runs git in a folder. Only commands may be asked for that look into no file of the work tree: those run filters, which
 * cannot be switched off one and all. Throws Stop where git cannot be run.
 */
export function git(folder: string, args: readonly string[], input?: string): Ran {
  const made = spawnSync('git', ['-c', 'core.fsmonitor=false', '-c', 'core.hooksPath=/dev/null', ...args], {
    cwd: folder,
    input: input ?? '',
    maxBuffer: mostAnswered,
    // No prompt, no lazy fetching of what a partial clone left out, no lock on the index.
    env: { ...process.env, GIT_TERMINAL_PROMPT: '0', GIT_NO_LAZY_FETCH: '1', GIT_OPTIONAL_LOCKS: '0', LC_ALL: 'C' },
  });
  if (made.error) {
    const missing = (made.error as NodeJS.ErrnoException).code === 'ENOENT';
    throw new Stop(
      missing
        ? 'git is not installed, or not on the path; revisions are read with it.'
        : `git could not be run: ${made.error.message}.`,
    );
  }
  return { status: made.status ?? 1, stdout: made.stdout, stderr: made.stderr.toString('utf8').trim() };
}
