/** Heights that a policy asks for: what a person is to reach. */
import type { Finding } from '../model/finding.ts';
import type { RodLayout, ShelfLayout } from '../model/layout.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { add, subtract, type Ticks } from '../model/ticks.ts';
import { heightFixes } from './access/fixes.ts';
import { type Check, type CheckInput, looked } from './check.ts';
import { limitOf } from './defaults.ts';
import { about, capital, compared, fittingsOf, nameOf, relatedLimit, setBy, verb } from './say.ts';

const caution =
  'Where a unit has to be accessible, check the local accessibility code: it says which and how many of the rods and shelves have to be within reach, and from where.';

export const rodHeightLimit: Rule = {
  id: 'rod-height-limit',
  family: 'policy',
  title: 'A rod is higher or lower than a policy allows',
  explanation:
    'The centre of the rod is compared with the `rod-height` limit of the policies in force. Every rod is compared: where a code asks for only one within reach, accept the others with the reason.',
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'least of rod-height <= height of the centre of the rod <= most of rod-height',
  limits: ['rod-height'],
  caution,
};

export const shelfHeightLimit: Rule = {
  id: 'shelf-height-limit',
  family: 'policy',
  title: 'A shelf is higher or lower than a policy allows',
  explanation:
    'The upper face of the shelf, where a hand reaches it, is compared with the `shelf-height` limit of the policies in force; at a tilted shelf, the upper face at its front edge. ' +
    'Heights are written to the underside, so the thickness is added. Every shelf is compared: where a code asks for only some within reach, accept the others with the reason.',
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'least of shelf-height <= underside of the shelf + thickness <= most of shelf-height',
  limits: ['shelf-height'],
  caution,
};

export const policyCheck: Check = {
  rules: [rodHeightLimit, shelfHeightLimit],
  run: (input) => {
    const found: Finding[] = [];
    for (const fitting of fittingsOf(input.layout)) {
      if (fitting.kind === 'rod') found.push(...height(fitting, fitting.at.value, input));
      if (fitting.kind === 'shelf') found.push(...height(fitting, add(fitting.at.value, fitting.thickness), input));
    }
    return found;
  },
};

function height(fitting: RodLayout | ShelfLayout, reached: Ticks, input: CheckInput): Finding[] {
  const { policy, show } = input;
  const isRod = fitting.kind === 'rod';
  const rule = isRod ? rodHeightLimit : shelfHeightLimit;
  const limit = limitOf(policy, isRod ? 'rod-height' : 'shelf-height');
  const tooLow = limit.least !== undefined && reached < limit.least;
  const relation = tooLow || limit.most === undefined ? 'at least' : 'at most';
  const bound = relation === 'at least' ? limit.least : limit.most;
  if (bound === undefined) return [];
  const what = isRod ? `height of "${fitting.path}"` : `upper face of "${fitting.path}"`;
  const comparison = compared(what, reached, relation, bound);
  const holds = relation === 'at least' ? reached >= bound : reached <= bound;
  if (looked(input, rule, { path: fitting.path, place: fitting.atPlace }, comparison, holds)) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  const datum = isRod
    ? `at ${length(reached)}`
    : `reached at ${length(reached)}, its upper face (${length(fitting.at.value)} to its underside)`;
  const off = tooLow ? subtract(bound, reached) : subtract(reached, bound);
  return [
    about(
      rule,
      fitting,
      fitting.atPlace,
      `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} ${datum}; ${setBy(limit)} allows ${relation} ${length(bound)}.`,
      {
        advice: `${tooLow ? 'Raise' : 'Lower'} it by at least ${length(off)}, or accept this with the reason.`,
        related: relatedLimit(limit, `The limit is set here: ${relation} ${length(bound)}.`),
        comparison,
        fixes: heightFixes(fitting, { by: off, up: tooLow }, input),
      },
    ),
  ];
}
