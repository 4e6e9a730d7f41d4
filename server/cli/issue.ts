/** What sheets say of when they were made, and of what. */
import { execFileSync } from 'node:child_process';
import { Stop } from './stop.ts';

/**
 * The day that sheets are dated: as asked, or by SOURCE_DATE_EPOCH (seconds since 1970, so that a build can be repeated),
 * or today. Throws Stop where that is no date.
 */
export function dateOf(asked: string | undefined, environment = process.env, now = new Date()): string {
  if (asked !== undefined) {
    const made = /^\d{4}-\d{2}-\d{2}$/.test(asked) ? new Date(`${asked}T00:00:00Z`) : undefined;
    if (!made || Number.isNaN(made.getTime()) || !made.toISOString().startsWith(asked))
      throw new Stop(`"${asked}" is no date. Write year, month and day: 2026-11-28`);
    return asked;
  }
  const epoch = environment.SOURCE_DATE_EPOCH;
  if (epoch === undefined || epoch === '') return localDay(now);
  const made = /^\d+$/.test(epoch) ? new Date(Number(epoch) * 1000) : undefined;
  if (!made || Number.isNaN(made.getTime()))
    throw new Stop(`SOURCE_DATE_EPOCH is "${epoch}", which is no number of seconds.`);
  return made.toISOString().slice(0, 10);
}

function localDay(now: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The commit that a folder is at, with `+` where files in it have changed since; undefined where there is no git. */
export function revisionOf(folder: string): string | undefined {
  // A hook that the repository names is not run.
  const git = (...words: string[]): string =>
    execFileSync('git', ['-c', 'core.fsmonitor=false', '-c', 'core.hooksPath=/dev/null', '-C', folder, ...words], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      timeout: 10_000,
      env: { ...process.env, GIT_OPTIONAL_LOCKS: '0' },
    }).trim();
  try {
    const commit = git('rev-parse', '--short=10', 'HEAD');
    if (!/^[0-9a-f]{4,64}$/.test(commit)) return undefined;
    // Only what is drawn from matters: sheets that lie beside it change nothing.
    const changed = git('status', '--porcelain', '--untracked-files=normal', '--', ':(glob)**/*.closet');
    return changed === '' ? commit : `${commit}+`;
  } catch {
    return undefined;
  }
}
