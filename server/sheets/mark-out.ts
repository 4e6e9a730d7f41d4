/**
 * What is marked on the walls before anything is fixed: level lines, studs, and every piece of hardware with its height
 * and its distance from the left corner of its wall, as somebody sees it who stands inside and faces the wall.
 */
import type { Fixing, Hold } from '../checks/fixings/fixing.ts';
import type { Fixings } from '../checks/fixings/schedule.ts';
import { lengthOf } from '../checks/room.ts';
import type { FittingLayout, FixtureKind, Layout, WallLayout } from '../model/layout.ts';
import type { Hardware, HardwareRole } from '../model/materials.ts';
import { greatest, type Ticks, ticks } from '../model/ticks.ts';

export interface MarkOut {
  /** Walls on which something is marked, in the order in which they are written. */
  readonly walls: readonly WallMarks[];
  /** Screws by size and by what they go through and into. */
  readonly screws: readonly ScrewRow[];
  /** Hardware in parts: pins, clips, covers, hooks under brackets. */
  readonly inParts: readonly PartFixing[];
}

export interface WallMarks {
  readonly name: string;
  /** The least and the greatest that was measured of it, or twice as drawn. */
  readonly length: Ticks;
  readonly longest: Ticks;
  readonly isMeasured: boolean;
  readonly height: Ticks | undefined;
  /** Middles, from the left corner. */
  readonly studs: readonly Ticks[];
  readonly studsFrom: WallLayout['studsFrom'];
  readonly lines: readonly LevelRow[];
  readonly rods: readonly RodRow[];
  readonly fixings: readonly FixingRow[];
}

/** A line to draw on the wall: the underside of shelves. */
export interface LevelRow {
  readonly height: Ticks;
  /** Its left end, from the left corner. */
  readonly from: Ticks;
  readonly length: Ticks;
  /** A length that is easy to find on a tape, no shorter. */
  readonly mark: Ticks;
  readonly shelves: readonly string[];
}

export interface RodRow {
  readonly path: string;
  /** Of its centre. */
  readonly height: Ticks;
  readonly fromWall: Ticks;
  /** Where what it hangs between begins and ends, from the left corner: its finished length is in the cut list. */
  readonly from: Ticks;
  readonly to: Ticks;
  /** Its right end, from the right corner as that was measured at its height. */
  readonly fromRight: Ticks;
}

export interface FixingRow {
  readonly part: string;
  readonly hardware: string;
  readonly role: HardwareRole;
  /** From the left corner, and from the right one as that was measured at this height. */
  readonly fromLeft: Ticks;
  readonly fromRight: Ticks;
  readonly height: Ticks;
  /** Out from the face of the wall; 0 for what is screwed to it. */
  readonly out: Ticks;
  readonly holds: HoldsIn;
  /** How far it was moved to meet a stud: to the right, or negative to the left. */
  readonly moved: Ticks;
}

export type HoldsIn =
  | { readonly in: 'stud'; readonly stud: Ticks }
  | { readonly in: 'anchor'; readonly anchor: string | undefined }
  | { readonly in: 'not-known' }
  /** A hook, which hangs from a bracket and is not in the wall itself. */
  | { readonly in: 'bracket' };

export interface PartFixing {
  readonly part: string;
  readonly hardware: string;
  readonly role: HardwareRole;
  readonly count: number;
}

export interface ScrewRow {
  /** As written: `#8 x 1-1/2 in`. */
  readonly size: string;
  readonly into: 'wall' | 'part';
  readonly hardware: string;
  readonly count: number;
}

export function markOutOf(layout: Layout, fixings: Fixings): MarkOut {
  const inWalls = fixings.all.filter((fixing) => fixing.wall !== undefined && isPlaced(fixing));
  const fittings = layout.zones.flatMap((zone) => zone.fittings);
  const walls = layout.walls.flatMap((wall): WallMarks[] => {
    const lines = layout.lines.filter((line) => line.wall === wall.name);
    const rods = fittings.filter((f) => f.wall === wall.name).flatMap((f) => rodRow(f, wall));
    const own = inWalls.filter((fixing) => fixing.wall === wall.name).map((fixing) => fixingRow(fixing, wall));
    if (lines.length === 0 && rods.length === 0 && own.length === 0) return [];
    return [
      {
        name: wall.name,
        length: wall.length,
        longest: greatest(wall.length, ...wall.readings.map(({ length }) => length)),
        isMeasured: wall.readings.length > 0,
        height: wall.height,
        studs: wall.studs,
        studsFrom: wall.studsFrom,
        lines: lines
          .map(({ height, from, length, mark, shelves }) => ({ height, from, length, mark, shelves }))
          .sort((a, b) => b.height - a.height || a.from - b.from),
        rods: rods.sort((a, b) => b.height - a.height || a.from - b.from),
        fixings: own.sort((a, b) => b.height - a.height || a.fromLeft - b.fromLeft),
      },
    ];
  });
  return { walls, screws: screwRows(fixings.all), inParts: partRows(fixings.all) };
}

function rodRow(fitting: FittingLayout, wall: WallLayout): RodRow[] {
  if (fitting.kind !== 'rod') return [];
  const { path, at, fromWall, box } = fitting;
  const [from, to] = box.x;
  // It is cut for the wall as it is at its underside.
  const fromRight = ticks(lengthOf(wall, box.z[0]) - to);
  return [{ path, height: at.value, fromWall, from, to, fromRight }];
}

function fixingRow({ part, hardware, role, at, height, out, hold, shift }: Fixing, wall: WallLayout): FixingRow {
  return {
    part,
    hardware: hardware.name,
    role,
    fromLeft: at,
    fromRight: ticks(lengthOf(wall, height) - at),
    height,
    out,
    holds: holdsIn(hold),
    moved: shift,
  };
}

function holdsIn(hold: Hold): HoldsIn {
  switch (hold.kind) {
    case 'stud':
      return { in: 'stud', stud: hold.stud };
    case 'anchor':
      return { in: 'anchor', anchor: hold.anchor?.name };
    default:
      return { in: hold.kind === 'part' ? 'bracket' : 'not-known' };
  }
}

/** What has a place along a wall: all that is fixed to it, and hooks, by which the rod hangs. */
function isPlaced({ hold, role }: Fixing): boolean {
  return hold.kind !== 'part' || role === 'hook';
}

function partRows(all: readonly Fixing[]): PartFixing[] {
  const rows = new Map<string, PartFixing & { count: number }>();
  for (const fixing of all) {
    if (isPlaced(fixing)) continue;
    const { part, hardware, role } = fixing;
    const key = `${part} ${hardware.name}`;
    const known = rows.get(key);
    if (known) known.count++;
    else rows.set(key, { part, hardware: hardware.name, role, count: 1 });
  }
  return [...rows.values()];
}

function screwRows(all: readonly Fixing[]): ScrewRow[] {
  const rows = new Map<string, ScrewRow & { count: number }>();
  const take = (hardware: Hardware): void => {
    for (const { size, count, into } of hardware.screws) {
      if (count === 0) continue;
      const written = size.trim().replaceAll(/\s+/g, ' ');
      const key = `${written} ${into} ${hardware.name}`;
      const known = rows.get(key);
      if (known) known.count += count;
      else rows.set(key, { size: written, into, hardware: hardware.name, count });
    }
  };
  for (const { hardware } of all) take(hardware);
  return [...rows.values()].sort((a, b) => (a.size < b.size ? -1 : a.size > b.size ? 1 : 0));
}

const electricNames: Partial<Readonly<Record<FixtureKind, string>>> = {
  outlet: 'an outlet',
  switch: 'a switch',
  panel: 'an electrical panel',
  light: 'a light',
};

/** The order in which a crew works, by what there is to do. Common practice, no source. */
export interface WorkStep {
  readonly title: string;
  readonly lines: readonly string[];
}

export function orderOfWork(layout: Layout, fixings: Fixings): WorkStep[] {
  const fittings = layout.zones.flatMap((zone) => zone.fittings);
  const some = (kind: FittingLayout['kind']): FittingLayout[] => fittings.filter((f) => f.kind === kind);
  const shelves = fittings.filter((f) => f.kind === 'shelf');
  const loose = shelves.filter((shelf) => shelf.inRow !== undefined && !shelf.fixed);
  const fixed = shelves.filter((shelf) => !loose.includes(shelf));
  const [panels, rods, drawers] = [some('panel'), some('rod'), some('drawers')];
  const roles = new Set(fixings.all.map(({ role }) => role));
  const electric = layout.fixtures.filter(({ kind }) => ['outlet', 'switch', 'panel', 'light'].includes(kind));
  const measured = layout.walls.filter(({ readings }) => readings.length > 0);
  const steps: (WorkStep | false)[] = [
    {
      title: 'Check what was measured',
      lines: [
        measured.length > 0
          ? 'Measure each wall again at the heights of the shelves, and compare with the table of walls. Stop where a length differs by more than the saw step.'
          : 'Nothing of this unit was measured. Measure each wall at the heights of the shelves before anything is cut.',
      ],
    },
    electric.length > 0 && {
      title: 'Look after what is in the walls',
      lines: [
        `There ${electric.length === 1 ? 'is' : 'are'} ${electric.map(({ kind, wall }) => `${electricNames[kind] ?? kind}${wall === undefined ? ' on the ceiling' : ` on the ${wall} wall`}`).join(', ')}. Find cables and pipes with a detector before drilling; whether a fixture may stay in a closet, and work on it, is for the local code and a licensed electrician.`,
      ],
    },
    {
      title: 'Find and mark the studs',
      lines: [
        'Mark both edges of each stud that the table names. Where one stands elsewhere, stop and correct the survey.',
      ],
    },
    layout.lines.length > 0 && {
      title: 'Draw the level lines',
      lines: [
        'From the highest point of the floor along the wall, with a level or a laser. A line is the underside of its shelves.',
      ],
    },
    (roles.has('support') || roles.has('bracket')) && {
      title: 'Fix supports and brackets',
      lines: [
        'Into a stud wherever one is met; elsewhere set the anchors first, as their maker says. Tighten when all stand on the line.',
      ],
    },
    panels.length > 0 && {
      title: 'Stand the tower and tie it',
      lines: [
        `${panels.map(({ path }) => path).join(', ')}: plumb, then tied to the wall, before anything is put on it. Until it is tied it can tip: one person holds it.`,
      ],
    },
    fixed.length > 0 && {
      title: 'Set the fixed shelves',
      lines: [`${fixed.map(({ path }) => path).join(', ')}. Level from front to back as well as along.`],
    },
    rods.length > 0 && { title: 'Hang the rods', lines: [`${rods.map(({ path }) => path).join(', ')}.`] },
    loose.length > 0 && { title: 'Put in the loose shelves', lines: [`${loose.map(({ path }) => path).join(', ')}.`] },
    drawers.length > 0 && { title: 'Put in the drawers', lines: [`${drawers.map(({ path }) => path).join(', ')}.`] },
    {
      title: 'Finish and check',
      lines: [
        `Touch up cut ends and screw holes${roles.has('cover') ? ', and put on the covers' : ''}. Fill in the checks. Sweep, and take the offcuts that are to be kept to the rack.`,
      ],
    },
  ];
  return steps.filter((step) => step !== false);
}

/** What a crew measures when it is done, with room for what was found. Common practice, no source. */
export interface FinalCheck {
  readonly what: string;
  /** What it should be, where the layout says. */
  readonly wanted: Ticks | undefined;
  readonly kind: 'level' | 'plumb' | 'square' | 'length' | 'held';
}

export function finalChecks(layout: Layout): FinalCheck[] {
  const checks: FinalCheck[] = [];
  for (const line of layout.lines)
    checks.push({ what: `${line.shelves.join(', ')} level, underside`, wanted: line.height, kind: 'level' });
  for (const zone of layout.zones)
    for (const fitting of zone.fittings) {
      if (fitting.kind === 'panel')
        checks.push({ what: `${fitting.path} plumb, both ways`, wanted: undefined, kind: 'plumb' });
      if (fitting.kind === 'rod')
        checks.push({ what: `${fitting.path} level, centre`, wanted: fitting.at.value, kind: 'level' });
    }
  for (const { walls, angle } of layout.corners)
    if (angle !== 90)
      checks.push({ what: `corner of ${walls.join(' and ')}: ${angle} degrees`, wanted: undefined, kind: 'square' });
  const sides = layout.zones.flatMap(({ path, width, fittings }) =>
    fittings.some(({ kind }) => kind === 'panel') ? [{ path, width: width.value }] : [],
  );
  for (const { path, width } of sides)
    checks.push({ what: `${path} square: both diagonals alike; width`, wanted: width, kind: 'square' });
  checks.push({ what: 'Every tie and bracket tight; nothing moves by hand', wanted: undefined, kind: 'held' });
  return checks;
}
