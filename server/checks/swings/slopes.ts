/** What stands and hangs under a ceiling that slopes. */
import type { Finding, Fix, Working } from '../../model/finding.ts';
import type { FittingLayout, RodLayout, ShelfLayout } from '../../model/layout.ts';
import type { Garment } from '../../model/materials.ts';
import { showLength } from '../../model/show.ts';
import { add, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { heightFixes } from '../access/fixes.ts';
import { type CheckInput, lacks, looked } from '../check.ts';
import { garmentsOf } from '../hanging-reach.ts';
import { nearbyOf } from '../nearby.ts';
import { gap, inOneFrame, type Room } from '../room.ts';
import { about, both, capital, compared, fittingsOf, half, nameOf, verb, wallName } from '../say.ts';
import { type Ceiling, ceilingOver, distanceFor } from './ceiling.ts';
import { writeIn, writeLength } from './fixes.ts';
import { fittingMeetsSlope, hangingMeetsSlope, lowOverShelf, usefulAboveShelf } from './rules.ts';

export function slopesIn(input: CheckInput, room: Room): Finding[] {
  const { layout } = input;
  if (layout.slopes.length === 0) return [];
  const found: Finding[] = [];
  for (const fitting of fittingsOf(layout)) {
    const ceiling = ceilingOver(fitting, layout, room);
    const through = ceiling ? throughCeiling(fitting, ceiling, input) : [];
    found.push(...through);
    if (through.length > 0) continue;
    if (fitting.kind === 'rod') found.push(...clothes(fitting, input, room));
    if (fitting.kind === 'shelf' && ceiling) found.push(...onTop(fitting, ceiling, input, room));
  }
  return found;
}

function workingOf({ slope, distance, height, corners }: Ceiling, { show }: CheckInput): Working[] {
  const length = (amount: Ticks) => showLength(amount, show);
  return [
    { what: 'height of the ceiling at its wall', value: length(slope.low) },
    { what: 'full height', value: length(slope.high) },
    { what: 'run', value: length(slope.run) },
    { what: 'distance from the wall', value: length(distance) },
    {
      what: 'height there',
      value: length(height),
      how: 'height at the wall + (full height - height at the wall) x distance / run',
    },
    { what: 'height over each corner', value: both(corners.map(length)) },
  ];
}

function throughCeiling(fitting: FittingLayout, ceiling: Ceiling, input: CheckInput): Finding[] {
  const { slope, height, distance } = ceiling;
  const top = fitting.box.z[1];
  // Above the full height it is through the ceiling of its wall, and told as that.
  if (top > slope.high) return [];
  const comparison = compared(`height of the ceiling over "${fitting.path}"`, height, 'at least', top);
  const working = workingOf(ceiling, input);
  if (looked(input, fittingMeetsSlope, fitting, comparison, height >= top, working)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  const over = subtract(top, height);
  const needed = distanceFor(slope, top);
  const lowered = subtract(fitting.at.value, over);
  const ways = [
    fitting.kind === 'panel' ? `make it ${length(over)} lower` : `lower it to ${length(lowered)}`,
    ...(needed === undefined ? [] : [`keep it at least ${length(needed)} from ${wallName(slope.wall)}`]),
  ];
  return [
    about(
      fittingMeetsSlope,
      fitting,
      fitting.atPlace,
      `${capital(nameOf(fitting))} ${verb(fitting, 'reaches', 'reach')} up to ${length(top)}, and ${distance > 0 ? `${length(distance)} out from` : 'at'} ${wallName(slope.wall)} the sloped ceiling is ${length(height)} high: ${length(over)} too low for it.`,
      {
        advice: `${capital(ways.join(', or '))}.`,
        related: [{ place: slope.place, message: slopeSaid(ceiling, input) }],
        comparison,
        working,
        fixes: [...lower(fitting, lowered, over, input), ...moveOut(fitting, ceiling, needed, input)],
      },
    ),
  ];
}

function slopeSaid({ slope }: Ceiling, { show }: CheckInput): string {
  const length = (amount: Ticks) => showLength(amount, show);
  return `The ceiling is ${length(slope.low)} high at ${wallName(slope.wall)} and ${length(slope.high)} from ${length(slope.run)} out.`;
}

function lower(fitting: FittingLayout, lowered: Ticks, over: Ticks, { show }: CheckInput): Fix[] {
  if (fitting.kind === 'panel') {
    const tall = subtract(fitting.box.z[1], fitting.box.z[0]);
    return writeLength(fitting, 'height', tall, subtract(tall, over), 'down', show);
  }
  const { statement } = fitting.atPlace;
  return statement.word.text === 'at' ? writeIn(statement, fitting.at.value, lowered, 'down', show) : [];
}

/** Only what is on the wall of the slope, and says how far from it, is moved out by that. */
function moveOut(
  fitting: FittingLayout,
  { slope, distance }: Ceiling,
  needed: Ticks | undefined,
  { show }: CheckInput,
): Fix[] {
  if (needed === undefined || fitting.wall !== slope.wall) return [];
  const from = fitting.kind === 'rod' ? fitting.fromWall : fitting.box.y[0];
  return writeLength(fitting, 'from', from, add(from, subtract(needed, distance)), 'up', show);
}

/** The end of a hanger is taken to be as high as the rod. */
function clothes(rod: RodLayout, input: CheckInput, room: Room): Finding[] {
  const found: Finding[] = [];
  const garments = garmentsOf(rod);
  if (garments.length === 0) lacks(input, hangingMeetsSlope, rod, `what hangs on ${nameOf(rod)}`);
  for (const garment of garments) {
    if (garment.hanger === undefined) lacks(input, hangingMeetsSlope, rod, `the hanger width of "${garment.name}"`);
    else found.push(...hangers(rod, garment, half(garment.hanger), input, room));
  }
  return found;
}

function hangers(rod: RodLayout, garment: Garment, reach: Ticks, input: CheckInput, room: Room): Finding[] {
  const y = [subtract(rod.fromWall, reach), add(rod.fromWall, reach)] as const;
  const ceiling = ceilingOver({ wall: rod.wall, box: { ...rod.box, y } }, input.layout, room);
  if (!ceiling) return [];
  const { slope, height, distance } = ceiling;
  const at = rod.at.value;
  const comparison = compared(`height of the ceiling over the hanger of "${garment.name}"`, height, 'at least', at);
  const working = workingOf(ceiling, input);
  if (looked(input, hangingMeetsSlope, rod, comparison, height >= at, working)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  const needed = distanceFor(slope, at);
  const fromWall = needed === undefined || rod.wall !== slope.wall ? undefined : add(needed, reach);
  const ways = [
    `lower the rod to ${length(height)}`,
    ...(fromWall === undefined ? [] : [`set it at least ${length(fromWall)} from the wall`]),
  ];
  const { statement } = rod.atPlace;
  return [
    about(
      hangingMeetsSlope,
      rod,
      rod.atPlace,
      `The hangers of "${garment.name}" on ${nameOf(rod)} end ${length(distance)} out from ${wallName(slope.wall)}, at ${length(at)}; the sloped ceiling is ${length(height)} high there, ${length(subtract(at, height))} too low.`,
      {
        advice: `${capital(ways.join(', or '))}.`,
        related: [{ place: slope.place, message: slopeSaid(ceiling, input) }],
        comparison,
        working,
        fixes: [
          ...(statement.word.text === 'at' ? writeIn(statement, at, height, 'down', input.show) : []),
          ...(fromWall === undefined ? [] : writeLength(rod, 'from', rod.fromWall, fromWall, 'up', input.show)),
        ],
      },
    ),
  ];
}

/** What stands on the highest shelf has the slope over it. */
function onTop(shelf: ShelfLayout, ceiling: Ceiling, input: CheckInput, room: Room): Finding[] {
  const top = shelf.box.z[1];
  if (shelf.tilted || ceiling.height >= ceiling.slope.high || hasSomethingAbove(shelf, input, room)) return [];
  const free = subtract(ceiling.height, top);
  const comparison = compared(`room over "${shelf.path}"`, free, 'at least', usefulAboveShelf);
  const working = workingOf(ceiling, input);
  if (looked(input, lowOverShelf, shelf, comparison, free >= usefulAboveShelf, working)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  const far = subtract(ceiling.farHeight, top);
  return [
    about(
      lowOverShelf,
      shelf,
      shelf.atPlace,
      `Over ${nameOf(shelf)} the sloped ceiling leaves ${length(free)} at the edge nearest to ${wallName(ceiling.slope.wall)} and ${length(far > 0 ? far : NONE)} at the other; ${length(usefulAboveShelf)} is the least that reference tables give between shelves.`,
      {
        advice: `Lower it to ${length(subtract(shelf.at.value, subtract(usefulAboveShelf, free)))}, or keep only what is low there.`,
        related: [{ place: ceiling.slope.place, message: slopeSaid(ceiling, input) }],
        comparison,
        working,
        fixes: heightFixes(shelf, { by: subtract(usefulAboveShelf, free), up: false }, input),
      },
    ),
  ];
}

function hasSomethingAbove(shelf: ShelfLayout, { layout }: CheckInput, room: Room): boolean {
  return nearbyOf(layout)
    .column(shelf)
    .some((other) => {
      if (other === shelf || other.box.z[0] < shelf.box.z[1]) return false;
      const boxes = inOneFrame(shelf, other, room);
      return boxes !== undefined && gap(boxes[0].x, boxes[1].x) < 0 && gap(boxes[0].y, boxes[1].y) < 0;
    });
}
