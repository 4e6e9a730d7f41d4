/** Whether a template holds for all values of its parameters, or was only tried at some of them. */
import type { Statement } from '../../grammar/tree.ts';
import type { Blueprint } from '../model/blueprint.ts';
import { isLinear, mostCorners, type Sample } from '../model/samples.ts';
import { templateInfo } from '../model/unit.ts';
import { declaredAt } from './locate.ts';
import type { Snapshot } from './snapshot.ts';

/**
 * A paragraph about a template. Empty for one without ranges: it has one size, and is checked as it is.
 * What is said is about its chains of zones and fittings; the other rules are compared at the ends only.
 */
export function rangeFacts(snapshot: Snapshot, template: Statement): string[] {
  const declared = declaredAt(snapshot, template);
  if (declared?.kind !== 'template') return [];
  const info = templateInfo(declared);
  const samples = snapshot.project.samplesOf(template);
  if (info.ranges.size === 0 || samples.length === 0) return [];
  const open = [...info.parameters.keys()].filter((name) => !info.ranges.has(name) && !info.defaults.has(name));
  const waits =
    open.length > 0
      ? [`What rests on ${open.map((name) => `\`${name}\``).join(', ')} is checked when a unit gives it.`]
      : [];
  const broken = samples.find(doesNotClose);
  if (broken) return [`It does not close at ${broken.label}.`, ...waits];
  const proven = open.length === 0 && isLinear(info) && !hasOpenRow(info.blueprint) && info.ranges.size <= mostCorners;
  if (proven)
    return [
      `Checked at both ends of each range${named(samples)}; between them it follows that zones and heights close, since all lengths are linear in the parameters.`,
    ];
  return [
    `Checked at ${samples.length} values${named(samples)}; values in between are checked when a unit uses them.`,
    ...waits,
  ];
}

/** A row of shelves whose number follows from its pitch: the number jumps, and between two jumps none may fit. */
function hasOpenRow({ word, props, things }: Blueprint): boolean {
  return (word === 'shelves' && !props.has('count')) || things.some(hasOpenRow);
}

function doesNotClose({ findings }: Sample): boolean {
  return findings.some(({ rule, severity }) => rule.family === 'chains' && severity === 'error');
}

/** At most so many samples are named. */
const mostNamed = 4;

function named(samples: readonly Sample[]): string {
  return samples.length <= mostNamed ? ` (${samples.map((s) => s.label).join('; ')})` : '';
}
