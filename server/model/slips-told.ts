/**
 * A length that is told to be a slip, and what comes of it: one mistake, one finding, at the length. What cannot be built
 * for nothing but a slip makes that an error; whatever else is wrong is told once the slip is mended.
 */
import { type Place, type Statement, topOf } from '../../grammar/tree.ts';
import type { Computed } from './computed.ts';
import type { Finding } from './finding.ts';
import type { Layout, Part } from './layout.ts';
import type { RuleFamily } from './rule.ts';
import * as rules from './rules.ts';
import type { ProjectSettings } from './settings.ts';
import { showLength } from './show.ts';
import { stockByMaterial } from './stock-held.ts';
import { ticks } from './ticks.ts';

/** What is asked of a unit. */
interface Made {
  readonly name: string;
  readonly declared: { readonly statement: Statement };
  readonly survey: { readonly statement: Statement } | undefined;
  readonly info: { readonly blueprint: { readonly heads: readonly { readonly statement: Statement }[] } } | undefined;
  readonly resolved: { readonly layout: Pick<Layout, 'parts'> } | undefined;
}

/** What is looked at of a project. */
export interface Slipped {
  readonly settings: ProjectSettings;
  readonly units: () => Iterable<Made>;
  readonly computed: (kind: 'stock' | 'extra') => readonly Computed[];
}

/** These say that something cannot be read, and follow from no length. */
const ofText: ReadonlySet<RuleFamily> = new Set<RuleFamily>(['text', 'words', 'names', 'quantities', 'project']);

function comparesLengths({ comparison }: Finding): boolean {
  return comparison !== undefined && 'ticks' in comparison.measured;
}

export function isSlip({ rule }: Finding): boolean {
  return rule === rules.unlikelySize || rule === rules.argumentOutOfRange;
}

/** Findings without those that follow from a slip. */
export function withSlips(findings: readonly Finding[], project: Slipped): readonly Finding[] {
  const slips = findings.filter(isSlip);
  if (slips.length === 0) return findings;
  const at = Map.groupBy(slips, ({ place }) => place.statement);
  const following = new Map<Finding, Finding[]>();
  const left = findings.filter((f) => {
    if (isSlip(f) || ofText.has(f.rule.family) || !comparesLengths(f)) return true;
    const [slip] = [f.place, ...f.related.map(({ place }) => place)].flatMap(
      ({ statement }) => at.get(statement) ?? [],
    );
    if (!slip) return true;
    const known = following.get(slip);
    if (known) known.push(f);
    else following.set(slip, [f]);
    return false;
  });
  const resting = restingOn(slips, project);
  return left.map((f) => (isSlip(f) ? withFollowing(f, following.get(f) ?? [], resting, project) : f));
}

function withFollowing(
  slip: Finding,
  following: readonly Finding[],
  resting: ReadonlyMap<Statement, Resting>,
  project: Slipped,
): Finding {
  if (slip.severity === 'error') return slip;
  const grave = following.filter(({ severity }) => severity === 'error');
  const rests = resting.get(topOf(slip.place.statement));
  const long = rests && tooLong(partsFrom(slip, rests), project);
  if (grave.length === 0 && !long) return slip;
  const reach = new Set([...slip.reach, ...grave.flatMap((f) => f.reach), ...(long ? rests.units : [])]);
  const [first] = grave;
  const told = long && !first ? ` ${long}` : '';
  return {
    ...slip,
    severity: 'error',
    message: `${slip.message}${told}`,
    related: [...slip.related, ...(first ? [{ place: first.place, message: first.message }] : [])],
    reach: [...reach],
  };
}

interface Resting {
  readonly units: string[];
  readonly parts: Set<Part>;
}

/** What is made from each template, unit, survey or extra in which a slip stands. */
function restingOn(slips: readonly Finding[], project: Slipped): ReadonlyMap<Statement, Resting> {
  const resting = new Map<Statement, Resting>();
  for (const { severity, place } of slips)
    if (severity !== 'error') resting.set(topOf(place.statement), { units: [], parts: new Set() });
  if (resting.size === 0) return resting;
  for (const { name, declared, survey, info, resolved } of project.units()) {
    const heads = info?.blueprint.heads.map(({ statement }) => statement) ?? [];
    for (const top of new Set([declared.statement, survey?.statement, ...heads])) {
      const rests = top && resting.get(top);
      if (!rests) continue;
      rests.units.push(name);
      for (const part of resolved?.layout.parts ?? []) rests.parts.add(part);
    }
  }
  for (const computed of project.computed('extra')) {
    const rests = resting.get(computed.declared.statement);
    if (computed.kind === 'extra' && computed.value?.kind === 'extra') rests?.parts.add(computed.value.part);
  }
  return resting;
}

/** Those whose length rests on it. An argument may be in any of them. */
function partsFrom({ rule, place: at, related }: Finding, { parts }: Resting): Part[] {
  if (rule === rules.argumentOutOfRange) return [...parts];
  const lengths = new Set([at, ...related.map((one) => one.place)].map(({ statement }) => statement));
  const isLength = ({ statement }: Place): boolean => lengths.has(statement);
  // Of what was measured of a wall, a part may have its length from between two readings.
  const isMeasured = ({ statement }: Place): boolean => statement.parent === at.statement.parent;
  return [...parts].filter(
    ({ place, steps }) =>
      isLength(place) ||
      steps.some((step) => {
        const own = 'place' in step ? step.place : undefined;
        return own !== undefined && (isLength(own) || (step.kind === 'wall' && step.surveyed && isMeasured(own)));
      }),
  );
}

/** The longest part that no stock of its material holds, in words. */
function tooLong(parts: readonly Part[], { settings, computed }: Slipped): string | undefined {
  const longest = new Map<string, number>();
  for (const { items } of stockByMaterial(computed('stock')).values()) {
    for (const { material, length } of items)
      longest.set(material, Math.max(length - 2 * settings.endTrim, longest.get(material) ?? 0));
  }
  const [most] = parts
    .filter(({ material, length }) => length > (longest.get(material) ?? Number.POSITIVE_INFINITY))
    .sort((a, b) => b.length - a.length);
  if (!most) return undefined;
  const usable = showLength(ticks(longest.get(most.material) ?? 0), settings.show);
  return `A part of it would be ${showLength(most.length, settings.show)} long, and no stock of "${most.material}" gives more than ${usable}.`;
}

/** Units and loose parts of which an error says that a length is a slip: their parts are not what anybody wants. */
export function ofSlips(findings: readonly Finding[]): ReadonlySet<string> {
  const names = new Set<string>();
  for (const f of findings) {
    if (!isSlip(f) || f.severity !== 'error') continue;
    for (const name of f.reach) names.add(name);
    const top = topOf(f.place.statement);
    const [first] = top.items;
    const isOwn = ['unit', 'survey', 'extra'].includes(top.word.text);
    if (isOwn && first?.kind === 'path') names.add(first.words.map(({ text }) => text).join('.'));
  }
  return names;
}
