/**
 * What kept offcuts are worth. An offcut that goes back to the rack is worth its length at the price stated for
 * its material, rounded down to a whole minor unit; one that is not kept is worth nothing. A plan is judged by
 * what its boards cost less what its offcuts are worth. An offcut taken from the rack is no longer there
 * afterwards, so that taking it costs what it is worth, or its price where that is more: cutting a little off it
 * and putting it back is never a gain.
 */
import { isKept, measureOf } from './board.ts';
import type { OffcutWorth, PlanRequest, Saw, StockLength } from './types.ts';

/** What the offcuts of one material are worth. */
export interface Worth {
  readonly stated: OffcutWorth;
  /** Of an offcut so long, in minor units. */
  offcut(length: number): number;
}

/** Undefined where they are worth nothing. */
export function worthOf({ worth, saw, stock }: PlanRequest, material: string): Worth | undefined {
  const stated = worth?.find((each) => each.material === material);
  if (!stated || stated.price === 0) return undefined;
  // Money and length cannot be weighed against each other; see request.ts.
  if (measureOf(stock.filter((board) => board.material === material)) !== 'price') return undefined;
  return { stated, offcut: (length) => offcutValue(stated, saw, length) };
}

function offcutValue(stated: OffcutWorth, saw: Saw, length: number): number {
  return isKept(length, saw) ? valueOfLength(stated, length) : 0;
}

/** Rounded down; exact where length times price is below 2^53. */
function valueOfLength({ price, per }: OffcutWorth, length: number): number {
  return Math.floor((length * price) / per);
}

/** What an offcut on the rack is worth there, as far as that is more than its price; 0 for what is to be bought. */
export function takenValue(stock: StockLength, worth: Worth | undefined): number {
  return stock.offcut && worth ? Math.max(0, worth.offcut(stock.length) - (stock.price ?? 0)) : 0;
}
