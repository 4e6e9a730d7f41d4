/** A request, material by material, in the bare numbers that planners work on. */
import type { Ticks } from '../model/ticks.ts';
import { capacity, compareStock, compareText, costOf, measureOf, usableLength } from './board.ts';
import { handOut, type Queue } from './hand-out.ts';
import type { Boards, Kind, Size } from './pack.ts';
import { flawsOf } from './request.ts';
import { cutsOf, type Item, itemsOf } from './sets.ts';
import { totalsOf } from './totals.ts';
import type {
  Pattern,
  Plan,
  PlanBound,
  PlanRequest,
  Saw,
  SawFigures,
  StockLength,
  Uncut,
  UncutReason,
} from './types.ts';
import { takenValue, type Worth, worthOf } from './worth.ts';

/** What is to be cut of one material, as far as there is stock that is long enough. */
export interface MaterialTask {
  readonly material: string;
  /** The pieces and matched sets of each size, in the order in which they are handed out. */
  readonly items: readonly (readonly Item[])[];
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
  const byMaterial = Map.groupBy(itemsOf(request), (item) => item.material);
  return [...byMaterial]
    .sort(([a], [b]) => compareText(a, b))
    .map(([material, items]) => {
      const stock = request.stock.filter((board) => board.material === material).sort(compareStock);
      return taskOf(material, items, stock, request.saw, worthOf(request, material));
    });
}

function taskOf(
  material: string,
  items: readonly Item[],
  stock: readonly StockLength[],
  saw: Saw,
  worth: Worth | undefined,
): MaterialTask {
  const unfit: Uncut[] = [];
  const fitting: Item[] = [];
  const longest = stock.reduce((most, board) => Math.max(most, usableLength(board, saw)), 0);
  const reason: UncutReason = stock.length === 0 ? 'no stock of this material' : 'longer than any stock';
  for (const item of [...items].sort(compareGroups)) {
    if (item.quantity === 0) continue;
    if (item.length <= longest) fitting.push(item);
    else unfit.push(...uncutOf(item, item.quantity, reason));
  }
  const byLength = [...Map.groupBy(fitting, (item) => item.length)].sort(([a], [b]) => b - a);
  const shortest: Ticks | number = byLength.at(-1)?.[0] ?? Infinity;
  const measure = measureOf(stock);
  const usable = stock.filter((board) => usableLength(board, saw) >= shortest);
  return {
    material,
    items: byLength.map(([, own]) => own),
    sizes: byLength.map(([length, own]) => ({
      size: length + saw.kerf,
      quantity: own.reduce((sum, item) => sum + item.quantity, 0),
    })),
    stock: usable,
    kinds: usable.map((board) => ({
      room: capacity(board, saw),
      length: board.length,
      cost: costOf(board, measure) + takenValue(board, worth),
      // Only what is counted can lie on the rack.
      onRack: board.offcut && board.count !== undefined,
      count: board.count ?? Infinity,
      // What is left takes the cut that parts it off with it.
      ...(worth && { worth: (left: number) => worth.offcut(left - saw.kerf) }),
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
  const queues: Queue[] = task.items.map((own) => own.map((item) => ({ item, left: item.quantity })));
  const patterns = handOut(boards, queues, task.stock, saw);
  const left = queues.flat().filter((entry) => entry.left > 0);
  const uncut = [...task.unfit, ...left.flatMap((entry) => uncutOf(entry.item, entry.left, 'stock used up'))];
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
function compareGroups(a: Item, b: Item): number {
  return compareText(a.group ?? '', b.group ?? '') || compareText(a.id, b.id);
}

/** A piece, or each run of a set. */
function uncutOf(item: Item, quantity: number, reason: UncutReason): Uncut[] {
  const { material } = item;
  const together = new Map<string, Uncut>();
  for (const { piece, length, quantity: each } of cutsOf(item, 1)) {
    const many = each * quantity + (together.get(piece)?.quantity ?? 0);
    together.set(piece, { piece, material, length, quantity: many, reason });
  }
  return [...together.values()];
}
