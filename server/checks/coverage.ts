/** Which rules looked at a unit, on which numbers, what they lacked, and which had nothing to work on. */

import type { Rule } from '../model/rule.ts';
import type { CheckInput, Lacked, Looked } from './check.ts';
import { allChecks } from './table.ts';

export interface RuleCoverage {
  readonly rule: Rule;
  readonly looked: readonly Looked[];
  readonly lacked: readonly Lacked[];
}

export interface Coverage {
  /** Rules that compared something or lacked a fact, in the order of the table. */
  readonly covered: readonly RuleCoverage[];
  /** Rules that found nothing in the unit that they are about. */
  readonly nothing: readonly Rule[];
}

export function coverageOf(input: Omit<CheckInput, 'record'>): Coverage {
  const looked: Looked[] = [];
  const lacked: Lacked[] = [];
  const record = { looked: (made: Looked) => void looked.push(made), lacks: (made: Lacked) => void lacked.push(made) };
  for (const check of allChecks) check.run({ ...input, record });
  const lookedBy = Map.groupBy(looked, ({ rule }) => rule);
  const lackedBy = Map.groupBy(lacked, ({ rule }) => rule);
  const covered: RuleCoverage[] = [];
  const nothing: Rule[] = [];
  for (const rule of allChecks.flatMap((check) => check.rules)) {
    const of = { rule, looked: lookedBy.get(rule) ?? [], lacked: lackedBy.get(rule) ?? [] };
    if (of.looked.length + of.lacked.length > 0) covered.push(of);
    else nothing.push(rule);
  }
  return { covered, nothing };
}
