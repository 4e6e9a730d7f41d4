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
 */
import type { Box, Layout, WallLayout } from '../model/layout.ts';
import { lengthAt } from '../model/survey.ts';
import { greatest, least, subtract, type Ticks } from '../model/ticks.ts';

/** The walls by name; undefined where they are not those of a rectangular room. */
export type Room = { readonly [wall in 'left' | 'back' | 'right' | 'front']?: WallLayout } | undefined;

/** Something on a wall, in that wall's frame, or on the ceiling, in the room's. */
export interface Standing {
  /** Undefined: on the ceiling. */
  readonly wall: string | undefined;
  readonly box: Box;
}

export function roomOf(layout: Layout): Room {
  const room: { left?: WallLayout; back?: WallLayout; right?: WallLayout; front?: WallLayout } = {};
  for (const wall of layout.walls) {
    const { name } = wall;
    if (name !== 'left' && name !== 'back' && name !== 'right' && name !== 'front') return undefined;
    room[name] = wall;
  }
  return room;
}

/** The length of a wall at a height: as measured there, or what counts for the whole wall. */
export function lengthOf(wall: WallLayout, height: Ticks): Ticks {
  return lengthAt(wall.readings, height) ?? wall.length;
}

/** Both boxes in one frame; undefined where none is known (walls of another shape, or a length that is missing). */
export function inOneFrame(a: Standing, b: Standing, room: Room): readonly [Box, Box] | undefined {
  if (a.wall === b.wall) return [a.box, b.box];
  if (!room) return undefined;
  const heights = [a.box.z[0], b.box.z[0]];
  const length = (wall: WallLayout | undefined): Ticks | undefined =>
    wall && greatest(...heights.map((height) => lengthOf(wall, height)));
  const lengths = {
    left: length(room.left),
    back: length(room.back),
    right: length(room.right),
    front: length(room.front),
  };
  const first = inRoom(a, b.wall, lengths);
  const second = inRoom(b, a.wall, lengths);
  return first && second && [first, second];
}

/**
 * What something may take up in the plan of the room, in the frame of the room, whatever it is
 * compared with: the walls are as long as their longest reading in one corner and as short as their shortest in another.
 */
export function reachInRoom(
  standing: Standing,
  room: NonNullable<Room>,
): readonly [minX: number, minY: number, maxX: number, maxY: number] | undefined {
  let reach: [number, number, number, number] | undefined;
  for (const pick of [least, greatest]) {
    const length = (wall: WallLayout | undefined): Ticks | undefined =>
      wall && pick(wall.length, wall.nominal, ...wall.readings.map((reading) => reading.length));
    const lengths = {
      left: length(room.left),
      back: length(room.back),
      right: length(room.right),
      front: length(room.front),
    };
    for (const other of ['left', 'back', 'right', 'front']) {
      const box = inRoom(standing, other, lengths);
      if (!box) continue;
      const [minX, minY, maxX, maxY] = reach ?? [Infinity, Infinity, -Infinity, -Infinity];
      reach = [Math.min(minX, box.x[0]), Math.min(minY, box.y[0]), Math.max(maxX, box.x[1]), Math.max(maxY, box.y[1])];
    }
  }
  return reach;
}

type Lengths = { readonly [wall in 'left' | 'back' | 'right' | 'front']: Ticks | undefined };

function inRoom({ wall, box }: Standing, other: string | undefined, room: Lengths): Box | undefined {
  switch (wall) {
    case undefined:
    case 'back':
      return box;
    case 'left':
      return room.left === undefined ? undefined : { x: box.y, y: turned(box.x, room.left), z: box.z };
    case 'right': {
      const width =
        (other === 'front' ? room.front : other === 'back' ? room.back : undefined) ?? leastOf(room.back, room.front);
      return width === undefined ? undefined : { x: turned(box.y, width), y: box.x, z: box.z };
    }
    case 'front': {
      const depth =
        (other === 'left' ? room.left : other === 'right' ? room.right : undefined) ?? leastOf(room.left, room.right);
      if (room.front === undefined || depth === undefined) return undefined;
      return { x: turned(box.x, room.front), y: turned(box.y, depth), z: box.z };
    }
    default:
      return undefined;
  }
}

/** How far the room reaches out from the face of a wall; undefined where no wall says so. */
export function roomBefore(wall: string, layout: Layout): { readonly depth: Ticks; readonly wall: string } | undefined {
  const sides = wall === 'back' || wall === 'front' ? ['left', 'right'] : ['back', 'front'];
  if (!roomOf(layout)) return undefined;
  let found: { readonly depth: Ticks; readonly wall: string } | undefined;
  for (const { name, length } of layout.walls) {
    if (sides.includes(name) && (!found || length < found.depth)) found = { depth: length, wall: name };
  }
  return found;
}

/**
 * The room between two boxes on each axis: negative where they overlap on it, by the shortest way
 * that one would have to move to get clear of the other.
 */
export function gaps(a: Box, b: Box): { readonly x: Ticks; readonly y: Ticks; readonly z: Ticks } {
  return { x: gap(a.x, b.x), y: gap(a.y, b.y), z: gap(a.z, b.z) };
}

export function gap(a: readonly [Ticks, Ticks], b: readonly [Ticks, Ticks]): Ticks {
  return greatest(subtract(b[0], a[1]), subtract(a[0], b[1]));
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
