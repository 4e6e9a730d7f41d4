/** Leaves that swing in, standing open before drawers. */
import { NONE, type Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { framesOf, type Room } from '../room.ts';
import { freeWay } from './ahead.ts';
import { standingOpen, swingOf } from './doorway.ts';
import { swungOut } from './fixes.ts';
import type { InTheWay, Moving } from './moving.ts';
import { fromPlan, toPlan } from './plane.ts';
import { drawerMeetsLeaf } from './rules.ts';
import { meetsLeaf } from './sector.ts';
import { coverSeenFrom, shareHeight } from './things.ts';

export function leavesBefore({ drawers, path }: Moving, { layout }: CheckInput, room: Room): InTheWay[] {
  const found: InTheWay[] = [];
  for (const opening of layout.openings) {
    const swing = swingOf(opening);
    const z: readonly [Ticks, Ticks] = [NONE, opening.height];
    if (!swing || !shareHeight(drawers.box.z, z)) continue;
    const door = { wall: opening.wall, box: { ...drawers.box, z } };
    // A leaf that the closed drawers stop does not stand open, and is told as that.
    const closed = coverSeenFrom(door, drawers, room);
    if (closed && meetsLeaf(swing, closed)) continue;
    const frames = framesOf(drawers, door, room);
    if (!frames) continue;
    const leaf = standingOpen(swing).map((p) => fromPlan(frames[0], toPlan(frames[1], p)));
    const way = freeWay(path, leaf);
    if (way === undefined) continue;
    found.push({
      rule: drawerMeetsLeaf,
      what: `the leaf of opening "${opening.name}" as it stands open`,
      place: opening.leaf.place,
      way,
      fixes: swungOut(opening),
    });
  }
  return found;
}
