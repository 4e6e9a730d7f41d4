/** What the ends of shelves and rods meet, and the wall that a rod runs into, as they stand on site. */
import type { FittingLayout, Layout, PanelLayout } from '../../model/layout.ts';
import type { EndKind } from '../../model/materials.ts';
import { recent } from '../../model/memo.ts';
import { inches, type Ticks, ticks } from '../../model/ticks.ts';
import { type Along, along } from './along.ts';

/** On walls that are not straight, ends at one height stand so much aside of those at another. */
const aside = inches(1);

export type Side = 'left' | 'right';

/** `panels` are those of the layout, or those of them that are near. */
export function endOf(
  fitting: FittingLayout,
  side: Side,
  layout: Layout,
  panels: readonly PanelLayout[] = panelsNear(fitting, layout),
): EndKind {
  const [left, right] = fitting.box.x;
  const wall = layout.walls.find(({ name }) => name === fitting.wall);
  if (side === 'left' ? left <= 0 : wall !== undefined && right >= wall.length) return 'wall';
  return panels.some((panel) => touches(fitting, panel, side)) ? 'panel' : 'open';
}

const indexes = recent<Layout, Along<PanelLayout>>(2);

function panelsNear({ box: { x } }: FittingLayout, layout: Layout): PanelLayout[] {
  const index = indexes(layout, () =>
    along(
      layout.zones.flatMap(({ fittings }) => fittings.filter((f): f is PanelLayout => f.kind === 'panel')),
      (panel) => panel.box.x,
    ),
  );
  return index([ticks(x[0] - aside), ticks(x[1] + aside)]);
}

function touches(fitting: FittingLayout, panel: PanelLayout, side: Side): boolean {
  if (panel.wall !== fitting.wall) return false;
  const face = side === 'left' ? panel.box.x[1] : panel.box.x[0];
  const end = side === 'left' ? fitting.box.x[0] : fitting.box.x[1];
  return Math.abs(face - end) <= aside && overlaps(fitting.box.y, panel.box.y) && overlaps(fitting.box.z, panel.box.z);
}

export function overlaps(a: readonly [Ticks, Ticks], b: readonly [Ticks, Ticks]): boolean {
  return a[0] < b[1] && b[0] < a[1];
}

/** A place on another wall. */
export interface OnWall {
  readonly wall: string;
  readonly at: Ticks;
}

/**
 * Where something that stands `out` from its wall meets the next wall at this side. Undefined where the walls
 * do not meet at a right angle, or nothing says that they meet.
 */
export function onNextWall(wall: string, side: Side, out: Ticks, layout: Layout): OnWall | undefined {
  const corner = layout.corners.find(({ walls }) => walls[side === 'left' ? 1 : 0] === wall);
  if (corner?.angle !== 90) return undefined;
  const next = layout.walls.find(({ name }) => name === corner.walls[side === 'left' ? 0 : 1]);
  // Its left neighbour ends in the corner at its right end, its right one begins there.
  return next && { wall: next.name, at: side === 'left' ? ticks(next.length - out) : out };
}
