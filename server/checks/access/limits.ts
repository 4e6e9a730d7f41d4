/** Limits of accessibility that a policy can set. Those with a value of their own are read where a policy asks for a reach. */
import type { Limit, PolicyInForce } from '../../model/materials.ts';
import type { LimitEntry, RuleSource } from '../../model/rule.ts';
import type { Ticks } from '../../model/ticks.ts';
import { doorway } from './doors.ts';
import { walkIn } from './floor.ts';
import { protruding } from './protrude.ts';

export interface OwnLimit extends LimitEntry {
  readonly least: Ticks | undefined;
  readonly most: Ticks | undefined;
  readonly source: RuleSource;
}

export const accessLimits = [
  {
    name: 'doorway-width',
    doc: 'Clear width of an opening through which a person enters a closet that has to be accessible.',
    least: doorway.wide,
    most: undefined,
    source: doorway.source,
  },
  {
    name: 'turning-space',
    doc: 'Free floor, both ways, inside a closet that is entered and is deeper than 48 in.',
    least: walkIn.turning,
    most: undefined,
    source: walkIn.source,
  },
  {
    name: 'protrusion',
    doc: 'How far something reaches out beyond the front of a closet between 27 and 80 in above the floor.',
    least: undefined,
    most: protruding.fromWall,
    source: protruding.source,
  },
  {
    name: 'closet-depth',
    doc: 'Clear depth of a closet, from its back wall to its front.',
    least: undefined,
    most: undefined,
    source: { kind: 'language' },
  },
  {
    name: 'rod-per-person',
    doc: 'Length of all rods of a closet together, for each of the people who use it.',
    least: undefined,
    most: undefined,
    source: { kind: 'language' },
  },
] as const satisfies readonly OwnLimit[];

/** The limit in force, as checks/defaults.ts has it for all. */
export function inForce({ limits }: PolicyInForce, own: OwnLimit): Limit {
  const set = limits.get(own.name);
  return {
    least: set?.least ?? own.least,
    most: set?.most ?? own.most,
    place: set?.place,
    policy: set?.policy,
  };
}

export function accessLimit(policy: PolicyInForce, name: (typeof accessLimits)[number]['name']): Limit {
  const own = accessLimits.find((limit) => limit.name === name);
  return own ? inForce(policy, own) : { least: undefined, most: undefined, place: undefined, policy: undefined };
}
