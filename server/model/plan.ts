/** The room seen from above: where its walls meet, at which angle, and where each of them stands. */
import { type Finding, finding } from './finding.ts';
import type { CornerLayout, WallInPlan, WallLayout } from './layout.ts';
import * as rules from './rules.ts';
import { type Show, showLength } from './show.ts';
import type { CornerSpec, TemplateSpec, WallSpec } from './spec.ts';
import type { Survey } from './survey.ts';
import { inches, NONE, type Ticks, ticks } from './ticks.ts';

const square = 90;

/** The walls of a room that is drawn by their names, in the order in which somebody inside sees them, turning to the right. */
const named = ['left', 'back', 'right', 'front'];

export interface Plan {
  readonly corners: readonly CornerLayout[];
  readonly plan: readonly WallInPlan[];
}

/** Two walls, the left end of `next` at the right end of `wall`. */
interface Meeting {
  readonly wall: WallSpec;
  readonly next: WallSpec;
}

export function planOf(
  spec: TemplateSpec,
  survey: Survey | undefined,
  walls: ReadonlyMap<string, WallLayout>,
  show: Show,
  report: (f: Finding) => void,
): Plan {
  const met = meetings(spec.walls);
  const corners = met.map((meeting) => cornerOf(meeting, spec.corners, survey));
  for (const stated of [...spec.corners, ...(survey?.corners ?? [])]) {
    // Of a survey, what is not measured of a corner is not said of it.
    const place = stated.angle?.place ?? ('place' in stated ? stated.place : undefined);
    if (!place || corners.some((c) => stated.walls.every((w) => c.walls.includes(w)))) continue;
    // What is not there has been told of.
    if (!stated.walls.every((w) => spec.walls.some(({ name }) => name === w))) continue;
    report(
      finding(
        rules.cornerNotThere,
        place,
        `Walls ${stated.walls[0]} and ${stated.walls[1]} do not meet, so they have no ${stated.angle ? 'angle' : 'corner'}.`,
        {
          advice: `Walls that meet are ${corners.map((c) => `${c.walls[0]} and ${c.walls[1]}`).join(', ') || 'none'}.`,
        },
      ),
    );
  }
  const isStated = (a: string, b: string): boolean =>
    [...spec.corners, ...(survey?.corners ?? [])].some((c) => c.angle && c.walls.includes(a) && c.walls.includes(b));
  const plan = placed(met, corners, walls);
  if (!isStated('right', 'front') && !isStated('front', 'left')) closeFront(plan, walls);
  if (isRound(spec.walls, met)) closes(plan, walls, spec, show, report);
  return { corners, plan };
}

/** Rooms by name: left, back, right, front. Any others: each after the one written before it. */
function meetings(walls: readonly WallSpec[]): Meeting[] {
  const byName = walls.every((w) => named.includes(w.name));
  const order = byName ? named.flatMap((n) => walls.find((w) => w.name === n) ?? []) : [...walls];
  const met: Meeting[] = [];
  for (const [i, wall] of order.entries()) {
    const next = order[(i + 1) % order.length];
    if (!next || next === wall) continue;
    const adjacent = byName
      ? named.indexOf(next.name) === (named.indexOf(wall.name) + 1) % named.length
      : i + 1 < order.length || next.turns !== undefined;
    if (adjacent) met.push({ wall, next });
  }
  return met;
}

function isRound(walls: readonly WallSpec[], met: readonly Meeting[]): boolean {
  return walls.length > 2 && met.length === walls.length;
}

/** The angle as measured, as drawn, as the wall turns, or square. A turn of 270 degrees, to the left, leaves 270 degrees inside. */
function cornerOf({ wall, next }: Meeting, stated: readonly CornerSpec[], survey: Survey | undefined): CornerLayout {
  const walls = [wall.name, next.name] as const;
  const same = (c: { readonly walls: readonly [string, string] }): boolean =>
    walls.every((name) => c.walls.includes(name));
  const measured = survey?.corners.find(same)?.angle;
  const drawn = stated.findLast((c) => c.angle && same(c))?.angle;
  const found = measured ?? drawn;
  if (found) return { walls, angle: found.degrees, measured: found === measured, place: found.place };
  if (next.turns) return { walls, angle: (540 - next.turns.degrees) % 360, measured: false, place: next.turns.place };
  return { walls, angle: square, measured: false, place: next.place };
}

/** Sine and cosine of whole quarter turns are exact, so that square rooms stay square. */
function turned([x, y]: readonly [number, number], degrees: number): readonly [number, number] {
  const quarters = degrees / square;
  if (Number.isInteger(quarters)) {
    const [c, s] = [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ][((quarters % 4) + 4) % 4] as [number, number];
    return [c * x - s * y, s * x + c * y];
  }
  const angle = (degrees * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [c * x - s * y, s * x + c * y];
}

/** Walks along the walls from the back wall, or from the first that has a length, to both sides. */
function placed(
  met: readonly Meeting[],
  corners: readonly CornerLayout[],
  walls: ReadonlyMap<string, WallLayout>,
): WallInPlan[] {
  const start = walls.get('back') ?? [...walls.values()][0];
  if (!start) return [];
  const found = new Map<string, WallInPlan>([[start.name, { wall: start.name, from: [0, 0], along: [1, 0] }]]);
  const lengthOf = (name: string): number => walls.get(name)?.length ?? 0;
  const angleOf = (i: number): number => corners[i]?.angle ?? square;
  for (let grown = true; grown; ) {
    grown = false;
    for (const [i, { wall, next }] of met.entries()) {
      const here = found.get(wall.name);
      const there = found.get(next.name);
      if (here && !there && walls.has(next.name)) {
        const end = moved(here.from, here.along, lengthOf(wall.name));
        found.set(next.name, { wall: next.name, from: end, along: turned(here.along, 180 - angleOf(i)) });
        grown = true;
      } else if (there && !here && walls.has(wall.name)) {
        const along = turned(there.along, angleOf(i) - 180);
        found.set(wall.name, { wall: wall.name, from: moved(there.from, along, -lengthOf(wall.name)), along });
        grown = true;
      }
    }
  }
  return [...walls.keys()].flatMap((name) => found.get(name) ?? []);
}

/**
 * The front wall of a room by name runs from where the right wall ends to where the left one begins. Where nothing says
 * at which angles, and another corner is out of square, square corners would not bring it there.
 */
function closeFront(plan: WallInPlan[], walls: ReadonlyMap<string, WallLayout>): void {
  const [i, left, right] = [
    plan.findIndex((p) => p.wall === 'front'),
    plan.find((p) => p.wall === 'left'),
    plan.find((p) => p.wall === 'right'),
  ];
  if (i < 0 || !left || !right || !plan.some((p) => p.wall === 'back')) return;
  const from = moved(right.from, right.along, walls.get('right')?.length ?? 0);
  const [dx, dy] = [left.from[0] - from[0], left.from[1] - from[1]];
  const length = Math.hypot(dx, dy);
  if (length > 0) plan[i] = { wall: 'front', from, along: [dx / length, dy / length] };
}

function moved(
  [x, y]: readonly [number, number],
  [dx, dy]: readonly [number, number],
  by: number,
): readonly [number, number] {
  return [x + dx * by, y + dy * by];
}

/** What a room of walls with turns of their own may fail to close by before it is told. */
const closesWithin = inches(1);

/** A polygonal room whose walls are all drawn comes back to where it began. */
function closes(
  plan: readonly WallInPlan[],
  walls: ReadonlyMap<string, WallLayout>,
  spec: TemplateSpec,
  show: Show,
  report: (f: Finding) => void,
): void {
  if (plan.length !== spec.walls.length || spec.walls.every((w) => named.includes(w.name))) return;
  const ends = plan.map((p) => moved(p.from, p.along, walls.get(p.wall)?.length ?? 0));
  const [first, last] = [plan[0], ends.at(-1)];
  if (!first || !last) return;
  const gap = ticks(Math.round(Math.hypot(first.from[0] - last[0], first.from[1] - last[1])));
  if (gap <= closesWithin) return;
  report(
    finding(
      rules.roomDoesNotClose,
      spec.walls.at(-1)?.place ?? spec.place,
      `The walls of this room end ${showLength(roundedFor(gap, show), show)} from where they begin.`,
      {
        advice: 'Check the lengths of the walls and the angles by which they turn, or leave out the wall that is open.',
        comparison: {
          what: 'gap between the last wall and the first',
          measured: { ticks: gap },
          relation: 'at most',
          limit: { ticks: closesWithin },
        },
      },
    ),
  );
}

/** Angles are not exact, so neither is what comes of them. */
function roundedFor(length: Ticks, { step }: Show): Ticks {
  return length === NONE ? length : ticks(Math.round(length / step) * step);
}
