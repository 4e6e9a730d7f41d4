/** Chance that can be had again: one number begins it, and all that is drawn follows from that. */

export interface Random {
  /** A whole number from 0, below `below`; 0 where there is none. */
  readonly int: (below: number) => number;
  readonly chance: (of: number) => boolean;
  readonly pick: <T>(from: readonly T[]) => T;
}

/** Mulberry32: 32 bits of state, which is plenty for choosing edits, and a line long. */
export function randomFrom(seed: number): Random {
  let state = seed | 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  return {
    int: (below) => (below > 0 ? Math.floor(next() * below) : 0),
    chance: (of) => next() < of,
    pick: <T>(from: readonly T[]): T => {
      if (from.length === 0) throw new Error('nothing to pick from');
      return from[Math.floor(next() * from.length)] as T;
    },
  };
}
