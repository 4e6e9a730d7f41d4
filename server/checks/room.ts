/**
 * Boxes of different walls in one frame, and how far apart boxes are.
 *
 * Frame of a wall (model/layout.ts): x along it from the left of a person inside who faces it, y out
 * from its face, z up from the floor. Frame of the room, for closets whose walls are left, back,
 * right and front, at right angles: X from the face of the left wall, Y from the face of the back
 * wall, Z up from the floor.
 *
 *     back wall     X = x              Y = y              its x begins at the left wall
 *     left wall     X = y              Y = length - x     facing it, the back wall is on the right hand
 *     right wall    X = width - y      Y = x              facing it, the back wall is on the left hand
 *     front wall    X = length - x     Y = depth - y      facing it, the right wall is on the left hand
 *     ceiling       X = x              Y = y
 *
 * On site opposite walls differ in length, and a wall at different heights. The width and the depth
 * are those of the wall that makes the corner in question, at the heights in question (the greater,
 * where there are two), so that what is made to touch there is not taken to overlap.
 *
 * Walls that meet at another angle, and rooms of any other shape, are compared in the plan of the room
 * (Layout.plan): see `slanted`.
 */
import { compareInText } from '../model/finding.ts';
import type { Box, CornerLayout, Layout, WallLayout } from '../model/layout.ts';
import { recent } from '../model/memo.ts';
import { lengthAt } from '../model/survey.ts';
import { greatest, least, subtract, type Ticks, ticks } from '../model/ticks.ts';
import { extent, type Frame, inwards, type Polygon, rectangle, toPlan, xAxis, yAxis } from './swings/plane.ts';

type Side = 'left' | 'back' | 'right' | 'front';
const sides: readonly Side[] = ['left', 'back', 'right', 'front'];

/** The walls of a rectangular room by their names, and those of any room in `walls`. */
export interface Room extends Partial<Readonly<Record<Side, WallLayout>>> {
  readonly walls: ReadonlyMap<string, WallLayout>;
  /** All walls are those of a rectangular room, by name. */
  readonly isNamed: boolean;
  /** It is named, and every corner is square. */
  readonly isSquare: boolean;
  readonly frames: ReadonlyMap<string, Frame>;
  readonly corners: readonly CornerLayout[];
}

/** Something on a wall, in that wall's frame, or on the ceiling, in the room's. */
export interface Standing {
  /** Undefined: on the ceiling. */
  readonly wall: string | undefined;
  readonly box: Box;
}

const rooms = recent<Layout, Room>(2);

export function roomOf(layout: Layout): Room {
  return rooms(layout, () => roomWithin(layout));
}

function isNamedRoom({ walls }: Layout): boolean {
  return walls.every(({ name }) => sides.some((side) => side === name));
}

function roomWithin(layout: Layout): Room {
  const { walls, plan, corners } = layout;
  const isNamed = isNamedRoom(layout);
  return {
    ...(isNamed && Object.fromEntries(walls.map((wall) => [wall.name, wall]))),
    walls: new Map(walls.map((wall) => [wall.name, wall])),
    isNamed,
    isSquare: isNamed && corners.every(({ angle }) => angle === 90),
    frames: new Map(plan.map(({ wall, from, along }) => [wall, { from, along }])),
    corners,
  };
}

/** The length of a wall at a height: as measured there, or what counts for the whole wall. */
export function lengthOf(wall: WallLayout, height: Ticks): Ticks {
  return lengthAt(wall.readings, height) ?? wall.length;
}

/** Both boxes in one frame; undefined where none is known (walls that do not meet, or a length that is missing). */
export function inOneFrame(a: Standing, b: Standing, room: Room): readonly [Box, Box] | undefined {
  if (a.wall === b.wall) return [a.box, b.box];
  if (!room.isSquare) return slanted(a, b, room);
  const lengths = lengthsOf(room, (wall) => greatest(lengthOf(wall, a.box.z[0]), lengthOf(wall, b.box.z[0])));
  const first = inRoom(a, b.wall, lengths);
  const second = inRoom(b, a.wall, lengths);
  return first && second && [first, second];
}

/**
 * Both boxes in the plan of the room, seen along the axis on which they are farthest apart (or share
 * least): one of the axes of either box, by the theorem of separating axes, so that the two overlap
 * exactly where they overlap on x, y and z of what is returned. That axis is x.
 * Each is taken a tick smaller where an end of it is no whole tick, so that what touches does not overlap.
 */
function slanted(a: Standing, b: Standing, room: Room): readonly [Box, Box] | undefined {
  const frames = framesOf(a, b, room);
  if (!frames) return undefined;
  const axes = frames.flatMap(({ along }) => [along, inwards(along)]);
  const [one, two] = [footprint(a.box, frames[0]), footprint(b.box, frames[1])];
  let best: { readonly apart: number; readonly boxes: readonly [Box, Box] } | undefined;
  for (const axis of axes) {
    const seen = (polygon: Polygon, { z }: Box): Box => ({
      x: smaller(extent(polygon, axis)),
      y: smaller(extent(polygon, inwards(axis))),
      z,
    });
    const boxes = [seen(one, a.box), seen(two, b.box)] as const;
    const apart = gap(boxes[0].x, boxes[1].x);
    if (!best || apart > best.apart) best = { apart, boxes };
  }
  return best?.boxes;
}

function smaller([from, to]: readonly [number, number]): readonly [Ticks, Ticks] {
  const [low, high] = [Math.ceil(from), Math.floor(to)];
  return low <= high ? [ticks(low), ticks(high)] : [ticks(Math.floor(from)), ticks(Math.ceil(to))];
}

/** What a box covers of the plan. */
export function footprint({ x, y }: Box, frame: Frame): Polygon {
  return rectangle(x, y).map((corner) => toPlan(frame, corner));
}

/**
 * The frames of two walls, or of one and the ceiling. The plan is drawn with one length of each wall; one that
 * is longer at the heights in question moves the other out by as much, where the two share its right end.
 */
export function framesOf(a: Standing, b: Standing, room: Room): readonly [Frame, Frame] | undefined {
  const [one, two] = [frameOf(a.wall, room), frameOf(b.wall, room)];
  if (!one || !two) return undefined;
  const corner = room.corners.find(({ walls }) => walls.some((w) => w === a.wall) && walls.some((w) => w === b.wall));
  const first = corner && room.walls.get(corner.walls[0]);
  if (!first) return [one, two];
  const long = greatest(...[a.box.z[0], b.box.z[0]].map((height) => lengthOf(first, height)));
  const more = subtract(long, first.length);
  const moved = ({ from, along }: Frame, by: Frame): Frame => ({
    from: toPlan({ from, along: by.along }, [more, 0]),
    along,
  });
  return first.name === a.wall ? [one, moved(two, one)] : [moved(one, two), two];
}

/** The frame of a wall in the plan of the room; of the ceiling, that of the plan itself. */
export function frameOf(wall: string | undefined, { frames }: Room): Frame | undefined {
  return wall === undefined ? { from: [0, 0], along: xAxis } : frames.get(wall);
}

/**
 * What something may take up in the plan of the room, in the frame of the room, whatever it is
 * compared with: the walls are as long as their longest reading in one corner and as short as their shortest in another.
 */
export function reachInRoom(
  standing: Standing,
  room: Room,
): readonly [minX: number, minY: number, maxX: number, maxY: number] | undefined {
  if (!room.isSquare) return reachInPlan(standing, room);
  let reach: [number, number, number, number] | undefined;
  for (const pick of [least, greatest]) {
    const lengths = lengthsOf(room, (wall) => pick(...lengthsThere(wall)));
    for (const other of sides) {
      const box = inRoom(standing, other, lengths);
      if (!box) continue;
      const [minX, minY, maxX, maxY] = reach ?? [Infinity, Infinity, -Infinity, -Infinity];
      reach = [Math.min(minX, box.x[0]), Math.min(minY, box.y[0]), Math.max(maxX, box.x[1]), Math.max(maxY, box.y[1])];
    }
  }
  return reach;
}

/** The plan is drawn with one length of each wall; at other heights a wall stands off by no more than all of them differ. */
function reachInPlan(standing: Standing, room: Room): readonly [number, number, number, number] | undefined {
  const frame = frameOf(standing.wall, room);
  if (!frame) return undefined;
  let slack = 2;
  for (const wall of room.walls.values()) slack += greatest(...lengthsThere(wall)) - least(...lengthsThere(wall));
  const polygon = footprint(standing.box, frame);
  const [x, y] = [extent(polygon, xAxis), extent(polygon, yAxis)];
  return [x[0] - slack, y[0] - slack, x[1] + slack, y[1] + slack];
}

/** All lengths that a wall may be taken to have. */
function lengthsThere(wall: WallLayout): Ticks[] {
  return [wall.length, wall.nominal, ...wall.readings.map((reading) => reading.length)];
}

/** Asked for only where it matters: which walls do depends on those that two things stand on. */
type Lengths = (wall: Side) => Ticks | undefined;

function lengthsOf(room: Room, of: (wall: WallLayout) => Ticks): Lengths {
  return (side) => {
    const wall = room[side];
    return wall && of(wall);
  };
}

function inRoom({ wall, box }: Standing, other: string | undefined, lengthOf: Lengths): Box | undefined {
  switch (wall) {
    case undefined:
    case 'back':
      return box;
    case 'left': {
      const left = lengthOf('left');
      return left === undefined ? undefined : { x: box.y, y: turned(box.x, left), z: box.z };
    }
    case 'right': {
      const width =
        (other === 'front' || other === 'back' ? lengthOf(other) : undefined) ??
        leastOf(lengthOf('back'), lengthOf('front'));
      return width === undefined ? undefined : { x: turned(box.y, width), y: box.x, z: box.z };
    }
    case 'front': {
      const depth =
        (other === 'left' || other === 'right' ? lengthOf(other) : undefined) ??
        leastOf(lengthOf('left'), lengthOf('right'));
      const front = lengthOf('front');
      if (front === undefined || depth === undefined) return undefined;
      return { x: turned(box.x, front), y: turned(box.y, depth), z: box.z };
    }
    default:
      return undefined;
  }
}

/** How far the room reaches out from the face of a wall; undefined where no wall says so. */
export function roomBefore(wall: string, layout: Layout): { readonly depth: Ticks; readonly wall: string } | undefined {
  const sides = wall === 'back' || wall === 'front' ? ['left', 'right'] : ['back', 'front'];
  if (!isNamedRoom(layout)) return undefined;
  let found: WallLayout | undefined;
  for (const wall of layout.walls) {
    if (!sides.includes(wall.name)) continue;
    // Of two that are as long as each other the one that is written first, in a mirrored unit as well.
    const by = found ? wall.length - found.length || compareInText(wall.place, found.place) : -1;
    if (by < 0) found = wall;
  }
  return found && { depth: found.length, wall: found.name };
}

/**
 * The room between two boxes on each axis: negative where they overlap on it, by the shortest way
 * that one would have to move to get clear of the other.
 */
export function gaps(a: Box, b: Box): { readonly x: Ticks; readonly y: Ticks; readonly z: Ticks } {
  return { x: gap(a.x, b.x), y: gap(a.y, b.y), z: gap(a.z, b.z) };
}

export function gap(a: readonly [Ticks, Ticks], b: readonly [Ticks, Ticks]): Ticks {
  return Math.max(b[0] - a[1], a[0] - b[1]) as Ticks;
}

/** Boxes that only touch do not overlap. */
export function overlapping(a: Box, b: Box): boolean {
  return gap(a.x, b.x) < 0 && gap(a.y, b.y) < 0 && gap(a.z, b.z) < 0;
}

function turned([from, to]: readonly [Ticks, Ticks], length: Ticks): [Ticks, Ticks] {
  return [subtract(length, to), subtract(length, from)];
}

function leastOf(a: Ticks | undefined, b: Ticks | undefined): Ticks | undefined {
  return a === undefined || b === undefined ? (a ?? b) : least(a, b);
}
