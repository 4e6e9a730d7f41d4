/** A list of findings that are known and accepted for now, so that a check reports only what is new. */
import { readFileSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { limits } from '../../model/limits.ts';
import { reason } from '../../model/node-files.ts';
import { moreThanIsRead } from '../../model/sizes.ts';
import type { LocatedFinding } from '../located.ts';
import { Stop } from '../stop.ts';
import { fingerprintVersion } from './fingerprint.ts';

export interface Baseline {
  readonly version: typeof fingerprintVersion;
  readonly findings: readonly KnownFinding[];
}

/** All but the fingerprint is for those who read the file and review its changes. */
export interface KnownFinding {
  readonly fingerprint: string;
  readonly rule: string;
  readonly file: string;
  readonly message: string;
}

export interface Sorted {
  readonly fresh: readonly LocatedFinding[];
  /** How many of the findings are known. */
  readonly known: number;
  /** Known ones that are not found any more. */
  readonly gone: readonly KnownFinding[];
}

export function baselineOf(
  findings: readonly LocatedFinding[],
  fingerprints: readonly string[],
  pathOf: (file: string) => string,
): Baseline {
  const known = findings.map(({ file, finding }, i) => ({
    fingerprint: fingerprints[i] as string,
    rule: finding.rule.id,
    file: pathOf(file),
    message: finding.message,
  }));
  // In an order of their own, so that a moved file or line is no change of the list.
  const key = ({ rule, file, message, fingerprint }: KnownFinding): string =>
    [file, rule, message, fingerprint].join('\n');
  return { version: fingerprintVersion, findings: known.toSorted((a, b) => (key(a) < key(b) ? -1 : 1)) };
}

export function baselineText(baseline: Baseline): string {
  return `${JSON.stringify(baseline, undefined, 2)}\n`;
}

/** Throws Stop where there is none, or it cannot be read. */
export function readBaseline(path: string, current: string): Baseline {
  let text: string;
  try {
    const file = resolve(current, path);
    const { size } = statSync(file);
    if (size > limits.largestTable.most) throw new Stop(moreThanIsRead(path, size, limits.largestTable.most));
    text = readFileSync(file, 'utf8');
  } catch (error) {
    if (error instanceof Stop) throw error;
    const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    throw new Stop(
      missing
        ? `${path} is not there. Write the list of what is found now with --update-baseline, and commit it.`
        : `${path} cannot be read: ${reason(error)}.`,
    );
  }
  const made = parsed(text);
  if (!made) throw new Stop(`${path} is not a list of known findings. Write a new one with --update-baseline.`);
  if (made.version !== fingerprintVersion)
    throw new Stop(
      `${path} was written by another version of this tool, which knows findings by other marks. Look at what is found without it, and write a new one with --update-baseline.`,
    );
  return made as Baseline;
}

function parsed(text: string): { version: unknown; findings: KnownFinding[] } | undefined {
  try {
    const made: unknown = JSON.parse(text);
    if (typeof made !== 'object' || made === null || !('findings' in made) || !Array.isArray(made.findings))
      return undefined;
    const isKnown = (one: unknown): boolean =>
      typeof one === 'object' &&
      one !== null &&
      ['fingerprint', 'rule', 'file', 'message'].every(
        (key) => typeof (one as Record<string, unknown>)[key] === 'string',
      );
    if (!made.findings.every(isKnown) || !('version' in made)) return undefined;
    return made as { version: unknown; findings: KnownFinding[] };
  } catch {
    return undefined;
  }
}

export function sortedBy(
  baseline: Baseline,
  findings: readonly LocatedFinding[],
  fingerprints: readonly string[],
): Sorted {
  const known = new Set(baseline.findings.map(({ fingerprint }) => fingerprint));
  const found = new Set(fingerprints);
  const fresh = findings.filter((_, i) => !known.has(fingerprints[i] as string));
  return {
    fresh,
    known: findings.length - fresh.length,
    gone: baseline.findings.filter(({ fingerprint }) => !found.has(fingerprint)),
  };
}
