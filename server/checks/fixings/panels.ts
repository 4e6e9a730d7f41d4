/** What holds a panel: ties to the wall; and covers of its cut ends. */

import { alikeOnce } from '../../model/alike.ts';
import type { PanelLayout } from '../../model/layout.ts';
import type { Hardware } from '../../model/materials.ts';
import { add, NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { type Fixing, holdOf, intoWall, middle, type Site } from './fixing.ts';
import { type Moving, NEAR_STUD, standsOf, studsWithin } from './positions.ts';

/** A panel that no survey moves is held alike in all units whose studs stand alike behind it. */
const alike = alikeOnce<PanelLayout, readonly Fixing[]>(4);

export function panelFixings(panel: PanelLayout, { layout, studs }: Site): readonly Fixing[] {
  const at = middle(panel.box.x);
  const beyond = Math.max(0, ...panel.carried.map(({ shift }) => shift.most)) + NEAR_STUD;
  const all = studs.get(panel.wall);
  const near = all && studsWithin(all, at - beyond, at + beyond);
  const length = layout.walls.find(({ name }) => name === panel.wall)?.length ?? panel.box.x[1];
  // How long the wall is matters only where a tie could be moved past its end.
  const end = Math.min(length, at + beyond);
  return alike(panel, [end, near?.join()], () =>
    panel.carried.flatMap((hardware) => {
      if (hardware.role === 'tie') return intoWall(hardware) ? ties(panel, hardware, ticks(end), near) : [];
      return hardware.role === 'cover' ? panelCovers(panel, hardware) : [];
    }),
  );
}

/** Heights of the ties of a panel: `inset` from its upper and lower end, and half-way. */
function tieHeights({ box: { z } }: PanelLayout, { at, inset }: Hardware): Ticks[] {
  const stands = at.length > 0 ? at : (['top'] as const);
  const heights = { top: subtract(z[1], inset), middle: middle(z), bottom: add(z[0], inset) };
  return (['top', 'middle', 'bottom'] as const).filter((s) => stands.includes(s)).map((s) => heights[s]);
}

function ties(panel: PanelLayout, hardware: Hardware, end: Ticks, known: readonly Ticks[] | undefined): Fixing[] {
  const moving: Moving = { from: NONE, to: end, spacing: undefined, shift: hardware.shift, studs: known ?? [] };
  const stand = standsOf([middle(panel.box.x)], moving)[0];
  return tieHeights(panel, hardware).map((height) => ({
    part: panel.path,
    hardware,
    role: 'tie',
    wall: panel.wall,
    at: stand?.at ?? middle(panel.box.x),
    out: panel.box.y[0],
    height,
    hold: holdOf(hardware, stand?.stud, known),
    shift: stand?.shift ?? NONE,
    reason: 'panel',
  }));
}

/** A panel on the floor shows its upper end; one that hangs shows both. */
function panelCovers(panel: PanelLayout, hardware: Hardware): Fixing[] {
  const [foot, top] = panel.box.z;
  return (foot > 0 ? [foot, top] : [top]).map((height) => ({
    part: panel.path,
    hardware,
    role: 'cover',
    wall: panel.wall,
    at: middle(panel.box.x),
    out: middle(panel.box.y),
    height,
    hold: { kind: 'part' },
    shift: NONE,
    reason: 'end',
  }));
}
