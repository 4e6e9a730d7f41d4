/** What published advice says of clothes poles: how far they span, and how thick they are. */
import type { Finding } from '../../model/finding.ts';
import type { RodLayout } from '../../model/layout.ts';
import { showLength } from '../../model/show.ts';
import { add, inches, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { type CheckInput, lacks, looked } from '../check.ts';
import { about, both, capital, compared, nameOf } from '../say.ts';
import { fixingsFor } from './needed.ts';
import { type Rest, restsOf, restsText } from './rests.ts';
import { rodSpanLong, rodThin } from './rules.ts';

/** Architectural Woodwork Standards, edition 1, 10-4.4.16. */
const longest = inches(48);
const thinnest = { wood: inches(1.25), metal: inches(1.0625) } as const;

export function rodSpan(rod: RodLayout, input: CheckInput): Finding[] {
  const { layout, show } = input;
  const rests = restsOf(rod, layout, fixingsFor(input));
  if (rests.length < 2) {
    lacks(input, rodSpanLong, rod, `two places that hold rod ${rod.path}`);
    return [];
  }
  const { from, span } = longestSpan(rests);
  const comparison = compared(`span of "${rod.path}"`, span, 'at most', longest);
  if (looked(input, rodSpanLong, rod, comparison, span <= longest)) return [];
  const more = Math.ceil(span / longest) - 1;
  const places = Array.from({ length: more }, (_, i) => add(from, ticks(Math.round((span * (i + 1)) / (more + 1)))));
  const words = both(places.map((place) => showLength(place, show)));
  return [
    about(
      rodSpanLong,
      rod,
      rod.place,
      `${capital(nameOf(rod))} spans ${showLength(span, show)} between ${restsText(rests, show)}; published advice holds a rod at least every ${showLength(longest, show)}.`,
      {
        advice: `Hold it ${more === 1 ? 'once more' : 'in more places'}, at ${words} from its left end.`,
        comparison,
      },
    ),
  ];
}

/** The first of the longest. */
function longestSpan(rests: readonly Rest[]): { readonly from: Ticks; readonly span: Ticks } {
  let best = { from: ticks(0), span: ticks(0) };
  rests.slice(1).forEach(({ at }, i) => {
    const from = (rests[i] as Rest).at;
    if (at - from > best.span) best = { from, span: subtract(at, from) };
  });
  return best;
}

export function rodThickness(rod: RodLayout, input: CheckInput): Finding[] {
  const kind = kindOf(rod);
  if (!kind) {
    lacks(input, rodThin, rod, `the stiffness or the tube of the material of rod ${rod.path}`);
    return [];
  }
  const asked = thinnest[kind];
  const comparison = compared(`diameter of "${rod.path}"`, rod.diameter, 'at least', asked);
  if (looked(input, rodThin, rod, comparison, rod.diameter >= asked)) return [];
  const { show } = input;
  return [
    about(
      rodThin,
      rod,
      rod.place,
      `${capital(nameOf(rod))} is ${showLength(rod.diameter, show)} thick; published advice has rods of ${kind} at least ${showLength(asked, show)} thick.`,
      {
        advice: 'Take a thicker rod, or see that it is stiff enough for its span.',
        related: rod.material
          ? [
              {
                place: rod.material.place,
                message: `Rod "${rod.material.name}" is ${showLength(rod.diameter, show)} thick.`,
              },
            ]
          : [],
        comparison,
      },
    ),
  ];
}

/** Metals are stiffer than 50 GPa, woods softer than 30. */
function kindOf({ material }: RodLayout): 'wood' | 'metal' | undefined {
  if (material?.tube !== undefined) return 'metal';
  if (material?.stiffness === undefined) return undefined;
  if (material.stiffness >= 50e9) return 'metal';
  return material.stiffness <= 30e9 ? 'wood' : undefined;
}
