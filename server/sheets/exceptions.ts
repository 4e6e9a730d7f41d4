/**
 * What surveys do to what was drawn: which units still fit their template unchanged, which need only other cut lengths,
 * and which need somebody to decide. Each unit is compared with itself, as it would be without its survey.
 */
import { runChecks, withSeverities } from '../checks/table.ts';
import { type Agreement, agreedBy, agreementOf } from '../model/agreements.ts';
import type { Finding } from '../model/finding.ts';
import type { WallLayout } from '../model/layout.ts';
import { memo } from '../model/memo.ts';
import { calledInProject } from '../model/names.ts';
import type { Project, Unit } from '../model/project.ts';
import { childrenOf } from '../model/reading.ts';
import { surveyOfMany } from '../model/rules.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { type Resolved, resolveUnit, type TemplateInfo } from '../model/unit.ts';
import { unreadIn } from '../model/unread-units.ts';
import { valueKey } from '../model/values.ts';
import { type Change, changesOf } from './compare/changes.ts';

export const verdicts = ['decision', 'cut-lengths', 'fits'] as const;
export type Verdict = (typeof verdicts)[number];

export interface OffWall {
  readonly wall: string;
  /** What counts of it, less what is drawn: below nothing where it is shorter. */
  readonly off: Ticks;
}

export interface Exception {
  readonly unit: Unit;
  readonly template: string | undefined;
  readonly verdict: Verdict;
  /** The most that a wall is off, in either direction; undefined where no length was measured. */
  readonly wall: OffWall | undefined;
  /** Parts that are cut to another length. */
  readonly cuts: readonly Change[];
  /** The most by which one of them differs. */
  readonly most: Ticks;
  /** What else is built otherwise: parts more or less, things at other places or heights. */
  readonly others: readonly Change[];
  /** What cannot be read of it; errors and warnings that the unit as drawn does not have, and nobody has agreed to; errors first. */
  readonly findings: readonly Finding[];
}

/** Of all units with a survey, those that need the most first. The project is fresh. */
export function exceptionsOf(project: Project, units: Iterable<Unit> = project.units()): Exception[] {
  const agreements = project.names.written('accept').flatMap(agreementOf);
  const found = [...units].flatMap((unit) => (unit.survey ? [exceptionOf(project, unit, agreements)] : []));
  return found.sort(byNeed);
}

const rank = { error: 0, warning: 1, note: 2 } as const;

function byNeed(a: Exception, b: Exception): number {
  const errors = ({ findings }: Exception): number => findings.filter(({ severity }) => severity === 'error').length;
  return (
    verdicts.indexOf(a.verdict) - verdicts.indexOf(b.verdict) ||
    errors(b) - errors(a) ||
    b.findings.length - a.findings.length ||
    b.most - a.most ||
    Math.abs(b.wall?.off ?? 0) - Math.abs(a.wall?.off ?? 0) ||
    a.unit.name.localeCompare(b.unit.name, 'en', { numeric: true })
  );
}

function exceptionOf(project: Project, unit: Unit, agreements: readonly Agreement[]): Exception {
  const { info } = unit;
  const template = info && calledInProject(info.declared);
  const against = memo(comparisons, unit, () => comparedWithDrawn(project, unit));
  // Whether it fits as drawn cannot be told of what is not all read.
  const unread = unreadIn(project)(unit);
  if (!against) {
    const nothing = { wall: undefined, cuts: [], most: ticks(0), others: [] };
    return { unit, template, verdict: 'decision', ...nothing, findings: unread };
  }
  const { cuts, others, wall, most } = against;
  const open = against.findings.filter((f) => !agreedBy(f, unit.name, info?.declared, agreements));
  const findings = [...unread, ...open];
  const isOther = others.some(({ kind, before, after }) => kind === 'part' && !(before && after));
  const verdict =
    findings.length > 0 || isOther ? 'decision' : cuts.length > 0 || others.length > 0 ? 'cut-lengths' : 'fits';
  return { unit, template, verdict, wall, cuts, most, others, findings };
}

type Compared = Pick<Exception, 'cuts' | 'others' | 'wall' | 'most' | 'findings'>;

/** A unit is made anew whenever anything that it rests on changes. */
const comparisons = new WeakMap<Unit, Compared | undefined>();

function comparedWithDrawn(project: Project, unit: Unit): Compared | undefined {
  const { resolved, policy, checked, findings } = unit;
  const drawn = drawnOf(project, unit);
  if (!resolved || !drawn) return undefined;
  const changes = changesOf(drawn.layout, resolved.layout, (a, b) => a === b);
  const cuts = changes.filter(isCut);
  const byPolicy = memo(checksOfDrawn, drawn, () => new Map<Unit['policy'], ReadonlySet<string>>());
  const known = memo(byPolicy, policy, () => {
    const { show } = project.settings;
    const all = [...withSeverities(drawn.findings, policy), ...runChecks({ layout: drawn.layout, policy, show })];
    return new Set(all.map(keyOf));
  });
  return {
    cuts,
    others: changes.filter((change) => !isCut(change) && !isMeasured(change)),
    wall: mostOff(resolved.layout.walls),
    most: ticks(Math.max(0, ...cuts.map((change) => Math.abs(differenceOf(change))))),
    findings: [
      ...findings.filter(({ rule }) => rule === surveyOfMany),
      ...checked.filter((f) => f.severity !== 'note' && !known.has(keyOf(f))),
    ].toSorted((a, b) => rank[a.severity] - rank[b.severity]),
  };
}

const checksOfDrawn = new WeakMap<Resolved, Map<Unit['policy'], ReadonlySet<string>>>();

const drawnLayouts = new WeakMap<TemplateInfo, Map<string, Resolved>>();

/** The same template and arguments, with what the unit overrides, as if nothing had been measured. */
function drawnOf(project: Project, { info, given, mirrored, declared }: Unit): Resolved | undefined {
  if (!info || !given) return undefined;
  const { settings, names } = project;
  const overrides = childrenOf(declared.reading, 'override');
  const make = (): Resolved =>
    resolveUnit({ info, values: given.values, mirrored, overrides, survey: undefined, settings, names });
  if (overrides.length > 0) return make();
  // Most units are one of a few layouts, but for what was measured.
  const byInput = memo(drawnLayouts, info, () => new Map<string, Resolved>());
  const key = `${mirrored} ${settings.sawStep} ${[...given.values].map(([name, value]) => `${name}=${valueKey(value)}`).join(';')}`;
  const made = byInput.get(key);
  if (made?.trace.stillHolds()) return made;
  const fresh = make();
  byInput.set(key, fresh);
  return fresh;
}

/** A length that a part is cut to. */
export function isCut({ kind, what, before, after }: Change): boolean {
  return kind === 'part' && what === 'cut length' && before !== undefined && after !== undefined;
}

/** What the survey says itself, and what follows from it for nobody who builds: widths of zones are told by their parts. */
function isMeasured({ kind, what }: Change): boolean {
  return kind === 'wall' || kind === 'opening' || (kind === 'zone' && what === 'width') || kind === 'other';
}

/** What a change adds to a length; nothing where it is of no length. */
export function differenceOf({ before, after }: Change): number {
  return before && after && 'ticks' in before && 'ticks' in after ? after.ticks - before.ticks : 0;
}

/** What counts of a wall is its least reading; one that is longer at every height is off by that. */
function mostOff(walls: readonly WallLayout[]): OffWall | undefined {
  let found: OffWall | undefined;
  for (const { name, readings, nominal } of walls) {
    if (readings.length === 0) continue;
    for (const { length } of readings) {
      const off = ticks(length - nominal);
      // Of two that are as much off, the shorter one is what hurts.
      const more = found ? Math.abs(off) - Math.abs(found.off) : 1;
      if (more > 0 || (more === 0 && off < 0)) found = { wall: name, off };
    }
  }
  return found;
}

/** Its numbers are others in every unit: what it is about is not. */
function keyOf({ severity, rule, about }: Finding): string {
  return `${severity} ${rule.id} ${about ?? ''}`;
}

export interface ExceptionGroup {
  /** The floor or template; undefined for units that say none. */
  readonly name: string | undefined;
  readonly exceptions: readonly Exception[];
}

export type By = 'floor' | 'template';

/** In the order in which people count floors, or by the name of the template; within each as they come. */
export function groupsOf(exceptions: readonly Exception[], by: By): ExceptionGroup[] {
  const groups = Map.groupBy(exceptions, ({ unit, template }) => (by === 'floor' ? unit.floor : template));
  return [...groups]
    .map(([name, own]) => ({ name, exceptions: own }))
    .sort((a, b) =>
      a.name === undefined || b.name === undefined
        ? Number(a.name === undefined) - Number(b.name === undefined)
        : a.name.localeCompare(b.name, 'en', { numeric: true }),
    );
}

export function tallyOf(exceptions: readonly Exception[]): Readonly<Record<Verdict, number>> {
  const tally = { decision: 0, 'cut-lengths': 0, fits: 0 };
  for (const { verdict } of exceptions) tally[verdict]++;
  return tally;
}
