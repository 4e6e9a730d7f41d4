/**
 * The part of a clothes closet in which clothes and boxes are taken to be, as the electrical code of
 * the United States draws it: along its sides and its back, wide below and narrow above.
 *
 *     ceiling  ---------------------
 *     12 in, or the depth of the shelf, where that is more
 *     6 ft, or the highest rod  -----------     (the higher of the two)
 *     24 in
 *     floor    ---------------------
 *
 * The boxes are in the frame of their wall (model/layout.ts).
 */
import type { Box } from '../../model/layout.ts';
import type { RuleSource } from '../../model/rule.ts';
import { add, greatest, inches, least, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { published } from '../access/sources.ts';

export const storageSpace = {
  below: inches(24),
  above: inches(12),
  /** 6 ft. */
  step: inches(72),
  besideRod: inches(12),
} as const;

export const storageSource: RuleSource = published(
  'National Electrical Code, as quoted at electrical-contractor.net',
  '410.2, closet storage space',
  '2014',
);

/** A wall in its own frame, and what is on it. */
export interface StorageWall {
  readonly name: string;
  /** It holds the way in: it is neither a side nor the back, and has no space of its own. */
  readonly isFront: boolean;
  readonly length: Ticks;
  /** Of the ceiling at it. */
  readonly height: Ticks;
  /** How far the closet reaches out from its face; undefined where nothing says so. */
  readonly room: Ticks | undefined;
  readonly shelves: readonly Box[];
  readonly rods: readonly { readonly box: Box; readonly centre: Ticks; readonly fromWall: Ticks }[];
}

export interface StorageBox {
  readonly wall: string;
  readonly box: Box;
  readonly what: 'below' | 'above' | 'rod';
}

/** The highest rod of the closet, wherever it is, or 6 ft. */
export function stepHeight(walls: readonly StorageWall[]): Ticks {
  return greatest(storageSpace.step, ...walls.flatMap(({ rods }) => rods.map(({ centre }) => centre)));
}

/** Of the sides and the back; and below every rod. */
export function storageBoxes(walls: readonly StorageWall[]): StorageBox[] {
  const step = stepHeight(walls);
  return walls.flatMap((wall) => [...besideRods(wall), ...(wall.isFront ? [] : along(wall, step))]);
}

function along(wall: StorageWall, step: Ticks): StorageBox[] {
  const within = (out: Ticks): Ticks => (wall.room === undefined ? out : least(out, wall.room));
  const low = least(step, wall.height);
  const found: StorageBox[] = [
    {
      wall: wall.name,
      what: 'below',
      box: { x: [NONE, wall.length], y: [NONE, within(storageSpace.below)], z: [NONE, low] },
    },
  ];
  if (wall.height <= step) return found;
  const out = within(greatest(storageSpace.above, upperShelf(wall, step)));
  found.push({
    wall: wall.name,
    what: 'above',
    box: { x: [NONE, wall.length], y: [NONE, out], z: [step, wall.height] },
  });
  return found;
}

/**
 * How deep the shelf is that things stand on up to the ceiling: the deepest of those above the step
 * and of those that have nothing over them. A deep shelf under another one does not count.
 */
function upperShelf({ shelves }: StorageWall, step: Ticks): Ticks {
  const counted = shelves.filter(
    (shelf) =>
      shelf.z[1] > step ||
      !shelves.some((other) => other !== shelf && meets(other.x, shelf.x) && other.z[0] >= shelf.z[1]),
  );
  return greatest(NONE, ...counted.map(({ y }) => y[1]));
}

/** Below a rod clothes hang 12 in to either side of it: beyond the wall's own space where the rod can be reached from both sides. */
function besideRods(wall: StorageWall): StorageBox[] {
  return wall.rods.map(({ box, centre, fromWall }) => {
    const far = add(fromWall, storageSpace.besideRod);
    const near = greatest(NONE, subtract(fromWall, storageSpace.besideRod));
    return { wall: wall.name, what: 'rod', box: { x: box.x, y: [near, far], z: [NONE, centre] } };
  });
}

function meets(a: Box['x'], b: Box['x']): boolean {
  return a[0] < b[1] && b[0] < a[1];
}
