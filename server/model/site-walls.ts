/** Walls on site: as drawn or measured, in the order in which their corners let them be filled, and what those take. */
import { capital } from './capital.ts';
import type { Finding } from './finding.ts';
import type { Reading, WallLayout, ZoneLayout } from './layout.ts';
import { limits } from './limits.ts';
import { type Show, showLength } from './show.ts';
import type { StudSpec, TemplateSpec, WallSpec } from './spec.ts';
import type { Survey } from './survey.ts';
import { greatest, NONE, type Ticks, ticks } from './ticks.ts';
import { tooMany } from './too-many.ts';
import { wallName } from './wall-name.ts';

/** Where each wall's ends meet others, for a person inside who faces it. */
const neighbours: Readonly<Record<string, { left: string; right: string }>> = {
  back: { left: 'left', right: 'right' },
  left: { left: 'front', right: 'back' },
  right: { left: 'back', right: 'front' },
  front: { left: 'right', right: 'left' },
};

/** Owners of corners before those that stop short of them. */
export function inOwnerOrder(spec: TemplateSpec): WallSpec[] {
  const done: WallSpec[] = [];
  const visit = (wall: WallSpec, trail: readonly WallSpec[]): void => {
    if (done.includes(wall) || trail.includes(wall)) return;
    for (const other of spec.walls) {
      if (other !== wall && ownerOf(wall.name, other.name, spec) === other.name) visit(other, [...trail, wall]);
    }
    done.push(wall);
  };
  for (const wall of spec.walls) visit(wall, []);
  return done;
}

/** The wall that owns the corner of two: as stated, else the back wall, else the front wall. Undefined where they do not meet. */
function ownerOf(a: string, b: string, spec: TemplateSpec): string | undefined {
  const meets = neighbours[a];
  if (meets?.left !== b && meets?.right !== b) return undefined;
  const stated = spec.corners.find((c) => c.walls.includes(a) && c.walls.includes(b));
  return stated?.owner ?? (a === 'back' || b === 'back' ? 'back' : 'front');
}

/** How far the fittings of the walls that own its corners stand out into this wall's run. */
export function insetOf(
  name: string,
  spec: TemplateSpec,
  zones: readonly ZoneLayout[],
  walls: ReadonlyMap<string, WallLayout>,
): { left: Ticks; right: Ticks } {
  const meets = neighbours[name];
  const at = (end: 'left' | 'right'): Ticks => {
    const other = meets?.[end];
    const wall = other === undefined ? undefined : walls.get(other);
    if (!wall || other === undefined || ownerOf(name, other, spec) !== other) return NONE;
    // Our left end is the other wall's right end, and the other way round.
    const touching = zones.filter(
      (z) => z.wall === other && (end === 'left' ? z.from.value + z.width.value >= wall.length : z.from.value <= 0),
    );
    return greatest(NONE, ...touching.flatMap((z) => z.fittings.map((f) => f.box.y[1])));
  };
  return { left: at('left'), right: at('right') };
}

/** What the corners take of a wall, where they take anything: `, less 12in for what stands on the back wall`. */
export function lessCorners({ name, inset }: Pick<WallLayout, 'name' | 'inset'>, show: Show): string {
  const taken = (['left', 'right'] as const).flatMap((end) => {
    const other = neighbours[name]?.[end];
    return other === undefined || inset[end] === 0
      ? []
      : [`${showLength(inset[end], show)} for what stands on ${wallName(other)}`];
  });
  return taken.length > 0 ? `, less ${taken.join(' and ')}` : '';
}

/** As it is drawn, and as it was measured where it was. Undefined where nothing says how long it is. */
export function wallLayout(
  wall: WallSpec,
  inset: WallLayout['inset'],
  site: Survey | undefined,
  report: (f: Finding) => void,
): WallLayout | undefined {
  const survey = site?.walls.find((w) => w.name === wall.name);
  const readings = survey?.readings ?? [];
  const shortest = leastReading(readings);
  const lengthDim = wall.length;
  const length = shortest?.length ?? lengthDim?.value;
  if (length === undefined) return undefined;
  const height = survey?.height ?? wall.height;
  const specs = survey && survey.studs.length > 0 ? survey.studs : wall.studs;
  return {
    name: wall.name,
    place: wall.place,
    nominal: lengthDim?.value ?? length,
    nominalPlace: lengthDim?.place,
    length,
    lengthPlace: shortest?.place ?? lengthDim?.place ?? wall.place,
    readings,
    height: height?.value,
    heightPlace: height?.place,
    studs: studsOf(specs, length, () =>
      report(
        tooMany('mostStuds', wall.place, {
          who: `${capital(wallName(wall.name))} has`,
          count: limits.mostStuds.most + 1,
          isLeast: true,
          what: 'studs',
          advice: 'Common spacings are 16in and 24in on centre.',
          examples: true,
          about: wall.name,
        }),
      ),
    ),
    studsFrom: specs.length === 0 ? undefined : specs === wall.studs ? 'drawn' : 'survey',
    lining: wall.lining,
    framing: wall.framing,
    inset,
    left: [],
  };
}

function leastReading(readings: readonly Reading[]): Reading | undefined {
  let least: Reading | undefined;
  for (const r of readings) if (!least || r.length < least.length) least = r;
  return least;
}

function studsOf(specs: readonly StudSpec[], length: Ticks, tell: () => void): Ticks[] {
  const found = new Set<number>();
  const { most } = limits.mostStuds;
  for (const spec of specs) {
    const from = (x: number): number => (spec.side === 'left' ? x : length - x);
    if (spec.kind === 'list') for (const at of spec.at) found.add(from(at));
    else for (let x: number = spec.first; x <= length && found.size <= most; x += spec.every) found.add(from(x));
  }
  if (found.size > most) {
    tell();
    return [];
  }
  return [...found]
    .filter((x) => x >= 0 && x <= length)
    .sort((a, b) => a - b)
    .map(ticks);
}
