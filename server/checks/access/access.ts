/** Whether what is stored can be reached from a wheelchair, and the closet got at: run where a policy asks for a reach. */
import { type Finding, finding } from '../../model/finding.ts';
import { showLength } from '../../model/show.ts';
import { subtract } from '../../model/ticks.ts';
import type { Check, CheckInput } from '../check.ts';
import { compared, fromTemplate, relatedLimit, setBy } from '../say.ts';
import { type Closet, closetOf } from './closet.ts';
import { doors } from './door-check.ts';
import { accessLimit } from './limits.ts';
import { children, oldEdition, reaches } from './reach-check.ts';
import { accessRules, closetTooShallow, noneWithinReach } from './rules.ts';
import { askedReaches, seenOf } from './seen.ts';

export const accessCheck: Check = {
  rules: accessRules,
  run: (input) => {
    const asked = askedReaches(input.policy);
    const found = [...children(input), ...tooShallow(input)];
    if (asked.length === 0) return found;
    found.push(...oldEdition(input));
    const closet = closetOf(input.layout);
    if ('needs' in closet) {
      const place = input.layout.walls[0]?.place;
      if (place) input.record?.lacks({ rule: noneWithinReach, about: '', place, needs: closet.needs });
      return found;
    }
    return [...found, ...within(input, closet)];
  },
};

function within(input: CheckInput, closet: Closet): Finding[] {
  const seen = seenOf(input, closet);
  return [...reaches(seen, input, closet), ...doors(input, closet, seen)];
}

function tooShallow(input: CheckInput): Finding[] {
  const { layout, policy, show, record } = input;
  const limit = accessLimit(policy, 'closet-depth');
  if (limit.least === undefined) return [];
  const [side] = layout.walls
    .filter(({ name }) => name === 'left' || name === 'right')
    .sort((a, b) => a.length - b.length);
  if (!side) {
    const place = layout.walls[0]?.place;
    if (place) record?.lacks({ rule: closetTooShallow, about: '', place, needs: 'the length of a side wall' });
    return [];
  }
  const comparison = compared('depth of the closet', side.length, 'at least', limit.least);
  const holds = side.length >= limit.least;
  record?.looked({ rule: closetTooShallow, about: '', place: side.lengthPlace, comparison, holds });
  if (holds) return [];
  return [
    finding(
      closetTooShallow,
      side.lengthPlace,
      `The closet is ${showLength(side.length, show)} deep; ${setBy(limit)} asks for ${showLength(limit.least, show)}.`,
      {
        about: '',
        causes: { ...fromTemplate, survey: side.readings.length > 0 },
        advice: `It lacks ${showLength(subtract(limit.least, side.length), show)}; ask the local building office whether the rule holds for it.`,
        related: relatedLimit(limit, 'The depth is set here.'),
        comparison,
      },
    ),
  ];
}
