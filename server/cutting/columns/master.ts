/**
 * The linear programme over cutting patterns, with patterns made as they are needed (column generation).
 * Rows: as many of each size as are asked for, and of each limited kind of board no more than there are.
 *
 * Source: P. C. Gilmore and R. E. Gomory, "A linear programming approach to the cutting-stock problem",
 * Operations Research 9, 1961, and part II, 11, 1963; smoothing of duals after P. Wentges, International
 * Transactions in Operational Research 4, 1997 (all from memory).
 */
import { createKnapsack, type Knapsack, type Part } from './knapsack.ts';
import { createSimplex, type Simplex } from './simplex.ts';
import { costOfContent, type Space, worthOfUnits } from './space.ts';

/** Duals are used in whole numbers: so many to the cost of the dearest board. */
export const SCALE = 2 ** 34;
/** So many pivots, then others may have their turn. */
const PIVOTS = 150;
/** A column must save at least this much of the dearest board. */
const SAVING = 1e-7;

/** A way to cut a board. */
export interface Content {
  readonly kind: number;
  readonly parts: readonly Part[];
}

export interface Master {
  readonly space: Space;
  readonly simplex: Simplex;
  readonly knapsack: Knapsack;
  /** What the knapsack tables have cost so far, in cells visited, and the simplex in numbers. */
  work(): number;
  add(content: Content): number;
  /** Adds these contents and starts from a basis of them, as far as they are independent. */
  begin(contents: readonly Content[]): void;
  /** What a column stands for; undefined for pieces left uncut, surplus pieces, and boards left over. */
  contentOf(column: number): Content | undefined;
  /** Sets what is asked for and what boards there are, and brings the programme to its optimum again. */
  ask(demand: ArrayLike<number>, counts: ArrayLike<number>): Generator<undefined>;
  /** The same after columns have come, in so many pivots at most. Both give way now and then. */
  optimise(pivots: number): Generator<undefined>;
  /** The cost of the present optimum, in dearest boards. */
  value(): number;
  /**
   * Makes columns that may lower the cost, and returns how many. Smoothing takes duals that much of the way
   * to the best so far, 0 to 1; no column at 0 means the optimum.
   */
  price(smoothing: number, perKind: number): number;
  /** The duals of the present basis, in whole numbers. */
  wholeDuals(): Float64Array;
  /** The duals of the last pricing, in whole numbers. */
  weights(): Float64Array;
  /** The table of the last pricing: what a board holds at most in these weights, for every room. */
  table(): Float64Array;
  /** Says which weights are the best so far: smoothing stays near them. */
  keep(best: Float64Array): void;
}

export function createMaster(space: Space, demand: ArrayLike<number>): Master {
  const { sizes, kinds, weights, rooms } = space;
  const n = sizes.length;
  // What is left of a board counts in the knapsack like a piece that fills it.
  const left = worthOfUnits(space)?.map((worth) => Math.floor(worth * SCALE));
  const limited = kinds.flatMap((kind, place) => (kind.count === Infinity ? [] : [place]));
  const rowOf = new Map(limited.map((kind, index) => [kind, n + index]));
  const costs = kinds.map((kind) => kind.cost / space.dearest);
  const knapsack = createKnapsack(weights, rooms[0] as number);
  const longest = (kinds[0] as { room: number }).room;
  const simplex = createSimplex(n + limited.length, [
    // Leaving a piece uncut is dearer than any way to cut it.
    ...sizes.map(({ size }) => 10 + (1000 * size) / longest),
    ...limited.map(() => 0),
  ]);
  for (let row = 0; row < n; row++) simplex.add(0, [row], [-1], -1);
  // A long piece may be cut where a shorter one is asked for: then duals never fall where lengths rise.
  for (let row = 1; row < n; row++) simplex.add(0, [row - 1, row], [-1, 1], -1);

  let asked: ArrayLike<number> = demand;
  const most = new Float64Array(n);
  const whole: Float64Array = new Float64Array(n);
  let centre: Float64Array = new Float64Array(n);
  let tables = 0;
  let best: Float64Array = new Float64Array(0);

  const add = ({ kind, parts }: Content): number => {
    const rows = parts.map(([size]) => size);
    const entries = parts.map(([, quantity]) => quantity);
    const row = rowOf.get(kind);
    if (row !== undefined) {
      rows.push(row);
      entries.push(1);
    }
    return simplex.add(costOfContent(space, kind, parts), rows, entries, kind);
  };

  function* optimise(pivots: number): Generator<undefined> {
    for (let left = pivots; left > 0; left -= PIVOTS) {
      if (simplex.primal(PIVOTS)) return;
      yield undefined;
    }
  }

  return {
    space,
    simplex,
    knapsack,
    work: () => tables + simplex.work(),
    add,
    begin(contents) {
      if (contents.length > 0) simplex.start(contents.map(add));
    },
    contentOf(column) {
      const kind = simplex.tag(column);
      if (kind < 0) return undefined;
      const parts: Part[] = [];
      simplex.entries(column, (row, entry) => {
        if (row < n) parts.push([row, entry]);
      });
      return { kind, parts };
    },
    *ask(newDemand, counts) {
      asked = newDemand;
      simplex.setSide([...Array.from(newDemand), ...limited.map((kind) => counts[kind] as number)]);
      let state = simplex.dual(PIVOTS);
      for (let left = 500 + 20 * n; state === 'unfinished' && left > 0; left -= PIVOTS) {
        yield undefined;
        state = simplex.dual(PIVOTS);
      }
      // A basis from elsewhere may be good for neither method; the unit columns always are.
      if (state !== 'feasible') simplex.start([]);
      yield* optimise(500 + 2 * n);
    },
    optimise,
    value() {
      let total = 0;
      for (const { column, value } of simplex.solution()) total += simplex.cost(column) * value;
      return total;
    },
    price(smoothing, perKind) {
      const duals = simplex.duals();
      for (let size = 0; size < n; size++) {
        const dual = Math.max(0, duals[size] as number) * SCALE;
        const value = smoothing * (centre[size] as number) + (1 - smoothing) * dual;
        whole[size] = Math.floor(value);
        most[size] = asked[size] as number;
      }
      const table = knapsack.solve(whole, most, left);
      best = table;
      tables += knapsack.cells;
      let made = 0;
      const seen = new Set<string>();
      const offer = (kind: number, parts: readonly Part[]): void => {
        const room = rowOf.get(kind);
        let saved = -costOfContent(space, kind, parts) + (room === undefined ? 0 : (duals[room] as number));
        for (const [size, quantity] of parts) saved += (duals[size] as number) * quantity;
        if (saved <= SAVING) return;
        const key = `${kind} ${parts.join(' ')}`;
        if (seen.has(key)) return;
        seen.add(key);
        add({ kind, parts });
        made++;
      };
      for (let kind = 0; kind < kinds.length; kind++) {
        const room = rooms[kind] as number;
        offer(kind, knapsack.content(room));
        if (rowOf.has(kind) && kinds.length > 8) continue;
        // The best content with one given size in it, for the sizes where that is best.
        const least =
          ((costs[kind] as number) - (rowOf.has(kind) ? (duals[rowOf.get(kind) as number] as number) : 0)) * SCALE;
        const ranked: { size: number; worth: number }[] = [];
        for (let size = 0; size < n; size++) {
          const weight = weights[size] as number;
          if (weight > room || most[size] === 0) continue;
          const worth = (whole[size] as number) + (table[room - weight] as number);
          if (smoothing > 0 || worth > least) ranked.push({ size, worth });
        }
        ranked.sort((a, b) => b.worth - a.worth || a.size - b.size);
        for (const { size } of ranked.slice(0, perKind)) {
          const rest = knapsack.content(room - (weights[size] as number));
          const at = rest.findIndex(([other]) => other >= size);
          const found = at < 0 ? undefined : rest[at];
          if (found?.[0] === size) {
            if (found[1] >= (most[size] as number)) continue;
            rest[at] = [size, found[1] + 1];
          } else rest.splice(at < 0 ? rest.length : at, 0, [size, 1]);
          offer(kind, rest);
        }
      }
      return made;
    },
    wholeDuals: () =>
      simplex
        .duals()
        .slice(0, n)
        .map((dual) => Math.floor(Math.max(0, dual) * SCALE)),
    weights: () => whole,
    table: () => best,
    keep(best) {
      centre = best.slice();
    },
  };
}

/**
 * Weights in proportion to length, at the price by length of the board that would be bought last if pieces
 * could be broken anywhere: a first guess of the duals.
 */
export function lengthWeights({ sizes, kinds, dearest }: Space): Float64Array {
  let need = sizes.reduce((sum, { size, quantity }) => sum + size * quantity, 0);
  let price = 0;
  for (const { room, cost, count } of [...kinds].sort((a, b) => a.cost / a.room - b.cost / b.room)) {
    if (need <= 0) break;
    price = cost / room;
    need -= room * count;
  }
  return Float64Array.from(sizes, ({ size }) => Math.floor(((size * price) / dearest) * SCALE));
}
