/** What sheets say of when they were made, and of what. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { git } from './git.ts';
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
    throw new Stop(
      `SOURCE_DATE_EPOCH is "${epoch}", which is no number of seconds since 1970. Leave it out, or say the day with --date.`,
    );
  return made.toISOString().slice(0, 10);
}

function localDay(now: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/**
 * The commit that a folder is at, with `+` where files in it have changed since, or of the libraries that it is built on;
 * undefined where there is no git.
 */
export function revisionOf(folder: string, libraries: readonly string[] = []): string | undefined {
  const said = (...words: string[]): string | undefined => asked(folder, words);
  try {
    const commit = said('rev-parse', '--short=10', 'HEAD')?.trim();
    if (commit === undefined || !/^[0-9a-f]{4,64}$/.test(commit)) return undefined;
    // Only what is drawn from matters: sheets that lie beside it change nothing.
    const committed = entriesOf(said('ls-tree', '-r', '-z', 'HEAD'));
    const known = new Set(committed.map(({ name }) => name));
    const there = said('ls-files', '-z', '--cached', '--others', '--exclude-standard') ?? '';
    const isNew = there.split('\0').some((name) => name.endsWith('.closet') && !known.has(name));
    const isSame = !isNew && committed.every((entry) => isAsCommitted(folder, entry)) && areCommitted(libraries);
    return isSame ? commit : `${commit}+`;
  } catch {
    return undefined;
  }
}

function asked(folder: string, words: readonly string[]): string | undefined {
  const { status, stdout } = git(folder, words);
  return status === 0 ? stdout.toString('utf8') : undefined;
}

/** Files elsewhere, with all that was committed beside each of them. Installed packages are told apart by their version. */
function areCommitted(files: readonly string[]): boolean {
  const own = files.filter((file) => !file.split(/[\\/]/).includes('node_modules'));
  return [...Map.groupBy(own, (file) => dirname(file))].every(([folder, beside]) => {
    const committed = entriesOf(asked(folder, ['ls-tree', '-z', 'HEAD']));
    const known = new Set(committed.map(({ name }) => name));
    return beside.every((file) => known.has(basename(file))) && committed.every((one) => isAsCommitted(folder, one));
  });
}

interface Committed {
  readonly name: string;
  readonly hash: string;
}

/** source: git documentation, "git-ls-tree", output format: mode, type, object, a tab, the path from the folder asked in */
function entriesOf(listed: string | undefined): Committed[] {
  return (listed ?? '').split('\0').flatMap((line): Committed[] => {
    const [, type, hash, name] = /^100\d+ (\w+) ([0-9a-f]+)\t(.+)$/s.exec(line) ?? [];
    return type === 'blob' && hash !== undefined && name?.endsWith('.closet') ? [{ name, hash }] : [];
  });
}

/**
 * Worked out here and not asked for: git would run the filters that a repository names, and those are programs.
 * source: Pro Git, second edition, "Git Objects": the hash of a file is that of `blob`, its length, a zero byte, its bytes
 */
function isAsCommitted(folder: string, { name, hash }: Committed): boolean {
  let bytes: Buffer;
  try {
    bytes = readFileSync(join(folder, name));
  } catch {
    return false;
  }
  const algorithm = hash.length === 40 ? 'sha1' : 'sha256';
  const isHash = (of: Buffer): boolean =>
    createHash(algorithm).update(`blob ${of.length}\0`).update(of).digest('hex') === hash;
  // Line ends may have been made those of the machine when it was checked out.
  return isHash(bytes) || isHash(Buffer.from(bytes.toString('latin1').replaceAll('\r\n', '\n'), 'latin1'));
}
