/**
 * Where a person with a wheelchair can be at a closet: before its opening, reaching in, or inside, if
 * the floor that is free between what stands along its walls has room for a wheelchair.
 */
import type { Box, Layout, OpeningLayout } from '../../model/layout.ts';
import { add, greatest, least, NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { inOneFrame, type Room, roomOf, type Standing } from '../room.ts';
import { fittingsOf } from '../say.ts';
import type { Stand } from './between.ts';
import { alcoveWidth, approachesOn, type Rectangle } from './floor.ts';
import { protruding } from './protrude.ts';
import type { Approach } from './reach.ts';

export type Side = 'left' | 'back' | 'right' | 'front';

export interface Closet {
  readonly room: Room;
  /** Along the back wall, and out from it. */
  readonly width: Ticks;
  readonly depth: Ticks;
  /** The widest; undefined where none is drawn. */
  readonly opening: OpeningLayout | undefined;
  /** The wall across from the opening. */
  readonly facing: Side;
  /** How far what stands along each wall reaches out from it, up to headroom. */
  readonly taken: Readonly<Record<Side, Ticks>>;
  /** Floor that is free between: along the back wall, and out from it. */
  readonly free: Rectangle;
  /** A wheelchair has room inside. */
  readonly entered: boolean;
}

/** What is missing to know where a person can be, in words. */
export interface Unknown {
  readonly needs: string;
}

const across: Readonly<Record<Side, Side>> = { left: 'right', right: 'left', back: 'front', front: 'back' };
/** As seen by a person who faces the wall. */
const beside: Readonly<Record<Side, readonly [left: Side, right: Side]>> = {
  back: ['left', 'right'],
  left: ['front', 'back'],
  right: ['back', 'front'],
  front: ['right', 'left'],
};

export function closetOf(layout: Layout): Closet | Unknown {
  const room = roomOf(layout);
  if (!room.isSquare) return { needs: 'a closet of four walls at right angles' };
  const width = room.back?.length ?? room.front?.length;
  const sides = [room.left?.length, room.right?.length].filter((length) => length !== undefined);
  if (width === undefined || sides.length === 0) return { needs: 'the width and the depth of the closet' };
  const depth = least(...sides);
  const opening = [...layout.openings].sort((a, b) => b.width - a.width)[0];
  const facing = across[isSide(opening?.wall) ? opening.wall : 'front'];
  const taken = { left: NONE, back: NONE, right: NONE, front: NONE };
  for (const { wall, box } of [...fittingsOf(layout), ...layout.fixtures]) {
    if (isSide(wall) && box.z[0] < protruding.headroom) taken[wall] = greatest(taken[wall], box.y[1]);
  }
  const left = (all: Ticks, ...off: Ticks[]): Ticks => greatest(NONE, subtract(all, add(...off)));
  const free = { width: left(width, taken.left, taken.right), depth: left(depth, taken.back, taken.front) };
  return { room, width, depth, opening, facing, taken, free, entered: approachesOn(free).length > 0 };
}

export function isSide(wall: string | undefined): wall is Side {
  return wall !== undefined && wall in across;
}

/** How deep the closet is for somebody at its opening. */
export function deepFrom({ facing, width, depth }: Closet): Ticks {
  return facing === 'back' || facing === 'front' ? depth : width;
}

/** The free floor inside as somebody has it who faces a wall. */
export function freeBefore(wall: Side, { free }: Closet): Rectangle {
  return wall === 'back' || wall === 'front' ? free : { width: free.depth, depth: free.width };
}

/** A box in the frame of a wall of the closet; undefined where that is not known. */
export function facingBox(standing: Standing, wall: Side, { room, width, depth }: Closet): Box | undefined {
  if (standing.wall === wall) return standing.box;
  const inRoom = inOneFrame(standing, { wall: undefined, box: standing.box }, room)?.[0];
  if (!inRoom) return undefined;
  const { x, y, z } = inRoom;
  switch (wall) {
    case 'back':
      return inRoom;
    case 'front':
      return { x: turned(x, room.front?.length ?? width), y: turned(y, depth), z };
    case 'left':
      return { x: turned(y, room.left?.length ?? depth), y: x, z };
    case 'right':
      return { x: y, y: turned(x, width), z };
  }
}

function turned([from, to]: Box['x'], length: Ticks): Box['x'] {
  return [subtract(length, to), subtract(length, from)];
}

/** Where a person is to reach something on a wall: the wall that is faced, and the stretch of floor before it. */
export interface Position {
  readonly faces: Side;
  readonly stand: Stand;
  /** Undefined where the floor before the opening is not given. */
  readonly approaches: readonly Approach[] | undefined;
  readonly floor: Rectangle | undefined;
}

export function positionAt(wall: string, closet: Closet): Position | undefined {
  if (!isSide(wall)) return undefined;
  if (!closet.entered) return before(closet);
  const [left, right] = beside[wall];
  const length = wall === 'back' || wall === 'front' ? closet.width : closet.depth;
  const floor = freeBefore(wall, closet);
  // The wall across from the opening is the end of an alcove; to the side walls one turns inside it.
  const isEnd = wall === closet.facing;
  const approaches = approachesOn(floor).filter(
    (approach) => !isEnd || floor.width >= alcoveWidth(approach, floor.depth),
  );
  const stand = { line: undefined, from: closet.taken[left], to: subtract(length, closet.taken[right]) };
  return { faces: wall, stand, approaches, floor };
}

/** Without an opening that is drawn, the closet is open across its front. */
function before(closet: Closet): Position {
  const { opening, facing } = closet;
  const long = facing === 'back' || facing === 'front' ? closet.width : closet.depth;
  const line = deepFrom(closet);
  if (!opening)
    return { faces: facing, stand: { line, from: NONE, to: long }, approaches: undefined, floor: undefined };
  // Seen from outside, left and right of its wall change places.
  const length = closet.room[across[facing]]?.length ?? long;
  const [from, to] = turned([opening.from, add(opening.from, opening.width)], length);
  const { floor } = opening;
  return { faces: facing, stand: { line, from, to }, approaches: floor && approachesOn(floor), floor };
}

/** What is clear of an opening with its leaf open: one of two sliding leaves always stands before half of it. */
export function clearWidth({ width, leaf }: OpeningLayout): Ticks {
  return leaf.kind === 'sliding' ? ticks(Math.floor(width / 2)) : width;
}
