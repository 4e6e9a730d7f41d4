/** What a check is: a rule as data, and one pure function from a unit's geometry to findings. */
import type { Finding } from '../model/finding.ts';
import type { Layout } from '../model/layout.ts';
import type { PolicyInForce } from '../model/materials.ts';
import type { Rule } from '../model/rule.ts';
import type { Show } from '../model/show.ts';

export interface CheckInput {
  readonly layout: Layout;
  readonly policy: PolicyInForce;
  readonly show: Show;
}

/** Findings sit on statements of the template and say what they are `about`, so that they can be accepted and shared by equal units. */
export interface Check {
  readonly rules: readonly Rule[];
  readonly run: (input: CheckInput) => Finding[];
}
