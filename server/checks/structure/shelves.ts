/** How far shelves and rods sag, and how hard they are bent. */
import type { Finding } from '../../model/finding.ts';
import type { RodLayout, ShelfLayout } from '../../model/layout.ts';
import type { DeflectionLimit as PolicyLimit } from '../../model/materials.ts';
import type { Rule } from '../../model/rule.ts';
import { type CheckInput, lacks } from '../check.ts';
import { about, either, nameOf } from '../say.ts';
import { fixingsFor } from './needed.ts';
import type { Missing } from './prepared.ts';
import { prepareRod, prepareShelf } from './prepared.ts';
import { rodOverstressed, rodSags, sagNotKnown, shelfOverstressed, shelfSags, shelfSagsPastAdvice } from './rules.ts';
import { type Asked, sag } from './sag.ts';
import { overstress } from './stress.ts';
import { metres } from './units.ts';

/** Where no policy asks: Architectural Woodwork Standards, edition 1, 10-1.2.21. */
const ADVISED_RATIO = 144;

export function shelfStrength(shelf: ShelfLayout, input: CheckInput): Finding[] {
  const policy = input.policy.demands.deflection.shelf;
  const prepared = prepareShelf(shelf, input, fixingsFor(input));
  const asked: Asked = policy
    ? byPolicy(shelfSags, policy, input)
    : {
        rule: shelfSagsPastAdvice,
        limit: { ratio: ADVISED_RATIO, most: undefined },
        creep: 1,
        by: 'published advice',
        related: [],
      };
  if (prepared.kind === 'missing') {
    return missing(shelf, prepared, [asked.rule, shelfOverstressed], policy, input);
  }
  return [...sag(prepared, asked, input), ...overstress(prepared, shelfOverstressed, input)];
}

export function rodStrength(rod: RodLayout, input: CheckInput): Finding[] {
  const policy = input.policy.demands.deflection.rod;
  const prepared = prepareRod(rod, input, fixingsFor(input));
  if (prepared.kind === 'missing') return missing(rod, prepared, [rodSags, rodOverstressed], policy, input);
  if (!policy) lacks(input, rodSags, rod, 'a policy that says how far a rod may sag: `deflection rod 144`');
  return [
    ...(policy ? sag(prepared, byPolicy(rodSags, policy, input), input) : []),
    ...overstress(prepared, rodOverstressed, input),
  ];
}

function byPolicy(rule: Rule, limit: PolicyLimit, { policy }: CheckInput): Asked {
  const { creep } = policy.demands;
  return {
    rule,
    limit: { ratio: limit.value, most: limit.most === undefined ? undefined : metres(limit.most) },
    creep: creep?.value ?? 1,
    by: `policy "${limit.policy}"`,
    related: [
      { place: limit.place, message: 'The sag that is allowed is set here.' },
      ...(creep ? [{ place: creep.place, message: `Deflections are multiplied by ${creep.value} here.` }] : []),
    ],
  };
}

/** A need that is told otherwise in a sentence. */
const held = /^two places that hold (.*)$/;

/** Nothing passes silently: what is missing is recorded, and told where a policy asks. */
function missing(
  fitting: ShelfLayout | RodLayout,
  { needs }: Missing,
  rules: readonly Rule[],
  policy: PolicyLimit | undefined,
  input: CheckInput,
): Finding[] {
  for (const rule of rules) for (const need of needs) lacks(input, rule, fitting, need);
  if (!policy) return [];
  const lacking = needs.map((need) => need.replace(held, 'what holds $1 in two places'));
  const stated = needs.filter((need) => !held.test(need));
  const ways = [
    ...(stated.length > 0
      ? [`State ${stated.length > 1 ? 'them' : 'it'} in the material, at the ${fitting.kind} or in the policy.`]
      : []),
    ...(stated.length < needs.length
      ? [`Say what carries the ${fitting.kind} (\`carried by\`), or let it reach from wall or panel to wall or panel.`]
      : []),
  ];
  return [
    about(
      sagNotKnown,
      fitting,
      fitting.place,
      `Policy "${policy.policy}" asks how far ${nameOf(fitting)} sags, and that cannot be computed: nothing says ${either(lacking)}.`,
      {
        advice: ways.join(' '),
        related: [{ place: policy.place, message: 'It is asked for here.' }],
      },
    ),
  ];
}
