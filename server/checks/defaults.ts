/** The limits that a policy can set, and what holds where none does. */
import type { Limit, PolicyInForce } from '../model/materials.ts';
import type { LimitEntry, RuleSource } from '../model/rule.ts';
import { inches, NONE, type Ticks } from '../model/ticks.ts';
import { accessLimits } from './access/limits.ts';
import { lightLimits } from './light/limits.ts';
import { swingLimits } from './swings/limits.ts';

type FamilyLimitName = (typeof accessLimits | typeof lightLimits | typeof swingLimits)[number]['name'];

export type LimitName =
  | 'clear-below-garment'
  | 'clear-behind-hanger'
  | 'clear-before-hanger'
  | 'clear-above-rod'
  | 'advised-above-rod'
  | 'rod-height'
  | 'shelf-height'
  | 'worth-shortening';

export interface DefaultLimit extends LimitEntry {
  /** Undefined: nothing is asked for unless a policy asks. */
  readonly least: Ticks | undefined;
  readonly most: Ticks | undefined;
  readonly source: RuleSource;
}

/** Read in a copy of the text, which does not state its edition. */
export const clothesClosetText: RuleSource = {
  kind: 'published',
  document: 'Time-Saver Standards, as copied at northernarchitecture.us/space-requirements/info-dxx.html',
  section: 'clothes closets, clearance from pole to shelf',
  edition: 'edition not stated in the copy',
  seen: true,
};

const practice: RuleSource = { kind: 'common-practice' };
/** No value of ours: what a policy asks for is as good as the source that the policy gives. */
const fromPolicy: RuleSource = { kind: 'language' };

const ownLimits: readonly (DefaultLimit & { readonly name: LimitName })[] = [
  {
    name: 'clear-below-garment',
    doc: 'From the lowest point of a garment on its hanger down to the floor, or to whatever is below it.',
    least: NONE,
    most: undefined,
    source: practice,
  },
  {
    name: 'clear-behind-hanger',
    doc: 'From the end of a hanger to the wall behind it.',
    least: NONE,
    most: undefined,
    source: practice,
  },
  {
    name: 'clear-before-hanger',
    doc: 'From what hangs on a rod to the front of the closet, or to the wall across from it.',
    least: NONE,
    most: undefined,
    source: practice,
  },
  {
    name: 'clear-above-rod',
    doc: 'From the centre of a rod to the underside of what is above it: room to lift a hanger off.',
    least: inches(1.5),
    most: undefined,
    source: practice,
  },
  {
    name: 'advised-above-rod',
    doc: 'The same distance as published advice has it. What is nearer is worth a look, and no more.',
    least: inches(3),
    most: undefined,
    source: clothesClosetText,
  },
  {
    name: 'rod-height',
    doc: 'From the floor to the centre of a rod.',
    least: undefined,
    most: undefined,
    source: fromPolicy,
  },
  {
    name: 'shelf-height',
    doc: 'From the floor to the upper face of a shelf, which is where a hand reaches it and things stand.',
    least: undefined,
    most: undefined,
    source: fromPolicy,
  },
  {
    name: 'worth-shortening',
    doc: 'How much smaller a dimension may be asked to be where that saves stock. 0in asks for nothing.',
    least: undefined,
    most: inches(1 / 4),
    source: practice,
  },
];

/** All of them, of every family. */
export const defaultLimits: readonly DefaultLimit[] = [...ownLimits, ...accessLimits, ...lightLimits, ...swingLimits];

/** What the language lets a policy name. */
export const limitNames: ReadonlySet<string> = new Set(defaultLimits.map(({ name }) => name));

const byName = new Map(defaultLimits.map((limit) => [limit.name, limit]));

/**
 * The limit in force. A policy that sets one side leaves the other as it is by default; the place
 * and the policy are those of the statement that set it, undefined where the default holds.
 */
export function limitOf(policy: PolicyInForce, name: LimitName | FamilyLimitName): Limit {
  const standard = byName.get(name);
  const set = policy.limits.get(name);
  return {
    least: set?.least ?? standard?.least,
    most: set?.most ?? standard?.most,
    place: set?.place,
    policy: set?.policy,
  };
}
