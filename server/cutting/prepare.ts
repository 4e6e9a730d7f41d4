/** A request, material by material, in the bare numbers that planners work on. */
import type { Ticks } from '../model/ticks.ts';
import { capacity, compareStock, compareText, costOf, measureOf, usableLength } from './board.ts';
import { handOut, type Queue } from './hand-out.ts';
import type { Boards, Kind, Size } from './pack.ts';
import { flawsOf } from './request.ts';
import { totalsOf } from './totals.ts';
import type {
  Pattern,
  Piece,
  Plan,
  PlanBound,
  PlanRequest,
  Saw,
  SawFigures,
  StockLength,
  Uncut,
  UncutReason,
} from './types.ts';

/** What is to be cut of one material, as far as there is stock that is long enough. */
export interface MaterialTask {
  readonly material: string;
  /** The pieces of each size, in the order in which they are handed out. */
  readonly pieces: readonly (readonly Piece[])[];
  /** Longest first. Empty when nothing can be cut. */
  readonly sizes: readonly Size[];
  /** What `kinds` stand for, in the same order. */
  readonly stock: readonly StockLength[];
  readonly kinds: readonly Kind[];
  /** Pieces that no stock is long enough for. */
  readonly unfit: readonly Uncut[];
}

/**
 * One task for each material of which pieces are asked for, in the order of their names; whatever the order
 * of pieces and stock in the request, the tasks are the same. Throws RangeError when the request has flaws.
 */
export function tasksOf(request: PlanRequest): MaterialTask[] {
  const flaws = flawsOf(request);
  if (flaws.length > 0) throw new RangeError(flaws.join('; '));
  const byMaterial = Map.groupBy(request.pieces, (piece) => piece.material);
  return [...byMaterial]
    .sort(([a], [b]) => compareText(a, b))
    .map(([material, pieces]) => {
      const stock = request.stock.filter((board) => board.material === material).sort(compareStock);
      return taskOf(material, pieces, stock, request.saw);
    });
}

function taskOf(material: string, pieces: readonly Piece[], stock: readonly StockLength[], saw: Saw): MaterialTask {
  const unfit: Uncut[] = [];
  const fitting: Piece[] = [];
  const longest = stock.reduce((most, board) => Math.max(most, usableLength(board, saw)), 0);
  const reason: UncutReason = stock.length === 0 ? 'no stock of this material' : 'longer than any stock';
  for (const piece of [...pieces].sort(compareGroups)) {
    if (piece.quantity === 0) continue;
    if (piece.length <= longest) fitting.push(piece);
    else unfit.push(uncutOf(piece, piece.quantity, reason));
  }
  const byLength = [...Map.groupBy(fitting, (piece) => piece.length)].sort(([a], [b]) => b - a);
  const shortest: Ticks | number = byLength.at(-1)?.[0] ?? Infinity;
  const measure = measureOf(stock);
  const usable = stock.filter((board) => usableLength(board, saw) >= shortest);
  return {
    material,
    pieces: byLength.map(([, own]) => own),
    sizes: byLength.map(([length, own]) => ({
      size: length + saw.kerf,
      quantity: own.reduce((sum, piece) => sum + piece.quantity, 0),
    })),
    stock: usable,
    kinds: usable.map((board) => ({
      room: capacity(board, saw),
      length: board.length,
      cost: costOf(board, measure),
      // Only what is counted can lie on the rack.
      onRack: board.offcut && board.count !== undefined,
      count: board.count ?? Infinity,
    })),
    unfit,
  };
}

/** How one material is cut; what of it is not. */
export interface MaterialPlan {
  readonly patterns: readonly Pattern[];
  readonly uncut: readonly Uncut[];
  /** A bound that is better than the one by length. */
  readonly bound?: PlanBound | undefined;
  /** What the saw had to do before it was cut in fewer ways. */
  readonly before?: SawFigures | undefined;
}

/** From lengths on boards to pieces on boards. */
export function materialPlan(
  task: MaterialTask,
  boards: readonly Boards[],
  saw: Saw,
  known: Pick<MaterialPlan, 'bound' | 'before'> = {},
): MaterialPlan {
  const queues: Queue[] = task.pieces.map((own) => own.map((piece) => ({ piece, left: piece.quantity })));
  const patterns = handOut(boards, queues, task.stock, saw);
  const left = queues.flat().filter((entry) => entry.left > 0);
  const uncut = [...task.unfit, ...left.map((entry) => uncutOf(entry.piece, entry.left, 'stock used up'))];
  return { patterns, uncut, ...known };
}

/** The materials' plans in the order of their names make the whole. */
export function wholePlan(request: PlanRequest, plans: readonly MaterialPlan[]): Plan {
  const patterns = plans.flatMap((plan) => plan.patterns);
  const known = new Map(plans.flatMap((plan) => plan.patterns.slice(0, 1).map(({ material }) => [material, plan])));
  return {
    version: 1,
    patterns,
    uncut: plans.flatMap((plan) => plan.uncut),
    totals: totalsOf(request, patterns, known),
  };
}

/** Groups stay together, so that the pieces of one come from neighbouring boards. */
function compareGroups(a: Piece, b: Piece): number {
  return compareText(a.group ?? '', b.group ?? '') || compareText(a.id, b.id);
}

function uncutOf({ id, material, length }: Piece, quantity: number, reason: UncutReason): Uncut {
  return { piece: id, material, length, quantity, reason };
}
