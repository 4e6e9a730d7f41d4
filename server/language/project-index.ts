/** What is said of a project as a whole, looked up by unit, by template and by rule; kept until something is computed anew. */
import { type Statement, topOf } from '../../grammar/tree.ts';
import type { Finding } from '../model/finding.ts';
import { counted } from '../model/money.ts';
import type { Project, Unit } from '../model/project.ts';
import { unitsReached } from '../model/reached.ts';
import type { Severity } from '../model/rule.ts';
import { unreadBy } from '../model/unread-units.ts';

/** How many findings of each severity. */
export type Tally = Readonly<Record<Severity, number>>;

export interface ProjectIndex {
  /** In the order of the files and of the statements in them. */
  readonly units: readonly Unit[];
  /** The project's own and those of its plan. */
  readonly findings: readonly Finding[];
  /** Findings in a unit, in its survey, those of a template that reach it, and what cannot be read of what it rests on. */
  readonly ofUnit: (name: string) => Tally;
  readonly foundIn: (unit: Unit) => readonly Finding[];
  readonly ofTemplate: (template: Statement) => Tally;
  readonly usersOf: (template: Statement) => readonly Unit[];
}

interface Kept {
  readonly beside: readonly Finding[];
  readonly index: ProjectIndex;
}

const kept = new WeakMap<Project['moment'], Kept>();

/** The worst first. */
export const severities = ['error', 'warning', 'note'] as const;

export const noFindings: Tally = { error: 0, warning: 0, note: 0 };

/** `beside` is what the cutting plan found: the same list as long as it found nothing else. */
export function indexOf(project: Project, beside: readonly Finding[]): ProjectIndex {
  const known = kept.get(project.moment);
  if (known?.beside === beside) return known.index;
  const index = made(project, beside);
  kept.set(project.moment, { beside, index });
  return index;
}

function made(project: Project, beside: readonly Finding[]): ProjectIndex {
  const units = [...project.units()];
  const findings = [...project.findings(), ...beside];
  const ofUnit = new Map<string, Record<Severity, number>>();
  const ofTemplate = new Map<Statement, Record<Severity, number>>();
  const unread = unreadBy(project, findings);
  for (const unit of units)
    for (const finding of unread(unit))
      if (!unitsReached(finding).includes(unit.name)) add(ofUnit, unit.name, finding.severity);
  for (const finding of findings) {
    for (const name of unitsReached(finding)) add(ofUnit, name, finding.severity);
    const top = topOf(finding.place.statement);
    if (top.word.text === 'template') add(ofTemplate, top, finding.severity);
  }
  const users = Map.groupBy(units, ({ info }) => info?.declared.statement);
  return {
    units,
    findings,
    foundIn: (unit) => {
      const own = new Set(unread(unit));
      return findings.filter((finding) => own.has(finding) || unitsReached(finding).includes(unit.name));
    },
    ofUnit: (name) => ofUnit.get(name) ?? noFindings,
    ofTemplate: (template) => ofTemplate.get(template) ?? noFindings,
    usersOf: (template) => users.get(template) ?? [],
  };
}

function add<K>(tallies: Map<K, Record<Severity, number>>, key: K, severity: Severity): void {
  const known = tallies.get(key);
  if (known) known[severity]++;
  else tallies.set(key, { ...noFindings, [severity]: 1 });
}

/** The most severe of what is counted; undefined where nothing was found. */
export function worstOf({ error, warning, note }: Tally): Severity | undefined {
  return error > 0 ? 'error' : warning > 0 ? 'warning' : note > 0 ? 'note' : undefined;
}

export function sumOf(tallies: Iterable<Tally>): Tally {
  const sum = { ...noFindings };
  for (const { error, warning, note } of tallies) {
    sum.error += error;
    sum.warning += warning;
    sum.note += note;
  }
  return sum;
}

export function tallyOf(findings: readonly Finding[]): Tally {
  const tally = { error: 0, warning: 0, note: 0 };
  for (const { severity } of findings) tally[severity]++;
  return tally;
}

/** `2 errors`, `1 note`; nothing for what there is none of. */
export function told(tally: Tally): string[] {
  return severities.filter((severity) => tally[severity] > 0).map((severity) => counted(tally[severity], severity));
}
