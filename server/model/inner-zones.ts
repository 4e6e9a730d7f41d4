/** Zones inside a zone, placed in a run of their own between its panels. */
import { failure } from './conflicts.ts';
import { finding } from './finding.ts';
import type { Part, Range, ZoneLayout } from './layout.ts';
import { gapsFor, sumOf } from './left-over.ts';
import { limits } from './limits.ts';
import { type InZone, meets, type PlacedZone, runOfZones } from './openings.ts';
import * as rules from './rules.ts';
import { type Inside, type RunResult, type Stretch, unsaid } from './run.ts';
import type { Label } from './run-labels.ts';
import { placeRun } from './run-placement.ts';
import { showLength } from './show.ts';
import type { Defaults, SideName, ZoneSpec } from './spec.ts';
import { NONE, type Ticks, ticks } from './ticks.ts';

/** A zone, those inside it, and the parts of them all. */
export interface PlacedFittings {
  readonly zones: readonly ZoneLayout[];
  readonly parts: readonly Part[];
}

/** The zone around them. */
interface Around {
  readonly zone: PlacedZone;
  readonly defaults: Defaults;
  /** What its own panels take at each end. */
  readonly edge: Readonly<Record<SideName, Ticks>>;
  /** So many parts it has itself. */
  readonly parts: number;
}

/** None where it has none inside, or they cannot be placed, which is told. `placeIn` places what is in each of them. */
export function placeInner(
  { zone, defaults, edge, parts: already }: Around,
  env: InZone,
  placeIn: (zone: PlacedZone, env: InZone) => PlacedFittings,
): PlacedFittings {
  const { spec, inside } = zone;
  if (!inside) return { zones: [], parts: [] };
  const stretchOf = (width: Ticks): Stretch => {
    const length = ticks(Math.max(0, width - edge.left - edge.right));
    const label = {
      place: spec.width?.place ?? spec.place,
      get text() {
        return `zone ${spec.path} ${extreme(spec, width, inside)} ${showLength(length, env.show)} wide inside`;
      },
      parameters: spec.width?.parameters ?? [],
      role: 'length' as const,
      ...(hasOwnWidth(spec) && { around: `${spec.kind} ${spec.path}` }),
    };
    return { length, inset: { left: NONE, right: NONE }, label };
  };
  const run = (width: Ticks, regardless = env.regardless !== undefined): RunResult =>
    placeRun(inside.run, stretchOf(width), env.sawStep, regardless);
  /** What is lacking whatever the width is; or on the width nearest to what is needed, of those the zone can have. */
  const refused = (main: Refusal): Refusal => {
    if (main.kind !== 'conflict') return main;
    const { never, nearest } = inside;
    const { label } = stretchOf(zone.main.width.value);
    if (never) {
      const said = (one: Label): Label => (one === unsaid ? label : one);
      const weights = new Map([...never.weights].map(([one, weight]) => [said(one as Label), weight]));
      return { ...never, labels: never.labels.map(said), weights };
    }
    const there = nearest === undefined ? main : run(nearest, false);
    return there.kind === 'placed' ? main : there;
  };
  const tell = (result: Refusal): void =>
    env.report(
      failure(
        refused(result),
        { name: spec.path, said: `zone ${spec.path}`, place: spec.place, zones: spec.zones },
        undefined,
        false,
        env.show,
      ),
    );
  let main = run(zone.main.width.value);
  let told = env.regardless;
  if (main.kind === 'conflict' && main.inside.size > 0) {
    const without = run(zone.main.width.value, true);
    if (without.kind === 'placed') {
      // Told once, here, and drawn all the same.
      tell(main);
      told = main.inside;
      main = without;
    }
  }
  if (main.kind !== 'placed') {
    const isTold = main.kind === 'conflict' && env.regardless?.has(spec) === true;
    if (!isTold) tell(main);
    return { zones: [], parts: [] };
  }
  if (main.left.length > 0) {
    env.report(
      finding(
        rules.leftOver,
        spec.place,
        `${showLength(sumOf(main.left), env.show)} is left over inside zone ${spec.path}.`,
        {
          advice: 'Write a gap there, give an inner zone "width fill", or change a width.',
          about: spec.path,
          fixes: gapsFor(main, { siblings: spec.zones, mirrored: env.mirrored }),
        },
      ),
    );
  }
  const shift = (from: number, by: number): Range => ({
    value: ticks(from + by),
    least: ticks(from + by),
    most: ticks(from + by),
  });
  const placed = spec.zones.map((inner) => {
    const z = main.zones.get(inner) as { from: Range; width: Range };
    return { inner, from: shift(z.from.value, zone.main.from.value + edge.left), width: z.width };
  });
  const siblings = runOfZones(
    placed.map(({ inner, from, width }) => ({ spec: inner, from: from.value, to: from.value + width.value })),
  );
  const innerEnv = told === env.regardless ? env : { ...env, regardless: told };
  let parts = already;
  const place = ({ inner, from, width }: (typeof placed)[number]): PlacedFittings => {
    if (parts > limits.mostParts.most) return { zones: [], parts: [] };
    const made = placeIn(
      {
        spec: inner,
        main: { from, width },
        isStill: zone.isStill,
        atHeight: (height) => {
          const outer = zone.atHeight(height);
          const there = run(outer.width, told !== undefined);
          const z = there.kind === 'placed' ? there.zones.get(inner) : undefined;
          return z
            ? { from: ticks(z.from.value + outer.from + edge.left), width: z.width.value, wall: outer.wall }
            : { from: from.value, width: width.value, wall: outer.wall };
        },
        ends: (x) => {
          const left = zone.main.from.value + edge.left;
          const right = zone.main.from.value + zone.main.width.value - edge.right;
          if (x <= left) return edge.left > 0 ? 'panel' : meets(zone, 'left', [NONE, ticks(1)]);
          if (x >= right) return edge.right > 0 ? 'panel' : meets(zone, 'right', [NONE, ticks(1)]);
          return 'open';
        },
        run: siblings,
        defaults,
        inside: inside.run.inside.get(inner),
      },
      innerEnv,
    );
    parts += made.parts.length;
    return made;
  };
  const results = placed.map(place);
  return { zones: results.flatMap((r) => r.zones), parts: results.flatMap((r) => r.parts) };
}

/** The zone says itself how wide it is; else that follows from what stands beside it. */
function hasOwnWidth({ width }: ZoneSpec): boolean {
  return width?.kind === 'fixed' || width?.kind === 'range';
}

type Refusal = Exclude<RunResult, { kind: 'placed' }>;

/** `is`, or which end of its range a width of a zone is. */
function extreme({ width }: ZoneSpec, is: Ticks, { nearest }: Inside): string {
  if (!width || is !== nearest || width.least === width.most) return 'is';
  return is === width.most ? 'is at most' : 'is at least';
}
