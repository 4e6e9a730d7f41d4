/** Where things stand in the plan of the room, seen from the wall of what moves. */
import type { Box, FixtureLayout } from '../../model/layout.ts';
import { add, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { footprint, framesOf, gap, type Room, type Standing } from '../room.ts';
import { fromPlan, type Polygon } from './plane.ts';

/** What something covers of the plan, in the frame of the wall of `seen`; undefined where the plan does not have both walls. */
export function coverSeenFrom(seen: Standing, other: Standing, room: Room): Polygon | undefined {
  if (seen.wall === other.wall) {
    const { x, y } = other.box;
    return [
      [x[0], y[0]],
      [x[1], y[0]],
      [x[1], y[1]],
      [x[0], y[1]],
    ];
  }
  const frames = framesOf(seen, other, room);
  return frames && footprint(other.box, frames[1]).map((p) => fromPlan(frames[0], p));
}

export function shareHeight(a: Box['z'], b: Box['z']): boolean {
  return gap(a, b) < 0;
}

/** The fixture with what is to be kept free around it and in front of it. */
export function keptFree({ wall, box, clear }: FixtureLayout): Standing {
  const wider = ([from, to]: readonly [Ticks, Ticks]) => [subtract(from, clear), add(to, clear)] as const;
  const [x, y, z] = [wider(box.x), wider(box.y), wider(box.z)];
  return { wall, box: wall === undefined ? { x, y, z } : { x, y: [NONE, y[1]], z } };
}
