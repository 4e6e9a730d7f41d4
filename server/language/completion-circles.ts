/** What is placed from what: a name that would lead back to what is being written is not offered. */
import type { Statement } from '../../grammar/tree.ts';
import type { Declared } from '../model/names.ts';
import { dotted, pathIn, type Reading, readingAt, says } from '../model/reading.ts';
import { heightFittings } from './meaning.ts';
import type { Snapshot } from './snapshot.ts';
import { lineageAt } from './target.ts';
import { thingAt, thingsWithin } from './things.ts';

const starts = ['after', 'before', 'from', 'centred'] as const;

/** A zone, and those that stand beside it or beside one that does. */
export function zonesFrom(
  lineage: readonly Declared[],
  zones: readonly string[],
  names: readonly string[],
  own: string,
): ReadonlySet<string> {
  const standing = new Map<string, string[]>();
  for (const name of names) {
    const beside = besideOf(lineage, [...zones, name]);
    if (beside !== undefined) standing.set(beside, [...(standing.get(beside) ?? []), name]);
  }
  const found = new Set([own]);
  for (const name of found) for (const next of standing.get(name) ?? []) found.add(next);
  return found;
}

/** The zone that another one is said to stand after or before. */
function besideOf(lineage: readonly Declared[], path: readonly string[]): string | undefined {
  const heads: readonly Reading[] = thingAt(lineage, path, 'zone')?.heads ?? [];
  const start = heads.find((head) => starts.some((word) => says(head, word)));
  const beside = start && (pathIn(start, 'after') ?? pathIn(start, 'before'));
  return beside && dotted(beside);
}

/** The fittings that stand on the other side of the one that is being placed, by what is said of it and of them. */
export function fittingsBeyond(
  snapshot: Snapshot,
  trail: readonly Statement[],
  zone: readonly string[],
  own: string,
): Set<string> {
  const word = trail.at(-1)?.word.text;
  if (word !== 'under' && word !== 'above') return new Set();
  const beyond = new Map<string, string[]>();
  for (const { name } of fittingsIn(snapshot, trail, zone)) {
    for (const { of, is } of placedFrom(snapshot, trail, [...zone, name])) {
      // Under this one is what is said to be under it, and what it is said to be above; above it, the other way round.
      const [from, to] = is === word ? [of, name] : [name, of];
      beyond.set(from, [...(beyond.get(from) ?? []), to]);
    }
  }
  const found = new Set<string>();
  const visit = (name: string): void => {
    for (const next of beyond.get(name) ?? []) {
      if (found.has(next)) continue;
      found.add(next);
      visit(next);
    }
  };
  visit(own);
  return found;
}

function fittingsIn(snapshot: Snapshot, trail: readonly Statement[], zone: readonly string[]): { name: string }[] {
  return thingsWithin(lineageAt(snapshot, trail), zone).filter(
    ({ group, reading }) => group === 'fitting' && heightFittings.has(reading.word),
  );
}

interface Placed {
  readonly is: 'under' | 'above';
  readonly of: string;
}

const heights: ReadonlySet<string> = new Set(['at', 'under', 'above']);

/** From what a fitting is placed, without the statement that is being written. */
function placedFrom(snapshot: Snapshot, trail: readonly Statement[], path: readonly string[]): Placed[] {
  const thing = thingAt(lineageAt(snapshot, trail), path, 'fitting', heightFittings);
  if (!thing) return [];
  const place = thing.heads[0].entry.block;
  const said = overridingHeights(trail[0], path.join('.'));
  const readings = said
    ? said.flatMap((statement) => (place && readingAt(statement, place)) ?? [])
    : ['under', 'above'].flatMap((word) => sayingFirst(thing.heads, word));
  return readings.flatMap(({ word, statement, slots: { of } }): Placed[] => {
    const [item] = of ?? [];
    if (statement === trail.at(-1) || item?.kind !== 'path' || (word !== 'under' && word !== 'above')) return [];
    return [{ is: word, of: dotted(item) }];
  });
}

/** Of what extends a template, the nearest that says a word is the one that counts. */
function sayingFirst(heads: readonly Reading[], word: string): readonly Reading[] {
  const found = heads.map((head) => head.children.filter((child) => child.word === word));
  return found.find((children) => children.length > 0) ?? [];
}

/** The heights that a unit gives something by an override, which take the place of all that its template says. */
function overridingHeights(top: Statement | undefined, path: string): Statement[] | undefined {
  if (top?.word.text !== 'unit') return undefined;
  const found = (top.block?.children ?? []).flatMap(({ word, items: [first], block }) => {
    if (word.text !== 'override' || first?.kind !== 'path' || dotted(first) !== path) return [];
    const said = (block?.children ?? []).filter((child) => heights.has(child.word.text));
    return said.length > 0 ? [said] : [];
  });
  return found.at(-1);
}
