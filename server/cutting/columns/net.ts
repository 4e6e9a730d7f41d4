/**
 * Bounds where what is left of a board is worth something: what boards cost, less that. With weights for the pieces
 * and one for each minor unit of value, a board holds no more in pieces and value together than its best pattern
 * does (`along`). So of whole boards that hold all pieces, what `along` comes to beyond their weight is the most
 * that what is left of them can be worth. Any weights make a valid bound.
 *
 * Source: the argument of Farley (see certificate.ts), carried over to what is left.
 */
import { commonDivisor } from './space.ts';

/** Boards of a kind: what one costs, holds in weight of pieces, and holds in pieces and value together. */
export interface Along {
  readonly holds: number;
  readonly along: number;
  readonly cost: number;
  /** Infinity: any number. */
  readonly count: number;
}

/** Cells of the tables of whole boards, at most. */
const CELLS = 2 ** 19;

/** For each kind and number of units filled: what is left can be worth at the most; undefined where nothing ever is. */
export function valuesLeft(
  all: readonly { readonly room: number; readonly worth?: (left: number) => number }[],
  rooms: readonly number[],
  grid: number,
): Float64Array[] | undefined {
  if (!all.some(({ worth }) => worth)) return undefined;
  return all.map(({ room, worth }, kind) =>
    Float64Array.from(
      { length: Math.max(0, rooms[kind] as number) + 1 },
      (_, filled) => worth?.(room - filled * grid) ?? 0,
    ),
  );
}

/** The best bound that weights prove, with the weight of a minor unit that proves it. `table` holds pieces only. */
export function netOfWeights(
  boards: readonly { readonly holds: number; readonly cost: number; readonly count: number }[],
  values: readonly Float64Array[],
  table: Float64Array,
  need: bigint,
  usual: number,
): { cost: number; worth: number } {
  const there = boards.flatMap((board, kind) =>
    board.count > 0 ? [{ ...board, values: values[kind] as Float64Array }] : [],
  );
  let best = { cost: 0, worth: 1 };
  for (const worth of candidates(there, table, usual)) {
    const cost = leastNet(
      there.map(({ values, ...board }) => ({ ...board, along: mostAlong(values, table, worth) })),
      need,
      worth,
    );
    if (cost > best.cost) best = { cost, worth };
  }
  return best;
}

export function mostAlong(values: Float64Array, table: Float64Array, worth: number): number {
  let most = 0;
  for (let filled = 0; filled < values.length; filled++)
    most = Math.max(most, (table[filled] as number) + worth * (values[filled] as number));
  return most;
}

/**
 * Weights of a minor unit that are worth trying: the least at which no board of which there is any number holds
 * more than it costs; that of the linear programme; the most at which a full board still holds the most, so that
 * little can be left of few boards; and one between.
 */
function candidates(
  boards: readonly {
    readonly holds: number;
    readonly cost: number;
    readonly count: number;
    readonly values: Float64Array;
  }[],
  table: Float64Array,
  usual: number,
): Set<number> {
  let least = 0;
  let tight = Infinity;
  let dearest = 1;
  for (const { holds, cost, count, values } of boards) {
    for (let filled = 0; filled < values.length; filled++) {
      const value = values[filled] as number;
      const held = table[filled] as number;
      dearest = Math.max(dearest, value);
      if (count === Infinity && cost > value) least = Math.max(least, held / (cost - value));
      if (value > 0 && holds > 0) tight = Math.min(tight, (holds - held) / value);
    }
  }
  const from = Math.max(1, Math.ceil(least));
  const found = new Set([from, Math.max(from, Math.ceil(usual))]);
  if (tight > from && tight < 2 ** 45) found.add(Math.floor(tight)).add(Math.ceil(Math.sqrt(from * tight)));
  // What a board holds along must be exact.
  return new Set([...found].filter((worth) => worth * dearest < 2 ** 52));
}

/** The least that boards holding `need` cost, less what is left of them can be worth; whole, as all that goes in. */
export function leastNet(boards: readonly Along[], need: bigint, worth: number): number {
  const inParts = netInParts(boards, need, BigInt(worth));
  if (inParts === undefined) return 0;
  const whole = netOfWholeBoards(boards, need, worth, inParts.beyond);
  const least = whole !== undefined && whole > inParts.cost ? whole : inParts.cost;
  return least > 0n ? Number(least) : 0;
}

interface InParts {
  readonly cost: bigint;
  /** The same for boards that cost at least so much before anything is taken off; nothing where there is no such plan. */
  readonly beyond: (price: number) => bigint | undefined;
}

/**
 * Boards may be taken in part. Each costs what is not covered by what it holds: those that cost less than nothing
 * are all taken. Undefined where there is any number of such.
 */
function netInParts(boards: readonly Along[], need: bigint, worth: bigint): InParts | undefined {
  const priced = boards.map((board) => ({
    ...board,
    holds: BigInt(board.holds),
    price: BigInt(board.cost),
    net: worth * BigInt(board.cost) - BigInt(Math.ceil(board.along)),
  }));
  const paying = priced.filter(({ net }) => net < 0n);
  if (paying.some(({ count }) => count === Infinity)) return undefined;
  let total = 0n;
  let left = need;
  let paid = 0n;
  for (const { net, count, holds, price } of paying) {
    total += net * BigInt(count);
    left -= holds * BigInt(count);
    paid += price * BigInt(count);
  }
  const free = total;
  const others = priced.filter(({ net, holds }) => net >= 0n && holds > 0n);
  for (const { holds, net, count } of others.sort((a, b) => Number(a.net * b.holds - b.net * a.holds))) {
    if (left <= 0n) break;
    const held = count === Infinity ? left : BigInt(count) * holds;
    const part = held < left ? held : left;
    total += (part * net + holds - 1n) / holds;
    left -= part;
  }
  return {
    cost: dividedUp(total + need, worth),
    beyond: (price) => {
      const costly = priced.filter((board) => board.net >= 0n && board.price > 0n);
      const over = BigInt(price) > paid ? BigInt(price) - paid : 0n;
      let least: bigint | undefined;
      for (const board of costly) {
        const each = (board.net * over) / board.price;
        if (least === undefined || each < least) least = each;
      }
      if (least === undefined) return over > 0n ? undefined : dividedUp(free + need, worth);
      return dividedUp(free + least + need, worth);
    },
  };
}

/** Whole boards, by all prices that they can come to. Undefined where the tables would be too large. */
function netOfWholeBoards(
  boards: readonly Along[],
  need: bigint,
  worth: number,
  beyond: InParts['beyond'],
): bigint | undefined {
  const step = boards.reduce((common, { cost }) => commonDivisor(common, cost), 0);
  if (step === 0) return undefined;
  const useful = boards.filter(({ along }) => along > 0);
  if (useful.some(({ cost, count }) => cost === 0 && count === Infinity)) return undefined;
  const dearest = useful.reduce((most, { cost }) => Math.max(most, cost), 0);
  const heaviest = useful.reduce((most, { along }) => Math.max(most, along), 0);
  const size = Math.min(CELLS, priceInParts(useful, need) / step + (2 * dearest) / step + 1);
  const free = useful.reduce((sum, { cost, count, along }) => (cost === 0 ? sum + along * count : sum), 0);
  if (!(Number(need) + free + 2 * heaviest * size < 2 ** 53)) return undefined;
  const cells = Math.floor(size);
  const holds = mostByPrice(useful, ({ holds }) => holds, cells, step);
  const along = mostByPrice(useful, ({ along }) => along, cells, step);
  let least = beyond(cells * step);
  const wanted = Number(need);
  for (let at = 0; at < cells; at++) {
    const spare = (along[at] as number) - wanted;
    if ((holds[at] as number) < wanted || spare < 0) continue;
    const net = BigInt(at * step) - BigInt(spare) / BigInt(worth);
    if (least === undefined || net < least) least = net;
  }
  return least;
}

/** About what it costs to hold `need`, before anything is taken off; a measure of how far the tables go. */
function priceInParts(boards: readonly Along[], need: bigint): number {
  let left = Number(need);
  let price = 0;
  for (const { holds, cost, count } of [...boards].sort((a, b) => a.cost * b.holds - b.cost * a.holds)) {
    if (left <= 0 || holds === 0) continue;
    const many = Math.min(count, Math.ceil(left / holds));
    price += many * cost;
    left -= many * holds;
  }
  return price;
}

/** The most that boards hold which cost at most so many steps. */
function mostByPrice(
  boards: readonly Along[],
  of: (board: Along) => number,
  cells: number,
  step: number,
): Float64Array {
  const free = boards.reduce((sum, board) => (board.cost === 0 ? sum + of(board) * board.count : sum), 0);
  const most = new Float64Array(cells).fill(free);
  for (const board of boards) {
    const units = board.cost / step;
    const each = of(board);
    if (units === 0 || each === 0) continue;
    const fit = Math.floor((cells - 1) / units);
    if (board.count >= fit) {
      for (let at = units; at < cells; at++)
        most[at] = Math.max(most[at] as number, (most[at - units] as number) + each);
      continue;
    }
    for (let bundle = 1, left = board.count; left > 0; bundle *= 2) {
      const take = Math.min(bundle, left);
      left -= take;
      for (let at = cells - 1; at >= take * units; at--)
        most[at] = Math.max(most[at] as number, (most[at - take * units] as number) + take * each);
    }
  }
  return most;
}

function dividedUp(amount: bigint, by: bigint): bigint {
  return amount <= 0n ? 0n : (amount + by - 1n) / by;
}
