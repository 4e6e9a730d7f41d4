/**
 * The takeoff: hardware, anchors and screws that units need, counted from their fixing schedules, with the packs
 * to buy. What has no hardware is listed, never taken for nothing.
 */
import type { Fixing } from '../checks/fixings/fixing.ts';
import { fixingsFor } from '../checks/structure/needed.ts';
import type { FittingLayout } from '../model/layout.ts';
import type { Hardware } from '../model/materials.ts';
import { memo } from '../model/memo.ts';
import type { Unit } from '../model/project.ts';

/** So many on one part of one unit, counts of units multiplied out. */
export interface Use {
  readonly unit: string;
  readonly part: string;
  readonly count: number;
}

export interface HardwareLine {
  readonly hardware: Hardware;
  readonly count: number;
  /** Of the count: anchors for walls whose studs are not stated, where studs may save them. */
  readonly unsure: number;
  readonly uses: readonly Use[];
}

export interface ScrewLine {
  /** As written: `#8 x 1-1/2 in`. */
  readonly size: string;
  readonly count: number;
  /** Names of the hardware that takes it. */
  readonly for: readonly string[];
  readonly uses: readonly Use[];
}

/** A part that nothing holds, or that names hardware of which nothing is known. */
export interface Missing {
  readonly unit: string;
  /** Undefined for a unit that cannot be worked out. */
  readonly part: string | undefined;
  readonly kind: FittingLayout['kind'] | 'unit';
  /** Hardware that is named for it and does not say what it does. */
  readonly named: readonly string[];
}

export interface Takeoff {
  /** By role, then by name. */
  readonly hardware: readonly HardwareLine[];
  /** By size as written. */
  readonly screws: readonly ScrewLine[];
  readonly missing: readonly Missing[];
}

const roles = ['support', 'bracket', 'hook', 'cup', 'tie', 'pin', 'cover', 'anchor'];

export function takeoffOf(units: Iterable<Unit>): Takeoff {
  const hardware = new Map<string, Counting<{ hardware: Hardware; unsure: number }>>();
  const screws = new Map<string, Counting<{ for: Set<string> }>>();
  const missing: Missing[] = [];
  for (const unit of units) {
    if (unit.count === 0) continue;
    const layout = unit.resolved?.layout;
    if (!layout) {
      missing.push({ unit: unit.name, part: undefined, kind: 'unit', named: [] });
      continue;
    }
    const fixings = fixingsFor({ layout, policy: unit.policy });
    const take = (of: Hardware, part: string, count: number, unsure: boolean): void => {
      const line = memo(hardware, of.name, () => ({ hardware: of, unsure: 0, count: 0, uses: [] }));
      add(line, unit, part, count);
      if (unsure) line.unsure += count * unit.count;
      for (const screw of of.screws) {
        if (screw.count === 0) continue;
        const size = screw.size.trim().replaceAll(/\s+/g, ' ');
        const own = memo(screws, size, () => ({ for: new Set<string>(), count: 0, uses: [] }));
        own.for.add(of.name);
        add(own, unit, part, count * screw.count);
      }
    };
    for (const fixing of fixings.all) {
      take(fixing.hardware, fixing.part, 1, false);
      const anchors = anchorsOf(fixing);
      if (anchors) take(anchors.hardware, fixing.part, anchors.count, fixing.hold.kind === 'not-known');
    }
    missing.push(...missingIn(unit.name, fixings.without, fixings.roleless));
  }
  return {
    hardware: [...hardware.values()].sort(
      (a, b) => rank(a.hardware) - rank(b.hardware) || byText(a.hardware.name, b.hardware.name),
    ),
    screws: [...screws]
      .map(([size, line]) => ({ ...line, size, for: [...line.for].sort(byText) }))
      .sort((a, b) => byText(a.size, b.size)),
    missing,
  };
}

type Counting<T> = T & { count: number; readonly uses: { unit: string; part: string; count: number }[] };

function add(line: Counting<unknown>, unit: Unit, part: string, count: number): void {
  line.count += count * unit.count;
  const last = line.uses.at(-1);
  if (last?.unit === unit.name && last.part === part) last.count += count * unit.count;
  else line.uses.push({ unit: unit.name, part, count: count * unit.count });
}

/** One for each screw into the wall, where no stud is met; also where nobody knows whether one is. */
function anchorsOf({ hold, hardware }: Fixing): { readonly hardware: Hardware; readonly count: number } | undefined {
  const anchor = hold.kind === 'anchor' ? hold.anchor : hold.kind === 'not-known' ? hardware.anchor : undefined;
  if (!anchor) return undefined;
  const screws = hardware.screws.reduce((sum, { count, into }) => sum + (into === 'wall' ? count : 0), 0);
  return { hardware: anchor, count: Math.max(1, screws) };
}

function missingIn(
  unit: string,
  without: readonly FittingLayout[],
  roleless: readonly { readonly fitting: FittingLayout; readonly hardware: Hardware }[],
): Missing[] {
  const parts = new Map<string, { kind: FittingLayout['kind']; named: string[] }>();
  for (const { path, kind } of without) parts.set(path, { kind, named: [] });
  for (const { fitting, hardware } of roleless)
    memo(parts, fitting.path, () => ({ kind: fitting.kind, named: [] })).named.push(hardware.name);
  return [...parts].map(([part, rest]) => ({ unit, part, ...rest }));
}

function rank({ role }: Hardware): number {
  return role === undefined ? roles.length : roles.indexOf(role);
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Packs to buy, whole ones, and what they cost; undefined where the hardware says no pack, or no price. */
export function packsOf({ hardware: { pack }, count }: HardwareLine): {
  readonly packs: number | undefined;
  /** Hundredths. */
  readonly price: number | undefined;
} {
  if (!pack) return { packs: undefined, price: undefined };
  const packs = Math.ceil(count / pack.count);
  return { packs, price: pack.price === undefined ? undefined : packs * pack.price };
}

/** What all packs cost, hundredths; undefined where one of them has no price. */
export function priceOf({ hardware }: Takeoff): number | undefined {
  let sum = 0;
  for (const line of hardware) {
    const { price } = packsOf(line);
    if (price === undefined) return undefined;
    sum += price;
  }
  return sum;
}

export type By = 'unit' | 'floor' | 'phase';

export interface Group {
  /** Undefined for units that say no floor, or no phase. */
  readonly name: string | undefined;
  readonly units: readonly Unit[];
}

/** In the order in which units are written. */
export function groupsOf(units: Iterable<Unit>, by: By): Group[] {
  return [...Map.groupBy(units, (unit) => (by === 'unit' ? unit.name : unit[by]))].map(([name, own]) => ({
    name,
    units: own,
  }));
}
