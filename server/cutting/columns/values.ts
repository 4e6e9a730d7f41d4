/**
 * Sequential value correction: boards are filled one by one with what is worth most, and what ended on a
 * wasteful board is worth more in the next round. Good for the last boards, where rounding decides.
 *
 * Source: E. A. Mukhacheva, G. N. Belov and others, "Linear one-dimensional cutting-packing problems:
 * numerical experiments with the sequential value correction method", Pesquisa Operacional 20, 2000 (from
 * memory).
 */
import type { Part } from './knapsack.ts';
import type { Master } from './master.ts';
import type { Chosen } from './settle.ts';

/** Cells of knapsack tables that may be visited, in all rounds. */
const BUDGET = 6e7;

/**
 * Yields ways to cut what is asked for from these boards, one a round; not all of it where boards run out.
 */
export function* correctedValues(
  { space, knapsack }: Master,
  asked: ArrayLike<number>,
  counts: ArrayLike<number>,
  rounds: number,
): Generator<Chosen[]> {
  const { sizes, kinds, rooms } = space;
  const longest = (kinds[0] as { room: number }).room;
  const plain = sizes.map(({ size }) => (size / longest) ** 1.02);
  const values = [...plain];
  const total = Array.from(asked);
  const whole = new Float64Array(sizes.length);
  let budget = BUDGET;
  for (let round = 0; round < rounds && budget > 0; round++) {
    const open = Float64Array.from(asked);
    const left = Array.from(counts);
    const boards: Chosen[] = [];
    for (;;) {
      let distinct = 0;
      for (let size = 0; size < sizes.length; size++) {
        whole[size] = Math.floor((values[size] as number) * 2 ** 30);
        if ((open[size] as number) > 0) distinct++;
      }
      if (distinct === 0) break;
      const table = knapsack.solve(whole, open);
      budget -= distinct * (rooms[0] as number);
      let kind = -1;
      let ratio = 0;
      for (let each = 0; each < kinds.length; each++) {
        if ((left[each] as number) < 1) continue;
        const { cost } = kinds[each] as { cost: number };
        // A board that costs nothing is taken first, the one that is filled best of those.
        const fill = (table[rooms[each] as number] as number) / (rooms[each] as number);
        const worth = cost === 0 ? 1e12 * fill : (table[rooms[each] as number] as number) / cost;
        if (worth > ratio) [kind, ratio] = [each, worth];
      }
      if (kind < 0) break;
      const parts = knapsack.content(rooms[kind] as number);
      let times = left[kind] as number;
      let used = 0;
      for (const [size, quantity] of parts) {
        times = Math.min(times, Math.floor((open[size] as number) / quantity));
        used += (sizes[size] as { size: number }).size * quantity;
      }
      for (const [size, quantity] of parts) open[size] = (open[size] as number) - quantity * times;
      left[kind] = (left[kind] as number) - times;
      boards.push({ kind, parts, times });
      correct(values, plain, parts, times, total, (kinds[kind] as { room: number }).room / used);
    }
    yield boards;
  }
}

/** Values follow the waste of the board; those of sizes of which it took a large share, faster. */
function correct(
  values: number[],
  plain: readonly number[],
  parts: readonly Part[],
  times: number,
  total: readonly number[],
  waste: number,
): void {
  for (const [size, quantity] of parts) {
    const share = (quantity * times) / (total[size] as number);
    const weight = 0.15 + 0.5 * share;
    values[size] = (1 - weight) * (values[size] as number) + weight * (plain[size] as number) * waste ** 1.5;
  }
}
