/** What the checks of fixings share: the unit with its schedule, and how they count and name things. */
import type { Comparison } from '../../model/finding.ts';
import type { FittingLayout, ShelfLayout, WallLayout } from '../../model/layout.ts';
import type { Hardware } from '../../model/materials.ts';
import { memo, recent } from '../../model/memo.ts';
import type { CheckInput } from '../check.ts';
import { fittingsOf } from '../say.ts';
import { fixingsFor } from '../structure/needed.ts';
import type { Fixing } from './fixing.ts';
import type { Fixings } from './schedule.ts';

/** Schedule of the unit that is checked. */
export function scheduleOf(input: CheckInput): Fixings {
  return fixingsFor(input);
}

/** Whether anything in the unit says what carries it: until then nothing is asked of the rest. */
export function statesHardware({ layout }: CheckInput): boolean {
  for (const fitting of fittingsOf(layout)) if (fitting.kind !== 'drawers' && fitting.carried.length > 0) return true;
  return false;
}

interface Group {
  readonly fitting: Exclude<FittingLayout, { kind: 'drawers' }>;
  readonly hardware: Hardware;
  readonly fixings: readonly Fixing[];
}

const grouped = recent<Fixings, readonly Group[]>(2);

/** The fixings of one part that are the same hardware, in order along it. */
export function groups(input: CheckInput): readonly Group[] {
  const schedule = scheduleOf(input);
  return grouped(schedule, () =>
    fittingsOf(input.layout).flatMap((fitting): Group[] => {
      if (fitting.kind === 'drawers') return [];
      const own = schedule.of.get(fitting.path);
      return own ? memo(byHardware, own, () => groupsOf(fitting, own)) : [];
    }),
  );
}

/** A part that no survey moves is held by the same fixings in all units that draw it alike. */
const byHardware = new WeakMap<readonly Fixing[], Group[]>();

function groupsOf(fitting: Group['fitting'], own: readonly Fixing[]): Group[] {
  return [...Map.groupBy(own, ({ hardware }) => hardware)].map(([hardware, fixings]) => ({
    fitting,
    hardware,
    fixings,
  }));
}

/** Shelves of a row are held alike, and the first speaks for all of them. */
export function speaks(fitting: FittingLayout): boolean {
  return fitting.kind !== 'shelf' || fitting.inRow === undefined || fitting.inRow === 1;
}

export function counted(what: string, measured: number, relation: Comparison['relation'], limit: number): Comparison {
  return { what, measured: { count: measured }, relation, limit: { count: limit } };
}

export function wallOf({ layout }: CheckInput, name: string): WallLayout | undefined {
  return layout.walls.find((wall) => wall.name === name);
}

/** Of a finding that rests on where studs are. */
export function studCauses(wall: WallLayout | undefined): {
  readonly parameters: readonly string[];
  readonly survey: boolean;
} {
  return { parameters: [], survey: wall?.studsFrom === 'survey' };
}

export function isShelf(fitting: FittingLayout): fitting is ShelfLayout {
  return fitting.kind === 'shelf';
}
