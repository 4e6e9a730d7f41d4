/** What a fitting can fill between the faces that hold it, and how that came about. */
import type { Finding } from './finding.ts';
import type { PanelLayout, Range, Step, WallLayout } from './layout.ts';
import type { EndKind } from './materials.ts';
import type { End } from './parts.ts';
import type { Inside } from './run.ts';
import type { Show } from './show.ts';
import type { Defaults, PanelsSpec, SideName, WallSpec, ZoneSpec } from './spec.ts';
import { type Ticks, ticks } from './ticks.ts';

/** A zone that has been placed in its run, and how it stands at a height where the wall is longer or shorter. */
export interface PlacedZone {
  readonly spec: ZoneSpec;
  readonly main: { readonly from: Range; readonly width: Range };
  /** It stands alike at all heights, whatever was measured. */
  readonly isStill: boolean;
  readonly atHeight: (height: Ticks) => { readonly from: Ticks; readonly width: Ticks; readonly wall: Ticks };
  /** What there is at a point of the run outside the zone's own panels. */
  readonly ends: (x: number) => EndKind;
  /** All zones of its run. */
  readonly run: RunOfZones;
  readonly defaults: Defaults;
  /** Undefined where no zones stand in it. */
  readonly inside: Inside | undefined;
}

/** Where the zones of a run begin and end on its shortest length. */
export interface RunOfZones {
  readonly zones: readonly ZoneSpec[];
  /** The zone that ends there; one without width ends nowhere. */
  readonly endsAt: ReadonlyMap<number, ZoneSpec>;
  readonly startsAt: ReadonlyMap<number, ZoneSpec>;
}

export function runOfZones(
  placed: readonly { readonly spec: ZoneSpec; readonly from: number; readonly to: number }[],
): RunOfZones {
  const wide = placed.filter((z) => z.to > z.from);
  return {
    zones: wide.map((z) => z.spec),
    endsAt: new Map(wide.map((z) => [z.to, z.spec])),
    startsAt: new Map(wide.map((z) => [z.from, z.spec])),
  };
}

export interface InZone {
  readonly wall: WallSpec;
  readonly layout: WallLayout;
  readonly surveyed: boolean;
  readonly sawStep: Ticks;
  readonly show: Show;
  readonly mirrored: boolean;
  readonly report: (f: Finding) => void;
  /**
   * Where zones were placed regardless of what is inside them: those whose insides have been told not to fit.
   */
  readonly regardless: ReadonlySet<ZoneSpec> | undefined;
}

/** What of a panel bounds the openings beside it. */
export type PanelFaces = Pick<PanelLayout, 'side' | 'box' | 'thickness' | 'board' | 'place'>;

/** What a fitting that reaches over these heights can fill: between the faces that hold it. */
export function clearOpening(
  zone: PlacedZone,
  env: InZone,
  panels: readonly PanelFaces[],
  z: readonly [Ticks, Ticks],
): { x: readonly [Ticks, Ticks]; steps: Step[]; ends: End[] } {
  const there = zone.atHeight(z[0]);
  const steps = widthSteps(zone, env, there.width, there.wall, z[0]);
  const x: [number, number] = [there.from, there.from + there.width];
  const end = (side: SideName): End => {
    const panel = panels.find((p) => p.side === side && p.box.z[0] < z[1] && z[0] < p.box.z[1]);
    if (panel) {
      steps.push({
        kind: 'panel',
        amount: ticks(-panel.thickness),
        name: `${side} panel of ${zone.spec.path}, ${panel.board?.name ?? ''}`.replace(/, $/, ''),
        place: panel.place,
      });
      if (side === 'left') x[0] += panel.thickness;
      else x[1] -= panel.thickness;
      return { side, meets: 'panel' };
    }
    return { side, meets: meets(zone, side, z) };
  };
  const ends = [end('left'), end('right')];
  return { x: [ticks(x[0]), ticks(Math.max(x[0], x[1]))], steps, ends };
}

/** What is beyond the zone at this side: a neighbour's panel, the wall, or nothing. */
export function meets(zone: PlacedZone, side: SideName, z: readonly [Ticks, Ticks]): EndKind {
  const panels = panelsBeside(zone, side);
  if (panels && (panels.foot?.value ?? 0) < z[1] && z[0] < (panels.height?.value ?? Number.POSITIVE_INFINITY))
    return 'panel';
  return zone.ends(endOf(zone, side));
}

/** Panels of the neighbour that face the zone. */
export function panelsBeside(zone: PlacedZone, side: SideName): PanelsSpec | undefined {
  const at = endOf(zone, side);
  const beside = side === 'left' ? zone.run.endsAt.get(at) : zone.run.startsAt.get(at);
  const facing = side === 'left' ? 'right' : 'left';
  return beside?.fittings.find((f): f is PanelsSpec => f.kind === 'panels' && f.sides.includes(facing));
}

function endOf({ main: { from, width } }: PlacedZone, side: SideName): Ticks {
  return side === 'left' ? from.value : ticks(from.value + width.value);
}

/** How the zone's width came about: as stated, or from the wall where it takes what is left. */
function widthSteps(zone: PlacedZone, env: InZone, width: Ticks, wall: Ticks, at: Ticks): Step[] {
  const { spec } = zone;
  const { layout, surveyed, wall: wallSpec } = env;
  if (spec.width?.kind !== 'fill' || spec.wall === undefined) {
    return [{ kind: 'zone', amount: width, name: spec.path, place: spec.width?.place ?? spec.place }];
  }
  const inset = layout.inset;
  const taken = wall - inset.left - inset.right - width;
  const steps: Step[] = [
    {
      kind: 'wall',
      amount: wall,
      name: wallSpec.name,
      nominal: layout.nominal,
      surveyed,
      at: surveyed ? at : undefined,
      place: surveyed ? layout.lengthPlace : (wallSpec.length?.place ?? wallSpec.place),
    },
  ];
  if (inset.left > 0)
    steps.push({ kind: 'inset', amount: ticks(-inset.left), name: 'to its left', place: wallSpec.place });
  if (inset.right > 0)
    steps.push({ kind: 'inset', amount: ticks(-inset.right), name: 'to its right', place: wallSpec.place });
  if (taken !== 0)
    steps.push({
      kind: 'other-zones',
      amount: ticks(-taken),
      names: zone.run.zones.filter((z) => z !== spec).map((z) => `${z.kind} ${z.path}`),
      place: spec.width.place,
    });
  return steps;
}
