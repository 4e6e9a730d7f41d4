/** Whether drawers come out: as far as their maker has them, past walls, fittings, fixtures and the leaves of doors. */
import type { Finding, Fix } from '../../model/finding.ts';
import type { Box, DrawersLayout, FittingLayout } from '../../model/layout.ts';
import { showLength } from '../../model/show.ts';
import { add, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { type CheckInput, lacks, looked } from '../check.ts';
import { fixtureName } from '../fixture-name.ts';
import { nearbyOf } from '../nearby.ts';
import { overlapping, type Room } from '../room.ts';
import { about, capital, compared, fittingsOf, nameOf, relatedLimit } from '../say.ts';
import { freeWay } from './ahead.ts';
import { leavesBefore } from './drawers-leaves.ts';
import { wallsBefore } from './drawers-walls.ts';
import { statementOf, writeLength } from './fixes.ts';
import { type InTheWay, type Moving, movingOf } from './moving.ts';
import {
  drawerMeetsFitting,
  drawerMeetsFixture,
  drawerMeetsWall,
  drawersMeet,
  littleRoomBeforeDrawers,
} from './rules.ts';
import { coverSeenFrom, keptFree, shareHeight } from './things.ts';

export function drawersIn(input: CheckInput, room: Room): Finding[] {
  const all = fittingsOf(input.layout)
    .filter((f) => f.kind === 'drawers')
    .map(movingOf);
  const found: Finding[] = [];
  for (const [i, moving] of all.entries()) {
    const hard = [
      ...wallsBefore(moving, input, room),
      ...fittingsBefore(moving, input, room),
      ...fixturesBefore(moving, input, room),
      ...leavesBefore(moving, input, room),
    ].sort((a, b) => a.way - b.way);
    const [nearest] = hard;
    // What is behind the first thing that stops them is never met.
    for (const thing of hard) if (thing === nearest || thing.way >= moving.drawers.pullOut) tell(moving, thing, input);
    if (nearest && nearest.way < moving.drawers.pullOut) found.push(meets(moving, nearest, input));
    else found.push(...roomBefore(moving, nearest, input));
    for (const earlier of all.slice(0, i)) found.push(...bothOut(moving, earlier, nearest, input, room));
  }
  return found;
}

function fittingsBefore({ drawers, path, swept }: Moving, { layout }: CheckInput, room: Room): InTheWay[] {
  const found: InTheWay[] = [];
  for (const other of nearbyOf(layout).around(swept)) {
    if (other === drawers || !shareHeight(drawers.box.z, other.box.z)) continue;
    // What stands in the drawers themselves is another mistake, and told as that.
    if (other.wall === drawers.wall && overlapping(other.box, drawers.box)) continue;
    const cover = coverSeenFrom(drawers, other, room);
    const way = cover && freeWay(path, cover);
    if (way === undefined) continue;
    found.push({ rule: drawerMeetsFitting, what: nameOf(other), place: other.place, way, z: other.box.z });
  }
  return found;
}

function fixturesBefore({ drawers, path }: Moving, { layout }: CheckInput, room: Room): InTheWay[] {
  const found: InTheWay[] = [];
  for (const fixture of layout.fixtures) {
    const kept = keptFree(fixture);
    if (fixture.clear === 0 || !shareHeight(drawers.box.z, kept.box.z)) continue;
    const cover = coverSeenFrom(drawers, kept, room);
    const way = cover && freeWay(path, cover);
    // Where they stand too near when closed, that is told of the fixture.
    if (!way) continue;
    const what = `what is to be kept free before ${fixtureName(fixture)}`;
    found.push({ rule: drawerMeetsFixture, what, place: fixture.place, way, z: kept.box.z });
  }
  return found;
}

function tell({ drawers }: Moving, { rule, what, way }: InTheWay, input: CheckInput): void {
  looked(
    input,
    rule,
    drawers,
    compared(`free way before "${drawers.path}" up to ${what}`, way, 'at least', drawers.pullOut),
    way >= drawers.pullOut,
  );
}

/** `2 of the 3 drawers "main.chest" come out 16in and meet`, where not all of them are as high as what they meet. */
function comeOut({ count, each, box, path }: DrawersLayout, z: Box['z'] | undefined, pullOut: string): string {
  let met = 0;
  for (let i = 0; i < count; i++) {
    const from = add(box.z[0], ticks(i * each));
    if (!z || shareHeight([from, add(from, each)], z)) met++;
  }
  if (met === count) return `Drawers "${path}" come out ${pullOut} and meet`;
  const some = `${met} of the ${count} drawers "${path}"`;
  return met === 1 ? `${some} comes out ${pullOut} and meets` : `${some} come out ${pullOut} and meet`;
}

function meets(
  { drawers }: Moving,
  { rule, what, place, way, z, fixes: others = [] }: InTheWay,
  { show }: CheckInput,
): Finding {
  const length = (amount: Ticks) => showLength(amount, show);
  const { pullOut, depth } = drawers;
  const short = subtract(pullOut, way);
  const after = way > 0 ? `after ${length(way)}` : 'right away';
  const shallower = fitsAt(drawers, way);
  // No wall gives way.
  const isFast = rule === drawerMeetsWall;
  const ways =
    way > 0
      ? `Take drawers that come out at most ${length(way)}, or that are ${length(subtract(depth, shallower))} less deep${isFast ? '' : `, or move one of the two by ${length(short)}`}`
      : isFast
        ? 'Move the drawers to where they can come out'
        : 'Move the drawers, or what is before them';
  return about(
    rule,
    drawers,
    drawers.place,
    `${comeOut(drawers, z, length(pullOut))} ${what} ${after}: ${length(short)} too far.`,
    {
      advice: `${ways}.`,
      related: [
        { place, message: `${capital(what)} ${/^(drawers|the folded leaves)/.test(what) ? 'are' : 'is'} in the way.` },
      ],
      comparison: compared(`free way before "${drawers.path}"`, way, 'at least', pullOut),
      fixes: [...fixes(drawers, way, show), ...others],
    },
  );
}

/** The depth at which they come out all the way. Where nothing says how far they come out, it is as far as they are deep. */
function fitsAt({ place, pullOut, depth }: DrawersLayout, way: Ticks): Ticks {
  if (statementOf(place.statement, 'pull-out')) return subtract(depth, subtract(pullOut, way));
  return ticks(Math.floor((depth + way) / 2));
}

/** Drawers that come out no farther than `way`, or that begin so much farther back that they may. */
function fixes(drawers: DrawersLayout, way: Ticks, show: CheckInput['show']): Fix[] {
  if (way <= 0) return [];
  const shallower = fitsAt(drawers, way);
  return [
    ...writeLength(drawers, 'pull-out', drawers.pullOut, way, 'down', show),
    ...(shallower > 0 ? writeLength(drawers, 'depth', drawers.depth, shallower, 'down', show) : []),
  ];
}

/** What is left for a person, where a policy asks for some. */
function roomBefore({ drawers }: Moving, nearest: InTheWay | undefined, input: CheckInput): Finding[] {
  const limit = input.policy.limits.get('clear-before-drawers');
  const asked = limit?.least;
  if (limit === undefined || asked === undefined) return [];
  if (!nearest) {
    lacks(input, littleRoomBeforeDrawers, drawers, 'what is across from the drawers');
    return [];
  }
  const left = subtract(nearest.way, drawers.pullOut);
  const comparison = compared(`room before "${drawers.path}" when it is out`, left, 'at least', asked);
  if (looked(input, littleRoomBeforeDrawers, drawers, comparison, left >= asked)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  return [
    about(
      littleRoomBeforeDrawers,
      drawers,
      drawers.place,
      `Out by ${length(drawers.pullOut)}, ${nameOf(drawers)} leave ${length(left)} before ${nearest.what}; policy "${limit.policy}" asks for ${length(asked)}.`,
      {
        advice: `Take drawers that come out ${length(subtract(asked, left))} less, or leave that much more room.`,
        related: [
          { place: nearest.place, message: `${capital(nearest.what)} is before them.` },
          ...relatedLimit(limit, `${length(asked)} is asked for before drawers.`),
        ],
        comparison,
        fixes: fixes(drawers, subtract(nearest.way, asked), input.show),
      },
    ),
  ];
}

/** Two stacks, each of which comes out while the other is closed. */
function bothOut(
  moving: Moving,
  earlier: Moving,
  nearest: InTheWay | undefined,
  input: CheckInput,
  room: Room,
): Finding[] {
  const { drawers, path } = moving;
  const other: FittingLayout = earlier.drawers;
  if (drawers.wall === other.wall || !shareHeight(drawers.box.z, other.box.z)) return [];
  const cover = coverSeenFrom(drawers, earlier.swept, room);
  const way = cover && freeWay(path, cover);
  if (way === undefined) return [];
  const comparison = compared(
    `free way before "${drawers.path}" with "${other.path}" out`,
    way,
    'at least',
    drawers.pullOut,
  );
  // What stops them before that has been told.
  if (way < drawers.pullOut && nearest && nearest.way <= way) return [];
  if (looked(input, drawersMeet, drawers, comparison, way >= drawers.pullOut)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  return [
    about(
      drawersMeet,
      drawers,
      drawers.place,
      `${capital(nameOf(drawers))} and ${nameOf(other)} cannot be out at the same time: with the others out, these come out ${way > 0 ? length(way) : 'nothing'} of their ${length(drawers.pullOut)}.`,
      {
        advice: `Set one of the two ${length(subtract(drawers.pullOut, way))} further off, or open one at a time.`,
        related: [{ place: other.place, message: `${capital(nameOf(other))} come out over the same floor.` }],
        comparison,
        fixes: fixes(drawers, way, input.show),
      },
    ),
  ];
}
