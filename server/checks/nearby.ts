/**
 * Which fittings of a closet may stand near one another, by spatial index, so that a wall with
 * thousands of fittings costs little more than one with a few.
 */
import Flatbush from 'flatbush';
import type { FittingLayout, Layout } from '../model/layout.ts';
import { recent } from '../model/memo.ts';
import { type Room, reachInRoom, roomOf, type Standing } from './room.ts';
import { fittingsOf } from './say.ts';

export interface Nearby {
  /** All fittings that may share room with it, in the order of the layout; some of them do not. */
  readonly around: (standing: Standing) => readonly FittingLayout[];
  /** All fittings that may be above or below it. */
  readonly column: (standing: Standing) => readonly FittingLayout[];
}

const known = recent<Layout, Nearby>(2);

export function nearbyOf(layout: Layout): Nearby {
  return known(layout, () => indexed(fittingsOf(layout), roomOf(layout)));
}

/** Two dimensions of a box, and what is in it. */
type Rectangle = readonly [minX: number, minY: number, maxX: number, maxY: number];

function indexed(fittings: readonly FittingLayout[], room: Room): Nearby {
  const order = new Map(fittings.map((fitting, i) => [fitting, i]));
  const walls = Map.groupBy(fittings, (fitting) => fitting.wall);
  const faces = new Map([...walls].map(([wall, own]) => [wall, indexOf(own, (f) => faceOf(f))]));
  // The plan of the room tells which fittings of different walls meet in a corner.
  const plan = walls.size > 1 ? indexOf(fittings, (f) => reachInRoom(f, room)) : undefined;

  const find = (standing: Standing, face: Rectangle): readonly FittingLayout[] => {
    const own = standing.wall === undefined ? undefined : faces.get(standing.wall);
    const found = own?.(face) ?? [];
    const inPlan = plan && reachInRoom(standing, room);
    const others = inPlan ? plan(inPlan).filter((f) => f.wall !== standing.wall) : [];
    return [...found, ...others].sort((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0));
  };
  return {
    around: (standing) => find(standing, faceOf(standing)),
    column: (standing) => {
      const { x } = standing.box;
      return find(standing, [x[0], Number.NEGATIVE_INFINITY, x[1], Number.POSITIVE_INFINITY]);
    },
  };
}

/** Along the wall and up it. */
function faceOf({ box }: Standing): Rectangle {
  return [box.x[0], box.z[0], box.x[1], box.z[1]];
}

/** So few are looked through faster than an index of them is made. */
const few = 32;

function indexOf<T>(things: readonly T[], rectangle: (thing: T) => Rectangle | undefined): (at: Rectangle) => T[] {
  const placed = things.flatMap((thing) => {
    const at = rectangle(thing);
    return at ? [{ thing, at }] : [];
  });
  if (placed.length <= few) {
    return (here) => placed.filter(({ at }) => touching(at, here)).map(({ thing }) => thing);
  }
  const index = new Flatbush(placed.length);
  for (const { at } of placed) index.add(...at);
  index.finish();
  return (at) => index.search(...at).flatMap((i) => placed[i]?.thing ?? []);
}

/** Edges count, as in the index. */
function touching(a: Rectangle, b: Rectangle): boolean {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}
