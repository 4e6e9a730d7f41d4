/** What stands in a door or cased opening. */
import type { Finding, Fix } from '../model/finding.ts';
import type { FittingLayout, OpeningLayout } from '../model/layout.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { add, greatest, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { heightFixes } from './access/fixes.ts';
import { type Check, type CheckInput, looked } from './check.ts';
import { gap } from './room.ts';
import { about, capital, compared, either, fittingsOf, nameOf, verb, wallName } from './say.ts';

export const fittingBeforeOpening: Rule = {
  id: 'fitting-before-opening',
  family: 'parts',
  title: 'A fitting stands in an opening',
  explanation:
    'A shelf, rod or panel on the wall of a door or cased opening reaches into the opening, where there is no wall to hold it and people walk through. ' +
    'What passes above the opening is not reported, nor is what stands on another wall.',
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'room between the fitting and the opening along the wall, or above it >= 0',
  caution:
    'A way out has to stay clear and heads are hit by what stands in it: check the local code where a door is a way out.',
};

export const openingCheck: Check = {
  rules: [fittingBeforeOpening],
  run: (input) => {
    const found: Finding[] = [];
    for (const opening of input.layout.openings) {
      for (const fitting of fittingsOf(input.layout)) found.push(...before(fitting, opening, input));
    }
    return found;
  },
};

function before(fitting: FittingLayout, opening: OpeningLayout, input: CheckInput): Finding[] {
  const { show } = input;
  if (fitting.wall !== opening.wall) return [];
  const along = gap(fitting.box.x, [opening.from, add(opening.from, opening.width)]);
  // Upwards only: nothing gets out of the way of an opening below the floor.
  const up = subtract(fitting.box.z[0], opening.height);
  const comparison = compared(
    `room between "${fitting.path}" and "${opening.name}"`,
    greatest(along, up),
    'at least',
    NONE,
  );
  if (looked(input, fittingBeforeOpening, fitting, comparison, along >= 0 || up >= 0)) return [];
  const amount = (negative: typeof along) => showLength(subtract(NONE, negative), show);
  const ways = [
    { room: along, way: `move the ${fitting.kind} ${amount(along)} along the wall` },
    { room: up, way: `raise it by ${amount(up)}` },
  ].sort((a, b) => b.room - a.room);
  return [
    about(
      fittingBeforeOpening,
      fitting,
      fitting.place,
      `${capital(nameOf(fitting))} ${verb(fitting, 'stands', 'stand')} in opening "${opening.name}" of ${wallName(opening.wall)}, which is ${showLength(opening.width, show)} wide and ${showLength(opening.height, show)} high: to be clear of it takes ${amount(along)} along the wall, or ${amount(up)} in height.`,
      {
        advice: `${capital(either(ways.map(({ way }) => way)))}.`,
        related: [{ place: opening.place, message: `Opening "${opening.name}" is here.` }],
        comparison,
        fixes: raisedOver(fitting, subtract(NONE, up), input),
      },
    ),
  ];
}

/** Over the opening: by hand, since a shelf over a door is for other things than one beside it. */
function raisedOver(fitting: FittingLayout, by: Ticks, input: CheckInput): Fix[] {
  if (fitting.kind === 'panel') return [];
  return heightFixes(fitting, { by, up: true }, input).map((fix) => ({ ...fix, byHand: true }));
}
