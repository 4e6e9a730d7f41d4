/** From a spec, as it stands on site, to geometry: walls, zones, fittings, parts and level lines. */

import { capital } from './capital.ts';
import { failure } from './conflicts.ts';
import { addedFix, settled } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { placeFittings } from './fittings.ts';
import type { Layout, Part, WallLayout, ZoneLayout } from './layout.ts';
import { gapsFor, leftOverSaid, sumOf } from './left-over.ts';
import { levelLines } from './level-lines.ts';
import { limits } from './limits.ts';
import { matchedParts } from './matched.ts';
import { lately, memo } from './memo.ts';
import { fixtureLayout, openingLayout, slopeLayout } from './on-walls.ts';
import { type PlacedZone, runOfZones } from './openings.ts';
import { planOf } from './plan.ts';
import { pushAll } from './push-all.ts';
import * as rules from './rules.ts';
import type { Run, RunResult, Stretch } from './run.ts';
import { placeRun } from './run-placement.ts';
import { type PlacedOn, placedBetween, placedRunBetween, runOf } from './runs.ts';
import { type Show, showLength, showRange } from './show.ts';
import { inOwnerOrder, insetOf, lessCorners, wallLayout } from './site-walls.ts';
import type { TemplateSpec, WallSpec, ZoneSpec } from './spec.ts';
import { lengthAt, measuredWalls, reportUnknown, type Survey } from './survey.ts';
import { inches, NONE, roundDown, roundUp, type Ticks } from './ticks.ts';
import { tooMany } from './too-many.ts';
import { wallName } from './wall-name.ts';

export interface ResolveInput {
  readonly spec: TemplateSpec;
  readonly survey: Survey | undefined;
  readonly sawStep: Ticks;
  readonly show: Show;
  readonly mirrored: boolean;
}

export function resolve(input: ResolveInput): Layout {
  const findings: Finding[] = [];
  const report = (f: Finding): void => void findings.push(f);
  reportUnknown('wall', measuredWalls(input.survey), input.spec.walls, report);
  reportUnknown('opening', input.survey?.openings ?? [], input.spec.openings, report);
  const walls = new Map<string, WallLayout>();
  const zones: ZoneLayout[] = [];
  const parts: Part[] = [];
  for (const wall of inOwnerOrder(input.spec)) {
    const own = input.spec.zones.filter((z) => z.wall === wall.name);
    const inset = insetOf(wall.name, input.spec, zones, walls);
    const layout = wallLayout(wall, inset, input.survey, report);
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
function runOnWall({ spec, show, mirrored }: ResolveInput, wall: string, own: readonly ZoneSpec[]): Run {
  return memo(
    runs(spec, [show, mirrored], () => new Map()),
    wall,
    () => runOf(own, show, spec.defaults, mirrored),
  );
}

function fromOf(result: Extract<RunResult, { kind: 'placed' }>, zone: ZoneSpec): number {
  return result.zones.get(zone)?.from.value ?? 0;
}
