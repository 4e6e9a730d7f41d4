/** What is offered for a finding of a text, and what all rules find once it is made. */
import { expect } from 'vitest';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { allFindings, projectOf } from '../model/support.ts';
import { applied } from './one-check.ts';

export interface Offer {
  readonly title: string;
  readonly byHand: boolean;
  readonly after: string;
  /** The rules of what is found then. */
  readonly left: readonly string[];
  /** Those of errors and warnings that were fewer before. */
  readonly worse: readonly string[];
}

/** What the first finding of a rule offers, and what the rules find in the text with each of them made. */
export function offers(text: string, rule: string): Offer[] {
  const project = projectOf(text);
  const before = allFindings(project);
  const found = before.find((one) => one.rule.id === rule);
  expect(found, rule).toBeDefined();
  return (found ? fixesThatHold(project, found) : []).map((fix) => {
    const after = applied(text, fix);
    const findings = allFindings(projectOf(after));
    const left = findings.map((one) => one.rule.id);
    const count = (of: typeof before, id: string): number => of.filter((one) => one.rule.id === id).length;
    const grave = findings.filter(({ severity }) => severity !== 'note').map((one) => one.rule.id);
    const worse = [...new Set(grave)].filter((id) => count(findings, id) > count(before, id));
    return { title: fix.title, byHand: fix.byHand === true, after, left, worse };
  });
}
