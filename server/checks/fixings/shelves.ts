/** What holds a shelf: supports along its back edge, brackets under it, pins, ties at its ends, covers. */

import { alikeOnce } from '../../model/alike.ts';
import type { ShelfLayout } from '../../model/layout.ts';
import type { EndKind, Hardware } from '../../model/materials.ts';
import { NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { endOf } from './ends.ts';
import { atEnds, type Fixing, holdOf, intoWall, middle, type Site, sides } from './fixing.ts';
import { countOf, evenPlaces, type Moving, NEAR_STUD, type Spread, standsOf, studsWithin } from './positions.ts';

/** Pins hold it where its hardware has pins: one that is not fixed and stands between two panels, or has nothing else. */
export function isLoose(shelf: ShelfLayout, ends: readonly string[]): boolean {
  const roles = shelf.carried.map(({ role }) => role);
  if (shelf.fixed || !roles.includes('pin')) return false;
  return ends.every((end) => end === 'panel') || !roles.some((role) => role === 'support' || role === 'bracket');
}

/** A shelf that no survey moves is held alike in all units whose studs stand alike along it. */
const alike = alikeOnce<ShelfLayout, readonly Fixing[]>(4);

export function shelfFixings(shelf: ShelfLayout, site: Site): readonly Fixing[] {
  const ends = sides.map((side) => endOf(shelf, side, site.layout));
  const needed = site.needed.get(shelf.path) ?? 0;
  const studs = studsAlong(shelf, site);
  return alike(shelf, [...ends, needed, studs?.join()], () => fixingsHeld(shelf, ends, needed, studs));
}

/** The studs that anything of the shelf could be moved to; undefined where nothing says where the wall has some. */
function studsAlong({ wall, box, carried }: ShelfLayout, { studs }: Site): readonly Ticks[] | undefined {
  const [from, to] = box.x;
  const beyond = Math.max(0, ...carried.map(({ shift }) => shift.most)) + NEAR_STUD;
  const all = studs.get(wall);
  return all && studsWithin(all, from - beyond, to + beyond);
}

function fixingsHeld(
  shelf: ShelfLayout,
  ends: readonly EndKind[],
  needed: number,
  studs: readonly Ticks[] | undefined,
): readonly Fixing[] {
  const loose = isLoose(shelf, ends);
  const hasBracket = shelf.carried.some(({ role }) => role === 'bracket');
  return shelf.carried.flatMap((hardware): Fixing[] => {
    switch (hardware.role) {
      case 'support':
        return loose ? [] : alongBack(shelf, hardware, 'support', studs, hasBracket ? 0 : needed);
      case 'bracket':
        return loose ? [] : alongBack(shelf, hardware, 'bracket', studs, needed);
      case 'pin':
        return loose ? pins(shelf, hardware) : [];
      case 'tie':
        // One that is screwed to the wall ties panels.
        return loose || intoWall(hardware) ? [] : atEnds(shelf, hardware, 'tie', ends, 'panel', middle(shelf.box.y));
      case 'cover':
        return atEnds(shelf, hardware, 'cover', ends, 'open', middle(shelf.box.y));
      default:
        return [];
    }
  });
}

/** The underside of the back edge, which on a tilted shelf is higher than the front. */
function backHeight(shelf: ShelfLayout): Ticks {
  return subtract(shelf.box.z[1], shelf.thickness);
}

export function spreadOf(shelf: ShelfLayout, hardware: Hardware, needed = 0): Spread {
  const [from, to] = shelf.box.x;
  const { inset, spacing } = hardware;
  return { from, to, inset, spacing, least: Math.max(hardware.least, needed) };
}

function alongBack(
  shelf: ShelfLayout,
  hardware: Hardware,
  role: 'support' | 'bracket',
  known: readonly Ticks[] | undefined,
  needed: number,
): Fixing[] {
  const spread = spreadOf(shelf, hardware, needed);
  const { from, to, spacing } = spread;
  const moving: Moving = { from, to, spacing, shift: hardware.shift, studs: intoWall(hardware) ? (known ?? []) : [] };
  return standsOf(evenPlaces(spread, countOf(spread)), moving).map(({ at, shift, stud }) => ({
    part: shelf.path,
    hardware,
    role,
    wall: shelf.wall,
    at,
    out: shelf.box.y[0],
    height: backHeight(shelf),
    hold: holdOf(hardware, stud, known),
    shift,
    reason: shift === 0 ? 'spread' : 'moved',
  }));
}

/** Four: at the front and at the back of each end, or more where the hardware asks for more. */
function pins(shelf: ShelfLayout, hardware: Hardware): Fixing[] {
  const rows = Math.ceil(Math.max(4, hardware.least) / 2);
  const [from, to] = shelf.box.y;
  const outs = evenPlaces({ from, to, inset: hardware.inset, spacing: undefined, least: rows }, rows);
  return sides.flatMap((side) =>
    outs.map((out) => ({
      part: shelf.path,
      hardware,
      role: 'pin' as const,
      wall: shelf.wall,
      at: side === 'left' ? shelf.box.x[0] : shelf.box.x[1],
      out,
      height: shelf.at.value,
      hold: { kind: 'part' as const },
      shift: NONE,
      reason: 'end' as const,
    })),
  );
}
