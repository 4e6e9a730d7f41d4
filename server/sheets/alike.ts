/** Units whose parts are cut alike, so that a hundred equal closets are one list. */
import type { Part } from '../model/layout.ts';
import { calledInProject } from '../model/names.ts';
import type { Unit } from '../model/project.ts';

/**
 * Groups of units with the same template and the same parts, in the order of their first units. With `steps`
 * the lengths must also have come about alike, as they do not where one of two equal walls was measured.
 */
export function unitsAlike(units: Iterable<Unit>, steps = false): Unit[][] {
  const keys = new Map<readonly Part[], string>();
  const keyOf = (parts: readonly Part[]): string => {
    // Units with equal inputs share one list of parts, which is then looked at once.
    const key = keys.get(parts) ?? keyOfParts(parts, steps);
    keys.set(parts, key);
    return key;
  };
  const groups = Map.groupBy(units, ({ info, resolved, count }) =>
    JSON.stringify([
      info && calledInProject(info.declared),
      count === 0,
      resolved === undefined ? undefined : keyOf(resolved.layout.parts),
    ]),
  );
  return [...groups.values()];
}

/** A mirrored unit has its parts in another order; those of one path are compared with each other. */
function keyOfParts(parts: readonly Part[], steps: boolean): string {
  const inOrder = parts.toSorted((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  return JSON.stringify(inOrder.map((part) => facts(part, steps)));
}

function facts({ path, kind, material, length, depth, thickness, steps }: Part, withSteps: boolean): unknown[] {
  // Where a step is written does not matter, and a place leads to the whole tree.
  const derivation = withSteps ? steps.map((step) => ({ ...step, place: undefined })) : [];
  return [path, kind, material, length, depth, thickness, derivation];
}
