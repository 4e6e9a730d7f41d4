/** How far the room reaches out from a wall, before something that stands on it. */
import type { Box, Layout, WallLayout } from '../../model/layout.ts';
import { add, type Ticks, ticks } from '../../model/ticks.ts';
import { framesOf, type Room, roomBefore } from '../room.ts';
import { freeWay } from './ahead.ts';
import { dot, fromPlan, inwards, toPlan } from './plane.ts';

export interface Depth {
  readonly depth: Ticks;
  /** The wall whose length it is: beside it in a rectangular room, across from it in any other. */
  readonly wall: WallLayout;
}

/**
 * In a rectangular room the length of the shorter wall beside it. In any other the distance to the nearest wall
 * straight across; walls that share a corner with its own lean in or away, and are not counted.
 */
export function depthBefore(
  standing: { readonly wall: string; readonly box: Box },
  layout: Layout,
  room: Room,
): Depth | undefined {
  if (room.isNamed) {
    const beside = roomBefore(standing.wall, layout);
    const wall = beside && room.walls.get(beside.wall);
    return wall && { depth: beside.depth, wall };
  }
  const { x, y, z } = standing.box;
  const back = ticks(Math.max(0, y[0]));
  let nearest: Depth | undefined;
  for (const wall of layout.walls) {
    if (wall.name === standing.wall || shareCorner(wall.name, standing.wall, room)) continue;
    const frames = framesOf(standing, { wall: wall.name, box: { x, y, z } }, room);
    if (!frames || dot(inwards(frames[0].along), inwards(frames[1].along)) >= 0) continue;
    const ends = [0, wall.length].map((at) => fromPlan(frames[0], toPlan(frames[1], [at, 0])));
    const way = freeWay({ x, front: back }, ends);
    if (way === undefined) continue;
    const depth = add(back, way);
    if (!nearest || depth < nearest.depth) nearest = { depth, wall };
  }
  return nearest;
}

function shareCorner(a: string, b: string, { corners }: Room): boolean {
  return corners.some(({ walls }) => walls.includes(a) && walls.includes(b));
}
