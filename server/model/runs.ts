/** Runs: zones along a wall, or along the inside of a zone, made ready to be placed; and what follows between two places. */
import { decidedChains, standingStill } from './chains.ts';
import { edgesOf } from './inside.ts';
import type { Range } from './layout.ts';
import type { Inside, Placed, PlacedResult, Run, Stretch } from './run.ts';
import { type Label, startLabel, widthLabel } from './run-labels.ts';
import { holes, lengthsOf } from './run-placement.ts';
import { type Show, showLength } from './show.ts';
import type { Defaults, ZoneSpec } from './spec.ts';
import { add, NONE, type Ticks, ticks } from './ticks.ts';

/** `defaults` are those of what the zones stand in: their panels may be of its board. */
export function runOf(zones: readonly ZoneSpec[], show: Show, defaults: Defaults = {}, mirrored = false): Run {
  const chains = decidedChains(zones);
  return {
    zones,
    chains,
    labels: new Map(zones.map((z) => [z, { width: widthLabel(z, show), start: startLabel(z, show) }])),
    still: new Set('kind' in chains ? [] : chains.flatMap(standingStill)),
    inside: new Map(zones.flatMap((z) => (z.zones.length > 0 ? [[z, insideOf(z, show, defaults, mirrored)]] : []))),
    isExact:
      !('kind' in chains) &&
      chains.every(({ anchor }) => anchor !== 'centred') &&
      zones.every(({ width }) => width?.kind === 'fixed' || width?.kind === 'fill'),
    mirrored,
  };
}

function insideOf(zone: ZoneSpec, show: Show, defaults: Defaults, mirrored: boolean): Inside {
  const run = runOf(zone.zones, show, { ...defaults, ...zone.defaults }, mirrored);
  const edges = edgesOf(zone, defaults, show);
  const lengths = lengthsOf(run);
  const { width } = zone;
  const never = lengths && 'kind' in lengths ? lengths : undefined;
  if (!lengths || 'kind' in lengths || !width) return { run, edges, needs: undefined, never, nearest: undefined };
  const least = add(lengths.least, edges.left, edges.right);
  const most = lengths.most === undefined ? undefined : add(lengths.most, edges.left, edges.right);
  const nearest =
    width.most !== undefined && width.most < least
      ? width.most
      : most !== undefined && most < width.least
        ? width.least
        : undefined;
  const says = (what: string, length: Ticks): Label => ({
    place: zone.place,
    text: `what stands inside ${zone.kind} ${zone.path} takes ${what} ${showLength(length, show)}`,
    parameters: [],
    role: 'inside',
  });
  return {
    run,
    edges,
    needs:
      nearest !== undefined || (most !== undefined && most < least)
        ? undefined
        : { least, most, labels: { least: says('at least', least), most: says('at most', most ?? NONE) } },
    never,
    nearest,
  };
}

/** A run that can be placed, on one of its lengths. */
export interface PlacedOn {
  readonly length: Ticks;
  readonly zones: ReadonlyMap<ZoneSpec, Placed>;
}

/**
 * Where a zone stands on a length between two on which an exact run can be placed; undefined where that does not
 * follow from them. The least place of an end is the greatest of sums of dimensions, in each of which the length of
 * the run is counted once or not at all: a convex function of the length whose slope is nowhere less than 0 or more
 * than 1. Where it has gained nothing from one length to the other, or all of the difference, it has done so throughout.
 */
export function placedBetween(
  { isExact }: Run,
  shorter: PlacedOn,
  longer: PlacedOn,
  length: Ticks,
  zone: ZoneSpec,
): { readonly from: Ticks; readonly width: Ticks } | undefined {
  const [a, b] = [shorter.zones.get(zone), longer.zones.get(zone)];
  if (!isExact || !a || !b || length < shorter.length || length > longer.length) return undefined;
  const whole = longer.length - shorter.length;
  const between = (low: number, high: number): number | undefined =>
    high === low ? low : high - low === whole ? low + (length - shorter.length) : undefined;
  const from = between(a.from.value, b.from.value);
  const to = between(a.from.value + a.width.value, b.from.value + b.width.value);
  return from === undefined || to === undefined ? undefined : { from: ticks(from), width: ticks(to - from) };
}

/** All of a run, where that follows from two lengths on which it can be placed; it is then what `placeRun` makes of it. */
export function placedRunBetween(
  run: Run,
  shorter: PlacedOn,
  longer: PlacedOn,
  { length, inset }: Pick<Stretch, 'length' | 'inset'>,
): PlacedResult | undefined {
  const zones = new Map<ZoneSpec, Placed>();
  for (const zone of run.zones) {
    const there = placedBetween(run, shorter, longer, length, zone);
    // What cannot stand otherwise on the two cannot in between: the greatest place of an end is a concave function.
    if (!there || !isFirm(shorter.zones.get(zone)) || !isFirm(longer.zones.get(zone))) return undefined;
    zones.set(zone, { from: firm(there.from), width: firm(there.width) });
  }
  return { kind: 'placed', zones, left: holes(zones, length, inset) };
}

function isFirm(placed: Placed | undefined): boolean {
  return (
    placed !== undefined &&
    [placed.from, placed.width].every(({ value, least, most }) => least === value && most === value)
  );
}

function firm(value: Ticks): Range {
  return { value, least: value, most: value };
}
