/** Lights, electrical panels, sprinkler heads, appliances and hatches against what is stored. */
import type { Check } from '../check.ts';
import { appliances } from './appliances-check.ts';
import { hatches, heads } from './ceiling-check.ts';
import { headCount } from './heads-check.ts';
import { lights } from './lamp-check.ts';
import { lightRules } from './rules.ts';
import { panels } from './wiring-check.ts';

export const lightCheck: Check = {
  rules: lightRules,
  run: (input) => [
    ...lights(input),
    ...heads(input),
    ...headCount(input),
    ...panels(input),
    ...appliances(input),
    ...hatches(input),
  ],
};
