/**
 * What a leaf sweeps as it swings in, seen from above: a quarter of a disc about its hinges, in the
 * frame of its wall.
 *
 *     hinged left       x from the hinges to the other jamb, y from the wall to as far as the leaf is wide
 *     closed            the leaf lies along the wall, 0 degrees
 *     standing open     the leaf stands straight out from the hinges, 90 degrees
 *
 * The disc is taken whole and the leaf as thin as a line; both are exact to `touch`. The leaf sweeps a little
 * less where it is thick at the hinges, so what is found stands in its way or within its thickness of it.
 */
import type { Ticks } from '../../model/ticks.ts';
import { clipped, distanceFrom, type Point, type Polygon, touch, wholeDown } from './plane.ts';

export interface Swing {
  /** Where the hinges are along the wall. */
  readonly at: number;
  readonly hinge: 'left' | 'right';
  /** Width of the leaf. */
  readonly wide: number;
}

export interface Met {
  /** From the hinges to the nearest point of it, rounded down. */
  readonly distance: Ticks;
  /** How far the leaf opens before it meets it, in degrees. */
  readonly opens: number;
}

/** Where a leaf meets a polygon of its wall's frame; undefined where it swings clear of it. */
export function meetsLeaf(swing: Swing, polygon: Polygon): Met | undefined {
  const across: Point = swing.hinge === 'left' ? [1, 0] : [-1, 0];
  const beside = clipped(polygon, across, across[0] * swing.at + touch);
  const part = clipped(beside, [0, 1], touch);
  if (part.length === 0) return undefined;
  const hinges: Point = [swing.at, 0];
  const distance = wholeDown(distanceFrom(hinges, part));
  if (distance >= swing.wide) return undefined;
  return { distance, opens: leastAngle(part, hinges, swing) };
}

/** A part within the disc is met first at a corner of it, or where its outline enters the disc. */
function leastAngle(part: Polygon, hinges: Point, { wide, hinge }: Swing): number {
  const angle = ([x, y]: Point): number =>
    (Math.atan2(y - hinges[1], hinge === 'left' ? x - hinges[0] : hinges[0] - x) * 180) / Math.PI;
  let least = 90;
  for (const [i, a] of part.entries()) {
    const b = part[(i + 1) % part.length] ?? a;
    if (Math.hypot(a[0] - hinges[0], a[1] - hinges[1]) < wide) least = Math.min(least, angle(a));
    for (const t of crossings(a, b, hinges, wide)) {
      least = Math.min(least, angle([a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]));
    }
  }
  return least;
}

/** Where a line from `a` (0) to `b` (1) crosses a circle. */
function crossings(a: Point, b: Point, centre: Point, radius: number): number[] {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const [fx, fy] = [a[0] - centre[0], a[1] - centre[1]];
  const [p, q, r] = [dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - radius * radius];
  const root = q * q - p * r;
  if (p === 0 || root < 0) return [];
  return [(-q - Math.sqrt(root)) / p, (-q + Math.sqrt(root)) / p].filter((t) => t >= 0 && t <= 1);
}
