/**
 * The arithmetic of one board. With a kerf for every piece, and one kerf more than the board's usable
 * length, the pieces of a board add up like plain weights: n pieces need n - 1 cuts between them, and
 * whatever is left behind the last piece is either nothing, or eaten by the last cut, or an offcut.
 */
import { ticks } from '../model/ticks.ts';
import type { Cut, Measure, Pattern, Saw, StockLength } from './types.ts';

/** The length of a board between its trimmed ends; below 0 when the trims take more than there is. */
export function usableLength(stock: StockLength, saw: Saw): number {
  return stock.length - 2 * (saw.trim ?? 0);
}

/** What a board holds, measured in pieces that have a kerf each. */
export function capacity(stock: StockLength, saw: Saw): number {
  return usableLength(stock, saw) + saw.kerf;
}

/** How a material's plan is judged: by money where everything that may be bought has a price. */
export function measureOf(stock: readonly StockLength[]): Measure {
  const priced = stock.some((board) => board.price !== undefined);
  return priced && stock.every((board) => board.offcut || board.price !== undefined) ? 'price' : 'length';
}

/** What taking one board costs, in the measure. What lies on the rack without a price costs nothing. */
export function costOf(stock: StockLength, measure: Measure): number {
  if (measure === 'price') return stock.price ?? 0;
  return stock.offcut ? 0 : stock.length;
}

/** A pattern with its figures. The cuts and spares must fit the board. */
export function patternOf(
  stock: StockLength,
  saw: Saw,
  cuts: readonly Cut[],
  times: number,
  spares: readonly Cut[] = [],
): Pattern {
  const all = [...cuts, ...spares];
  const used = all.reduce((sum, cut) => sum + cut.length * cut.quantity, 0);
  const pieces = all.reduce((sum, cut) => sum + cut.quantity, 0);
  const left = usableLength(stock, saw) - used;
  const kerfLoss = Math.min(pieces * saw.kerf, left);
  const offcut = ticks(left - kerfLoss);
  return {
    stock: stock.id,
    material: stock.material,
    times,
    cuts,
    ...(spares.length > 0 && { spares }),
    used: ticks(used),
    kerfLoss: ticks(kerfLoss),
    offcut,
    keep: isKept(offcut, saw),
  };
}

/**
 * What goes back to the rack of a board with so much room left behind its pieces, each with its kerf: less the
 * kerf that was added to its usable length.
 */
export function keptOf(left: number, saw: Saw): number {
  const offcut = ticks(Math.max(0, left - saw.kerf));
  return isKept(offcut, saw) ? offcut : 0;
}

export function isKept(offcut: number, saw: Saw): boolean {
  return offcut > 0 && offcut >= saw.keepOffcutsFrom;
}

/** By code units, so that the same request gives the same plan everywhere. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Offcuts first, then short before long. */
export function compareStock(a: StockLength, b: StockLength): number {
  return Number(b.offcut) - Number(a.offcut) || a.length - b.length || compareText(a.id, b.id);
}
