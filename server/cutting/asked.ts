/** Parts gathered into the pieces and matched sets of a request: what is equal goes together, with where it comes from. */
import type { Place } from '../../grammar/tree.ts';
import type { Part } from '../model/layout.ts';
import type { MatchedSet, Piece, Run } from './types.ts';

/** One of the places that equal pieces come from. */
export interface Origin {
  readonly place: Place;
  /** For people: `A-101 and 11 like it` where units share one layout. */
  readonly unit: string;
  /** The names of all these units; that of the loose part for one. */
  readonly units: readonly string[];
  readonly path: string;
  /** How many of the piece this place asks for. */
  readonly quantity: number;
}

/** What a matched set of the request is called, and the statement that first says so. */
export interface MatchedName {
  readonly name: string;
  readonly place: Place;
}

/** A part, or so many alike one after another. */
export interface Member extends Omit<Origin, 'path' | 'quantity'> {
  readonly part: Part;
  readonly each: number;
}

export interface Asked {
  /** So many of a part, each from any board. */
  readonly piece: (member: Member, count: number) => void;
  /** So many sets of these, each from one board. */
  readonly set: (members: readonly Member[], count: number) => void;
  readonly pieces: () => Piece[];
  readonly sets: () => MatchedSet[];
  readonly origins: ReadonlyMap<string, readonly Origin[]>;
  readonly matched: ReadonlyMap<string, MatchedName>;
}

/** The piece that a part is one of, where it is in no matched set. */
export function pieceId({ material, length }: Pick<Part, 'material' | 'length'>): string {
  return `${material} ${length}`;
}

export function createAsked(): Asked {
  const pieces = new Map<string, Piece>();
  const sets = new Map<string, MatchedSet>();
  const origins = new Map<string, Origin[]>();
  const matched = new Map<string, MatchedName>();
  const comeFrom = (id: string, { place, unit, units, part }: Member, quantity: number): void => {
    const known = origins.get(id);
    const origin = { place, unit, units, path: part.path, quantity };
    if (known) known.push(origin);
    else origins.set(id, [origin]);
  };
  const add = (id: string, member: Member, quantity: number): void => {
    const { material, length } = member.part;
    const known = pieces.get(id);
    pieces.set(id, { id, material, length, quantity: (known?.quantity ?? 0) + quantity });
    comeFrom(id, member, quantity);
  };
  return {
    piece(member, count) {
      if (count > 0) add(pieceId(member.part), member, count);
    },
    set(members, count) {
      const [first] = members;
      if (!first || count === 0) return;
      const lengths = runsOf(members.map(({ part, each }) => ({ piece: String(part.length), quantity: each })));
      const inWords = lengths.map(({ piece, quantity }) => (quantity === 1 ? piece : `${quantity} x ${piece}`));
      const id = `${first.part.material} matched ${inWords.join(' + ')}`;
      const runs = lengths.map(({ piece, quantity }) => ({ piece: `${id}: ${piece}`, quantity }));
      sets.set(id, { id, runs, quantity: (sets.get(id)?.quantity ?? 0) + count });
      for (const member of members) {
        add(`${id}: ${member.part.length}`, member, member.each * count);
        comeFrom(id, member, count);
      }
      const { matched: named } = first.part;
      if (named && !matched.has(id)) matched.set(id, { name: named.set, place: named.place });
    },
    pieces: () => [...pieces.values()],
    sets: () => [...sets.values()],
    origins,
    matched,
  };
}

/** Equal neighbours are one run. */
function runsOf(each: readonly Run[]): Run[] {
  const runs: Run[] = [];
  for (const run of each) {
    const last = runs.at(-1);
    if (last?.piece === run.piece) runs[runs.length - 1] = { ...last, quantity: last.quantity + run.quantity };
    else runs.push(run);
  }
  return runs;
}
