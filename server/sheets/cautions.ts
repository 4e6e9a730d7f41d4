/** What can hurt somebody who builds a unit: the usual cautions of the trade, as far as they concern it. */
import type { Fixings } from '../checks/fixings/schedule.ts';
import type { Layout } from '../model/layout.ts';
import { TICKS_PER_INCH } from '../model/ticks.ts';

/** What every list of hardware, cuts and marks is read with. */
export const cautions: readonly string[] = [
  "What pulls out of a wall falls on somebody: the hardware maker's instructions and the local code come first.",
  'A tower can tip until it is tied to the wall. One person holds it until it is.',
  'Find cables and pipes before drilling. Work on outlets, switches, lights and panels is for a licensed electrician.',
  'Wear eye and hearing protection at the saw, keep its guard on, and take dust away where it is made; old paint may hold lead.',
  'Stand a ladder on firm, level floor, and do not reach beyond its sides.',
];

/** Above this a ladder is wanted: common practice, no source. */
const overhead = 72 * TICKS_PER_INCH;

/** Those that concern one unit. */
export function cautionsOf(layout: Layout, fixings: Fixings): string[] {
  const fittings = layout.zones.flatMap((zone) => zone.fittings);
  const electric = layout.fixtures.some(({ kind }) => ['outlet', 'switch', 'panel', 'light'].includes(kind));
  const reached = layout.fixtures.some(({ kind }) => kind === 'panel' || kind === 'hatch' || kind === 'sprinkler');
  const told: (string | false)[] = [
    'What pulls out of a wall falls on somebody: fasten into studs, or into the anchors that this sheet names, set as their maker says. Where a wall is not as it is drawn here, stop and ask.',
    'Before drilling, find cables, pipes and ducts in the wall with a detector.',
    electric &&
      'Outlets, switches, lights and panels in or near a closet are for the local code and a licensed electrician; distances that this sheet shows do not replace them.',
    reached &&
      'Panels, hatches and sprinklers stay free and reachable: ask before anything is fixed before or below one.',
    fittings.some(({ kind }) => kind === 'panel') &&
      'A tower can tip until it is tied to the wall: one person holds it, and nothing is put on it before.',
    fittings.some(({ box }) => box.z[1] > overhead) &&
      'Work above the head from a ladder or platform that stands firm; never from a shelf. Nobody stands below a shelf that is not fixed yet.',
    fixings.without.length > 0 && 'Some parts have no hardware in this layout: nothing here says what holds them.',
    'At the saw and the drill: eyes, ears and lungs protected, guards on, offcuts clear. Old paint and plaster can hold lead or asbestos: look up the local rules before sanding, cutting or drilling.',
    "Storypole compares numbers with rules. Local codes, licensed practice and the instructions of the hardware's maker come first.",
  ];
  return told.filter((text) => text !== false);
}
