/** Whether what is to hang on a rod hangs clear: below it, above it, behind it and in front of it. */

import { gapFix } from '../model/edits.ts';
import { examplesIn } from '../model/examples.ts';
import type { Finding } from '../model/finding.ts';
import type { RodLayout } from '../model/layout.ts';
import type { Garment } from '../model/materials.ts';
import { showLength } from '../model/show.ts';
import { add, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { type Check, type CheckInput, lacks, looked } from './check.ts';
import { limitOf } from './defaults.ts';
import { meetInCorners } from './hanging-corner.ts';
import { movedBack, movedOut } from './hanging-fixes.ts';
import { clearAbove, clearBelow } from './hanging-height.ts';
import { longEnough } from './hanging-length.ts';
import { garmentsOf, widthOf } from './hanging-reach.ts';
import {
  garmentIncomplete,
  garmentMeetsBelow,
  garmentMeetsFloor,
  hangingMeetsHanging,
  rodNearFront,
  rodNearShelf,
  rodNearWall,
  rodTooShort,
  rodUnderAdvice,
  rodWithoutGarment,
} from './hanging-rules.ts';
import { frameOf, type Room, roomOf } from './room.ts';
import {
  about,
  both,
  capital,
  compared,
  either,
  fittingsOf,
  half,
  nameOf,
  relatedLimit,
  setBy,
  wallName,
} from './say.ts';
import { depthBefore } from './swings/depth.ts';
import { dot } from './swings/plane.ts';

export const hangingCheck: Check = {
  rules: [
    garmentMeetsFloor,
    garmentMeetsBelow,
    rodNearWall,
    rodNearFront,
    rodNearShelf,
    rodUnderAdvice,
    rodWithoutGarment,
    garmentIncomplete,
    rodTooShort,
    hangingMeetsHanging,
  ],
  run: (input) => {
    const room = roomOf(input.layout);
    const found: Finding[] = [];
    for (const rod of fittingsOf(input.layout)) {
      if (rod.kind !== 'rod') continue;
      found.push(...clearAbove(rod, input, room), ...unchecked(rod, input));
      for (const garment of garmentsOf(rod)) {
        found.push(...clearBelow(rod, garment, input, room));
        found.push(...clearBehind(rod, garment, input), ...clearBefore(rod, garment, input, room));
      }
      found.push(...longEnough(rod, input));
    }
    return [...found, ...meetInCorners(input, room)];
  },
};

function clearBehind(rod: RodLayout, garment: Garment, input: CheckInput): Finding[] {
  const { policy, show } = input;
  if (garment.hanger === undefined) {
    lacks(input, rodNearWall, rod, `the hanger width of "${garment.name}"`);
    return [];
  }
  const limit = limitOf(policy, 'clear-behind-hanger');
  const clear = limit.least ?? NONE;
  const reach = half(garment.hanger);
  const free = subtract(rod.fromWall, reach);
  const comparison = compared(`room behind the hanger of "${garment.name}"`, free, 'at least', clear);
  if (looked(input, rodNearWall, rod, comparison, free >= clear)) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  const asked = clear === 0 ? '' : `, and ${setBy(limit)} asks for ${length(clear)} behind it`;
  return [
    about(
      rodNearWall,
      rod,
      rod.fromWallPlace,
      `${capital(nameOf(rod))} is ${length(rod.fromWall)} from ${wallName(rod.wall)}; half of the ${length(garment.hanger)} hanger of "${garment.name}" is ${length(reach)}${asked}.`,
      {
        advice: `Set the rod at least ${length(add(reach, clear))} from the wall.`,
        related: [
          { place: garment.place, message: `The hanger of "${garment.name}" is ${length(garment.hanger)} wide.` },
          ...relatedLimit(limit, `${length(clear)} is to be kept clear behind a hanger.`),
        ],
        comparison,
        fixes: movedOut(rod, input),
      },
    ),
  ];
}

function clearBefore(rod: RodLayout, garment: Garment, input: CheckInput, room: Room): Finding[] {
  const { layout, policy, show } = input;
  const width = widthOf(garment);
  const closet = depthBefore(rod, layout, room);
  if (width === undefined || !closet) {
    const needs = closet
      ? `the hanger width of "${garment.name}"`
      : `the depth of the closet before ${wallName(rod.wall)}`;
    lacks(input, rodNearFront, rod, needs);
    return [];
  }
  const limit = limitOf(policy, 'clear-before-hanger');
  const clear = limit.least ?? NONE;
  const reach = half(width);
  const free = subtract(closet.depth, add(rod.fromWall, reach));
  if (clear === 0) leavesBefore(rod, input, room);
  const comparison = compared(`room in front of "${garment.name}"`, free, 'at least', clear);
  if (looked(input, rodNearFront, rod, comparison, free >= clear)) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  const asked = clear === 0 ? '' : `, and ${setBy(limit)} asks for ${length(clear)} in front of it`;
  const { wall } = closet;
  const farthest = subtract(closet.depth, add(reach, clear));
  return [
    about(
      rodNearFront,
      rod,
      rod.fromWallPlace,
      `"${garment.name}" on ${nameOf(rod)} reaches ${length(add(rod.fromWall, reach))} out from ${wallName(rod.wall)}: ${length(rod.fromWall)} to the rod and half of its ${length(width)}. The closet is ${length(closet.depth)} deep there${asked}.`,
      {
        advice:
          farthest > 0
            ? `Set the rod at most ${length(farthest)} from the wall, or hang something narrower.`
            : 'Hang something narrower: no place for the rod is near enough to the wall.',
        related: [
          { place: garment.place, message: `"${garment.name}" is ${length(width)} wide on its hanger.` },
          room.isNamed
            ? { place: wall.lengthPlace, message: `${capital(wallName(wall.name))} is ${length(wall.length)} long.` }
            : { place: wall.place, message: `${capital(wallName(wall.name))} is across from it.` },
          ...relatedLimit(limit, `${length(clear)} is to be kept clear in front of what hangs.`),
        ],
        comparison,
        fixes: movedBack(rod, input),
      },
    ),
  ];
}

/**
 * Leaves that slide or fold run in the depth of the opening or just inside it; how far inside, nothing says. A policy
 * that keeps room in front of what hangs has said what they take.
 */
function leavesBefore(rod: RodLayout, input: CheckInput, room: Room): void {
  for (const { name, wall, leaf } of input.layout.openings) {
    if (leaf.kind !== 'sliding' && leaf.kind !== 'bifold') continue;
    const frames = [rod.wall, wall].map((on) => frameOf(on, room)?.along);
    const [own, there] = frames;
    if (!own || !there || dot(own, there) >= 0) continue;
    lacks(
      input,
      rodNearFront,
      rod,
      `how far the leaves of opening "${name}" stand into the closet (\`limit clear-before-hanger at least ${examplesIn('2in', input.show.system)}\` in a policy keeps room for them)`,
    );
  }
}

/** Says what could not be checked, and what it would need. */
function unchecked(rod: RodLayout, input: CheckInput): Finding[] {
  const garments = garmentsOf(rod);
  if (garments.length === 0) {
    for (const rule of [garmentMeetsFloor, garmentMeetsBelow, rodNearWall, rodNearFront, rodWithoutGarment]) {
      lacks(input, rule, rod, `what hangs on ${nameOf(rod)}`);
    }
    if (rod.misnamed) return [];
    return [
      about(
        rodWithoutGarment,
        rod,
        rod.place,
        `${capital(nameOf(rod))} does not say what hangs on it, so it was not compared with the floor, with what is below it, or with the depth of the closet.`,
        {
          advice: 'Name a garment: `for shirt`.',
          fixes: gapFix(rod.place.statement, 'for'),
        },
      ),
    ];
  }
  const found: Finding[] = [];
  const example = (text: string): string => examplesIn(text, input.show.system);
  for (const garment of garments) {
    const missing = [
      ...(garment.hang === undefined ? [`hanging length (\`${example('hang 38in')}\`)`] : []),
      ...(garment.hanger === undefined ? [`hanger width (\`${example('hanger 17in')}\`)`] : []),
    ];
    if (missing.length === 0) continue;
    lacks(input, garmentIncomplete, rod, both(missing.map((part) => `the ${part} of "${garment.name}"`)));
    const compared = [
      ...(garment.hang === undefined ? ['with the floor and what is below it'] : []),
      ...(garment.hanger === undefined ? ['with the wall behind it'] : []),
      ...(widthOf(garment) === undefined ? ['with the front of the closet'] : []),
    ];
    found.push(
      about(
        garmentIncomplete,
        rod,
        rod.place,
        `"${garment.name}" on ${nameOf(rod)} gives no ${either(missing.map((part) => part.replace(/ \(.*/, '')))}, so the rod was not compared ${both(compared)}.`,
        {
          advice: `Give the garment its ${both(missing)}.`,
          related: [{ place: garment.place, message: `"${garment.name}" is described here.` }],
          fixes: [
            ...(garment.hang === undefined ? gapFix(garment.place.statement, 'hang') : []),
            ...(garment.hanger === undefined ? gapFix(garment.place.statement, 'hanger') : []),
          ],
        },
      ),
    );
  }
  return found;
}
