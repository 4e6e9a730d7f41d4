/** What is below and above a rod: whether garments hang clear, and whether hangers lift off. */
import type { Finding } from '../model/finding.ts';
import type { FittingLayout, RodLayout } from '../model/layout.ts';
import type { Garment } from '../model/materials.ts';
import { showLength } from '../model/show.ts';
import { add, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { type CheckInput, lacks, looked } from './check.ts';
import { limitOf } from './defaults.ts';
import { lowered, raised } from './hanging-fixes.ts';
import { above, lowestAbove, underGarment } from './hanging-reach.ts';
import { garmentMeetsBelow, garmentMeetsFloor, rodNearShelf, rodUnderAdvice } from './hanging-rules.ts';
import type { Room } from './room.ts';
import { about, capital, compared, either, nameOf, relatedLimit, setBy, verb, wallName } from './say.ts';

/** Whether a garment hangs clear of the floor, or of the highest thing that stands under it. */
export function clearBelow(rod: RodLayout, garment: Garment, input: CheckInput, room: Room): Finding[] {
  const { layout, policy, show } = input;
  const { hang } = garment;
  if (hang === undefined) {
    for (const rule of [garmentMeetsFloor, garmentMeetsBelow]) {
      lacks(input, rule, rod, `the hanging length of "${garment.name}"`);
    }
    return [];
  }
  const limit = limitOf(policy, 'clear-below-garment');
  const clear = limit.least ?? NONE;
  const { below, top } = underGarment(rod, garment, layout, room);
  const lowest = subtract(rod.at.value, hang);
  const free = subtract(lowest, top);
  const rule = below ? garmentMeetsBelow : garmentMeetsFloor;
  const comparison = compared(`room below "${garment.name}"`, free, 'at least', clear);
  if (looked(input, rule, rod, comparison, free >= clear)) return [];

  const length = (amount: Ticks) => showLength(amount, show);
  const what = `"${garment.name}" on ${nameOf(rod)}`;
  const by = length(subtract(NONE, free));
  const asked = clear === 0 ? '' : `, and ${setBy(limit)} asks for ${length(clear)} clear below it`;
  const message = below
    ? `${capital(what)} hangs down to ${nameOf(below)}: it hangs ${length(hang)} from the rod at ${length(rod.at.value)}, and so ends at ${length(lowest)}; the ${below.kind === 'shelf' ? 'upper face' : 'top'} of the ${below.kind} is at ${length(top)}${free < 0 ? `, ${by} higher` : ''}${asked}.`
    : `${capital(what)} hangs down to the floor: it hangs ${length(hang)}, and the rod is at ${length(rod.at.value)}${free < 0 ? `, ${by} too low` : ''}${asked}.`;
  return [
    about(rule, rod, rod.atPlace, message, {
      advice: waysToClear(
        rod,
        below,
        {
          needed: add(top, clear, hang),
          short: subtract(clear, free),
          longest: subtract(subtract(rod.at.value, top), clear),
        },
        { layout, policy, show },
        room,
      ),
      related: [
        { place: garment.place, message: `"${garment.name}" hangs ${length(hang)} from the centre of the rod.` },
        ...(below
          ? [{ place: below.atPlace, message: `${capital(nameOf(below))} ${verb(below, 'is', 'are')} below it.` }]
          : []),
        ...relatedLimit(limit, `${length(clear)} is to be kept clear below a garment.`),
      ],
      comparison,
      fixes: raised(rod, { layout, policy, show }, room),
    }),
  ];
}

/** What would mend it, with the numbers: raise the rod, lower what is below, hang something shorter. */
function waysToClear(
  rod: RodLayout,
  below: FittingLayout | undefined,
  amounts: { readonly needed: Ticks; readonly short: Ticks; readonly longest: Ticks },
  { layout, policy, show }: CheckInput,
  room: Room,
): string {
  const shelf = lowestAbove(rod, layout, room);
  const lift = shelf
    ? subtract(add(amounts.needed, limitOf(policy, 'clear-above-rod').least ?? NONE), shelf.box.z[0])
    : NONE;
  const ways: string[] = [];
  if (fitsUnderCeiling(rod, subtract(amounts.needed, rod.at.value), room)) {
    const raise = `raise ${nameOf(rod)} to ${showLength(amounts.needed, show)}`;
    if (!shelf || lift <= 0) ways.push(raise);
    else if (fitsUnderCeiling(shelf, lift, room)) ways.push(`${raise} and ${nameOf(shelf)} with it`);
  }
  if (below && below.kind !== 'panel' && below.at.value >= amounts.short) {
    ways.push(`lower ${nameOf(below)} to ${showLength(subtract(below.at.value, amounts.short), show)}`);
  }
  if (amounts.longest > 0) ways.push(`hang nothing longer than ${showLength(amounts.longest, show)} there`);
  return ways.length > 0 ? `${capital(either(ways))}.` : 'Hang it elsewhere.';
}

/** Whether it is still below the ceiling, as far as that is known, once it has been raised. */
function fitsUnderCeiling({ wall, box }: FittingLayout, by: Ticks, room: Room): boolean {
  const ceiling = room.walls.get(wall)?.height;
  return ceiling === undefined || add(box.z[1], by) <= ceiling;
}

/** Whether hangers lift off: the rule in force first, and only where it holds, the advice. */
export function clearAbove(rod: RodLayout, input: CheckInput, room: Room): Finding[] {
  const { layout, policy, show } = input;
  const over = above(rod, layout, room);
  if (!over) {
    for (const rule of [rodNearShelf, rodUnderAdvice]) lacks(input, rule, rod, `the height of ${wallName(rod.wall)}`);
    return [];
  }
  const { underside, fitting, slope } = over;
  const free = subtract(underside, rod.at.value);
  for (const [rule, limit] of [
    [rodNearShelf, limitOf(policy, 'clear-above-rod')],
    [rodUnderAdvice, limitOf(policy, 'advised-above-rod')],
  ] as const) {
    const asked = limit.least;
    if (asked === undefined) continue;
    const comparison = compared(`room above "${rod.path}"`, free, 'at least', asked);
    if (looked(input, rule, rod, comparison, free >= asked)) continue;
    const length = (amount: Ticks) => showLength(amount, show);
    const what = fitting ? `the underside of ${nameOf(fitting)}` : slope ? 'the sloped ceiling' : 'the ceiling';
    const who = rule === rodUnderAdvice && limit.policy === undefined ? 'published advice' : setBy(limit);
    const short = subtract(asked, free);
    const canRise = fitting && fitsUnderCeiling(fitting, short, room);
    const orRaise = canRise ? `, or raise ${nameOf(fitting)} by ${length(short)}` : '';
    return [
      about(
        rule,
        rod,
        rod.atPlace,
        `The centre of ${nameOf(rod)} is ${length(free)} below ${what}; ${who} asks for ${length(asked)}, so that hangers lift off.`,
        {
          advice: `Lower the rod to ${length(subtract(underside, asked))}${orRaise}.`,
          related: [
            ...(fitting
              ? [
                  {
                    place: fitting.atPlace,
                    message: `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} above it.`,
                  },
                ]
              : []),
            ...(slope ? [{ place: slope.place, message: 'The ceiling slopes here.' }] : []),
            ...relatedLimit(limit, `${length(asked)} is asked for above a rod.`),
          ],
          comparison,
          fixes: lowered(rod, subtract(underside, asked), input, room),
        },
      ),
    ];
  }
  return [];
}
