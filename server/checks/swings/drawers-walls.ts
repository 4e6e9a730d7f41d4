/** The walls across from drawers, and what of an opening is not free at their height. */
import type { OpeningLayout, WallLayout } from '../../model/layout.ts';
import { add, least, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { type CheckInput, lacks } from '../check.ts';
import { framesOf, type Room, roomBefore } from '../room.ts';
import { nameOf, wallName } from '../say.ts';
import { partAhead, wayUpTo } from './ahead.ts';
import { free, type Stretch, solid } from './doorway.ts';
import type { InTheWay, Moving } from './moving.ts';
import { dot, fromPlan, inwards, type Polygon, toPlan, touch } from './plane.ts';
import { drawerMeetsLeaf, drawerMeetsWall } from './rules.ts';

export function wallsBefore(moving: Moving, input: CheckInput, room: Room): InTheWay[] {
  const { drawers } = moving;
  const { layout } = input;
  if (!room.frames.has(drawers.wall)) {
    lacks(input, drawerMeetsWall, drawers, `the length of ${wallName(drawers.wall)} and of the walls beside it`);
    return [];
  }
  const found: InTheWay[] = [];
  let isOpen = false;
  for (const wall of layout.walls) {
    if (wall.name === drawers.wall) continue;
    for (const stretch of solid(wall, layout.openings)) {
      const way = wayTo(moving, wall, stretch, input, room)?.way;
      if (way !== undefined) {
        found.push({ rule: drawerMeetsWall, what: wallName(wall.name), place: wall.place, way });
      }
    }
    for (const opening of layout.openings) {
      if (opening.wall !== wall.name) continue;
      const across = wayTo(moving, wall, [opening.from, add(opening.from, opening.width)], input, room);
      if (!across) continue;
      isOpen = true;
      found.push(...notFree(moving, opening, across, input));
    }
  }
  if (found.length === 0 && !isOpen) {
    lacks(input, drawerMeetsWall, drawers, `what is across from ${nameOf(drawers)}: a wall, or an opening in it`);
  }
  return found;
}

interface Across {
  readonly way: Ticks;
  /** Which stretch of the wall they come to, along it. */
  readonly at: readonly [number, number];
}

/** How far they come out before they are at a stretch of a wall; undefined where it is not before them. */
function wayTo(
  { drawers, path }: Moving,
  wall: WallLayout,
  stretch: Stretch,
  { layout }: CheckInput,
  room: Room,
): Across | undefined {
  const { z } = drawers.box;
  const line = { x: stretch, y: [NONE, NONE], z } as const;
  const frames = framesOf(drawers, { wall: wall.name, box: line }, room);
  if (!frames) return undefined;
  const [own, there] = frames;
  // Only its face is in the way, and drawers behind it are those of another stretch of the room.
  if (dot(inwards(own.along), inwards(there.along)) >= 0) return undefined;
  const seen: Polygon = stretch.map((x) => fromPlan(own, toPlan(there, [x, 0])));
  const part = partAhead(path, seen);
  if (!part) return undefined;
  const way = wayUpTo(path, part);
  const along = part.map((p) => fromPlan(there, toPlan(own, p))[0]);
  const at = [Math.min(...along), Math.max(...along)] as const;
  // Walls beside it that differ: the shorter is the depth.
  const depth = room.isSquare ? roomBefore(drawers.wall, layout)?.depth : undefined;
  return { way: depth === undefined ? way : least(way, subtract(depth, drawers.box.y[1])), at };
}

/** What of an opening before drawers does not let them out: what is above it, or its leaves. */
function notFree({ drawers }: Moving, opening: OpeningLayout, { way, at }: Across, input: CheckInput): InTheWay[] {
  const name = `opening "${opening.name}"`;
  if (drawers.box.z[1] > opening.height) {
    const z = [opening.height, drawers.box.z[1]] as const;
    return [{ rule: drawerMeetsWall, what: `the wall above ${name}`, place: opening.place, way, z }];
  }
  const stretches = free(opening);
  if (!stretches) {
    lacks(input, drawerMeetsLeaf, drawers, `the side of the hinges of ${name}`);
    return [];
  }
  // Beside the opening it is the wall that stops them.
  const [from, to] = [Math.max(at[0], opening.from), Math.min(at[1], opening.from + opening.width)];
  const passes = stretches.some((s) => from >= s[0] - touch && to <= s[1] + touch);
  const what = {
    none: name,
    sliding: `the leaf of ${name} that stays closed`,
    bifold: `the folded leaves of ${name}`,
    swing: `the open leaf of ${name}`,
  }[opening.leaf.kind];
  return passes || opening.leaf.kind === 'swing'
    ? []
    : [{ rule: drawerMeetsLeaf, what, place: opening.leaf.place, way }];
}
