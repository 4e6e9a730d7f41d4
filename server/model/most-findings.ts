/** Of a file in which very much is wrong, the worst that many can be told; the last one says how much is left out. */
import type { Source } from '../../grammar/source.ts';
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import { type LimitName, limits } from './limits.ts';
import type { Rule, Severity } from './rule.ts';
import * as rules from './rules.ts';
import { startOf } from './start-of.ts';
import { tooMany } from './too-many.ts';

const ranks: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

/** What was not read or not computed goes before all that was found in the rest. */
function rankOf({ rule, severity }: Finding): number {
  return ofLimits.has(rule) ? -1 : ranks[severity];
}

const ofLimits: ReadonlySet<Rule> = new Set([rules.tooLong, rules.tooMany, rules.nestedTooDeep, rules.fileTooLarge]);

/** Errors first, and of each kind those that stand first. Files with few keep theirs in the order they came in. */
export function withinLimit(findings: readonly Finding[], limit: LimitName = 'mostFindings'): Finding[] {
  const { most } = limits[limit];
  if (findings.length <= most) return [...findings];
  const files = Map.groupBy(findings, ({ place }) => segmentOf(place.statement).source);
  return [...files.values()].flatMap((own) => (own.length <= most ? own : worstOf(own, limit)));
}

function worstOf(own: readonly Finding[], limit: LimitName): Finding[] {
  const { most } = limits[limit];
  // Where each stands is looked up once.
  const placed = own.map((f) => ({ f, at: spanOf(f.place).start }));
  placed.sort((a, b) => rankOf(a.f) - rankOf(b.f) || a.at - b.at);
  const [first] = own as readonly [Finding, ...Finding[]];
  const at = startOf(segmentOf(first.place.statement).source as Source);
  return [
    ...placed.slice(0, most).map(({ f }) => f),
    tooMany(limit, at, {
      who: 'This file has',
      count: own.length,
      what: 'findings',
      advice: `${(own.length - most).toLocaleString('en')} of them are left out here, the least severe and the last in the file. Mend some of these first; much of it may come of one thing.`,
    }),
  ];
}
