/** Small texts and what the checks find in their units; findings expected as in the examples: carets, severity, rule, part of the message. */
import { expect } from 'vitest';
import { spanOf } from '../../../grammar/tree.ts';
import type { Check, CheckInput, Lacked, Looked } from '../../../server/checks/check.ts';
import { swingChecks } from '../../../server/checks/swings/index.ts';
import type { Finding, Fix } from '../../../server/model/finding.ts';
import type { Layout } from '../../../server/model/layout.ts';
import type { PolicyInForce } from '../../../server/model/materials.ts';
import { showInches } from '../../../server/model/show.ts';
import { differences, expectedIn } from '../../examples/expectations.ts';
import { projectOf, told } from '../../model/support.ts';
import { policy } from '../layouts.ts';

const file = '/p/main.closet';

export interface Run {
  readonly layout: Layout;
  readonly findings: readonly Finding[];
  readonly looked: readonly Looked[];
  readonly lacked: readonly Lacked[];
}

/** The first unit of a text, as the checks see it. */
export function run(text: string, checks: readonly Check[] = swingChecks, inForce: PolicyInForce = policy()): Run {
  const project = projectOf(text);
  const [layout] = [...project.units()].flatMap((u) => u.resolved?.layout ?? []);
  if (!layout) throw new Error('the unit was not resolved');
  const [looked, lacked]: [Looked[], Lacked[]] = [[], []];
  const input: CheckInput = {
    layout,
    policy: inForce,
    show: showInches,
    record: { looked: (l) => looked.push(l), lacks: (l) => lacked.push(l) },
  };
  return { layout, findings: checks.flatMap((check) => check.run(input)), looked, lacked };
}

/** What is found is exactly what the text expects. */
export function expects(text: string, checks?: readonly Check[], inForce?: PolicyInForce): Run {
  const ran = run(text, checks, inForce);
  expect(differences(expectedIn(file, text), ran.findings.map(told))).toEqual({ missing: [], tooMany: [] });
  return ran;
}

/** The rules of what is found. */
export function rulesFound(text: string, checks?: readonly Check[], inForce?: PolicyInForce): string[] {
  return run(text, checks, inForce).findings.map(({ rule }) => rule.id);
}

/** The text with a fix in it. */
export function fixedBy(text: string, fix: Fix | undefined): string {
  if (!fix) throw new Error('a fix was expected');
  let done = text;
  for (const { place, text: put } of [...fix.edits].sort((a, b) => spanOf(b.place).start - spanOf(a.place).start)) {
    const { start, end } = spanOf(place);
    done = done.slice(0, start) + put + done.slice(end);
  }
  return done;
}
