/** Findings that somebody has agreed to, by `accept`: they go, as long as they are found. */
import { headPlace } from '../../grammar/tree.ts';
import { removed } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import type { Declared } from './names.ts';
import { dotted, pathIn } from './reading.ts';
import * as rules from './rules.ts';

export interface Agreement {
  readonly declared: Declared;
  readonly rule: string;
  /** Name of a unit or template. */
  readonly head: string;
  /** Path of a thing in it; empty for all of it. */
  readonly rest: string;
}

/** What an `accept` agrees to; nothing where it cannot be read. */
export function agreementOf(declared: Declared): Agreement[] {
  const rule = pathIn(declared.reading, 'rule');
  const place = pathIn(declared.reading, 'place');
  if (!rule || !place) return [];
  const [head = '', ...rest] = place.words.map((w) => w.text);
  return [{ declared, rule: dotted(rule), head, rest: rest.join('.') }];
}

/** The first that agrees to a finding of a unit or a template. Errors cannot be agreed to: what they name cannot be built. */
export function agreedBy(
  f: Finding,
  unit: string | undefined,
  template: string | undefined,
  agreements: readonly Agreement[],
): Agreement | undefined {
  if (f.severity === 'error') return undefined;
  return agreements.find(
    ({ rule, head, rest }) =>
      rule === f.rule.id &&
      (head === unit || head === template) &&
      (rest === '' || f.about === rest || f.about?.startsWith(`${rest}.`) === true),
  );
}

/** An agreement to what is not found. */
export function unmatched({ declared, rule }: Agreement): Finding {
  return finding(
    rules.acceptUnmatched,
    headPlace(declared.statement),
    `Nothing of rule "${rule}" is found there that could be agreed to.`,
    {
      advice: 'Remove this line, or correct the rule or the place.',
      fixes: [{ title: 'Remove this "accept"', edits: [removed(declared.statement)], byHand: true }],
    },
  );
}
