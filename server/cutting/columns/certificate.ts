/**
 * From duals to a bound that anybody can compute again. Whatever weights pieces are given, a board holds no
 * more weight than its best pattern does, by the exact knapsack; so the boards of a plan must hold the
 * weight of all its pieces, and the cheapest boards that do are a bound. With the duals of the linear
 * programme for weights it is the programme's own value or more, without trust in floating point.
 *
 * Source: A. A. Farley, "A note on bounding a class of linear programming problems, including cutting stock
 * problems", Operations Research 38, 1990 (from memory), taken further: limited stock and the rounding to
 * whole boards are part of the same sum.
 */
import { commonDivisor } from './space.ts';

/** What boards of a kind hold in weight, what one costs, and how many there are (Infinity: any number). */
export interface Holding {
  readonly holds: number;
  readonly cost: number;
  readonly count: number;
}

/** Cells of the table of whole boards, at most. */
const CELLS = 2 ** 21;

/**
 * The least cost of boards that hold `need`, or something below it; whole, as all that goes in. That no board is
 * bought in part is counted only where the cost with a part comes to `from`: it takes a table of all costs.
 */
export function leastCost(boards: readonly Holding[], need: bigint, from = 0): number {
  const useful = boards.filter(({ holds, count }) => holds > 0 && count > 0);
  const inParts = costInParts(useful, need);
  const step = useful.reduce((common, { cost }) => commonDivisor(common, cost), 0);
  if (step === 0) return inParts;
  const rounded = Math.ceil(inParts / step) * step;
  if (rounded < from) return rounded;
  return costOfWholeBoards(useful, need, rounded, step) ?? rounded;
}

/** The most that whole boards can cost below `cost`: nothing between the two is the cost of any plan. */
export function costBelow(boards: readonly Pick<Holding, 'cost' | 'count'>[], cost: number): number {
  const step = boards.reduce((common, board) => commonDivisor(common, board.cost), 0);
  if (step === 0) return cost - 1;
  const size = Math.ceil(cost / step);
  if (size > CELLS) return (size - 1) * step;
  // How many of the last kind the fewest take to come to a cost; -1 where nothing comes to it.
  const taken = new Int32Array(size).fill(-1);
  taken[0] = 0;
  for (const board of boards) {
    const units = board.cost / step;
    if (units === 0) continue;
    for (let at = 0; at < size; at++) {
      if ((taken[at] as number) >= 0) taken[at] = 0;
      else if (at >= units && (taken[at - units] as number) >= 0 && (taken[at - units] as number) < board.count)
        taken[at] = (taken[at - units] as number) + 1;
    }
  }
  return taken.findLastIndex((count) => count >= 0) * step;
}

/** The last board may be bought in part; rounded up to a whole cost. */
function costInParts(boards: readonly Holding[], need: bigint): number {
  const cheapest = [...boards].sort((a, b) =>
    Number(BigInt(a.cost) * BigInt(b.holds) - BigInt(b.cost) * BigInt(a.holds)),
  );
  let total = 0n;
  let left = need;
  for (const { holds, cost, count } of cheapest) {
    const held = count === Infinity ? left : BigInt(count) * BigInt(holds);
    const part = held < left ? held : left;
    total += (part * BigInt(cost) + BigInt(holds) - 1n) / BigInt(holds);
    left -= part;
    if (left === 0n) break;
  }
  return Number(total);
}

/**
 * The least cost of whole boards, by the most weight that each cost buys. Undefined when the table would be
 * too large, or weights too large to be added exactly.
 */
function costOfWholeBoards(boards: readonly Holding[], need: bigint, from: number, step: number): number | undefined {
  const dearest = boards.reduce((most, { cost }) => Math.max(most, cost), 0);
  const size = (from + dearest) / step + 1;
  const free = boards.filter(({ cost }) => cost === 0);
  if (free.some(({ count }) => count === Infinity)) return 0;
  // What all the money of the table buys at the best rate, beside what costs nothing: no sum is larger.
  const bought = boards.reduce(
    (most, { holds, cost }) => (cost === 0 ? most : Math.max(most, (holds / cost) * size * step)),
    0,
  );
  const given = free.reduce((sum, { holds, count }) => sum + holds * count, 0);
  if (size > CELLS || Number(need) + bought + given > 2 ** 52) return undefined;
  const held = new Float64Array(size).fill(given);
  for (const { holds, cost, count } of boards) {
    const units = cost / step;
    if (units === 0) continue;
    for (let bundle = 1, left = Math.min(count, Math.floor((size - 1) / units)); left > 0; bundle *= 2) {
      if (count >= Math.floor((size - 1) / units)) {
        for (let at = units; at < size; at++)
          held[at] = Math.max(held[at] as number, (held[at - units] as number) + holds);
        break;
      }
      const take = Math.min(bundle, left);
      left -= take;
      for (let at = size - 1; at >= take * units; at--) {
        held[at] = Math.max(held[at] as number, (held[at - take * units] as number) + take * holds);
      }
    }
  }
  for (let at = 0; at < size; at++) if ((held[at] as number) >= Number(need)) return at * step;
  return undefined;
}
