/** What stands straight under and over a rod, and how far what hangs on it reaches. */
import type { FittingLayout, Layout, RodLayout } from '../model/layout.ts';
import type { Garment } from '../model/materials.ts';
import { add, greatest, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { nearbyOf } from './nearby.ts';
import { gap, inOneFrame, type Room } from './room.ts';
import { half } from './say.ts';

/** Width of what hangs, across the rod; undefined where the garment does not say. */
export function widthOf(garment: Garment): Ticks | undefined {
  if (garment.hanger === undefined || garment.depth === undefined) return garment.hanger ?? garment.depth;
  return greatest(garment.hanger, garment.depth);
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
