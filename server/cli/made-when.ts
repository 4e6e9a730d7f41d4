/** When and from what sheets are made: data that come from outside, so that the same data give the same bytes. */
import { execFileSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { dirname } from 'node:path';
import { Stop } from './stop.ts';

export interface Day {
  /** As sheets show it: `2026-03-14`. */
  readonly day: string;
  readonly date: Date;
}

/**
 * What --date says, else SOURCE_DATE_EPOCH (seconds, by the specification of reproducible-builds.org), else today.
 * Throws Stop for what is no day.
 */
export function dayOf(written: string | undefined, environment: NodeJS.ProcessEnv, now = new Date()): Day {
  if (written !== undefined) {
    const date = new Date(`${written}T00:00:00Z`);
    if (!/^\d{4}-\d{2}-\d{2}$/.test(written) || Number.isNaN(date.getTime()) || !date.toISOString().startsWith(written))
      throw new Stop(`--date takes a day as 2026-03-14, and "${written}" is none.`);
    return { day: written, date };
  }
  const epoch = environment.SOURCE_DATE_EPOCH;
  if (epoch !== undefined && epoch !== '') {
    const date = new Date(Number(epoch) * 1000);
    if (!/^\d+$/.test(epoch) || Number.isNaN(date.getTime()))
      throw new Stop(`SOURCE_DATE_EPOCH takes seconds since 1970, and "${epoch}" are none.`);
    return { day: date.toISOString().slice(0, 10), date };
  }
  // The day where the command runs, whatever the time in Greenwich.
  const day = [now.getFullYear(), now.getMonth() + 1, now.getDate()]
    .map((part) => String(part).padStart(2, '0'))
    .join('-');
  return { day, date: new Date(`${day}T00:00:00Z`) };
}

/** The git commit of a project, with what says that files of it differ; undefined where there is none. */
export function revisionOf(root: string): string | undefined {
  const folder = statSync(root, { throwIfNoEntry: false })?.isDirectory() ? root : dirname(root);
  const git = (...words: string[]): string =>
    execFileSync('git', ['-C', folder, ...words], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      timeout: 10_000,
      // Only looked at: nothing is written, and no program that a repository names is run.
      env: { ...process.env, GIT_OPTIONAL_LOCKS: '0' },
    }).trim();
  try {
    const commit = git('rev-parse', '--short=10', 'HEAD');
    return git('-c', 'core.fsmonitor=false', 'status', '--porcelain', '--', '.') === ''
      ? commit
      : `${commit}, changed since`;
  } catch {
    return undefined;
  }
}
