/**
 * The order in which patterns are cut, so that the saw's stop is set as seldom as may be.
 *
 * Convention: boards that are cut alike go through the saw together, length by length: the stop is set to the
 * longest, that one is cut from all of them, then to the next. So a way to cut costs one setting a length; one
 * fewer where its longest is the shortest of the boards before, since the stop stands there already.
 */
import type { Boards } from '../pack.ts';

/** All boards that are cut alike, of whatever kind: they go through the saw together. */
interface Batch {
  readonly boards: Boards[];
  /** Places of sizes: a smaller one is longer. */
  readonly first: number;
  readonly last: number;
}

/**
 * The same boards in the order of cutting; alike ones follow each other. No order needs fewer settings: a way to
 * cut is an arc from its longest to its shortest length, a run in which the stop always stands right is a trail,
 * and going through the lengths from the longest on, with every trail continued that can be, gives the fewest
 * trails. There are no circles but ways of one length, as the longest comes first in all of them.
 */
export function inOrder(boards: readonly Boards[]): Boards[] {
  const batches = batchesOf(boards);
  const starting = Map.groupBy(batches, ({ first }) => first);
  const lengths = [...new Set(batches.flatMap(({ first, last }) => [first, last]))].sort((a, b) => a - b);
  const trails: Batch[][] = [];
  const ending = new Map<number, Batch[][]>();
  for (const length of lengths) {
    const arriving = ending.get(length) ?? [];
    const leaving = starting.get(length) ?? [];
    // Ways of this length alone come in between.
    const loop = leaving.filter(({ last }) => last === length);
    const onward = leaving.filter(({ last }) => last !== length);
    const open = [...arriving];
    const next = (): Batch[] => {
      const known = open.shift();
      if (known) return known;
      const trail: Batch[] = [];
      trails.push(trail);
      return trail;
    };
    if (loop.length > 0) {
      const trail = next();
      trail.push(...loop);
      open.unshift(trail);
    }
    for (const batch of onward) {
      const trail = next();
      trail.push(batch);
      ending.set(batch.last, [...(ending.get(batch.last) ?? []), trail]);
    }
  }
  return trails.flat().flatMap((batch) => batch.boards);
}

/** How often the stop is set when boards are cut in this order. */
export function settingsOf(ordered: readonly Boards[]): number {
  let settings = 0;
  let before = '';
  let stop: number | undefined;
  for (const { parts } of ordered) {
    const cuts = parts.join(' ');
    if (cuts === before) continue;
    before = cuts;
    settings += parts.length - (parts[0]?.[0] === stop ? 1 : 0);
    stop = parts.at(-1)?.[0];
  }
  return settings;
}

/** Longest pieces first, and of those the most; in a batch, in the order of the kinds. */
function batchesOf(boards: readonly Boards[]): Batch[] {
  const alike = Map.groupBy(boards, ({ parts }) => parts.join(' '));
  return [...alike.values()]
    .map((own): Batch => {
      const parts = (own[0] as Boards).parts;
      const [first, last] = [parts[0]?.[0] ?? 0, parts.at(-1)?.[0] ?? 0];
      return { boards: own.sort((a, b) => a.kind - b.kind), first, last };
    })
    .sort((a, b) => compareParts((a.boards[0] as Boards).parts, (b.boards[0] as Boards).parts));
}

function compareParts(a: Boards['parts'], b: Boards['parts']): number {
  for (let index = 0; index < Math.min(a.length, b.length); index++) {
    const [one, two] = [a[index] as Boards['parts'][number], b[index] as Boards['parts'][number]];
    const difference = one[0] - two[0] || two[1] - one[1];
    if (difference !== 0) return difference;
  }
  return b.length - a.length;
}
