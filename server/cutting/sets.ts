/**
 * Matched sets as single lengths. What must lie on one board, one after another, takes up as much of it as one
 * piece that is as long as all of them with a cut between each two, so planners see no sets: only items.
 */
import { type Ticks, ticks } from '../model/ticks.ts';
import type { Cut, PlanRequest, Run } from './types.ts';

/** A piece, or a matched set as one length. */
export interface Item {
  /** Of the piece, or of the set. */
  readonly id: string;
  readonly material: string;
  readonly length: Ticks;
  readonly quantity: number;
  readonly group?: string | undefined;
  /** Of a set: its pieces in their order. */
  readonly runs?: readonly (Run & { readonly length: Ticks })[];
}

type Asked = Pick<PlanRequest, 'pieces' | 'sets' | 'saw'>;

/** Pieces that belong to no set as they are, then the sets. The request must be free of flaws (see request.ts). */
export function itemsOf({ pieces, sets = [], saw }: Asked): readonly Item[] {
  if (sets.length === 0) return pieces;
  const known = new Map(pieces.map((piece) => [piece.id, piece]));
  const inSets = new Set(sets.flatMap(({ runs }) => runs.map(({ piece }) => piece)));
  return [
    ...pieces.filter(({ id }) => !inSets.has(id)),
    ...sets.flatMap(({ id, runs, quantity }): Item[] => {
      const own = runs.flatMap((run) => {
        const piece = known.get(run.piece);
        return piece ? [{ ...run, length: piece.length, of: piece }] : [];
      });
      const [first] = own;
      if (!first) return [];
      const { material, group } = first.of;
      const length = own.reduce((sum, run) => sum + (run.length + saw.kerf) * run.quantity, -saw.kerf);
      return [{ id, material, group, length: ticks(length), quantity, runs: own.map(({ of: _, ...run }) => run) }];
    }),
  ];
}

/** The cuts that make so many of an item. */
export function cutsOf({ id, length, runs }: Item, quantity: number): Cut[] {
  if (!runs) return [{ piece: id, length, quantity }];
  return Array.from({ length: quantity }, () =>
    runs.map((run): Cut => ({ piece: run.piece, length: run.length, quantity: run.quantity, set: id })),
  ).flat();
}

/** How many of each length the patterns cut, a set as one. */
export function lengthsCut(
  request: Asked,
  patterns: readonly { readonly cuts: readonly Cut[]; readonly times: number }[],
): { length: Ticks; quantity: number }[] {
  const runsOf = new Map(request.sets?.map(({ id, runs }) => [id, runs.length]));
  const lengthOf = new Map(request.sets && itemsOf(request).map(({ id, length }) => [id, length]));
  const found = new Map<Ticks, number>();
  for (const { cuts, times } of patterns) {
    const runs = new Map<string, number>();
    for (const { length, quantity, set } of cuts) {
      if (set === undefined) found.set(length, (found.get(length) ?? 0) + quantity * times);
      else runs.set(set, (runs.get(set) ?? 0) + 1);
    }
    for (const [set, count] of runs) {
      const length = lengthOf.get(set) as Ticks;
      found.set(length, (found.get(length) ?? 0) + (count / (runsOf.get(set) as number)) * times);
    }
  }
  return [...found].map(([length, quantity]) => ({ length, quantity }));
}
