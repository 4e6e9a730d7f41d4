/** What holds a panel: ties to the wall; and covers of its cut ends. */
import type { PanelLayout } from '../../model/layout.ts';
import type { Hardware } from '../../model/materials.ts';
import { add, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { type Fixing, holdOf, intoWall, middle, type Site } from './fixing.ts';
import { type Moving, standsOf } from './positions.ts';

export function panelFixings(panel: PanelLayout, site: Site): Fixing[] {
  return panel.carried.flatMap((hardware) => {
    if (hardware.role === 'tie') return intoWall(hardware) ? ties(panel, hardware, site) : [];
    return hardware.role === 'cover' ? panelCovers(panel, hardware) : [];
  });
}

/** Heights of the ties of a panel: `inset` from its upper and lower end, and half-way. */
function tieHeights({ box: { z } }: PanelLayout, { at, inset }: Hardware): Ticks[] {
  const stands = at.length > 0 ? at : (['top'] as const);
  const heights = { top: subtract(z[1], inset), middle: middle(z), bottom: add(z[0], inset) };
  return (['top', 'middle', 'bottom'] as const).filter((s) => stands.includes(s)).map((s) => heights[s]);
}

function ties(panel: PanelLayout, hardware: Hardware, { layout, studs }: Site): Fixing[] {
  const known = studs.get(panel.wall);
  const length = layout.walls.find(({ name }) => name === panel.wall)?.length ?? panel.box.x[1];
  const moving: Moving = { from: NONE, to: length, spacing: undefined, shift: hardware.shift, studs: known ?? [] };
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
