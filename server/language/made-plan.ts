/** What the features are told of the cutting plan, which is made beside the typing. */
import type { Demand } from '../cutting/demand.ts';
import type { Plan } from '../cutting/types.ts';
import type { Finding } from '../model/finding.ts';

export interface Made {
  /** Of the plan as it is known; the same list as long as nothing changed. */
  readonly findings: readonly Finding[];
  /** `planning` while what is known is of the plan before; `none` where there is nothing to cut; `failed` where there could be none. */
  readonly state: 'planning' | 'current' | 'none' | 'failed';
  /** Of one that failed: a sentence. */
  readonly why?: string | undefined;
  /** Undefined until there is one. Materials that are still being planned are not in it. */
  readonly cutting?: { readonly demand: Demand; readonly plan: Plan } | undefined;
}

export const noPlan: Made = { findings: [], state: 'none' };
