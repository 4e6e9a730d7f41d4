/** What of a wall and of the leaves of its openings is in the way of something that comes out through it. Along the wall. */
import type { OpeningLayout, WallLayout } from '../../model/layout.ts';
import { add, NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { half } from '../say.ts';
import { type Polygon, rectangle } from './plane.ts';
import { leafThickness } from './rules.ts';
import type { Swing } from './sector.ts';

export type Stretch = readonly [from: Ticks, to: Ticks];

/** The wall without its openings, from end to end. */
export function solid(wall: WallLayout, openings: readonly OpeningLayout[]): Stretch[] {
  const own = openings.filter((o) => o.wall === wall.name).sort((a, b) => a.from - b.from);
  const found: Stretch[] = [];
  let from: Ticks = NONE;
  for (const opening of own) {
    if (opening.from > from) found.push([from, opening.from]);
    from = ticks(Math.max(from, add(opening.from, opening.width)));
  }
  if (wall.length > from) found.push([from, wall.length]);
  return found;
}

/** The stretches of an opening that can be free at once, one or the other; undefined where that is not known. */
export function free({ from, width, leaf }: OpeningLayout): readonly Stretch[] | undefined {
  const to = add(from, width);
  switch (leaf.kind) {
    case 'none':
      return [[from, to]];
    case 'sliding': {
      const middle = add(from, half(width));
      return [
        [from, subtract(to, half(width))],
        [middle, to],
      ];
    }
    case 'bifold': {
      const stack = ticks(2 * leafThickness);
      return [[add(from, stack), subtract(to, stack)]];
    }
    case 'swing':
      if (leaf.way === 'out') return [[from, to]];
      if (!leaf.hinge) return undefined;
      return leaf.hinge === 'left' ? [[add(from, leafThickness), to]] : [[from, subtract(to, leafThickness)]];
  }
}

/** What a leaf that swings in sweeps; undefined for every other, and where its hinges are not known. */
export function swingOf({ from, width, leaf }: OpeningLayout): Swing | undefined {
  if (leaf.kind !== 'swing' || leaf.way !== 'in' || !leaf.hinge) return undefined;
  return { at: leaf.hinge === 'left' ? from : add(from, width), hinge: leaf.hinge, wide: width };
}

/** The leaf standing straight out from its hinges, in the frame of its wall. */
export function standingOpen({ at, hinge, wide }: Swing): Polygon {
  return rectangle(hinge === 'left' ? [at, at + leafThickness] : [at - leafThickness, at], [0, wide]);
}
