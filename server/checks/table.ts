/** The one table of rules, and the checks that are run on every unit. */
import type { Finding } from '../model/finding.ts';
import type { PolicyInForce } from '../model/materials.ts';
import type { Rule } from '../model/rule.ts';
import { modelRules } from '../model/rules.ts';
import { accessCheck } from './access/access.ts';
import type { Check, CheckInput } from './check.ts';
import { fixingChecks } from './fixings/check.ts';
import { fixtureCheck } from './fixtures.ts';
import { hangingCheck } from './hanging.ts';
import { lightCheck } from './light/light.ts';
import { openingCheck } from './openings.ts';
import { outsideWallCheck } from './outside-wall.ts';
import { overlapCheck } from './overlaps.ts';
import { partCheck } from './parts.ts';
import { policyCheck } from './policy.ts';
import { stockRules } from './stock.ts';
import { structureCheck } from './structure/check.ts';
import { surveyCheck } from './survey.ts';
import { swingChecks } from './swings/index.ts';
import { wallSlips } from './wall-slips.ts';

export const allChecks: readonly Check[] = [
  overlapCheck,
  openingCheck,
  partCheck,
  hangingCheck,
  fixtureCheck,
  outsideWallCheck,
  surveyCheck,
  wallSlips,
  policyCheck,
  ...swingChecks,
  accessCheck,
  lightCheck,
  structureCheck,
  ...fixingChecks,
];

/** Every rule that a finding can name: diagnostics, `explain`, the documentation and SARIF read this. */
export const rules: readonly Rule[] = [...modelRules, ...allChecks.flatMap((check) => check.rules), ...stockRules];

const byId = new Map(rules.map((rule) => [rule.id, rule]));

export function ruleNamed(id: string): Rule | undefined {
  return byId.get(id);
}

/** What the checks find in a unit, with the severities of the policies in force. */
export function runChecks(input: CheckInput): Finding[] {
  return withSeverities(
    allChecks.flatMap((check) => check.run(input)),
    input.policy,
  );
}

/** Findings as a policy treats them: `treat rod-near-wall as note` moves one, `as off` takes it away. */
export function withSeverities(findings: readonly Finding[], { severities }: PolicyInForce): Finding[] {
  if (severities.size === 0) return [...findings];
  const kept: Finding[] = [];
  for (const made of findings) {
    const severity = severities.get(made.rule.id);
    if (severity === 'off') continue;
    kept.push(severity === undefined || severity === made.severity ? made : { ...made, severity });
  }
  return kept;
}
