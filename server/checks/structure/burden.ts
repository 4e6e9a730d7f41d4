/** What each piece of hardware carries: a bracket its shelf and the rods that hang from it, a hook or cup its rod, a pin its shelf. */
import type { Layout, RodLayout, ShelfLayout } from '../../model/layout.ts';
import { lately } from '../../model/memo.ts';
import type { Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import type { Bracketed, Fixing } from '../fixings/fixing.ts';
import { bracketsOver } from '../fixings/rods.ts';
import type { Fixings } from '../fixings/schedule.ts';
import { fittingsOf } from '../say.ts';
import { perSchedule } from './once.ts';
import { type Pressed, pressOf } from './press.ts';
import { ONE_PLACE, type Rest } from './rests.ts';
import { metres } from './units.ts';

export interface Load {
  /** Downwards, N. */
  readonly force: number;
  /** From the wall, m. */
  readonly reach: number;
  readonly from: Pressed;
}

/** `shelf "shirts.high" under 15 lbf/ft2`. */
export function loadText({ from: { fitting, words } }: Load): string {
  return `${fitting.kind} "${fitting.path}" under ${words}`;
}

export interface Burden {
  readonly fixing: Fixing;
  /** What it holds up itself; of a bracket, its shelf. */
  readonly fitting: ShelfLayout | RodLayout;
  readonly loads: readonly Load[];
}

export interface Unknown {
  readonly fitting: ShelfLayout | RodLayout;
  readonly needs: string;
}

export interface Burdens {
  readonly known: readonly Burden[];
  readonly unknown: readonly Unknown[];
}

const burdens = perSchedule<Burdens>();

export function burdensOf(input: CheckInput, fixings: Fixings): Burdens {
  return burdens(fixings, input, '', () => allBurdens(input, fixings));
}

function bears({ role }: Fixing): boolean {
  return role !== 'cover' && role !== 'support';
}

function allBurdens(input: CheckInput, fixings: Fixings): Burdens {
  const { layout } = input;
  const carrying = fittingsOf(layout).filter((f) => f.kind === 'shelf' || f.kind === 'rod');
  // All of them before any load: a rod hangs from the brackets of a shelf that may be written after it.
  const known = new Map<Fixing, Burden & { readonly loads: Load[] }>();
  for (const fitting of carrying) {
    for (const fixing of fixings.of.get(fitting.path) ?? [])
      if (bears(fixing)) known.set(fixing, { fixing, fitting, loads: [] });
  }
  const unknown: Unknown[] = [];
  const shelves = bracketed(layout, fixings);
  for (const fitting of carrying) {
    const own = fixings.of.get(fitting.path);
    if (!own?.some(bears)) continue;
    const pressed = pressOf(fitting, input, fixings);
    if (pressed.kind === 'missing') {
      unknown.push({ fitting, needs: pressed.needs });
      continue;
    }
    const reach = reachOf(fitting);
    for (const { fixing, force, what } of shares(pressed, [own], () => shared(own.filter(bears), pressed))) {
      const load: Load = { force, reach, from: pressed };
      known.get(fixing)?.loads.push(load);
      const hung = what === 'hook' && fitting.kind === 'rod' ? bracketOver(fixing, fitting, shelves) : undefined;
      if (hung) known.get(hung)?.loads.push(load);
    }
  }
  return { known: [...known.values()].filter(({ loads }) => loads.length > 0), unknown };
}

/** From the wall to where the load acts: the middle of a shelf, the centre of a rod. */
function reachOf(fitting: ShelfLayout | RodLayout): number {
  const [from, to] = fitting.box.y;
  return fitting.kind === 'rod' ? metres(fitting.fromWall) : (metres(from) + metres(to)) / 2;
}

/** What no survey moves presses alike on the same hardware in all units. */
const shares = lately<Pressed, readonly Share[]>(2);

interface Share {
  readonly fixing: Fixing;
  readonly what: Rest['what'];
  /** N, downwards. */
  readonly force: number;
}

/** The force on each rest, shared evenly by the fixings that stand there. */
function shared(own: readonly Fixing[], { rests, fitting }: Pressed): Share[] {
  const left = fitting.box.x[0];
  const near = ({ at }: Fixing, rest: Ticks) => Math.abs(at - left - rest) <= ONE_PLACE;
  // A cup in the next wall is measured along that wall: those stand in the order of the ends.
  const away = own.filter(({ role, wall }) => role === 'cup' && wall !== fitting.wall);
  return rests.flatMap(({ what, at, force }) => {
    if (what === 'end') return [];
    const here = own.filter((fixing) => fixing.role === what && !away.includes(fixing) && near(fixing, at));
    const holding = here.length === 0 && what === 'cup' ? away.splice(0, 1) : here;
    return holding.map((fixing) => ({ fixing, what, force: force / holding.length }));
  });
}

/** The bracket that a hook hangs from. */
function bracketOver(hook: Fixing, rod: RodLayout, shelves: readonly Bracketed[]): Fixing | undefined {
  return bracketsOver(rod, shelves).find(({ at }) => Math.abs(at - hook.at) <= ONE_PLACE);
}

function bracketed(layout: Layout, { of }: Fixings): Bracketed[] {
  return fittingsOf(layout).flatMap((shelf) => {
    if (shelf.kind !== 'shelf') return [];
    const brackets = (of.get(shelf.path) ?? []).filter(({ role }) => role === 'bracket');
    return brackets.length > 0 ? [{ shelf, brackets }] : [];
  });
}
