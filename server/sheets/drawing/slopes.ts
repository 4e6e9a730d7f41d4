/** Sloped ceilings: where their surface is over a line in the room, and what that looks like. */
import { frameOf, type Room } from '../../checks/room.ts';
import { heightOf } from '../../checks/swings/ceiling.ts';
import { type Frame, inwards, toPlan } from '../../checks/swings/plane.ts';
import type { Layout, SlopeLayout } from '../../model/layout.ts';
import { showLength } from '../../model/show.ts';
import type { Ticks } from '../../model/ticks.ts';
import { type Drawable, drawnLength } from './drawable.ts';
import type { Figure, Label, Point } from './scene.ts';

/** From somewhere in the room straight to somewhere else: points of the plan. */
type Walk = readonly [from: Point, to: Point];

/**
 * The outline of a slope over a walk: so far along it, so high. Undefined where the walk never comes under it. Outside
 * of its run a ceiling is as high as it is.
 */
function profile(slope: SlopeLayout, [from, to]: Walk, room: Room): Point[] | undefined {
  const frame = frameOf(slope.wall, room);
  if (!frame) return undefined;
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [start, end] = [distance(frame, from), distance(frame, to)];
  const at = (d: number): number => ((d - start) / (end - start)) * long;
  // Lines along the wall keep their distance, to the tick.
  const isAlong = Math.abs(end - start) < 2;
  const bends = isAlong ? [] : [0, slope.run].map(at).filter((x) => x > 0 && x < long);
  const stations = [0, ...bends.sort((a, b) => a - b), long];
  const points = stations.map((x): Point => [x, heightOf(slope, start + ((end - start) * x) / (long || 1))]);
  return points.some(([, z]) => z < slope.high) ? points : undefined;
}

/** From the line of a wall into the room. */
function distance({ from, along }: Frame, [x, y]: Point): number {
  const [ix, iy] = inwards(along);
  return (x - from[0]) * ix + (y - from[1]) * iy;
}

/** On an elevation of a wall: the ceiling where it meets the wall, and what is above it. */
export function slopesOnWall({ layout }: Drawable, wall: string, length: Ticks, room: Room): Figure[] {
  const frame = frameOf(wall, room);
  if (!frame) return [];
  return layout.slopes.flatMap((slope) => {
    const points = profile(slope, [toPlan(frame, [0, 0]), toPlan(frame, [length, 0])], room);
    return points ? [figure(slope, points)] : [];
  });
}

/** In a section through a wall at `x` along it, as far as `deep` out. */
export function slopesInSection({ layout }: Drawable, wall: string, x: number, deep: number, room: Room): Figure[] {
  const frame = frameOf(wall, room);
  if (!frame) return [];
  return layout.slopes.flatMap((slope) => {
    const points = profile(slope, [toPlan(frame, [x, 0]), toPlan(frame, [x, deep])], room);
    return points ? [figure(slope, points)] : [];
  });
}

function figure(slope: SlopeLayout, points: readonly Point[]): Figure {
  const [first, last] = [points[0] as Point, points.at(-1) as Point];
  return {
    layer: 'ceiling',
    of: slope.name,
    label: `sloped ceiling ${slope.name}`,
    shapes: [
      {
        kind: 'area',
        points: [...points, [last[0], slope.high], [first[0], slope.high]],
        pen: 'none',
        fill: 'taken',
      },
      { kind: 'line', points, pen: 'cut' },
    ],
  };
}

/** At both ends of where it meets the wall: how high. */
export function slopeLabels(figures: readonly Figure[], slopes: Layout['slopes'], drawable: Drawable): Label[] {
  return figures.flatMap(({ of, shapes }): Label[] => {
    const line = shapes.find((shape) => shape.kind === 'line');
    const slope = slopes.find(({ name }) => name === of);
    if (line?.kind !== 'line' || !slope) return [];
    const [start, end] = [line.points[0] as Point, line.points.at(-1) as Point];
    const text = `ceiling ${slope.name}: ${drawnLength(slope.low, drawable)} to ${drawnLength(slope.high, drawable)} over ${drawnLength(slope.run, drawable)}`;
    const middle: Point = [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2];
    const up = slope.high;
    const within = Math.abs(end[0] - start[0]);
    return [
      {
        text,
        size: 'small',
        layer: 'texts',
        of: slope.name,
        needed: true,
        places: [
          { at: [middle[0], (start[1] + end[1]) / 4 + up / 2], anchor: 'middle', stands: 'on', within },
          { at: [middle[0], up], anchor: 'middle', stands: 'below', within },
          { at: middle, anchor: 'middle', stands: 'below', within },
        ],
      },
    ];
  });
}

/** In the plan: the line at which the ceiling begins to come down. */
export function slopesInPlan(
  { layout, show }: Drawable,
  room: Room,
  at: (frame: Frame, x: number, y: number) => Point,
): { readonly figures: Figure[]; readonly labels: Label[] } {
  const figures: Figure[] = [];
  const labels: Label[] = [];
  for (const slope of layout.slopes) {
    const frame = frameOf(slope.wall, room);
    const wall = room.walls.get(slope.wall);
    if (!frame || !wall) continue;
    const ends = [at(frame, 0, slope.run), at(frame, wall.length, slope.run)] as const;
    figures.push({
      layer: 'ceiling',
      of: slope.name,
      label: `sloped ceiling ${slope.name}, ${showLength(slope.low, show)} high at its wall`,
      shapes: [{ kind: 'line', points: ends, pen: 'hidden' }],
    });
    const upright = Math.abs(frame.along[1]) > Math.abs(frame.along[0]);
    labels.push({
      text: `ceiling slopes down from ${showLength(slope.high, show)} here to ${showLength(slope.low, show)} at the wall`.replaceAll(
        /(\d)in\b/g,
        '$1"',
      ),
      size: 'small',
      layer: 'texts',
      of: slope.name,
      needed: true,
      places: [0.97, 1.03, 0.85, 0.7].map((part) => ({
        at: at(frame, wall.length / 2, slope.run * part),
        anchor: 'middle' as const,
        stands: 'on' as const,
        turned: upright,
        within: wall.length,
      })),
    });
  }
  return { figures, labels };
}
