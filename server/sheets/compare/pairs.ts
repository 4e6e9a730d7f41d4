/** Which thing of one layout is which of another, whatever it is called there. */
import type { FittingLayout, Layout, OpeningLayout, WallLayout, ZoneLayout } from '../../model/layout.ts';

type FixtureLayout = Layout['fixtures'][number];

interface Pairs<T> {
  readonly both: readonly (readonly [T, T])[];
  readonly gone: readonly T[];
  readonly added: readonly T[];
}

/** By their names; what is left over by what they are, as things that have another name. */
export function paired<T>(
  before: readonly T[],
  after: readonly T[],
  nameOf: (thing: T) => string,
  likeness: (thing: T) => string,
): Pairs<T> {
  const both: [T, T][] = [];
  const byName = Map.groupBy(after, nameOf);
  const gone: T[] = [];
  for (const one of before) {
    const other = byName.get(nameOf(one))?.shift();
    if (other === undefined) gone.push(one);
    else both.push([one, other]);
  }
  const left = [...byName.values()].flat();
  const byLikeness = Map.groupBy(left, likeness);
  const stillGone = gone.filter((one) => {
    const other = byLikeness.get(likeness(one))?.shift();
    if (other === undefined) return true;
    both.push([one, other]);
    return false;
  });
  const added = new Set([...byLikeness.values()].flat());
  return { both, gone: stillGone, added: left.filter((one) => added.has(one)) };
}

export function pairedWalls(before: Layout, after: Layout): Pairs<WallLayout> {
  return paired(
    before.walls,
    after.walls,
    ({ name }) => name,
    ({ length, height, studs }) => [length, height, studs].join(),
  );
}

export function pairedOpenings(before: Layout, after: Layout): Pairs<OpeningLayout> {
  return paired(
    before.openings,
    after.openings,
    ({ name }) => name,
    ({ from, width, height, leaf }) =>
      [from, width, height, leaf.kind, ...(leaf.kind === 'swing' ? [leaf.way, leaf.hinge] : [])].join(),
  );
}

export function pairedFixtures(before: Layout, after: Layout): Pairs<FixtureLayout> {
  return paired(
    before.fixtures,
    after.fixtures,
    ({ name }) => name,
    ({ kind, box }) => [kind, box.x, box.y, box.z].join(),
  );
}

export function pairedZones(before: Layout, after: Layout): Pairs<ZoneLayout> {
  return paired(
    before.zones,
    after.zones,
    ({ path }) => path,
    ({ wall, from, width }) => [wall, from.value, width.value].join(),
  );
}

export function pairedFittings(before: Layout, after: Layout): Pairs<FittingLayout> {
  const fittingsIn = ({ zones }: Layout): FittingLayout[] => zones.flatMap(({ fittings }) => fittings);
  return paired(
    fittingsIn(before),
    fittingsIn(after),
    ({ path }) => path,
    ({ kind, wall, box }) => [kind, wall, box.x, box.y, box.z].join(),
  );
}

/** Paths that are others afterwards, of one and the same thing: those that findings are about. */
export function renamedPaths(before: Layout, after: Layout): ReadonlyMap<string, string> {
  const paths = new Map<string, string>();
  const say = (old: string, now: string): void => {
    if (old === now || paths.has(old)) return;
    paths.set(old, now);
    // Of the shelves of a row it is the row that has another name, of what stands in a zone mostly the zone.
    const [last, own] = [old.lastIndexOf('.'), now.lastIndexOf('.')];
    if (last > 0 && own > 0 && old.slice(last) === now.slice(own)) say(old.slice(0, last), now.slice(0, own));
  };
  for (const [a, b] of pairedZones(before, after).both) say(a.path, b.path);
  for (const [a, b] of pairedFittings(before, after).both) say(a.path, b.path);
  for (const pairs of [pairedWalls, pairedOpenings, pairedFixtures])
    for (const [a, b] of pairs(before, after).both) say(a.name, b.name);
  return paths;
}
