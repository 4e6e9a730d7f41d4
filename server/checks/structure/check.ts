/** What shelves and rods carry, as one check. */
import type { Check } from '../check.ts';
import { fittingsOf } from '../say.ts';
import { holds } from './hold.ts';
import { addedBrackets, fixingsFor } from './needed.ts';
import { rodSpan, rodThickness } from './rods.ts';
import { structureRules } from './rules.ts';
import { rodStrength, shelfStrength } from './shelves.ts';
import { freeStandingTowers } from './towers.ts';
import { tallPanels, wideWardrobes } from './wardrobes.ts';

export const structureCheck: Check = {
  rules: structureRules,
  run: (input) => [
    ...fittingsOf(input.layout).flatMap((fitting) => {
      if (fitting.kind === 'shelf') return shelfStrength(fitting, input);
      if (fitting.kind !== 'rod') return [];
      return [...rodStrength(fitting, input), ...rodSpan(fitting, input), ...rodThickness(fitting, input)];
    }),
    ...holds(input, fixingsFor(input)),
    ...addedBrackets(input),
    ...wideWardrobes(input),
    ...tallPanels(input),
    ...freeStandingTowers(input),
  ],
};
