/**
 * From the linear programme to whole boards: what it uses whole times is taken, the fullest fraction is
 * rounded up, and the programme is solved again for what is left, until nothing is.
 */
import type { Content, Master } from './master.ts';
import { type Chosen, stillAsked } from './settle.ts';
import { correctedValues } from './values.ts';

/** The last so many boards are left to value correction. */
const LAST = 30;
/** While more boards are open than this, several fractions are rounded up at a time. */
const MANY = 40;
/** From so many sizes on, more of them: speed comes first there. */
const CROWD = 250;

/**
 * Yields ways to cut what is asked for, better and better where all goes well; they may hold too much or
 * too little (see settle.ts). Yields nothing where it only gives way. Different turns make different dives.
 * Leaves the programme asking for the rest: whoever goes on with it must ask anew.
 */
export function* dive(master: Master, turn: number, depths = Infinity): Generator<Chosen[] | undefined> {
  const { space } = master;
  const demand = space.sizes.map(({ quantity }) => quantity);
  const supply = new Float64Array(demand.length);
  const counts = space.kinds.map(({ count }) => count);
  const chosen: Chosen[] = [];
  const take = ({ kind, parts }: Content, times: number): void => {
    const most = Math.min(times, counts[kind] as number);
    if (most <= 0 || parts.length === 0) return;
    counts[kind] = (counts[kind] as number) - most;
    for (const [size, quantity] of parts) supply[size] = (supply[size] as number) + quantity * most;
    chosen.push({ kind, parts, times: most });
  };

  let ways = turn;
  let corrected = Infinity;
  for (let depth = 0; depth < depths; depth++) {
    const fractions: { content: Content; fraction: number; column: number }[] = [];
    let open = 0;
    for (const { column, value } of master.simplex.solution()) {
      const content = master.contentOf(column);
      if (!content || value < 1e-6) continue;
      const whole = Math.floor(value + 1e-6);
      if (whole > 0) take(content, whole);
      const fraction = value - whole;
      if (fraction > 1e-6) fractions.push({ content, fraction, column });
      open += Math.max(0, fraction);
    }
    let asked = stillAsked(demand, supply);
    yield [...chosen];
    if (!asked.some((count) => count > 0)) return;
    if (open < LAST && open < 0.7 * corrected) {
      corrected = open;
      for (const rest of correctedValues(master, asked, counts, depth === 0 ? 40 : 12)) yield [...chosen, ...rest];
    }
    if (fractions.length === 0) return;
    fractions.sort((a, b) => b.fraction - a.fraction || a.column - b.column);
    // The turn, in base 3, says how far from the first choice each depth goes.
    const skip = Math.min(ways % 3, fractions.length - 1);
    ways = Math.floor(ways / 3);
    const batch = open > MANY ? Math.ceil(fractions.length / (demand.length > CROWD ? 3 : 8)) : 1;
    const before = chosen.length;
    for (const { content, fraction } of fractions.slice(skip, skip + batch)) {
      if (batch > 1 && fraction < 0.4) break;
      take(clipped(content, asked), 1);
      asked = stillAsked(demand, supply);
    }
    if (chosen.length === before) return;
    yield* master.ask(asked, counts);
    for (let round = 0; round < 3; round++) {
      if (master.price(0, 4) === 0) break;
      yield* master.optimise(200 + demand.length);
    }
  }
}

/** As much of a content as is still asked for; where a size is not, the next shorter one that is. */
function clipped({ kind, parts }: Content, asked: ArrayLike<number>): Content {
  const held = new Map<number, number>();
  for (const [size, quantity] of parts) {
    let left = quantity;
    for (let other = size; other < asked.length && left > 0; other++) {
      const known = held.get(other) ?? 0;
      const most = Math.min(left, (asked[other] as number) - known);
      if (most > 0) held.set(other, known + most);
      left -= Math.max(0, most);
    }
  }
  return { kind, parts: [...held].sort((a, b) => a[0] - b[0]) };
}
