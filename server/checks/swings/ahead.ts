/** How far something goes straight out from where it stands before it meets a polygon. In the frame of its wall. */
import type { Ticks } from '../../model/ticks.ts';
import { band, clipped, extent, type Polygon, touch, wholeDown, xAxis, yAxis } from './plane.ts';

/** What moves: along the wall from `x[0]` to `x[1]`, outwards from the line `front`. */
export interface Path {
  readonly x: readonly [number, number];
  readonly front: number;
}

/** The free way before it, rounded down; undefined where the polygon is not ahead of it. */
export function freeWay(path: Path, polygon: Polygon): Ticks | undefined {
  const met = partAhead(path, polygon);
  return met && wayUpTo(path, met);
}

/** The free way before what of a polygon is ahead, rounded down. */
export function wayUpTo({ front }: Path, ahead: Polygon): Ticks {
  return wholeDown(Math.max(0, extent(ahead, yAxis)[0] - front));
}

/** What of a polygon is in the way, however far off. Less than `touch` of its width is not. */
export function partAhead({ x, front }: Path, polygon: Polygon): Polygon | undefined {
  const across = band(polygon, xAxis, x);
  if (across.length === 0) return undefined;
  const [from, to] = extent(across, xAxis);
  if (to - from <= touch) return undefined;
  const ahead = clipped(across, yAxis, front);
  if (ahead.length === 0 || extent(ahead, yAxis)[1] < front) return undefined;
  // A box that only reaches up to the front is behind it; a wall that lies along the front is in the way.
  const isBehind = extent(across, yAxis)[0] < front && extent(ahead, yAxis)[1] - front <= touch;
  return isBehind ? undefined : ahead;
}
