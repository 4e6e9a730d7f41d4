/** The takeoff as JSON: counts of all and of each group, what is missing, and the fixing schedule of each unit. */
import type { Fixing } from '../checks/fixings/fixing.ts';
import { fixingsFor } from '../checks/structure/needed.ts';
import type { Unit } from '../model/project.ts';
import type { Show } from '../model/show.ts';
import { type HardwareLine, packsOf, priceOf, type Takeoff, takeoffOf } from '../sheets/takeoff.ts';
import { lengthJson, moneyJson, type PathOf, projectHead } from './json.ts';
import { each } from './json-text.ts';
import type { Counted } from './takeoff-asked.ts';

export function takeoffJson({ chosen, units, groups, by, findings }: Counted, pathOf: PathOf): object {
  const { show, currency } = chosen.project.settings;
  const total = takeoffOf(units);
  const price = priceOf(total);
  return {
    ...projectHead(chosen, findings, pathOf),
    hardware: total.hardware.map((line) => ({ ...hardwareJson(line), ...boughtJson(line, currency) })),
    screws: screwsJson(total),
    price: price === undefined ? null : moneyJson(price, currency),
    missing: missingJson(total),
    by: by ?? null,
    groups: each(groups, (group) => {
      const own = takeoffOf(group.units);
      return {
        name: group.name ?? null,
        hardware: own.hardware.map(hardwareJson),
        screws: screwsJson(own),
        missing: missingJson(own),
      };
    }),
    units: each(units, (unit) => unitJson(unit, show)),
  };
}

function hardwareJson({ hardware, count, unsure }: HardwareLine): object {
  return { name: hardware.name, is: hardware.role ?? null, quantity: count, unsure };
}

function boughtJson(line: HardwareLine, currency: string | undefined): object {
  const { packs, price } = packsOf(line);
  return {
    packOf: line.hardware.pack?.count ?? null,
    packs: packs ?? null,
    price: price === undefined ? null : moneyJson(price, currency),
  };
}

function screwsJson({ screws }: Takeoff): object[] {
  return screws.map(({ size, count, for: takers }) => ({ size, quantity: count, for: takers }));
}

function missingJson({ missing }: Takeoff): object[] {
  return missing.map(({ unit, part, kind, named }) => ({ unit, part: part ?? null, kind, named }));
}

function unitJson(unit: Unit, show: Show): object {
  const layout = unit.resolved?.layout;
  return {
    name: unit.name,
    count: unit.count,
    resolved: layout !== undefined,
    fixings: layout ? fixingsFor({ layout, policy: unit.policy }).all.map((fixing) => fixingJson(fixing, show)) : [],
  };
}

function fixingJson({ part, hardware, role, wall, at, out, height, hold, shift, reason }: Fixing, show: Show): object {
  return {
    part,
    hardware: hardware.name,
    is: role,
    wall: wall ?? null,
    at: lengthJson(at, show),
    out: lengthJson(out, show),
    height: lengthJson(height, show),
    hold: hold.kind,
    stud: hold.kind === 'stud' ? lengthJson(hold.stud, show) : null,
    anchor: hold.kind === 'anchor' ? (hold.anchor?.name ?? null) : null,
    shift: lengthJson(shift, show),
    reason,
  };
}
