/** What rules find in a layout rests on the policy in force as well; it is kept as long as both are there. */

import type { Finding } from './finding.ts';
import type { PolicyInForce } from './materials.ts';
import { memo } from './memo.ts';
import type { Resolved } from './unit.ts';

export type Judged = WeakMap<Resolved, WeakMap<PolicyInForce, readonly Finding[]>>;

export function judged(
  known: Judged,
  resolved: Resolved,
  policy: PolicyInForce,
  judge: () => readonly Finding[],
): readonly Finding[] {
  const byPolicy = memo(known, resolved, () => new WeakMap());
  return memo(byPolicy, policy, judge);
}
