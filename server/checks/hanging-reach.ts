/** What stands straight under and over a rod, and how far what hangs on it reaches. */
import type { Box, FittingLayout, Layout, RodLayout, SlopeLayout } from '../model/layout.ts';
import type { Garment } from '../model/materials.ts';
import { add, greatest, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { nearbyOf } from './nearby.ts';
import { gap, inOneFrame, type Room } from './room.ts';
import { half } from './say.ts';
import { ceilingOver } from './swings/ceiling.ts';

/** Width of what hangs, across the rod; undefined where the garment does not say. */
export function widthOf(garment: Garment): Ticks | undefined {
  if (garment.hanger === undefined || garment.depth === undefined) return garment.hanger ?? garment.depth;
  return greatest(garment.hanger, garment.depth);
}

/** What is said to hang on a rod, by `for` or by `holds`; each garment once. */
export function garmentsOf({ garments, holds }: RodLayout): readonly Garment[] {
  const counted = holds.map(({ garment }) => garment).filter(({ name }) => !garments.some((g) => g.name === name));
  return counted.length === 0 ? garments : [...garments, ...new Map(counted.map((g) => [g.name, g])).values()];
}

/** What of a garment hangs on a rod, from end to end of it; undefined where it does not say how wide or long it is. */
export function hanging(rod: RodLayout, garment: Garment): Box | undefined {
  const width = widthOf(garment);
  if (width === undefined || garment.hang === undefined) return undefined;
  const reach = half(width);
  return {
    x: rod.box.x,
    y: [subtract(rod.fromWall, reach), add(rod.fromWall, reach)],
    z: [subtract(rod.at.value, garment.hang), rod.at.value],
  };
}

type Span = readonly [Ticks, Ticks];

/** Whether something stands over or under a rod, within the distance `y` from its wall. */
function inLine(rod: RodLayout, y: Span, other: FittingLayout, room: Room): boolean {
  const boxes = inOneFrame({ wall: rod.wall, box: { ...rod.box, y } }, other, room);
  return boxes !== undefined && gap(boxes[0].x, boxes[1].x) < 0 && gap(boxes[0].y, boxes[1].y) < 0;
}

export function highestBelow(rod: RodLayout, y: Span, layout: Layout, room: Room): FittingLayout | undefined {
  let found: FittingLayout | undefined;
  for (const other of nearbyOf(layout).column({ wall: rod.wall, box: { ...rod.box, y } })) {
    const top = other.box.z[1];
    if (top > rod.box.z[0] || (found && top <= found.box.z[1])) continue;
    if (inLine(rod, y, other, room)) found = other;
  }
  return found;
}

/** Whatever comes down lowest over a rod: what is straight above it, or the ceiling, level or sloped. */
export interface Above {
  readonly underside: Ticks;
  /** Undefined: the ceiling. */
  readonly fitting: FittingLayout | undefined;
  readonly slope: SlopeLayout | undefined;
}

export function above(rod: RodLayout, layout: Layout, room: Room): Above | undefined {
  const fitting = lowestAbove(rod, layout, room);
  const level = fitting?.box.z[0] ?? room.walls.get(rod.wall)?.height;
  const ceiling = ceilingOver(rod, layout, room);
  // A rod that reaches through a slope is told as that.
  const isUnder = ceiling && ceiling.height >= rod.box.z[1] && (level === undefined || ceiling.height < level);
  if (isUnder) return { underside: ceiling.height, fitting: undefined, slope: ceiling.slope };
  return level === undefined ? undefined : { underside: level, fitting, slope: undefined };
}

export function lowestAbove(rod: RodLayout, layout: Layout, room: Room): FittingLayout | undefined {
  let found: FittingLayout | undefined;
  for (const other of nearbyOf(layout).column(rod)) {
    const underside = other.box.z[0];
    if (underside < rod.box.z[1] || (found && underside >= found.box.z[0])) continue;
    if (inLine(rod, rod.box.y, other, room)) found = other;
  }
  return found;
}

/** The highest thing under a garment, and how high its top is: 0 for the floor. */
export function underGarment(
  rod: RodLayout,
  garment: Garment,
  layout: Layout,
  room: Room,
): { readonly below: FittingLayout | undefined; readonly top: Ticks } {
  const reach = half(widthOf(garment) ?? NONE);
  // At the least what the rod itself covers, where the garment does not say how wide it is.
  const y: Span = reach > half(rod.diameter) ? [subtract(rod.fromWall, reach), add(rod.fromWall, reach)] : rod.box.y;
  const below = highestBelow(rod, y, layout, room);
  return { below, top: below && below.box.z[1] > 0 ? below.box.z[1] : NONE };
}
