/** Matched sets: parts of one unit that are to come from one board, in the order in which they are written. */
import type { MatchedParts, Part } from './layout.ts';
import type { ZoneSpec } from './spec.ts';

/**
 * The sets of a unit, each of one material, in the order of their first parts. Walls change their order when a unit is
 * mirrored, and panels are placed before shelves; what is written does not change, so the template gives the order:
 * zone by zone, what stands in a zone before what stands in the zones inside it.
 */
export function matchedParts(parts: readonly Part[], zones: readonly ZoneSpec[]): MatchedParts[] {
  const own = parts.filter(({ matched }) => matched);
  if (own.length === 0) return [];
  const order = writtenOrder(zones);
  // A shelf of a row and a panel of a pair are named after the fitting: `tower.loose.2`, `tower.panels.left`.
  const placeOf = ({ path }: Part): number => order.get(path) ?? order.get(path.replace(/[.][^.]*$/, '')) ?? 0;
  const sorted = own.toSorted((a, b) => placeOf(a) - placeOf(b));
  return [...Map.groupBy(sorted, ({ matched, material }) => `${matched?.set} ${material}`).values()].flatMap(
    (together) => {
      const [first] = together;
      if (!first?.matched || together.length === 1) return [];
      return [{ set: first.matched.set, material: first.material, parts: together }];
    },
  );
}

function writtenOrder(zones: readonly ZoneSpec[]): Map<string, number> {
  const order = new Map<string, number>();
  const visit = (zone: ZoneSpec): void => {
    for (const { name } of zone.fittings) order.set(`${zone.path}.${name}`, order.size);
    zone.zones.forEach(visit);
  };
  zones.forEach(visit);
  return order;
}
