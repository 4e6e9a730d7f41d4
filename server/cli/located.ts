/** Findings where they stand in files: lines and columns from 1, as editors count them. */
import { relative } from 'node:path';
import type { Position, Source } from '../../grammar/source.ts';
import { type Place, segmentOf, spanOf } from '../../grammar/tree.ts';
import { planProject, sortFindings } from '../checks/analysis.ts';
import type { Finding } from '../model/finding.ts';
import type { Severity } from '../model/rule.ts';
import type { Show } from '../model/show.ts';
import { starterSource } from '../model/starter.ts';
import type { Chosen } from './targets.ts';

export interface Spot {
  /** Absolute, with forward slashes. */
  readonly file: string;
  readonly source: Source;
  /** Offsets in UTF-16 code units from the start of the file. */
  readonly start: number;
  readonly end: number;
  readonly from: Position;
  readonly to: Position;
}

export interface LocatedFinding extends Spot {
  readonly finding: Finding;
  /** How its project shows lengths. */
  readonly show: Show;
}

export function spot(place: Place): Spot {
  const source = segmentOf(place.statement).source as Source;
  const { start, end } = spanOf(place);
  return { file: source.id, source, start, end, from: source.positionAt(start), to: source.positionAt(end) };
}

/** A path for people: from the current folder where that is shorter. */
export function shownPath(file: string, current: string): string {
  if (file === starterSource.id) return '<starter set>';
  const near = relative(current, file).replaceAll('\\', '/');
  if (near === '') return '.';
  return near.length < file.length ? near : file;
}

/** What is found in the chosen files, those about stock included, in the order of files and of places in them. */
export function findingsOf(
  { project, files }: Chosen,
  stock: readonly Finding[] = planProject(project).findings,
  areAll = false,
): LocatedFinding[] {
  const { show } = project.settings;
  // What follows from something is left out where that is told, and so not where nobody asks about its file.
  const explains = files && ((f: Finding): boolean => files.has(spot(f.place).file));
  const all = [...project.findings(areAll ? false : undefined, explains), ...stock].map((finding) => ({
    ...spot(finding.place),
    finding,
    show,
  }));
  return sortFindings(files ? all.filter(({ file }) => files.has(file)) : all);
}

export interface Counts {
  readonly errors: number;
  readonly warnings: number;
  readonly notes: number;
}

export function countsOf(findings: Iterable<{ readonly finding: Finding }>): Counts {
  let [errors, warnings, notes] = [0, 0, 0];
  for (const { finding } of findings) {
    if (finding.severity === 'error') errors++;
    else if (finding.severity === 'warning') warnings++;
    else notes++;
  }
  return { errors, warnings, notes };
}

const rank: Readonly<Record<Severity, number>> = { error: 2, warning: 1, note: 0 };

export function isAtLeast(severity: Severity, least: Severity): boolean {
  return rank[severity] >= rank[least];
}
