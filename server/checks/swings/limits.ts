/** Limits of what moves that a policy can set. */
import type { LimitEntry, RuleSource } from '../../model/rule.ts';
import type { Ticks } from '../../model/ticks.ts';

export interface SwingLimit extends LimitEntry {
  readonly least: Ticks | undefined;
  readonly most: Ticks | undefined;
  readonly source: RuleSource;
}

export const swingLimits = [
  {
    name: 'clear-before-drawers',
    doc: 'From the front of a drawer that is out to the wall, fitting or leaf before it: room for a person.',
    least: undefined,
    most: undefined,
    source: { kind: 'language' },
  },
] as const satisfies readonly SwingLimit[];
