/** Where the storage space of a layout is, and what of it comes nearest to a light. */
import type { FixtureLayout, Layout, RodLayout } from '../../model/layout.ts';
import { greatest, type Ticks } from '../../model/ticks.ts';
import { gaps, inOneFrame, roomBefore, roomOf, type Standing } from '../room.ts';
import { fittingsOf, nameOf, wallName } from '../say.ts';
import { distance } from './exact.ts';
import { type StorageBox, type StorageWall, storageBoxes } from './storage-space.ts';

export interface Stored extends Standing {
  readonly wall: string;
  /** As people read it: `the storage space along the back wall, above 72in`. */
  readonly name: string;
  readonly kind: StorageBox['what'] | 'fitting';
}

export function rodsOf(layout: Layout): RodLayout[] {
  return fittingsOf(layout).filter((fitting) => fitting.kind === 'rod');
}

/** Walls whose height is not known are left out, and named. */
export interface StorageOf {
  readonly stored: readonly Stored[];
  readonly unknown: readonly string[];
}

export function storageOf(layout: Layout, length: (amount: Ticks) => string): StorageOf {
  const fittings = fittingsOf(layout);
  const own = Map.groupBy(fittings, ({ wall }) => wall);
  const fronts = new Set(layout.openings.map(({ wall }) => wall));
  if (fronts.size === 0) fronts.add('front');
  const walls: StorageWall[] = [];
  const unknown: string[] = [];
  for (const wall of layout.walls) {
    const { name, height } = wall;
    if (height === undefined) {
      unknown.push(name);
      continue;
    }
    const on = own.get(name) ?? [];
    walls.push({
      name,
      isFront: fronts.has(name),
      length: wall.length,
      height,
      room: roomBefore(name, layout)?.depth,
      shelves: on.filter(({ kind }) => kind === 'shelf').map(({ box }) => box),
      rods: on.flatMap((f) => (f.kind === 'rod' ? [{ box: f.box, centre: f.at.value, fromWall: f.fromWall }] : [])),
    });
  }
  const spaces = storageBoxes(walls).map(({ wall, box, what }): Stored => {
    return {
      wall,
      box,
      kind: what,
      get name() {
        if (what === 'rod') return `where clothes hang below a rod on ${wallName(wall)}`;
        const [low, high] = box.z;
        const deep = `${length(box.y[1])} deep`;
        return `the storage space along ${wallName(wall)}, ${deep} ${what === 'above' ? `above ${length(low)}` : `up to ${length(high)}`}`;
      },
    };
  });
  const things = fittings
    .filter(({ kind }) => kind !== 'panel')
    .map((fitting): Stored => ({ wall: fitting.wall, box: fitting.box, name: nameOf(fitting), kind: 'fitting' }));
  return { stored: [...spaces, ...things], unknown };
}

/** The nearest, exact but for a rounding down to a tick; undefined where no frame is common to any. */
export function nearestStored(
  { wall, box }: Pick<FixtureLayout, 'wall' | 'box'>,
  stored: readonly Stored[],
  layout: Layout,
): { readonly stored: Stored; readonly distance: Ticks } | undefined {
  const room = roomOf(layout);
  let nearest: { readonly stored: Stored; readonly distance: Ticks } | undefined;
  for (const one of stored) {
    const boxes = inOneFrame(one, { wall, box }, room);
    if (!boxes) continue;
    const apart = distance(...boxes);
    if (!nearest || apart < nearest.distance) nearest = { stored: one, distance: apart };
  }
  return nearest;
}

/** Whether nothing stored is nearer than that. What is far off on one axis needs no exact distance. */
export function allClear(
  { wall, box }: Pick<FixtureLayout, 'wall' | 'box'>,
  needed: Ticks,
  stored: readonly Stored[],
  layout: Layout,
): boolean {
  const room = roomOf(layout);
  return stored.every((one) => {
    const boxes = inOneFrame(one, { wall, box }, room);
    if (!boxes) return true;
    const { x, y, z } = gaps(...boxes);
    return greatest(x, y, z) >= needed || distance(...boxes) >= needed;
  });
}
