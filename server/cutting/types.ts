/**
 * What is to be cut, from what, and the plan that says how: plain data that can be written as JSON.
 * Boards are planned by length only. Lengths are in ticks, money in whole minor units (cents).
 */
import type { Ticks } from '../model/ticks.ts';

/** Equal pieces that one part of the project asks for. */
export interface Piece {
  /** Unlike any other piece's in the request. */
  readonly id: string;
  readonly material: string;
  /** Finished length. */
  readonly length: Ticks;
  readonly quantity: number;
  /** A phase or a floor: pieces of a group are handed out to neighbouring boards where that costs nothing. */
  readonly group?: string | undefined;
}

/** So many of one piece, one after another on a board. */
export interface Run {
  readonly piece: string;
  readonly quantity: number;
}

/**
 * Pieces that must come from one board, one after another in this order, so that grain or colour goes on from one
 * to the next. A piece of a set belongs to no other set, and the sets together hold all there are of it.
 */
export interface MatchedSet {
  /** Unlike any other set's and any piece's in the request. */
  readonly id: string;
  readonly runs: readonly Run[];
  /** How many such sets there are, each by itself: two need not come from the same board. */
  readonly quantity: number;
}

/** What the kept offcuts of a material are worth to their owner: so much money for so much length. */
export interface OffcutWorth {
  readonly material: string;
  /** In minor units of the project's currency, for `per` of length. */
  readonly price: number;
  readonly per: Ticks;
}

/**
 * Pieces that nothing is bought for: as many as find room are cut from what the plan leaves of its boards, each of
 * any length in a range.
 */
export interface Spare {
  /** Unlike any other spare's or piece's in the request. */
  readonly id: string;
  readonly material: string;
  readonly least: Ticks;
  readonly most: Ticks;
  /** How many would be of use. */
  readonly quantity: number;
}

/** A length in which a material can be had: to be bought, or an offcut on the rack. */
export interface StockLength {
  /** Unlike any other stock's in the request. */
  readonly id: string;
  readonly material: string;
  readonly length: Ticks;
  /** For one board, in minor units of the project's currency. An offcut without a price costs nothing. */
  readonly price?: number | undefined;
  /** How many there are; without it, as many as wanted. */
  readonly count?: number | undefined;
  readonly offcut: boolean;
}

export interface Saw {
  /** What each cut takes. */
  readonly kerf: Ticks;
  /** What each of the two ends of a board loses before the first piece, its own cut included; 0 unless given. */
  readonly trim?: Ticks | undefined;
  /** Spares are cut to multiples of this; to any length where it is not said. */
  readonly step?: Ticks | undefined;
  /** An offcut at least this long goes back to the rack. */
  readonly keepOffcutsFrom: Ticks;
}

export interface PlanRequest {
  readonly pieces: readonly Piece[];
  readonly stock: readonly StockLength[];
  readonly spares?: readonly Spare[] | undefined;
  readonly saw: Saw;
  readonly sets?: readonly MatchedSet[] | undefined;
  /** By material; one that is not here has offcuts that are worth nothing, and nothing changes for it. */
  readonly worth?: readonly OffcutWorth[] | undefined;
  readonly limits?: SawLimits | undefined;
}

/**
 * What a material's plan is to keep to where it can at the same cost, counted as in its totals. A second aim: no
 * plan costs more for it.
 */
export interface SawLimits {
  readonly patterns?: number | undefined;
  readonly stopSettings?: number | undefined;
}

/** So many of one piece, cut from one board. */
export interface Cut {
  readonly piece: string;
  readonly length: Ticks;
  readonly quantity: number;
  /** The matched set of which this is one run; its runs follow one another. */
  readonly set?: string;
}

/** One way to cut a board, and how many boards are cut that way. All lengths are for one board. */
export interface Pattern {
  readonly stock: string;
  readonly material: string;
  readonly times: number;
  /** In the order of cutting, longest first; a matched set counts as one length, its own order kept. */
  readonly cuts: readonly Cut[];
  /** Spares, cut after the pieces from what is left, longest first; `piece` is the id of a spare. Not there for none. */
  readonly spares?: readonly Cut[];
  /** The lengths of pieces and spares together. */
  readonly used: Ticks;
  /** What the cuts take; the last one is not whole where less than a kerf was left. */
  readonly kerfLoss: Ticks;
  /** What is left of the board between its trimmed ends: length = trims + used + kerfLoss + offcut. */
  readonly offcut: Ticks;
  /** Whether the offcut goes back to the rack. */
  readonly keep: boolean;
}

export type UncutReason = 'no stock of this material' | 'longer than any stock' | 'stock used up';

/** Pieces that the plan does not cut. */
export interface Uncut {
  readonly piece: string;
  readonly material: string;
  readonly length: Ticks;
  readonly quantity: number;
  readonly reason: UncutReason;
}

/**
 * What a plan is judged by: money where all stock to be bought has a price, bought length otherwise. Where kept
 * offcuts are worth something, the money is price + takenValue - keptValue.
 */
export type Measure = 'price' | 'length';

/**
 * What no plan that cuts the same pieces can fall below, and by what proof.
 * - 'length': the pieces with a kerf each, against boards with one kerf more than their usable length,
 *   cheapest by length first.
 * - 'dual': the same with the certificate's weights in place of lengths: a board holds no more weight than
 *   its best pattern does. Anybody can compute it again in whole numbers (verify-bound.ts does).
 * - 'search': every way to cut was ruled out by branch and bound, in floating-point arithmetic; `certified`
 *   is what can be computed again.
 * Costs are rounded up to what whole boards could come to; where offcuts are worth something, to whole minor units.
 */
export type PlanBound =
  | (BoundFigures & { readonly proof: 'length' })
  | (BoundFigures & { readonly proof: 'dual'; readonly certificate: Certificate })
  | (BoundFigures & { readonly proof: 'search'; readonly certified: CertifiedBound });

export interface BoundFigures {
  readonly measure: Measure;
  /** Minor units of money or ticks of bought stock, as the measure says. */
  readonly cost: number;
  readonly boards: number;
}

/** A bound that can be computed again from the request; without a certificate, by length. */
export interface CertifiedBound {
  readonly cost: number;
  readonly boards: number;
  readonly certificate?: Certificate;
}

/** Weights in place of lengths: the duals of the linear programme, in whole numbers of any common scale. */
export interface Certificate {
  /** Lengths are divided by so many ticks and rounded down before patterns are weighed; any grid is valid. */
  readonly grid: number;
  /** For each length that is cut, that of a matched set as a whole: what one piece weighs. */
  readonly weights: readonly (readonly [length: Ticks, weight: number])[];
  /**
   * Where offcuts are worth something: what a minor unit of their value weighs, at least 1. A board then holds no
   * more in pieces and value together than its best pattern does, which says what value can be left at most.
   */
  readonly worth?: number;
}

/** See `MaterialTotals`. */
export interface SawFigures {
  readonly patternCount: number;
  readonly stopSettings: number;
}

/**
 * The plan's figures for one material, over all its boards:
 * stockLength = trimLoss + usedLength + kerfLoss + keptLength + waste.
 */
export interface MaterialTotals {
  readonly material: string;
  /** Boards taken, by stock. */
  readonly boards: readonly { readonly stock: string; readonly length: Ticks; readonly count: number }[];
  readonly boardCount: number;
  readonly pieceCount: number;
  /** Where spares are cut: how many. */
  readonly spareCount?: number;
  /** Different ways to cut a board: by its stock, and by how many of each length it gives. */
  readonly patternCount: number;
  /**
   * How often the saw's stop is set when patterns are cut in the order of the plan. Patterns that follow each
   * other and give the same lengths are cut together, length by length, the longest first: one setting a length,
   * one fewer where the stop stands right from the pattern before.
   */
  readonly stopSettings: number;
  /** The same figures of the plan of this cost that was found first, where it has been cut anew since. */
  readonly before?: SawFigures | undefined;
  /** Where all stock to be bought has a price. */
  readonly price?: number;
  /** Where kept offcuts are worth something: what those of this plan are worth, each rounded down. */
  readonly keptValue?: number;
  /** With it: what the offcuts that it takes from the rack are worth there, as far as it is more than their price. */
  readonly takenValue?: number;
  /** Without the offcuts from the rack. */
  readonly boughtLength: Ticks;
  readonly stockLength: Ticks;
  readonly usedLength: Ticks;
  readonly trimLoss: Ticks;
  readonly kerfLoss: Ticks;
  readonly keptCount: number;
  readonly keptLength: Ticks;
  /** Offcuts too short to keep. */
  readonly waste: Ticks;
  readonly bound: PlanBound;
}

export interface Plan {
  readonly version: 1;
  readonly patterns: readonly Pattern[];
  readonly uncut: readonly Uncut[];
  /** One entry for each material of which boards are taken. */
  readonly totals: readonly MaterialTotals[];
}

/**
 * Makes plans: a first one soon, then any number of plans that are no worse or whose bound is no weaker.
 * Whoever asks takes them while there is time, and stops by leaving the loop; a planner that works long
 * without a better plan may hand out the last one again to give way.
 */
export interface Planner {
  readonly name: string;
  /** Throws RangeError when the request has flaws (see request.ts). */
  plan(request: PlanRequest): Iterable<Plan>;
}
