/** One run of a command: where it stands, and how its output is to look. */
import type { Severity } from '../model/rule.ts';
import { countsOf, isAtLeast, type LocatedFinding, shownPath } from './located.ts';
import { type Paint, paintFor, plain } from './style.ts';
import { counted } from './words.ts';

export type Format = 'text' | 'json' | 'csv';

/** Options that every command with a result has. */
export interface Common {
  readonly format: Format;
  readonly color?: boolean | undefined;
  readonly output?: string | undefined;
}

/** Options of the commands whose status rests on findings. */
export interface Judging extends Common {
  readonly failOn: Severity;
}

export interface Session {
  /** The current folder. */
  readonly current: string;
  readonly paint: Paint;
  /** Columns of the terminal; as many as are comfortable where there is none. */
  readonly width: number;
  readonly pathOf: (file: string) => string;
}

const comfortable = 120;

export function sessionFor({ color, output }: Omit<Common, 'format'>): Session {
  const current = process.cwd();
  return {
    current,
    paint: output === undefined ? paintFor(color, process.stdout, process.env) : plain,
    width: process.stdout.columns || comfortable,
    pathOf: (file) => shownPath(file, current),
  };
}

/** The exit status: 0, or 1 where a finding is as severe as --fail-on says. */
export function statusOf(findings: Iterable<LocatedFinding>, failOn: Severity): number {
  for (const { finding } of findings) if (isAtLeast(finding.severity, failOn)) return 1;
  return 0;
}

/** What goes before a list that rests on a project with errors; undefined where there are none. */
export function doNotCut(findings: Iterable<LocatedFinding>): string | undefined {
  const { errors } = countsOf(findings);
  if (errors === 0) return undefined;
  const [are, they] = errors === 1 ? ['is', 'it concerns'] : ['are', 'they concern'];
  return `Do not cut by this yet: there ${are} ${counted(errors, 'error')} in the project, and what ${they} is missing or may be wrong. Run storypole check.`;
}
