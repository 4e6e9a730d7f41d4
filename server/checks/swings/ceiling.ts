/** How high a sloped ceiling is over something. */
import type { Layout, SlopeLayout } from '../../model/layout.ts';
import { type Ticks, ticks } from '../../model/ticks.ts';
import type { Room, Standing } from '../room.ts';
import { clipped, extent, type Polygon, touch, wholeDown, wholeUp, yAxis } from './plane.ts';
import { coverSeenFrom } from './things.ts';

export interface Ceiling {
  readonly slope: SlopeLayout;
  /** Over the point that is nearest to its wall, rounded down, and over the one that is farthest. */
  readonly height: Ticks;
  readonly farHeight: Ticks;
  /** From the wall to that point, rounded down. */
  readonly distance: Ticks;
  /** Over every corner, in the order of the outline. */
  readonly corners: readonly Ticks[];
}

/** The height of a slope as far out from its wall as said. */
export function heightOf({ low, high, run }: SlopeLayout, distance: number): Ticks {
  const out = Math.min(Math.max(distance, 0), run);
  return run === 0 ? high : wholeDown(low + ((high - low) * out) / run);
}

/** How far out from its wall a slope is as high as said, rounded up; undefined where it never is. */
export function distanceFor({ low, high, run }: SlopeLayout, height: Ticks): Ticks | undefined {
  if (height > high) return undefined;
  return height <= low ? ticks(0) : wholeUp(((height - low) * run) / (high - low));
}

/**
 * The lowest that sloped ceilings come over something; undefined where it stands under none. A slope is taken to
 * run on past the ends of its wall, over whatever stands before the line of it.
 */
export function ceilingOver(standing: Standing, { slopes }: Layout, room: Room): Ceiling | undefined {
  let lowest: Ceiling | undefined;
  for (const slope of slopes) {
    const seen = coverSeenFrom({ wall: slope.wall, box: standing.box }, standing, room);
    // Behind the wall is another part of the room.
    const under: Polygon = seen ? clipped(seen, yAxis, 0) : [];
    if (under.length === 0) continue;
    const out = extent(under, yAxis);
    if (out[1] <= touch || out[0] >= slope.run) continue;
    const height = heightOf(slope, out[0]);
    if (lowest && height >= lowest.height) continue;
    lowest = {
      slope,
      height,
      farHeight: heightOf(slope, out[1]),
      distance: wholeDown(Math.max(0, out[0])),
      corners: under.map(([, y]) => heightOf(slope, y)),
    };
  }
  return lowest;
}
