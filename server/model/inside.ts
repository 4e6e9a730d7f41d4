/** What a zone's own panels leave of its width for the zones inside it. */
import type { Label } from './run-labels.ts';
import { type Show, showLength } from './show.ts';
import type { Defaults, PanelsSpec, SideName, ZoneSpec } from './spec.ts';
import { add, NONE, type Ticks } from './ticks.ts';

export interface Edges {
  readonly left: Ticks;
  readonly right: Ticks;
  /** That they take so much; undefined where there are none. */
  readonly label: Label | undefined;
}

/** As they are drawn: panels that have no height to stand on are reported, and taken off here all the same. */
export function edgesOf(zone: ZoneSpec, outer: Defaults, show: Show): Edges {
  const defaults = { ...outer, ...zone.defaults };
  const panels = zone.fittings.filter((f): f is PanelsSpec => f.kind === 'panels');
  const thickness = (side: SideName): Ticks => {
    const first = panels.find(({ sides }) => sides.includes(side));
    return first ? ((first.board ?? defaults.board)?.thickness ?? NONE) : NONE;
  };
  const [left, right] = [thickness('left'), thickness('right')];
  const [first] = panels;
  const taken = add(left, right);
  const label: Label | undefined =
    first && taken > 0
      ? {
          place: first.place,
          text: `the panels of ${zone.kind} ${zone.path} take ${showLength(taken, show)}`,
          parameters: [],
          role: 'inside',
        }
      : undefined;
  return { left, right, label };
}
