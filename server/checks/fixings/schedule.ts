/**
 * The fixing schedule of a unit: what holds each part, where each piece of hardware stands, and whether it
 * meets a stud. A pure function of the layout; what hardware wants is in the hardware file, nothing is assumed.
 */
import type { FittingLayout, Layout } from '../../model/layout.ts';
import type { Hardware } from '../../model/materials.ts';
import { recentBy } from '../../model/memo.ts';
import { along } from './along.ts';
import type { Bracketed, Fixing, Needed, Site } from './fixing.ts';
import { panelFixings } from './panels.ts';
import { rodFixings } from './rods.ts';
import { shelfFixings } from './shelves.ts';

export interface Fixings {
  /** In the order of the fittings, and of hardware as it is named; hooks stand with their rods. */
  readonly all: readonly Fixing[];
  readonly of: ReadonlyMap<string, readonly Fixing[]>;
  /** Shelves, rods and panels that no hardware holds. */
  readonly without: readonly FittingLayout[];
  /** Hardware that is named for a part and does not say what it does. */
  readonly roleless: readonly { readonly fitting: FittingLayout; readonly hardware: Hardware }[];
}

const nothingNeeded: Needed = new Map();
const known = recentBy<Fixings>(6);

export function fixingsOf(layout: Layout, needed: Needed = nothingNeeded): Fixings {
  return known([layout, needed], () => schedule(layout, needed));
}

function schedule(layout: Layout, needed: Needed): Fixings {
  const fittings = layout.zones.flatMap((zone) => zone.fittings);
  const studs = new Map(layout.walls.flatMap((w) => (w.studsFrom === undefined ? [] : [[w.name, w.studs] as const])));
  const before: Site = { layout, needed, studs, bracketed: () => [] };
  const of = new Map<string, readonly Fixing[]>();
  const shelves: Bracketed[] = [];
  for (const shelf of fittings) {
    if (shelf.kind !== 'shelf') continue;
    const own = shelfFixings(shelf, before);
    of.set(shelf.path, own);
    const brackets = own.filter(({ role }) => role === 'bracket');
    if (brackets.length > 0) shelves.push({ shelf, brackets });
  }
  const site: Site = { ...before, bracketed: along(shelves, ({ shelf }) => shelf.box.x) };
  for (const fitting of fittings) {
    if (fitting.kind === 'rod') of.set(fitting.path, rodFixings(fitting, site));
    else if (fitting.kind === 'panel') of.set(fitting.path, panelFixings(fitting, site));
  }
  const all: Fixing[] = [];
  const without: FittingLayout[] = [];
  const roleless: { fitting: FittingLayout; hardware: Hardware }[] = [];
  for (const fitting of fittings) {
    if (fitting.kind === 'drawers') continue;
    const own = of.get(fitting.path) ?? [];
    all.push(...own);
    if (own.every(({ role }) => role === 'cover')) without.push(fitting);
    for (const hardware of fitting.carried) if (hardware.role === undefined) roleless.push({ fitting, hardware });
  }
  return { all, of, without, roleless };
}
