/**
 * The third part of the verifier: a plan's bound, worked out again from its certificate. Like the rest it
 * shares no code with any planner. A board of a kind holds so much weight at most, by a knapsack of its own;
 * the boards of any plan must hold the weight of all pieces; the cheapest that do are the bound.
 */

import type { Certificate, MaterialTotals, OffcutWorth, Pattern, StockLength } from './types.ts';
import { type Case, lossOnRack, statedWorth, stretchesOf, total, worthOfOffcut } from './verify-case.ts';
import { type Along, leastNet } from './verify-net.ts';

/** Units of the longest board, and cells of the tables, that are gone through at most. */
const MOST_UNITS = 100_000n;
const MOST_CELLS = 2n ** 21n;
const EXACT = 2n ** 53n;

/** What boards of one stock hold, what one costs, and how many there are; undefined: any number. */
export interface Row {
  readonly holds: bigint;
  readonly price: bigint;
  readonly count: bigint | undefined;
}

/** The bound must follow by the argument that it names, and be no more than the plan itself. */
export function checkBound(
  examined: Case,
  patterns: readonly Pattern[],
  stock: readonly StockLength[],
  { material, bound, boardCount }: MaterialTotals,
  cost: bigint,
): void {
  const where = `material ${material}`;
  const report = (message: string) => examined.report('bound', where, message);
  const priced = isPriced(stock);
  const measure = priced ? 'price' : 'length';
  if (bound.measure !== measure) report(`plans are judged by ${measure}, not by ${bound.measure}`);

  const wanted = new Map<number, bigint>();
  for (const { cuts, times } of patterns) {
    for (const stretch of stretchesOf(examined, cuts)) {
      const length = Number(stretch.length);
      wanted.set(length, (wanted.get(length) ?? 0n) + stretch.quantity * BigInt(times));
    }
  }
  const worth = statedWorth(examined, material);
  const prices = stock.map((board) => {
    if (!priced) return board.offcut ? 0n : BigInt(board.length);
    return BigInt(board.price ?? 0) + lossOnRack(examined, worth, board);
  });
  const byLength = boundByLength(examined, wanted, stock, prices, worth);
  const claims = (figures: { readonly cost: number; readonly boards: number }, certificate?: Certificate): void => {
    const byWeight = certificate ? boundByWeight(examined, wanted, stock, prices, certificate, worth) : undefined;
    if (typeof byWeight === 'string') {
      report(byWeight);
      return;
    }
    for (const figure of ['cost', 'boards'] as const) {
      const claimed = figures[figure];
      const provable = byWeight && byWeight[figure] > byLength[figure] ? byWeight[figure] : byLength[figure];
      if (!Number.isSafeInteger(claimed)) report(`${figure} at least ${claimed} is not a whole number`);
      else if (BigInt(claimed) > provable) report(`${figure} at least ${claimed} is not proven`);
    }
  };
  if (bound.proof === 'length') claims(bound);
  else if (bound.proof === 'dual') claims(bound, bound.certificate);
  else if (bound.proof === 'search') {
    // A search cannot be repeated here: what it adds to the certified bound has to be believed.
    claims(bound.certified, bound.certified.certificate);
    if (!(bound.cost >= bound.certified.cost && bound.boards >= bound.certified.boards)) {
      report('a search claims less than its certificate proves');
    }
  } else report(`the proof "${(bound as { proof: string }).proof}" is not known`);

  for (const figure of ['cost', 'boards'] as const) {
    const reached = figure === 'cost' ? cost : BigInt(boardCount);
    const claimed = bound[figure];
    if (!Number.isSafeInteger(claimed)) report(`${figure} at least ${claimed} is not a whole number`);
    else if (BigInt(claimed) > reached) report(`${figure} at least ${claimed}, but the plan takes ${reached}`);
  }
}

interface Provable {
  readonly cost: bigint;
  readonly boards: bigint;
}

/** Lengths as they are, against boards that are long enough for the shortest piece. */
function boundByLength(
  { request }: Case,
  wanted: ReadonlyMap<number, bigint>,
  stock: readonly StockLength[],
  prices: readonly bigint[],
  worth: OffcutWorth | undefined,
): Provable {
  const kerf = BigInt(request.saw.kerf);
  const trims = 2n * BigInt(request.saw.trim ?? 0);
  const shortest = [...wanted.keys()].reduce((least, length) => Math.min(least, length), Infinity);
  const need = total([...wanted], ([length, quantity]) => (BigInt(length) + kerf) * quantity);
  const rows = stock.flatMap((board, index): Row[] => {
    const room = BigInt(board.length) - trims;
    if (room < BigInt(shortest)) return [];
    return [{ holds: room + kerf, price: prices[index] as bigint, count: countOf(board) }];
  });
  // All that is not pieces may be left, and be worth its length.
  const price = BigInt(worth?.price ?? 0);
  const along = rows.map((row): Along => ({ ...row, holds: row.holds * price, along: row.holds * price }));
  return {
    cost: worth ? leastNet(along, need * price, BigInt(worth.per)) : roundedUp(priceInParts(rows, need), stepOf(rows)),
    boards: priceInParts(
      rows.map((row) => ({ ...row, price: 1n })),
      need,
    ),
  };
}

/** The certificate's weights in place of lengths; in words, what is wrong with the certificate. */
function boundByWeight(
  examined: Case,
  wanted: ReadonlyMap<number, bigint>,
  stock: readonly StockLength[],
  prices: readonly bigint[],
  { grid, weights, worth: minorUnit }: Certificate,
  worth: OffcutWorth | undefined,
): Provable | string {
  const { request } = examined;
  if (worth && (minorUnit === undefined || !Number.isSafeInteger(minorUnit) || minorUnit < 1))
    return `the certificate weighs what offcuts are worth with ${minorUnit}`;
  if (!Number.isSafeInteger(grid) || grid < 1) return `the grid of the certificate is ${grid}`;
  const unit = BigInt(grid);
  const kerf = BigInt(request.saw.kerf);
  const trims = 2n * BigInt(request.saw.trim ?? 0);
  const units = stock.map((board) => (BigInt(board.length) - trims + kerf) / unit);
  // A board of which there is none holds nothing, however long it is.
  const longest = largest(units.filter((_, index) => stock[index]?.count !== 0));
  if (longest > MOST_UNITS) return 'the grid of the certificate is too fine to be checked';
  const things: { size: number; worth: number; most: number }[] = [];
  let need = 0n;
  const seen = new Set<number>();
  for (const [length, weight] of weights) {
    const quantity = wanted.get(length);
    if (quantity === undefined || seen.has(length))
      return `the certificate weighs ${length} ticks, which is not cut or known`;
    if (!Number.isSafeInteger(weight) || weight < 0) return `the certificate weighs ${length} ticks with ${weight}`;
    seen.add(length);
    need += BigInt(weight) * quantity;
    // No board holds more than come to its length.
    const size = (BigInt(length) + kerf) / unit;
    const fit = size === 0n ? quantity : longest / size;
    things.push({ size: Number(size), worth: weight, most: Number(fit < quantity ? fit : quantity) });
  }
  const possible = total(things, ({ worth, most }) => BigInt(worth) * BigInt(most));
  if (possible > EXACT) return 'the weights of the certificate are too large to be added exactly';

  // The most weight for every length of board, piece by piece: sums stay below 2^53.
  const best = new Float64Array(Number(longest) + 1);
  for (const { size, worth, most } of things) {
    for (let left = most, bundle = 1; left > 0; left -= bundle, bundle = Math.min(2 * bundle, left)) {
      for (let room = best.length - 1; room >= size * bundle; room--) {
        const filled = (best[room - size * bundle] as number) + worth * bundle;
        if (filled > (best[room] as number)) best[room] = filled;
      }
    }
  }
  const count = (rows: readonly Row[]): bigint =>
    priceOfBoards(
      rows.map((row) => ({ ...row, price: 1n })),
      need,
    );
  if (worth) {
    const weight = BigInt(minorUnit as number);
    // A board that no piece fits is never taken, whatever would be left of it.
    const shortest = BigInt([...wanted.keys()].reduce((least, length) => Math.min(least, length)));
    const rows = stock.flatMap((board, index): Along[] => {
      const room = units[index] as bigint;
      if (BigInt(board.length) - trims < shortest || board.count === 0) return [];
      let along = 0n;
      for (let filled = 0n; filled <= room; filled++) {
        const left = BigInt(board.length) - trims - filled * unit;
        const both = BigInt(best[Number(filled)] as number) + weight * worthOfOffcut(examined, worth, left);
        if (both > along) along = both;
      }
      const holds = BigInt(best[Number(room)] as number);
      return [{ holds, along, price: prices[index] as bigint, count: countOf(board) }];
    });
    return { cost: leastNet(rows, need, weight), boards: count(rows.filter(({ holds }) => holds > 0n)) };
  }
  const rows = stock.flatMap((board, index): Row[] => {
    const room = units[index] as bigint;
    const holds = room < 0n || board.count === 0 ? 0n : BigInt(best[Number(room)] as number);
    return holds === 0n ? [] : [{ holds, price: prices[index] as bigint, count: countOf(board) }];
  });
  return {
    cost: priceOfBoards(rows, need),
    boards: count(rows),
  };
}

/** The least price of boards that hold `need`: of whole boards where a table of all prices is small enough. */
function priceOfBoards(rows: readonly Row[], need: bigint): bigint {
  const step = stepOf(rows);
  const least = roundedUp(priceInParts(rows, need), step);
  if (step === 0n) return least;
  const dearest = largest(rows.map(({ price }) => price));
  const size = (least + dearest) / step + 1n;
  // No sum below is more than what the whole table of prices buys at the best rate, and what costs nothing.
  const bought = largest(rows.map(({ holds, price }) => (price === 0n ? 0n : (holds * size * step) / price + 1n)));
  const given = total(rows, ({ holds, price, count }) => (price === 0n ? holds * (count ?? 0n) : 0n));
  if (size > MOST_CELLS || 2n * (need + bought + given) > EXACT) return least;
  // The most weight that boards of each total price hold.
  const held = new Float64Array(Number(size));
  for (const { holds, price, count } of rows) {
    const cells = Number(price / step);
    if (cells === 0 && count === undefined) return 0n;
    if (cells === 0) {
      const free = Number(holds * (count as bigint));
      for (let at = 0; at < held.length; at++) held[at] = (held[at] as number) + free;
      continue;
    }
    const fit = Math.floor((held.length - 1) / cells);
    const most = count === undefined || count > BigInt(fit) ? fit : Number(count);
    for (let left = most, bundle = 1; left > 0; left -= bundle, bundle = Math.min(2 * bundle, left)) {
      for (let at = held.length - 1; at >= cells * bundle; at--) {
        const filled = (held[at - cells * bundle] as number) + Number(holds) * bundle;
        if (filled > (held[at] as number)) held[at] = filled;
      }
    }
  }
  const found = held.findIndex((weight) => weight >= Number(need));
  return found < 0 ? least : BigInt(found) * step;
}

/** The least price, rounded up, when rows may be bought in parts, cheapest first. */
function priceInParts(rows: readonly Row[], need: bigint): bigint {
  const cheapest = [...rows].sort((a, b) => Number(a.price * b.holds - b.price * a.holds));
  let price = 0n;
  let open = need;
  for (const row of cheapest) {
    const enough = row.count === undefined || row.count * row.holds >= open;
    const part = enough ? open : (row.count as bigint) * row.holds;
    // Only the last row is taken in part, so only there can the division leave a remainder.
    price += (part * row.price + row.holds - 1n) / row.holds;
    open -= part;
    if (open === 0n) break;
  }
  return price;
}

/** 0 where there are none. */
function largest(numbers: readonly bigint[]): bigint {
  let most = 0n;
  for (const each of numbers) if (each > most) most = each;
  return most;
}

/** Whole boards come to a multiple of whatever divides all their prices. */
function stepOf(rows: readonly Row[]): bigint {
  let step = 0n;
  for (const row of rows) for (let { price } = row; price !== 0n; ) [step, price] = [price, step % price];
  return step;
}

function roundedUp(value: bigint, step: bigint): bigint {
  return step === 0n ? value : ((value + step - 1n) / step) * step;
}

function countOf({ count }: StockLength): bigint | undefined {
  return count === undefined ? undefined : BigInt(count);
}

export function isPriced(stock: readonly StockLength[]): boolean {
  const bought = stock.filter((board) => !board.offcut);
  return stock.some((board) => board.price !== undefined) && bought.every((board) => board.price !== undefined);
}
