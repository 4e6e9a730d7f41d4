/** What must be true of a request before any plan is made of it. */
import { limits } from '../model/limits.ts';
import type { MatchedSet, OffcutWorth, PlanRequest, SawLimits, StockLength } from './types.ts';

/** Sums up to here are formed exactly, with room to spare. */
const LARGEST_SUM = limits.largestSum.most;
/** Runs of all matched sets; each is written down by itself. */
const MOST_RUNS = limits.mostRuns.most;

/**
 * What is wrong with a request, in words: ids that are not unlike, quantities that are not whole, lengths
 * of nothing, ranges that hold none, sums past 2^52 (some 112,000 km), matched sets that do not come out even, offcuts that are worth as
 * much as the board they come from. Empty when a plan can be made.
 */
export function flawsOf(request: PlanRequest): string[] {
  const { pieces, stock, saw, sets = [], worth = [], spares = [], limits } = request;
  const flaws: string[] = [];
  const whole = (value: number, from: number, what: string) => {
    if (!Number.isSafeInteger(value) || value < from)
      flaws.push(`${what} is ${value}, not a whole number from ${from} up`);
  };

  whole(saw.kerf, 0, 'the kerf');
  whole(saw.trim ?? 0, 0, 'the trim');
  whole(saw.keepOffcutsFrom, 0, 'the length from which offcuts are kept');
  whole(limits?.patterns ?? 1, 1, 'the limit on patterns');
  whole(limits?.stopSettings ?? 1, 1, 'the limit on settings of the stop');
  for (const { id, length, quantity } of pieces) {
    whole(length, 1, `the length of piece "${id}"`);
    whole(quantity, 0, `the quantity of piece "${id}"`);
  }
  const step = saw.step ?? 1;
  whole(step, 1, 'the step of the saw');
  for (const { id, least, most, quantity } of spares) {
    whole(least, 1, `the least length of spare "${id}"`);
    whole(most, 1, `the greatest length of spare "${id}"`);
    whole(quantity, 0, `the quantity of spare "${id}"`);
    if (Math.ceil(least / step) * step > most)
      flaws.push(`no length that the saw can be set to is from ${least} to ${most}, as spare "${id}" wants`);
  }
  for (const { id, length, price, count } of stock) {
    whole(length, 1, `the length of stock "${id}"`);
    whole(price ?? 0, 0, `the price of stock "${id}"`);
    whole(count ?? 0, 0, `the count of stock "${id}"`);
  }
  for (const id of twice([...pieces, ...spares])) flaws.push(`there are two pieces "${id}"`);
  for (const id of twice(stock)) flaws.push(`there are two stocks "${id}"`);

  // No plan takes more boards than there are pieces.
  const boards = pieces.reduce((sum, piece) => sum + piece.quantity, 0);
  const largest = stock.reduce((most, board) => Math.max(most, board.length + saw.kerf, board.price ?? 0), 0);
  const cut = pieces.reduce((sum, piece) => sum + (piece.length + saw.kerf) * piece.quantity, 0);
  if (Math.max(boards * largest, cut) > LARGEST_SUM) flaws.push('more is asked for than can be added up exactly');
  // What is worked out of figures that are not whole means nothing.
  if (flaws.length > 0) return flaws;
  return [...setFlaws(request, sets), ...worth.flatMap((each) => worthFlaws(request, each))].concat(
    [...twice(worth.map(({ material }) => ({ id: material })))].map(
      (material) => `it is said twice what kept offcuts of "${material}" are worth`,
    ),
  );
}

function setFlaws({ pieces }: PlanRequest, sets: readonly MatchedSet[]): string[] {
  const flaws: string[] = [];
  const known = new Map(pieces.map((piece) => [piece.id, piece]));
  const home = new Map<string, string>();
  const held = new Map<string, number>();
  let runs = 0;
  for (const set of sets) {
    const name = `matched set "${set.id}"`;
    if (known.has(set.id)) flaws.push(`${name} has the name of a piece`);
    if (set.runs.length === 0) flaws.push(`${name} holds nothing`);
    if (!Number.isSafeInteger(set.quantity) || set.quantity < 0)
      flaws.push(`the quantity of ${name} is ${set.quantity}`);
    runs += set.runs.length * set.quantity;
    const materials = new Set<string>();
    for (const { piece, quantity } of set.runs) {
      const found = known.get(piece);
      if (!found) flaws.push(`${name} holds "${piece}", which is no piece`);
      else materials.add(found.material);
      if (!Number.isSafeInteger(quantity) || quantity < 1) flaws.push(`${name} holds ${quantity} of piece "${piece}"`);
      if ((home.get(piece) ?? set.id) !== set.id) flaws.push(`piece "${piece}" is in more than one matched set`);
      home.set(piece, set.id);
      held.set(piece, (held.get(piece) ?? 0) + quantity * set.quantity);
    }
    if (materials.size > 1) flaws.push(`${name} is of more than one material, and one board is of one`);
  }
  for (const id of twice(sets)) flaws.push(`there are two matched sets "${id}"`);
  for (const [id, quantity] of held) {
    const piece = known.get(id);
    if (piece && piece.quantity !== quantity)
      flaws.push(`there are ${piece.quantity} of piece "${id}", and its matched sets hold ${quantity}`);
  }
  if (runs > MOST_RUNS) flaws.push('the matched sets are more than can be written down one by one');
  return flaws;
}

/** Where each offcut is worth less than the board it comes from, a board that is cut for nothing never pays. */
function worthFlaws({ stock, saw }: PlanRequest, worth: OffcutWorth): string[] {
  const { material, price, per } = worth;
  const what = `what kept offcuts of "${material}" are worth`;
  if (!Number.isSafeInteger(price) || price < 0 || !Number.isSafeInteger(per) || per < 1)
    return [`${what} is ${price} for ${per} ticks`];
  if (price === 0) return [];
  const own = stock.filter((board) => board.material === material);
  if (own.length === 0) return [];
  if (own.some(({ offcut, price }) => !offcut && price === undefined) || own.every(({ price }) => price === undefined))
    return [`${what} is stated, and not all of its stock has a price`];
  const longest = own.reduce((most, board) => Math.max(most, board.length + saw.kerf), 0);
  if (longest * price > LARGEST_SUM) return [`${what} is more than can be added up exactly`];
  return dearerThanBought(own, worth).map(
    (board) =>
      `an offcut as long as stock "${board.id}" would be worth ${wholeValue(board, worth)}, the board itself costs ${board.price}`,
  );
}

/** The boards to be bought that cost no more than an offcut of their whole length would be worth. */
export function dearerThanBought(stock: readonly StockLength[], worth: OffcutWorth): StockLength[] {
  return stock.filter(
    (board) =>
      board.material === worth.material &&
      !board.offcut &&
      worth.price > 0 &&
      wholeValue(board, worth) >= (board.price ?? 0),
  );
}

/** The same request with these limits where they say anything. */
export function withLimits(request: PlanRequest, limits: SawLimits = {}): PlanRequest {
  const { patterns = request.limits?.patterns, stopSettings = request.limits?.stopSettings } = limits;
  return { ...request, limits: { patterns, stopSettings } };
}

function twice(things: readonly { readonly id: string }[]): Set<string> {
  const seen = new Set<string>();
  const again = new Set<string>();
  for (const { id } of things) (seen.has(id) ? again : seen).add(id);
  return again;
}

/** What an offcut as long as the board is worth, rounded down. */
function wholeValue({ length }: StockLength, { price, per }: OffcutWorth): number {
  return Math.floor((length * price) / per);
}
