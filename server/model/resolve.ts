/** From a spec, as it stands on site, to geometry: walls, zones, fittings, parts and level lines. */

import { capital } from './capital.ts';
import { failure } from './conflicts.ts';
import { addedFix, settled } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { placeFittings } from './fittings.ts';
import type {
  FixtureLayout,
  Layout,
  LevelLine,
  OpeningLayout,
  Part,
  Reading,
  ShelfLayout,
  SlopeLayout,
  WallLayout,
  ZoneLayout,
} from './layout.ts';
import { gapsFor, leftOverSaid, sumOf } from './left-over.ts';
import { limits } from './limits.ts';
import { matchedParts } from './matched.ts';
import { lately, memo } from './memo.ts';
import { type PlacedZone, runOfZones } from './openings.ts';
import { planOf } from './plan.ts';
import { pushAll } from './push-all.ts';
import * as rules from './rules.ts';
import {
  type PlacedOn,
  placedBetween,
  placedRunBetween,
  placeRun,
  type Run,
  type RunResult,
  runOf,
  type Stretch,
} from './runs.ts';
import { type Show, showLength, showRange } from './show.ts';
import type { FixtureSpec, Offset, OpeningSpec, StudSpec, TemplateSpec, WallSpec, ZoneSpec } from './spec.ts';
import { lengthAt, measuredWalls, reportUnknown, type Survey } from './survey.ts';
import { divide, greatest, inches, millimetres, NONE, roundDown, roundUp, type Ticks, ticks } from './ticks.ts';
import { tooMany } from './too-many.ts';
import { wallName } from './wall-name.ts';

export interface ResolveInput {
  readonly spec: TemplateSpec;
  readonly survey: Survey | undefined;
  readonly sawStep: Ticks;
  readonly show: Show;
  readonly mirrored: boolean;
}

/** Where each wall's ends meet others, for a person inside who faces it. */
const neighbours: Readonly<Record<string, { left: string; right: string }>> = {
  back: { left: 'left', right: 'right' },
  left: { left: 'front', right: 'back' },
  right: { left: 'back', right: 'front' },
  front: { left: 'right', right: 'left' },
};

export function resolve(input: ResolveInput): Layout {
  const findings: Finding[] = [];
  const report = (f: Finding): void => void findings.push(f);
  reportUnknown('wall', measuredWalls(input.survey), input.spec.walls, report);
  reportUnknown('opening', input.survey?.openings ?? [], input.spec.openings, report);
  const surveyed = new SurveyedWalls(input, report);
  const walls = new Map<string, WallLayout>();
  const zones: ZoneLayout[] = [];
  const parts: Part[] = [];
  for (const wall of inOwnerOrder(input.spec)) {
    const own = input.spec.zones.filter((z) => z.wall === wall.name);
    const inset = insetOf(wall.name, input.spec, zones, walls);
    const layout = surveyed.layoutOf(wall, inset);
    if (!layout) {
      if (own.length > 0 && !wall.lengthSaid) {
        report(
          finding(
            rules.wallLengthMissing,
            wall.place,
            `${capital(wallName(wall.name))} has no length, so its zones cannot be placed.`,
            {
              advice: 'Write for example: length 94in',
              examples: true,
              fixes: addedFix(wall.place.statement, 'length 94in', { byHand: true }),
            },
          ),
        );
      }
      continue;
    }
    const placed = placeOnWall(wall, layout, own, input, report);
    walls.set(wall.name, { ...layout, left: placed.left });
    pushAll(zones, placed.zones);
    pushAll(parts, placed.parts);
    if (parts.length > limits.mostParts.most) {
      report(
        tooMany('mostParts', input.spec.place, {
          who: 'A unit of this has',
          count: parts.length,
          isLeast: true,
          what: 'parts',
          advice: 'What is beyond is not placed. Divide it into several templates.',
        }),
      );
      break;
    }
  }
  const matched = matchedParts(parts, input.spec.zones);
  const { corners, plan } = planOf(input.spec, input.survey, walls, input.show, report);
  return {
    walls: [...walls.values()],
    openings: input.spec.openings.flatMap((o) => openingLayout(o, walls, input)),
    fixtures: input.spec.fixtures.flatMap((f) => fixtureLayout(f, walls, report)),
    slopes: input.spec.fixtures.flatMap((f) => slopeLayout(f, walls, report)),
    corners,
    plan,
    zones,
    parts,
    ...(matched.length > 0 && { matched }),
    lines: levelLines(zones, input.show),
    findings,
    ...(input.spec.persons && { persons: input.spec.persons }),
  };
}

// Walls

/** Owners of corners before those that stop short of them. */
function inOwnerOrder(spec: TemplateSpec): WallSpec[] {
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
function insetOf(
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
function lessCorners({ name, inset }: Pick<WallLayout, 'name' | 'inset'>, show: Show): string {
  const taken = (['left', 'right'] as const).flatMap((end) => {
    const other = neighbours[name]?.[end];
    return other === undefined || inset[end] === 0
      ? []
      : [`${showLength(inset[end], show)} for what stands on ${wallName(other)}`];
  });
  return taken.length > 0 ? `, less ${taken.join(' and ')}` : '';
}

class SurveyedWalls {
  private readonly input: ResolveInput;
  private readonly report: (f: Finding) => void;

  constructor(input: ResolveInput, report: (f: Finding) => void) {
    this.input = input;
    this.report = report;
  }

  layoutOf(wall: WallSpec, inset: { left: Ticks; right: Ticks }): WallLayout | undefined {
    const survey = this.input.survey?.walls.find((w) => w.name === wall.name);
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
        this.report(
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

// Zones of a wall

interface OnWall {
  readonly zones: ZoneLayout[];
  readonly parts: Part[];
  readonly left: WallLayout['left'];
}

function placeOnWall(
  wall: WallSpec,
  layout: WallLayout,
  own: readonly ZoneSpec[],
  input: ResolveInput,
  report: (f: Finding) => void,
  regardless?: ReadonlySet<ZoneSpec>,
): OnWall {
  const nothing: OnWall = { zones: [], parts: [], left: [] };
  if (own.length === 0) return nothing;
  const { show, sawStep } = input;
  const surveyed = layout.readings.length > 0;
  const parameters = wall.length?.parameters ?? [];
  const run = runOnWall(input, wall.name, own);
  const stretchOf = (length: Ticks): Stretch => ({
    length,
    inset: layout.inset,
    label: {
      place: surveyed
        ? (layout.readings.find((reading) => reading.length === length)?.place ?? layout.lengthPlace)
        : (wall.length?.place ?? wall.place),
      get text() {
        const long = `${showLength(length, show)}${surveyed ? '' : ' long'}`;
        return `${wallName(wall.name)} ${surveyed ? 'measures' : 'is'} ${long}${lessCorners(layout, show)}`;
      },
      parameters,
      role: 'length',
    },
  });
  const cache = new Map<number, RunResult>();
  // A layout has to close on every length measured, not on the shortest alone (`at most`).
  const closing = regardless ? {} : closingLengths(run, layout.inset);
  const isMet = run.isExact && closing.shorter !== undefined;
  const at = (length: Ticks): RunResult =>
    memo(cache, length, () => {
      const { shorter, longer } = closing;
      const known = shorter && longer && placedRunBetween(run, shorter, longer, { length, inset: layout.inset });
      return known ?? placeRun(run, stretchOf(length), sawStep, regardless !== undefined);
    });
  for (const length of new Set([layout.length, ...layout.readings.map((r) => r.length)])) {
    if (length !== layout.length && liesWithin(closing, length)) continue;
    if (isMet && !liesWithin(closing, length)) lookBeyond(closing, length, at);
    const result = at(length);
    if (result.kind === 'placed') {
      widen(closing, { length, zones: result.zones });
      continue;
    }
    const insideOf = result.kind === 'conflict' && result.inside.size > 0 ? result.inside : undefined;
    const without = insideOf ? placeRun(run, stretchOf(length), sawStep, true) : result;
    const refused = without.kind === 'placed' ? result : without;
    const closesAsDrawn = surveyed && wall.length && at(wall.length.value).kind === 'placed';
    report(
      failure(
        refused,
        { ...wall, said: wallName(wall.name), zones: own },
        closesAsDrawn ? layout : undefined,
        surveyed,
        show,
      ),
    );
    // Where the zones fit but for what is inside some of them, they are drawn all the same.
    if (refused !== result || !insideOf || regardless) return nothing;
    return placeOnWall(wall, layout, own, input, report, insideOf);
  }
  const main = at(layout.length);
  if (main.kind !== 'placed') return nothing;
  if (main.left.length > 0) {
    report(
      finding(rules.leftOver, wall.place, leftOverSaid(main.left, wall.name, show), {
        advice: `Write a gap there, give a zone "width fill", or change a width.`,
        fixes: gapsFor(main, { siblings: input.spec.zones, wall: wall.name, mirrored: input.mirrored }),
        about: wall.name,
        causes: { parameters, survey: surveyed },
        comparison: {
          what: 'width left over',
          measured: { ticks: sumOf(main.left) },
          relation: 'equal to',
          limit: { ticks: NONE },
        },
      }),
    );
  }
  const lengthAtHeight = (height: Ticks): Ticks => lengthAt(layout.readings, height) ?? layout.length;
  const zones: ZoneLayout[] = [];
  const parts: Part[] = [];
  const sorted = [...own].sort((a, b) => fromOf(main, a) - fromOf(main, b));
  const siblings = runOfZones(
    sorted.map((z) => ({
      spec: z,
      from: fromOf(main, z),
      to: fromOf(main, z) + (main.zones.get(z)?.width.value ?? 0),
    })),
  );
  for (const zone of sorted) {
    const placed = main.zones.get(zone);
    // A width that cannot be read has been reported; what is in the zone is not known then.
    if (!placed || !zone.width) continue;
    // Where no width that it can have will do for what is inside it, that is told, and no width is worth writing.
    const inside = run.inside.get(zone);
    const isLost = inside?.never !== undefined || inside?.nearest !== undefined;
    if (zone.width.kind === 'range' && placed.width.least !== placed.width.most && !isLost) {
      report(
        finding(
          rules.widthLoose,
          zone.width.place,
          `Zone ${zone.path} can be ${showRange(placed.width.least, placed.width.most, show)} wide; ${showLength(placed.width.value, show)} is taken.`,
          {
            advice: `Write \`width ${showLength(placed.width.value, show)}\`, or \`width fill\` for what is left.`,
            about: zone.path,
            causes: { parameters, survey: surveyed },
            fixes: settled(zone.width.place, `width ${showLength(placed.width.value, show)}`),
          },
        ),
      );
    }
    const isStill = run.still.has(zone);
    const outer: PlacedZone = {
      spec: zone,
      main: { from: placed.from, width: placed.width },
      isStill,
      atHeight: (height) => {
        const length = lengthAtHeight(height);
        if (isStill) return { from: placed.from.value, width: placed.width.value, wall: length };
        const { shorter, longer } = closing;
        const known = shorter && longer && placedBetween(run, shorter, longer, length, zone);
        if (known) return { ...known, wall: length };
        const there = at(length);
        const z = there.kind === 'placed' ? there.zones.get(zone) : undefined;
        return { from: (z ?? placed).from.value, width: (z ?? placed).width.value, wall: length };
      },
      ends: (x) =>
        x <= layout.inset.left && layout.inset.left === 0
          ? 'wall'
          : x >= layout.length - layout.inset.right && layout.inset.right === 0
            ? 'wall'
            : 'open',
      run: siblings,
      defaults: input.spec.defaults,
      inside: run.inside.get(zone),
    };
    const env = { wall, layout, surveyed, sawStep, show, mirrored: input.mirrored, report, regardless };
    const placedIn = placeFittings(outer, env);
    pushAll(zones, placedIn.zones);
    pushAll(parts, placedIn.parts);
    if (parts.length > limits.mostParts.most) break;
  }
  return { zones, parts, left: main.left };
}

/** The shortest and the longest length on which a run is known to close. */
interface Closing {
  shorter?: PlacedOn;
  longer?: PlacedOn;
}

const closings = lately<Run, Closing>(2);

/**
 * Of an exact run known for all units that are drawn alike: what closes on two lengths does on all between, as sums of
 * dimensions that hold at both ends hold in between. Of any other run it is known for one unit.
 */
function closingLengths(run: Run, { left, right }: WallLayout['inset']): Closing {
  return run.isExact ? closings(run, [left, right], () => ({})) : {};
}

function liesWithin({ shorter, longer }: Closing, length: Ticks): boolean {
  return shorter !== undefined && longer !== undefined && shorter.length <= length && length <= longer.length;
}

/** Units are measured a little longer and shorter than one another: what closes on the next whole inches does on all of them. */
function lookBeyond(closing: Closing, length: Ticks, at: (length: Ticks) => RunResult): void {
  const step = inches(1);
  for (const beyond of [roundDown(length, step), roundUp(length, step)]) {
    const result = liesWithin(closing, beyond) ? undefined : at(beyond);
    if (result?.kind === 'placed') widen(closing, { length: beyond, zones: result.zones });
  }
}

function widen(closing: Closing, placed: PlacedOn): void {
  if (!closing.shorter || placed.length < closing.shorter.length) closing.shorter = placed;
  if (!closing.longer || placed.length > closing.longer.length) closing.longer = placed;
}

const runs = lately<TemplateSpec, Map<string, Run>>(2);

/** The zones of a wall, made ready once for all units that are drawn alike. */
function runOnWall({ spec, show }: ResolveInput, wall: string, own: readonly ZoneSpec[]): Run {
  return memo(
    runs(spec, [show], () => new Map()),
    wall,
    () => runOf(own, show, spec.defaults),
  );
}

function fromOf(result: Extract<RunResult, { kind: 'placed' }>, zone: ZoneSpec): number {
  return result.zones.get(zone)?.from.value ?? 0;
}

// Openings and fixtures

function openingLayout(
  spec: OpeningSpec,
  walls: ReadonlyMap<string, WallLayout>,
  input: ResolveInput,
): OpeningLayout[] {
  const measured = input.survey?.openings.find((o) => o.name === spec.name)?.props;
  const width = (measured?.width ?? spec.width)?.value;
  if (width === undefined) return [];
  const height = (measured?.height ?? spec.height)?.value ?? inches(80);
  const wall = walls.get(spec.wall);
  const length = wall?.length ?? openLength(spec.wall, walls);
  const from = measured?.from ?? spec.from;
  if (length === undefined && (!from || from.side === 'right')) return [];
  const centred =
    length === undefined ? NONE : (divide(ticks(Math.max(0, length - width)), 2, input.sawStep).at(-1) ?? NONE);
  const x = from ? alongWall(from, length ?? NONE, width) : centred;
  const leaf = spec.leaf ?? { kind: 'none', place: spec.place };
  const { name, place, floor, approach, pull } = spec;
  const said = { ...(approach && { approach }), ...(pull && { pull }) };
  return [{ name, wall: spec.wall, place, from: x, width, height, leaf, floor, ...said }];
}

/** A front that is not drawn is as long as the back it faces. */
function openLength(name: string, walls: ReadonlyMap<string, WallLayout>): Ticks | undefined {
  const opposite: Readonly<Record<string, string>> = { front: 'back', back: 'front', left: 'right', right: 'left' };
  return walls.get(opposite[name] ?? '')?.length;
}

function alongWall({ side, offset }: Offset, length: Ticks, width: Ticks): Ticks {
  return ticks(side === 'left' ? offset.value : length - offset.value - width);
}

const faces: Readonly<Record<string, { width: number; height: number }>> = {
  outlet: { width: 3, height: 5 },
  switch: { width: 3, height: 5 },
  panel: { width: 15, height: 30 },
  vent: { width: 12, height: 6 },
  sprinkler: { width: 3, height: 3 },
  light: { width: 8, height: 8 },
  hatch: { width: 30, height: 22 },
  appliance: { width: 24, height: 60 },
  baseboard: { width: 0, height: 4 },
};

function fixtureLayout(
  spec: FixtureSpec,
  walls: ReadonlyMap<string, WallLayout>,
  report: (f: Finding) => void,
): FixtureLayout[] {
  if (spec.kind === 'slope') return [];
  const face = faces[spec.kind] ?? { width: 3, height: 3 };
  const { lamp, burns, heats } = spec;
  const depth = spec.depth?.value;
  const said = { ...(depth !== undefined && { depth }), ...(burns && { burns }), ...(heats && { heats }) };
  const out = depth ?? NONE;
  const size = spec.size ?? { width: inches(face.width), height: inches(face.height) };
  const clear = spec.clear?.value ?? NONE;
  const around = (centre: number, extent: Ticks): readonly [Ticks, Ticks] => {
    const low = ticks(Math.floor(centre - extent / 2));
    return [low, ticks(low + extent)];
  };
  const missing = (what: string, example: string): FixtureLayout[] => {
    report(
      finding(rules.phraseNotUnderstood, spec.place, `Fixture "${spec.name}" does not say ${what}.`, {
        advice: `Write for example: ${example}`,
        examples: true,
        fixes: addedFix(spec.place.statement, example, { byHand: true }),
      }),
    );
    return [];
  };
  if (spec.wall === undefined) {
    const back = walls.get('back')?.length;
    const side = (walls.get('left') ?? walls.get('right'))?.length;
    if (!spec.along || !spec.out) return missing('where it is on the ceiling', 'from left 30in; from back 12in');
    const x =
      spec.along.side === 'left'
        ? spec.along.offset.value
        : back === undefined
          ? undefined
          : back - spec.along.offset.value;
    const y =
      spec.out.side === 'back' ? spec.out.offset.value : side === undefined ? undefined : side - spec.out.offset.value;
    const ceiling = greatest(NONE, ...[...walls.values()].map((w) => w.height ?? NONE));
    if (x === undefined || y === undefined || ceiling === 0) return [];
    return [
      {
        kind: spec.kind,
        name: spec.name,
        wall: undefined,
        place: spec.place,
        clear,
        lamp,
        box: { x: around(x, size.width), y: around(y, size.height), z: [ticks(ceiling - out), ceiling] },
        ...said,
      },
    ];
  }
  const wall = walls.get(spec.wall);
  if (!wall) return [];
  if (spec.kind === 'baseboard') {
    const box = { x: [NONE, wall.length], y: [NONE, out], z: [NONE, spec.height?.value ?? size.height] } as const;
    return [{ kind: spec.kind, name: spec.name, wall: spec.wall, place: spec.place, clear, lamp, box, ...said }];
  }
  if (!spec.along) return missing('how far along the wall it is', 'from left 60in');
  if (!spec.height) return missing('how high it is', 'height 16in');
  const x = spec.along.side === 'left' ? spec.along.offset.value : wall.length - spec.along.offset.value;
  const box = { x: around(x, size.width), y: [NONE, out], z: around(spec.height.value, size.height) } as const;
  return [{ kind: spec.kind, name: spec.name, wall: spec.wall, place: spec.place, clear, lamp, box, ...said }];
}

/** A ceiling that rises from its own height at a wall to the full height. */
function slopeLayout(
  spec: FixtureSpec,
  walls: ReadonlyMap<string, WallLayout>,
  report: (f: Finding) => void,
): SlopeLayout[] {
  if (spec.kind !== 'slope') return [];
  const missing = (what: string, example: string): SlopeLayout[] => {
    report(
      finding(rules.phraseNotUnderstood, spec.place, `Slope "${spec.name}" does not say ${what}.`, {
        advice: `Write for example: ${example}`,
        examples: true,
        fixes: example.startsWith('fixture') ? [] : addedFix(spec.place.statement, example, { byHand: true }),
      }),
    );
    return [];
  };
  if (spec.wall === undefined)
    return missing('at which wall it is low', 'fixture slope on back { height 60in; run 36in }');
  if (!spec.height) return missing('how high it is at its wall', 'height 60in');
  if (!spec.run) return missing('how far out it reaches the full height', 'run 36in');
  const high = greatest(NONE, ...[...walls.values()].map((w) => w.height ?? NONE));
  if (!walls.has(spec.wall) || high === 0) return [];
  if (spec.height.value > high) {
    report(
      finding(
        rules.outOfBounds,
        spec.height.place,
        `The ceiling slopes down to its wall, and here it would be higher there than the walls.`,
        { advice: 'Its height is that at the wall, where it is lowest.' },
      ),
    );
    return [];
  }
  return [{ name: spec.name, wall: spec.wall, place: spec.place, low: spec.height.value, high, run: spec.run.value }];
}

// Level lines

/** One line for the undersides of level shelves at one height in zones that touch. */
function levelLines(zones: readonly ZoneLayout[], show: Show): LevelLine[] {
  const unit = show.system === 'inches' ? inches(1) : millimetres(10);
  const marks = zones.flatMap((zone) =>
    zone.fittings
      .filter((f): f is ShelfLayout => f.kind === 'shelf' && !f.tilted && f.inRow === undefined)
      .map((shelf) => ({
        wall: zone.wall,
        height: shelf.at.value,
        from: zone.from.value,
        to: ticks(zone.from.value + zone.width.value),
        shelves: [shelf.path],
      })),
  );
  marks.sort((a, b) => (a.wall < b.wall ? -1 : a.wall > b.wall ? 1 : b.height - a.height || a.from - b.from));
  const lines: { wall: string; height: Ticks; from: Ticks; to: Ticks; shelves: string[] }[] = [];
  for (const mark of marks) {
    const line = lines.at(-1);
    if (line && line.wall === mark.wall && line.height === mark.height && line.to >= mark.from) {
      line.to = greatest(line.to, mark.to);
      line.shelves.push(...mark.shelves);
    } else lines.push(mark);
  }
  return lines.map(({ wall, height, from, to, shelves }) => {
    const length = ticks(to - from);
    return { wall, height, from, length, mark: roundUp(length, unit), shelves };
  });
}
