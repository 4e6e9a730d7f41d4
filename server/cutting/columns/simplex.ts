/**
 * The revised simplex method for programmes whose columns come bit by bit: least cost, rows of equations,
 * variables of 0 or more.
 *
 * Source of the method: G. B. Dantzig, "Linear Programming and Extensions", 1963 (from memory); the ratio
 * test in two passes after P. M. J. Harris, Mathematical Programming 5, 1973 (from memory).
 *
 * What comes out is floating point and only guides the search: no bound is ever taken from it as it stands.
 */

import { createFactors } from './factors.ts';

const TINY = 1e-9;
/** Reduced costs above this are none. Costs are taken to be around 1. */
const PRICE = 1e-9;
/** So many pivots, then the basis is factored anew. */
const REFRESH = 64;

export interface Simplex {
  readonly rows: number;
  /** Work done so far, in numbers visited. */
  work(): number;
  columns(): number;
  /** Adds a column with these entries and returns its number. The first `rows` columns are the unit columns. */
  add(cost: number, rows: readonly number[], entries: readonly number[], tag: number): number;
  tag(column: number): number;
  cost(column: number): number;
  /** A basic column's cost may change as well; primal() must follow. */
  setCost(column: number, cost: number): void;
  entries(column: number, visit: (row: number, entry: number) => void): void;
  /** Sets the right-hand side; dual() must follow, and primal() where the costs have changed. */
  setSide(side: ArrayLike<number>): void;
  /** Minimises from a basis that is feasible. False when the limit of pivots is reached. */
  primal(limit: number): boolean;
  /** Makes the basis feasible again from one whose duals are, if anything is feasible. */
  dual(limit: number): 'feasible' | 'nothing feasible' | 'unfinished' | 'lost';
  duals(): Float64Array;
  /** The reduced cost of a column by the present duals. */
  reduced(column: number): number;
  /** The basic columns with their values at the true right-hand side. */
  solution(): { readonly column: number; readonly value: number }[];
  /** Starts from a basis of these columns, as far as they are independent. */
  start(columns: readonly number[]): void;
  /** Forgets the columns outside the basis that are dearer than this by the present duals, those with a tag below 0 aside. */
  forget(dearer: number): void;
}

/** The programme starts with a unit column for each row, at the given costs, and all of them basic. */
export function createSimplex(rows: number, unitCosts: ArrayLike<number>): Simplex {
  const factors = createFactors(rows);
  const basis = new Int32Array(rows);
  const values = new Float64Array(rows);
  const side = new Float64Array(rows);
  /** The side, shifted a little in each row by a different amount, so that ties are rare and pivots move on. */
  const shifted = new Float64Array(rows);
  const prices = new Float64Array(rows);
  const entering = new Float64Array(rows);
  const across = new Float64Array(rows);
  let column = growable();
  let work = 0;

  for (let row = 0; row < rows; row++) {
    column.push(unitCosts[row] as number, [row], [1], -1);
    basis[row] = row;
    column.place[row] = row;
  }
  refresh();

  const reduced = (j: number): number => {
    const { starts, index, entry, costs } = column;
    let cost = costs[j] as number;
    for (let at = starts[j] as number, end = starts[j + 1] as number; at < end; at++) {
      cost -= (prices[index[at] as number] as number) * (entry[at] as number);
    }
    return cost;
  };

  /** The column as the basis sees it, into `entering`. */
  const bringIn = (j: number): void => {
    entering.fill(0);
    const { starts, index, entry } = column;
    for (let at = starts[j] as number, end = starts[j + 1] as number; at < end; at++) {
      entering[index[at] as number] = entry[at] as number;
    }
    factors.solve(entering);
    work += factors.size();
  };

  /** A row of the inverse, into `across`. */
  const lookAlong = (row: number): void => {
    across.fill(0);
    across[row] = 1;
    factors.solveTransposed(across);
    work += factors.size();
  };

  /** Exchanges the basic column of a row for the one in `entering`, with the row in `across`. */
  const exchange = (row: number, j: number, price: number): void => {
    const pivot = entering[row] as number;
    const step = (values[row] as number) / pivot;
    const rise = price / pivot;
    for (let other = 0; other < rows; other++) {
      values[other] = (values[other] as number) - (entering[other] as number) * step;
      prices[other] = (prices[other] as number) + rise * (across[other] as number);
    }
    values[row] = step;
    factors.exchange(row, entering);
    work += 4 * rows;
    column.place[basis[row] as number] = -1;
    basis[row] = j;
    column.place[j] = row;
    if (factors.exchanges() >= REFRESH) refresh();
  };

  /** Factors the basis anew, and values and prices from it. */
  function refresh(): void {
    const replaced = factors.factor(column, basis);
    for (const { position } of replaced) column.place[basis[position] as number] = -1;
    for (const { position, row } of replaced) {
      basis[position] = row;
      column.place[row] = position;
    }
    work += 4 * factors.size() + rows * rows;
    values.set(shifted);
    factors.solve(values);
    for (let row = 0; row < rows; row++) prices[row] = column.costs[basis[row] as number] as number;
    factors.solveTransposed(prices);
  }

  function start(columns: readonly number[]): void {
    const chosen = [...new Set(columns)].slice(0, rows);
    for (let row = 0; row < rows; row++) column.place[basis[row] as number] = -1;
    // Unit columns fill the places that are left; the factoring exchanges those that depend on others.
    const used = new Set(chosen);
    for (let row = 0; chosen.length < rows; row++) if (!used.has(row)) chosen.push(row);
    for (let row = 0; row < rows; row++) {
      basis[row] = chosen[row] as number;
      column.place[chosen[row] as number] = row;
    }
    refresh();
  }

  /** The row that limits the entering column; -1 when none does. */
  const leavingRow = (): number => {
    let most = Infinity;
    for (let row = 0; row < rows; row++) {
      const rate = entering[row] as number;
      if (rate > TINY) most = Math.min(most, (Math.max(values[row] as number, 0) + TINY) / rate);
    }
    let chosen = -1;
    let largest = 0;
    for (let row = 0; row < rows; row++) {
      const rate = entering[row] as number;
      if (rate > TINY && rate > largest && Math.max(values[row] as number, 0) / rate <= most) {
        chosen = row;
        largest = rate;
      }
    }
    return chosen;
  };

  function primal(limit: number): boolean {
    const short = 24;
    for (let left = limit; left > 0; ) {
      // A short list of the best columns serves for several pivots.
      const list: { j: number; score: number }[] = [];
      let worst = 0;
      for (let j = 0, count = column.count(); j < count; j++) {
        if ((column.place[j] as number) >= 0) continue;
        const cost = reduced(j);
        if (cost >= -PRICE) continue;
        const score = (cost * cost) / (column.norms[j] as number);
        if (list.length === short && score <= worst) continue;
        let at = list.length < short ? list.length : short - 1;
        if (at === list.length) list.push({ j, score });
        for (; at > 0 && (list[at - 1] as { score: number }).score < score; at--)
          list[at] = list[at - 1] as { j: number; score: number };
        list[at] = { j, score };
        worst = (list.at(-1) as { score: number }).score;
      }
      work += column.length();
      if (list.length === 0) return true;
      for (let moved = true; moved && left > 0; ) {
        moved = false;
        let chosen = -1;
        let price = 0;
        let best = 0;
        for (const { j } of list) {
          if ((column.place[j] as number) >= 0) continue;
          const cost = reduced(j);
          const score = (cost * cost) / (column.norms[j] as number);
          if (cost < -PRICE && score > best) [chosen, price, best] = [j, cost, score];
        }
        if (chosen < 0) break;
        bringIn(chosen);
        const row = leavingRow();
        if (row < 0) return true;
        lookAlong(row);
        exchange(row, chosen, price);
        left--;
        moved = true;
      }
    }
    return false;
  }

  function dual(limit: number): 'feasible' | 'nothing feasible' | 'unfinished' | 'lost' {
    for (let left = limit; left > 0; left--) {
      let row = -1;
      for (let other = 0; other < rows; other++) {
        if ((values[other] as number) < (row < 0 ? -1e-7 : (values[row] as number))) row = other;
      }
      if (row < 0) return 'feasible';
      lookAlong(row);
      let chosen = -1;
      let least = Infinity;
      let steepest = 0;
      let price = 0;
      const { starts, index, entry } = column;
      for (let j = 0, count = column.count(); j < count; j++) {
        if ((column.place[j] as number) >= 0) continue;
        let rate = 0;
        for (let at = starts[j] as number, end = starts[j + 1] as number; at < end; at++) {
          rate += (across[index[at] as number] as number) * (entry[at] as number);
        }
        if (rate >= -TINY) continue;
        const cost = reduced(j);
        const ratio = Math.max(cost, 0) / -rate;
        if (ratio < least - 1e-12 || (ratio <= least + 1e-12 && rate < steepest)) {
          [chosen, least, steepest, price] = [j, Math.min(ratio, least), rate, cost];
        }
      }
      work += 2 * column.length() + rows;
      if (chosen < 0) return 'nothing feasible';
      bringIn(chosen);
      if (Math.abs(entering[row] as number) < TINY) return 'lost';
      exchange(row, chosen, price);
    }
    return 'unfinished';
  }

  return {
    rows,
    work: () => work,
    columns: () => column.count(),
    add: (cost, indices, entries, tag) => column.push(cost, indices, entries, tag),
    tag: (j) => column.tags[j] as number,
    cost: (j) => column.costs[j] as number,
    setCost(j, cost) {
      column.costs[j] = cost;
      if ((column.place[j] as number) >= 0) refresh();
    },
    entries(j, visit) {
      const { starts, index, entry } = column;
      for (let at = starts[j] as number, end = starts[j + 1] as number; at < end; at++) {
        visit(index[at] as number, entry[at] as number);
      }
    },
    setSide(amounts) {
      for (let row = 0; row < rows; row++) {
        side[row] = amounts[row] as number;
        // The golden ratio spreads the shifts.
        shifted[row] = (amounts[row] as number) + 1e-6 * (1 + ((row * 0.618033988749895) % 1));
      }
      refresh();
    },
    primal,
    dual,
    duals: () => prices.slice(),
    reduced,
    solution() {
      const exact = side.slice();
      factors.solve(exact);
      work += factors.size();
      return Array.from(basis, (j, row) => ({ column: j, value: exact[row] as number }));
    },
    start,
    forget(dearer) {
      const kept = growable();
      for (let j = 0, count = column.count(); j < count; j++) {
        const place = column.place[j] as number;
        if ((column.tags[j] as number) >= 0 && place < 0 && reduced(j) > dearer) continue;
        const from = column.starts[j] as number;
        const to = column.starts[j + 1] as number;
        const at = kept.push(
          column.costs[j] as number,
          Array.from(column.index.subarray(from, to)),
          Array.from(column.entry.subarray(from, to)),
          column.tags[j] as number,
        );
        kept.place[at] = place;
        if (place >= 0) basis[place] = at;
      }
      column = kept;
    },
  };
}

/** Columns one after another in long arrays that grow. */
function growable() {
  let size = 1024;
  let room = 8192;
  let count = 0;
  const columns = {
    starts: new Int32Array(size + 1),
    costs: new Float64Array(size),
    norms: new Float64Array(size),
    tags: new Int32Array(size),
    /** The row in which a column is basic, or -1. */
    place: new Int32Array(size),
    index: new Int32Array(room),
    entry: new Float64Array(room),
    count: () => count,
    length: () => columns.starts[count] as number,
    push(cost: number, rows: readonly number[], entries: readonly number[], tag: number): number {
      let at = columns.length();
      if (count + 1 >= size) {
        size *= 2;
        columns.starts = grown(columns.starts, new Int32Array(size + 1));
        columns.costs = grown(columns.costs, new Float64Array(size));
        columns.norms = grown(columns.norms, new Float64Array(size));
        columns.tags = grown(columns.tags, new Int32Array(size));
        columns.place = grown(columns.place, new Int32Array(size));
      }
      while (at + rows.length > room) {
        room *= 2;
        columns.index = grown(columns.index, new Int32Array(room));
        columns.entry = grown(columns.entry, new Float64Array(room));
      }
      let norm = 1;
      for (let k = 0; k < rows.length; k++) {
        columns.index[at] = rows[k] as number;
        columns.entry[at++] = entries[k] as number;
        norm += (entries[k] as number) ** 2;
      }
      columns.costs[count] = cost;
      columns.norms[count] = norm;
      columns.tags[count] = tag;
      columns.place[count] = -1;
      columns.starts[++count] = at;
      return count - 1;
    },
  };
  return columns;
}

function grown<T extends Int32Array | Float64Array>(from: T, to: T): T {
  to.set(from as Int32Array & Float64Array);
  return to;
}
