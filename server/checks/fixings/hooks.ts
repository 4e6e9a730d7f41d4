/** Brackets against the shelves they carry, and hooks against the rods that hang from them. */
import type { Finding } from '../../model/finding.ts';
import type { RodLayout, ShelfLayout } from '../../model/layout.ts';
import type { Hardware } from '../../model/materials.ts';
import { showLength } from '../../model/show.ts';
import { subtract, type Ticks } from '../../model/ticks.ts';
import { type CheckInput, lacks, looked } from '../check.ts';
import { about, capital, compared, fittingsOf, nameOf, wallName } from '../say.ts';
import { along } from './along.ts';
import { rodAtHooks } from './fixes.ts';
import type { Fixing } from './fixing.ts';
import { counted, groups, isShelf, scheduleOf, speaks } from './looked.ts';
import { bracketsOver, hookDistance } from './rods.ts';
import { bracketPastShelf, hookOffRod, hookWithoutBracket, shelfPastBracket } from './rules.ts';

export function checkBrackets(input: CheckInput): Finding[] {
  const found: Finding[] = [];
  for (const { fitting, hardware, fixings } of groups(input)) {
    if (!isShelf(fitting) || fixings[0]?.role !== 'bracket') continue;
    if (hardware.reach === undefined) {
      for (const rule of [bracketPastShelf, shelfPastBracket])
        lacks(input, rule, fitting, `the reach of "${hardware.name}"`);
      continue;
    }
    found.push(...besideReach(fitting, hardware, hardware.reach, input));
  }
  return found;
}

function besideReach(shelf: ShelfLayout, hardware: Hardware, reach: Ticks, input: CheckInput): Finding[] {
  const { show } = input;
  const front = shelf.box.y[1];
  const related = [
    { place: hardware.place, message: `"${hardware.name}" reaches ${showLength(reach, show)} out from the wall.` },
  ];
  const over = compared(`reach of "${hardware.name}"`, reach, 'at most', front);
  const under = compared(`front of ${nameOf(shelf)}, from the wall`, front, 'at most', reach);
  const holds = looked(input, bracketPastShelf, shelf, over, reach <= front);
  const covers = looked(input, shelfPastBracket, shelf, under, front <= reach);
  if ((holds && covers) || !speaks(shelf)) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  const ends = `its front edge is ${length(front)} from ${wallName(shelf.wall)}`;
  const bracket = `"${hardware.name}"`;
  return [
    holds
      ? about(
          shelfPastBracket,
          shelf,
          shelf.place,
          `${capital(nameOf(shelf))} reaches ${length(subtract(front, reach))} past ${bracket}, which carries it: ${ends}, and the bracket reaches ${length(reach)}.`,
          {
            advice: `Take a bracket that reaches ${showLength(front, show)}.`,
            related,
            comparison: under,
          },
        )
      : about(
          bracketPastShelf,
          shelf,
          shelf.place,
          `${capital(bracket)} reaches ${length(subtract(reach, front))} past ${nameOf(shelf)}, which it carries: ${ends}, and the bracket reaches ${length(reach)}.`,
          {
            advice: `Take a bracket that reaches no farther than ${showLength(front, show)}, or a deeper board.`,
            related,
            comparison: over,
          },
        ),
  ];
}

export function checkHooks(input: CheckInput): Finding[] {
  const { of } = scheduleOf(input);
  const shelves = fittingsOf(input.layout)
    .filter(isShelf)
    .map((shelf) => ({
      shelf,
      brackets: (of.get(shelf.path) ?? []).filter(({ role }) => role === 'bracket'),
    }));
  const near = along(
    shelves.filter(({ brackets }) => brackets.length > 0),
    ({ shelf }) => shelf.box.x,
  );
  const found: Finding[] = [];
  for (const rod of fittingsOf(input.layout)) {
    if (rod.kind !== 'rod') continue;
    for (const hook of rod.carried) {
      if (hook.role === 'hook') found.push(...hung(rod, hook, bracketsOver(rod, near(rod.box.x)), input));
    }
  }
  return found;
}

/** The lowest shelf over a rod. */
function shelfOver(rod: RodLayout, { layout }: CheckInput): ShelfLayout[] {
  const over = fittingsOf(layout).filter(
    (one): one is ShelfLayout =>
      isShelf(one) && one.wall === rod.wall && one.at.value >= rod.at.value && shares(one.box.x, rod.box.x),
  );
  return over.sort((a, b) => a.at.value - b.at.value).slice(0, 1);
}

function shares(a: readonly [Ticks, Ticks], b: readonly [Ticks, Ticks]): boolean {
  return a[0] < b[1] && b[0] < a[1];
}

function hung(rod: RodLayout, hook: Hardware, brackets: readonly Fixing[], input: CheckInput): Finding[] {
  const { show } = input;
  const over = counted(`brackets over ${nameOf(rod)}`, brackets.length, 'at least', 1);
  if (!looked(input, hookWithoutBracket, rod, over, brackets.length > 0))
    return [
      about(
        hookWithoutBracket,
        rod,
        rod.place,
        `${capital(nameOf(rod))} is carried by "${hook.name}", and no shelf over it has brackets along it.`,
        {
          advice: `Carry the shelf over it by brackets, or take "${hook.name}" from what carries the rod.`,
          related: [
            { place: hook.place, message: `"${hook.name}" hangs from a bracket.` },
            ...shelfOver(rod, input).map((shelf) => ({
              place: shelf.place,
              message: `${capital(nameOf(shelf))} is over it, without brackets along it.`,
            })),
          ],
          comparison: over,
        },
      ),
    ];
  return [...new Set(brackets.map(({ hardware }) => hardware))].flatMap((bracket) => {
    const distance = hookDistance(bracket, hook);
    if (distance === undefined || bracket.reach === undefined || hook.setBack === undefined) {
      if (bracket.reach === undefined) lacks(input, hookOffRod, rod, `the reach of "${bracket.name}"`);
      if (hook.setBack === undefined) lacks(input, hookOffRod, rod, `the set-back of ${hook.name}`);
      return [];
    }
    const [reach, back] = [showLength(bracket.reach, show), showLength(hook.setBack, show)];
    const working = [
      { what: `reach of ${bracket.name}`, value: reach },
      { what: `set-back of ${hook.name}`, value: back },
      { what: 'rod from the wall', value: showLength(distance, show), how: `${reach} - ${back}` },
    ];
    const comparison = compared(`${nameOf(rod)} from ${wallName(rod.wall)}`, rod.fromWall, 'equal to', distance);
    if (looked(input, hookOffRod, rod, comparison, rod.fromWall === distance, working)) return [];
    return [
      about(
        hookOffRod,
        rod,
        rod.fromWallPlace,
        `${capital(nameOf(rod))} is drawn ${showLength(rod.fromWall, show)} from ${wallName(rod.wall)}; "${hook.name}", ${back} back from the front of "${bracket.name}" (${reach}), ${distance > 0 ? `holds it ${showLength(distance, show)} from it` : 'would be behind the wall'}.`,
        {
          advice:
            distance > 0
              ? `Set the rod ${showLength(distance, show)} from the wall, or take another bracket or hook.`
              : 'Correct the reach of the bracket or the set-back of the hook.',
          related: [
            { place: bracket.place, message: `"${bracket.name}" reaches ${reach} out from the wall.` },
            { place: hook.place, message: `"${hook.name}" stands ${back} back from the front of its bracket.` },
          ],
          comparison,
          working,
          fixes: rodAtHooks(rod, distance, show),
        },
      ),
    ];
  });
}
