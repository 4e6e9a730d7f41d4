/** Level lines: marked on the wall once, for all shelves that stand on them. */
import type { LevelLine, PanelLayout, ShelfLayout, ZoneLayout } from './layout.ts';
import type { Show } from './show.ts';
import { greatest, inches, millimetres, NONE, roundUp, type Ticks, ticks } from './ticks.ts';

/** The width of a zone at a shelf: where the wall is measured at several heights, another one at each. */
function stretchOf({ fittings }: ZoneLayout, { box: { x, z } }: ShelfLayout): { from: Ticks; to: Ticks } {
  const thicknessAt = (side: PanelLayout['side']): Ticks =>
    fittings.find(
      (f): f is PanelLayout => f.kind === 'panel' && f.side === side && f.box.z[0] < z[1] && z[0] < f.box.z[1],
    )?.thickness ?? NONE;
  return { from: ticks(x[0] - thicknessAt('left')), to: ticks(x[1] + thicknessAt('right')) };
}

/** One line for the undersides of level shelves at one height in zones that touch. */
export function levelLines(zones: readonly ZoneLayout[], show: Show): LevelLine[] {
  const unit = show.system === 'inches' ? inches(1) : millimetres(10);
  const marks = zones.flatMap((zone) =>
    zone.fittings
      .filter((f): f is ShelfLayout => f.kind === 'shelf' && !f.tilted && f.inRow === undefined)
      .map((shelf) => ({ wall: zone.wall, height: shelf.at.value, ...stretchOf(zone, shelf), shelves: [shelf.path] })),
  );
  marks.sort((a, b) => (a.wall < b.wall ? -1 : a.wall > b.wall ? 1 : b.height - a.height || a.from - b.from));
  const lines: { wall: string; height: Ticks; from: Ticks; to: Ticks; shelves: string[] }[] = [];
  for (const mark of marks) {
    const line = lines.at(-1);
    if (line && line.wall === mark.wall && line.height === mark.height && line.to >= mark.from) {
      line.to = greatest(line.to, mark.to);
      line.shelves.push(...mark.shelves);
    } else lines.push(mark);
  }
  return lines.map(({ wall, height, from, to, shelves }) => {
    const length = ticks(to - from);
    return { wall, height, from, length, mark: roundUp(length, unit), shelves };
  });
}
