/** What must be true of a request before any plan is made of it. */
import type { PlanRequest, SawLimits } from './types.ts';

/** Sums up to here are formed exactly, with room to spare. */
const LARGEST_SUM = 2 ** 52;

/**
 * What is wrong with a request, in words: ids that are not unlike, quantities that are not whole, lengths
 * of nothing, sums past 2^52 (some 112,000 km). Empty when a plan can be made.
 */
export function flawsOf({ pieces, stock, saw, limits }: PlanRequest): string[] {
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
  for (const { id, length, price, count } of stock) {
    whole(length, 1, `the length of stock "${id}"`);
    whole(price ?? 0, 0, `the price of stock "${id}"`);
    whole(count ?? 0, 0, `the count of stock "${id}"`);
  }
  for (const id of twice(pieces)) flaws.push(`there are two pieces "${id}"`);
  for (const id of twice(stock)) flaws.push(`there are two stocks "${id}"`);

  // No plan takes more boards than there are pieces.
  const boards = pieces.reduce((sum, piece) => sum + piece.quantity, 0);
  const largest = stock.reduce((most, board) => Math.max(most, board.length + saw.kerf, board.price ?? 0), 0);
  const cut = pieces.reduce((sum, piece) => sum + (piece.length + saw.kerf) * piece.quantity, 0);
  if (Math.max(boards * largest, cut) > LARGEST_SUM) flaws.push('more is asked for than can be added up exactly');
  return flaws;
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
