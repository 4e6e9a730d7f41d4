/**
 * The bounded knapsack, exactly: which pieces on a board are worth most, for every length of board at once.
 * Values are whole numbers below 2^53 in all sums, so that plain numbers are exact.
 */

/** So many of one size. */
export type Part = readonly [size: number, quantity: number];

export interface Knapsack {
  /**
   * Fills the table for these values; `most` says how many of each size there are. Returns it: the best
   * value for every capacity. The table is overwritten by the next call. `left`, where it is given, says what is
   * worth something when so much of a capacity is left, and must not fall.
   */
  solve(values: ArrayLike<number>, most: ArrayLike<number>, left?: Float64Array): Float64Array;
  /** The content that has the best value at a capacity, by the table as it was filled last; sizes ascend. */
  content(capacity: number): Part[];
  /** Cells that one call visits, at most: a measure of work. */
  readonly cells: number;
}

/** Weights are whole and at least 1; the capacity is the largest that will be asked for. */
export function createKnapsack(weights: ArrayLike<number>, capacity: number): Knapsack {
  const width = capacity + 1;
  const best = new Float64Array(width);
  const fullest = Math.max(1, ...Array.from(weights, (weight) => Math.floor(capacity / weight)));
  // How many of each size the best content holds, for every capacity.
  const cells = weights.length * width;
  const counts =
    fullest < 256 ? new Uint8Array(cells) : fullest < 65536 ? new Uint16Array(cells) : new Uint32Array(cells);
  /** The sizes that were worth anything, in the order of filling. */
  let used: number[] = [];

  function solve(values: ArrayLike<number>, most: ArrayLike<number>, left?: Float64Array): Float64Array {
    if (left) best.set(left);
    else best.fill(0);
    used = [];
    for (let size = 0; size < weights.length; size++) {
      const weight = weights[size] as number;
      const value = values[size] as number;
      const room = Math.floor(capacity / weight);
      let open = Math.min(most[size] as number, room);
      if (value <= 0 || open <= 0) continue;
      const row = counts.subarray(used.length * width, (used.length + 1) * width);
      used.push(size);
      row.fill(0);
      if (open === room) {
        for (let at = weight; at < width; at++) {
          const candidate = (best[at - weight] as number) + value;
          if (candidate > (best[at] as number)) {
            best[at] = candidate;
            row[at] = (row[at - weight] as number) + 1;
          }
        }
        continue;
      }
      // Bundles of 1, 2, 4, ... and the rest make every number up to the limit.
      for (let bundle = 1; open > 0; bundle *= 2) {
        const take = Math.min(bundle, open);
        open -= take;
        const heavy = take * weight;
        const worth = take * value;
        for (let at = width - 1; at >= heavy; at--) {
          const candidate = (best[at - heavy] as number) + worth;
          if (candidate > (best[at] as number)) {
            best[at] = candidate;
            row[at] = (row[at - heavy] as number) + take;
          }
        }
      }
    }
    return best;
  }

  function content(from: number): Part[] {
    const parts: Part[] = [];
    let at = from;
    for (let place = used.length - 1; place >= 0; place--) {
      const quantity = counts[place * width + at] as number;
      if (quantity === 0) continue;
      const size = used[place] as number;
      parts.push([size, quantity]);
      at -= quantity * (weights[size] as number);
    }
    return parts.reverse();
  }

  return { solve, content, cells };
}
