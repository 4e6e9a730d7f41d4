/** What the rules compared about a shelf, rod, stack of drawers, opening or fixture, and what they lacked. */
import { type Place, type Statement, spanOf, topOf } from '../../grammar/tree.ts';
import { inTextOrder } from '../checks/analysis.ts';
import type { Looked } from '../checks/check.ts';
import { type Coverage, coverageOf } from '../checks/coverage.ts';
import { fittingsOf } from '../checks/say.ts';
import type { Compared, Comparison, Finding, Working } from '../model/finding.ts';
import type { Layout } from '../model/layout.ts';
import type { PolicyInForce } from '../model/materials.ts';
import { memo } from '../model/memo.ts';
import type { Unit } from '../model/project.ts';
import type { Rule, Severity } from '../model/rule.ts';
import { type Show, showLength, significant, toldApart } from '../model/show.ts';
import type { Resolved } from '../model/unit.ts';
import { sourceOf } from './diagnostics.ts';
import { fenced } from './markdown.ts';
import type { Snapshot } from './snapshot.ts';

/** More than this belongs into `storypole explain --at`. */
const most = { broken: 4, lacking: 3, holding: 3, workings: 2, lines: 14 };

/** A paragraph, a list, and how the results came about, in `one` where it is given. Empty where no rule looked at the statement. */
export function comparedFacts(snapshot: Snapshot, statement: Statement, one?: Unit): string[] {
  const { show } = snapshot.project.settings;
  const seen = seenIn(one, statement) ?? seenOf(snapshot, statement);
  if (!seen) return [];
  const { covered } = coverageFor(seen.layout, seen.policy, show);
  const isHere = standsAt(seen.layout, statement);
  const looked = covered.flatMap((c) => c.looked.filter(isHere));
  const lacked = covered.flatMap((c) => c.lacked.filter(isHere));
  const broken = [...looked.filter(({ holds }) => !holds), ...foundBeside(seen, looked, isHere, statement)].sort(
    (a, b) => gravity[b.rule.severity] - gravity[a.rule.severity],
  );
  if (broken.length + looked.length + lacked.length === 0) return [];
  const holding = nearestOfEach(looked.filter(({ holds }) => holds));
  const shown = [...broken.slice(0, most.broken), ...holding.slice(0, most.holding)];
  const needs = [...Map.groupBy(lacked, (l) => `\`${l.rule.id}\`: lacks ${l.needs}`).keys()];
  const rows = [
    ...broken.slice(0, most.broken).map((l) => `**does not hold** ${rowText(l, show)}`),
    ...needs.slice(0, most.lacking).map((need) => `**not compared** ${need}`),
    ...holding.slice(0, most.holding).map((l) => `holds ${rowText(l, show)}`),
  ];
  const left = broken.length + looked.filter(({ holds }) => holds).length + needs.length - rows.length;
  const more = left > 0 ? `\n- and ${left} more: \`storypole explain --at FILE:LINE\` tells them all` : '';
  return [
    `Compared ${seen.where}:`,
    `${[...new Set(rows)].map((row) => `- ${row}`).join('\n')}${more}`,
    ...workingTexts(shown.filter((l) => !l.holds || l.rule.family === 'structure' || l.rule.family === 'fixing')),
  ];
}

/** How the results of the findings at an offset came about, but for those of rules that `told` names already. */
export function workingAt({ project, source }: Snapshot, offset: number, told: string): string[] {
  const isHere = ({ rule, working, place }: Finding): boolean => {
    if (!working?.length || told.includes(`\`${rule.id}\``) || sourceOf(place) !== source) return false;
    const { start, end } = spanOf(place);
    return start <= offset && offset <= end;
  };
  // What people are shown is gone through only where there is something: mostly there is nothing.
  const here = project.saysAny(isHere) ? project.findings().filter(isHere) : [];
  if (here.length === 0) return [];
  const ordered = inTextOrder(here);
  return [...new Set(ordered.map(messageOf)), ...workingTexts(ordered)];
}

function messageOf({ rule, message }: Finding): string {
  return `**does not hold** \`${rule.id}\`: ${message}`;
}

interface Seen {
  readonly layout: Layout;
  readonly policy: PolicyInForce;
  readonly findings: readonly Finding[];
  /** `in A-101`, `at width 92in`. */
  readonly where: string;
}

/** Undefined where the statement takes no part in a unit. */
function seenIn(unit: Unit | undefined, statement: Statement): Seen | undefined {
  return unit?.resolved && speaksOf(unit.resolved.layout, statement)
    ? seenAs(unit, unit.resolved, `in ${unit.name}`)
    : undefined;
}

function seenAs({ policy, checked }: Unit, { layout }: Resolved, where: string): Seen {
  return { layout, policy, findings: checked, where };
}

/** One unit in which the statement takes part, before others one with a finding about it; a sample of the template where there is none. */
function seenOf({ project }: Snapshot, statement: Statement): Seen | undefined {
  const holding = new Map<Layout, boolean>();
  const holds = (layout: Layout): boolean => memo(holding, layout, () => speaksOf(layout, statement));
  const units = [...project.units()].filter(({ resolved }) => resolved && holds(resolved.layout));
  const unit = worst(units, ({ checked }) => checked, statement);
  if (unit?.resolved) {
    const others = units.length > 1 ? `, one of ${units.length} units` : '';
    return seenAs(unit, unit.resolved, `in ${unit.name}${others}`);
  }
  const samples = project.samplesOf(topOf(statement)).filter(({ resolved }) => holds(resolved.layout));
  const sample = worst(samples, ({ findings }) => findings, statement);
  if (!sample) return undefined;
  const where = sample.label === '' ? 'in the template' : `at ${sample.label}`;
  const { findings, resolved } = sample;
  return { layout: resolved.layout, policy: project.projectPolicy(), findings, where };
}

const gravity: Readonly<Record<Severity, number>> = { error: 3, warning: 2, note: 1 };

/** The first of those with the gravest finding about a statement; the first of all where there is none. */
function worst<T extends { readonly resolved?: Resolved | undefined }>(
  all: readonly T[],
  findingsOf: (one: T) => readonly Finding[],
  statement: Statement,
): T | undefined {
  let found: { readonly one: T; readonly grave: number } | undefined;
  for (const one of all) {
    const findings = findingsOf(one);
    const isHere = findings.length > 0 && one.resolved ? standsAt(one.resolved.layout, statement) : () => false;
    const grave = Math.max(0, ...findings.flatMap((f) => (isAbout(f, isHere, statement) ? gravity[f.severity] : [])));
    if (!found || grave > found.grave) found = { one, grave };
  }
  return found?.one;
}

function isAbout({ about = '', place, related }: Finding, isHere: Standing, statement: Statement): boolean {
  return isHere({ about, place }) || related.some((r) => isWithin(r.place.statement, statement));
}

function speaksOf(layout: Layout, statement: Statement): boolean {
  const isOf = ({ place }: { readonly place: { readonly statement: Statement } }): boolean =>
    place.statement === statement;
  return layout.fixtures.some(isOf) || layout.openings.some(isOf) || layout.zones.some((z) => z.fittings.some(isOf));
}

type Standing = (one: { readonly about: string; readonly place: Place; readonly comparison?: Comparison }) => boolean;

/** Whether something is about what a statement puts into the room. Of a fixture, what says its name is about it too. */
function standsAt(layout: Layout, statement: Statement): Standing {
  const own = <T extends { readonly place: Place }>(things: Iterable<T>): T[] =>
    [...things].filter(({ place }) => place.statement === statement);
  const paths = new Set(own(fittingsOf(layout)).map(({ path }) => path));
  const names = own(layout.fixtures).map(({ name, kind }) => (name === kind ? ` ${kind} on ` : `"${name}"`));
  return ({ about, place, comparison }) =>
    paths.has(about) ||
    isWithin(place.statement, statement) ||
    names.some((name) => comparison?.what.includes(name) === true);
}

/** Findings that compared something without telling so while they did. */
function foundBeside(seen: Seen, looked: readonly Looked[], isHere: Standing, statement: Statement): Looked[] {
  return seen.findings.flatMap((found): Looked[] => {
    const { rule, about = '', place, comparison, working } = found;
    if (!comparison || looked.some((l) => l.rule === rule && !l.holds)) return [];
    return isAbout(found, isHere, statement)
      ? [{ rule, about, place, comparison, holds: false, ...(working && { working }) }]
      : [];
  });
}

function isWithin(statement: Statement, outer: Statement): boolean {
  let node = statement;
  while (node !== outer && node.parent.kind === 'statement') node = node.parent;
  return node === outer;
}

/** A layout is resolved anew when anything that it rests on changes, and a policy likewise. */
const coverages = new WeakMap<Layout, WeakMap<PolicyInForce, Coverage>>();

function coverageFor(layout: Layout, policy: PolicyInForce, show: Show): Coverage {
  const byPolicy = memo(coverages, layout, () => new WeakMap<PolicyInForce, Coverage>());
  return memo(byPolicy, policy, () => coverageOf({ layout, policy, show }));
}

/** Of each rule the comparison nearest to its limit, the nearest of all first. */
function nearestOfEach(looked: readonly Looked[]): Looked[] {
  const sorted = looked.toSorted((a, b) => spareOf(a.comparison) - spareOf(b.comparison));
  const seen = new Set<Rule>();
  return sorted.filter(({ rule }) => seen.size < seen.add(rule).size);
}

/**
 * How far from its limit, as a part of the greater of the two, so that lengths and loads can be ranked together.
 * What is simply equal, or of which there is none, is near to nothing.
 */
function spareOf({ measured, limit, relation }: Comparison): number {
  const [is, bound] = [numberOf(measured), numberOf(limit)];
  const greater = Math.max(Math.abs(is), Math.abs(bound));
  if (relation === 'equal to' || greater === 0) return Number.MAX_VALUE;
  return (relation === 'at most' ? bound - is : is - bound) / greater;
}

function numberOf(compared: Compared): number {
  if ('ticks' in compared) return compared.ticks;
  return 'count' in compared ? compared.count : compared.amount;
}

function rowText({ rule, comparison }: Looked, show: Show): string {
  const { what, measured, relation, limit } = comparison;
  const [is, bound] = toldApart(comparison, show) ?? [amountText(measured, show), amountText(limit, show)];
  return `\`${rule.id}\`: ${what} ${is}, ${relation} ${bound}`;
}

function amountText(compared: Compared, show: Show): string {
  if ('ticks' in compared) return showLength(compared.ticks, show);
  return 'count' in compared ? compared.count.toLocaleString('en') : `${significant(compared.amount)} ${compared.unit}`;
}

function workingTexts(results: readonly { readonly rule: Rule; readonly working?: readonly Working[] }[]): string[] {
  const texts = results.flatMap(({ rule, working }) => (working?.length ? [workingText(rule, working)] : []));
  return [...new Set(texts)].slice(0, most.workings);
}

/** Every number on the way, in columns; folded where there are more than anybody reads on hover. */
function workingText({ id }: Rule, working: readonly Working[]): string {
  const shown = working.slice(0, most.lines);
  const wide = (of: (w: Working) => string): number => Math.max(...shown.map((w) => of(w).length));
  const [what, value] = [wide((w) => w.what), wide((w) => w.value)];
  const lines = shown.map((w) =>
    `${w.what.padEnd(what)}  ${w.how === undefined ? w.value : `${w.value.padEnd(value)}  ${w.how}`}`.trimEnd(),
  );
  const more = working.length > shown.length ? [`and ${working.length - shown.length} lines more`] : [];
  return fenced([id, ...lines, ...more].join('\n'), 'text');
}
