/** Room to work before an electrical panel or an appliance. All boxes in the frame of the panel's wall. */
import type { Box } from '../../model/layout.ts';
import { greatest, inches, least, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { published } from '../access/sources.ts';

/** Devices that protect against too much current are kept away from what burns easily, such as clothes in closets, large ones too. */
export const panelSource = published(
  'National Electrical Code, as quoted at ecmag.com',
  '240.24(D), not near easily ignited material',
  'edition not stated in the copy',
);

export const workingSpace = {
  wide: inches(30),
  deep: inches(36),
  source: published(
    'National Electrical Code, as quoted at ecmag.com',
    '110.26(A), working space',
    'edition not stated in the copy',
  ),
  /** From memory: it asks for nothing unless a policy does. */
  high: inches(78),
  highSource: published('National Electrical Code', '110.26(A)(3), height of the working space', '2017', false),
} as const;

export interface WorkingRoom {
  /** Undefined where nothing stands before the panel. */
  readonly deep: Ticks | undefined;
  /** The free stretch of wall before the panel, as far as the depth goes. */
  readonly wide: Ticks;
  /** Index of what is nearest before it, and of what bounds it left and right; undefined for a wall. */
  readonly before: number | undefined;
  readonly left: number | undefined;
  readonly right: number | undefined;
}

/**
 * How much room there is before something on a wall among things that stand between two heights. The width
 * need not be centred on the panel; it is that between the nearest things beside it that are less than
 * `reach` out from its face.
 */
export function workingRoom(
  panel: Box,
  things: readonly Box[],
  wall: Ticks,
  heights: readonly [Ticks, Ticks],
  reach: Ticks = workingSpace.deep,
): WorkingRoom {
  const [low, high] = heights;
  let deep: Ticks | undefined;
  let before: number | undefined;
  let from: { at: Ticks; by: number | undefined } = { at: least(NONE, panel.x[0]), by: undefined };
  let to: { at: Ticks; by: number | undefined } = { at: greatest(wall, panel.x[1]), by: undefined };
  for (const [i, { x, y, z }] of things.entries()) {
    if (z[1] <= low || high <= z[0] || y[1] <= panel.y[1]) continue;
    const out = greatest(NONE, subtract(y[0], panel.y[1]));
    if (x[1] <= panel.x[0]) {
      if (out < reach && x[1] > from.at) from = { at: x[1], by: i };
    } else if (panel.x[1] <= x[0]) {
      if (out < reach && x[0] < to.at) to = { at: x[0], by: i };
    } else if (deep === undefined || out < deep) {
      deep = out;
      before = i;
    }
  }
  return { deep, wide: subtract(to.at, from.at), before, left: from.by, right: to.by };
}

/** The width asked for, or that of the equipment. */
export function workingWidth(equipment: Box, asked: Ticks = workingSpace.wide): Ticks {
  return greatest(asked, subtract(equipment.x[1], equipment.x[0]));
}
