/** Whether what is stored can be reached from a wheelchair, and the closet got at, where a policy asks for a reach; sizes that a policy asks for; and towers that stand free. */
import type { Finding } from '../../model/finding.ts';
import type { Check, CheckInput } from '../check.ts';
import { type Closet, closetOf } from './closet.ts';
import { doors } from './door-check.ts';
import { hardware } from './hardware.ts';
import { children, oldEdition, reaches } from './reach-check.ts';
import { accessRules, noneWithinReach } from './rules.ts';
import { askedReaches, seenOf } from './seen.ts';
import { sizes } from './sizes.ts';
import { towers } from './towers.ts';

export const accessCheck: Check = {
  rules: accessRules,
  run: (input) => {
    const asked = askedReaches(input.policy);
    const found = [...children(input), ...sizes(input), ...towers(input)];
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
  return [...reaches(seen, input, closet), ...doors(input, closet, seen), ...hardware(seen, input, closet)];
}
