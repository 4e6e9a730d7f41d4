/**
 * What to buy where the stock that is counted does not hold the pieces: the least that makes a plan possible,
 * and the cheapest. Both come from the planner itself, asked in other terms: what is there costs nothing, as
 * it is there anyway, and beyond the counts every length can be had without limit at its price. What is
 * proposed is planned again at the true prices, and that plan has passed the verifier.
 */
import { measureOf, usableLength } from './board.ts';
import { commonDivisor } from './columns/space.ts';
import { firstPlan } from './first-fit.ts';
import { cheapest as cheapestPlanner } from './optimal.ts';
import { flawsOf } from './request.ts';
import { itemsOf } from './sets.ts';
import { judgedBy, totalsOf } from './totals.ts';
import { assertHolds, planWithin } from './turns.ts';
import type { MaterialTotals, Pattern, Plan, PlanRequest, Run, StockLength, Uncut } from './types.ts';

/** Boards to buy beyond the counts. */
export interface Purchase {
  /** 'least': the fewest boards, and of those the shortest. 'cheapest': the least money. It may be both. */
  readonly aims: readonly ('least' | 'cheapest')[];
  /** Longest first. */
  readonly boards: readonly { readonly stock: string; readonly length: number; readonly count: number }[];
  readonly boardCount: number;
  readonly length: number;
  /** Minor units, where all stock to be bought has a price. */
  readonly price?: number;
  /** For each aim that no purchase does better by it, proven in whole numbers. */
  readonly proven: readonly ('least' | 'cheapest')[];
  /** What the material comes to with it. */
  readonly totals: MaterialTotals;
}

/** A material whose counts do not hold its pieces, as far as is known. */
export interface Shortfall {
  readonly material: string;
  /** What the plan leaves without stock, longest first. */
  readonly waiting: readonly Uncut[];
  /** That something must be bought, whatever the plan, is proven in whole numbers. */
  readonly proven: boolean;
  /** The least first. Empty where nothing that can be bought is long enough, or the counts do after all. */
  readonly purchases: readonly Purchase[];
  /** What no length that can be bought would hold: only an offcut on the rack is long enough. */
  readonly unbuyable: readonly Uncut[];
  /** A plan that does with the counts, where one was found while a purchase was sought. */
  readonly instead: Plan | undefined;
}

/** Turns of the planner for each question. */
const TURNS = 400;

/** Of a request and its plan for one material only. Undefined where the plan leaves nothing for want of stock. */
export function shortfallOf(request: PlanRequest, plan: Plan, material: string): Shortfall | undefined {
  const waiting = plan.uncut
    .filter(({ reason }) => reason === 'stock used up')
    .sort((a, b) => b.length - a.length || (a.piece < b.piece ? -1 : 1));
  if (waiting.length === 0) return undefined;
  const longest = buyable(request).reduce((most, board) => Math.max(most, usableLength(board, request.saw)), 0);
  // The pieces of a matched set need a board for all of them together.
  const needs = new Map(
    itemsOf(request).flatMap(({ id, length, runs }) =>
      (runs ? runs.map(({ piece }) => piece) : [id]).map((one) => [one, length]),
    ),
  );
  const unbuyable = waiting.filter(({ piece, length }) => (needs.get(piece) ?? length) > longest);
  const none: Shortfall = { material, waiting, proven: false, purchases: [], unbuyable, instead: undefined };
  const unfit = plan.uncut.filter(({ reason }) => reason !== 'stock used up');
  const found = bestPurchases(leave(request, [...unbuyable, ...unfit]));
  return found ? { ...none, ...found } : none;
}

/** The request without pieces that nothing to be bought would help; of a matched set all go together. */
function leave(request: PlanRequest, without: readonly Uncut[]): PlanRequest {
  const less = new Map<string, number>();
  for (const { piece, quantity } of without) less.set(piece, (less.get(piece) ?? 0) + quantity);
  const sets = request.sets?.flatMap((set) => {
    const [{ piece }] = set.runs as [Run, ...Run[]];
    const each = sum(set.runs.filter((run) => run.piece === piece).map(({ quantity }) => quantity));
    const quantity = set.quantity - (less.get(piece) ?? 0) / each;
    return quantity > 0 ? [{ ...set, quantity }] : [];
  });
  const pieces = request.pieces.flatMap((piece) => {
    const quantity = piece.quantity - (less.get(piece.id) ?? 0);
    return quantity > 0 ? [{ ...piece, quantity }] : [];
  });
  return { ...request, pieces, ...(sets && { sets }) };
}

function bestPurchases(request: PlanRequest): Pick<Shortfall, 'proven' | 'purchases' | 'instead'> | undefined {
  const least = asked(request, 'least');
  if (!least) return undefined;
  const proven = least.bound > 0;
  if (least.boardCount === 0) return { proven, purchases: [], instead: planFrom(request, least) };
  const cheapest = measureOf(request.stock) === 'price' ? asked(request, 'cheapest') : undefined;
  const costs = (one: Found): number => one.price ?? Infinity;
  if (cheapest && costs(cheapest) < costs(least)) {
    const purchases = [purchase(request, least, ['least']), purchase(request, cheapest, ['cheapest'])];
    return { proven, purchases, instead: undefined };
  }
  const isCheapest = cheapest !== undefined && costs(least) <= cheapest.bound;
  const one = purchase(request, least, cheapest ? ['least', 'cheapest'] : ['least'], isCheapest);
  return { proven, purchases: [one], instead: undefined };
}

interface Found {
  readonly aim: 'least' | 'cheapest';
  /** How many boards beyond the count of each stock. */
  readonly beyond: ReadonlyMap<string, number>;
  readonly boardCount: number;
  readonly price: number | undefined;
  readonly patterns: readonly Pattern[];
  /** What it comes to in the terms it was asked in, and what nothing can fall below. */
  readonly cost: number;
  readonly bound: number;
}

const suffix = ' beyond the count';

/** What is there as if it lay on the rack, what has no limit too; and without limit what is counted and can be bought. */
function lifted(request: PlanRequest, cost: (board: StockLength) => number): PlanRequest {
  const there = request.stock.map((board) => ({ ...board, offcut: true, price: 0 }));
  const beyond = buyable(request).map(({ count: _, ...board }) => ({
    ...board,
    id: `${board.id}${suffix}`,
    price: cost(board),
  }));
  // What is left over is worth what it is whatever is bought: the money that goes out is what counts here.
  const { worth: _, ...rest } = request;
  return { ...rest, stock: [...there, ...beyond] };
}

/** What is counted, and not just because it is left over. */
function buyable({ stock }: PlanRequest): StockLength[] {
  return stock.filter(({ offcut, count }) => !offcut && count !== undefined);
}

function asked(request: PlanRequest, aim: Found['aim']): Found | undefined {
  const question = lifted(request, aim === 'least' ? fewest(request) : ({ price }) => price ?? 0);
  if (flawsOf(question).length > 0) return undefined;
  if (question.pieces.length === 0) return undefined;
  const { plan } = planWithin(question, cheapestPlanner, TURNS, ({ totals: [total] }) => total?.price === 0);
  const [total] = plan?.totals ?? [];
  if (!plan || !total || plan.uncut.length > 0) return undefined;
  const beyond = new Map<string, number>();
  for (const { stock, times } of plan.patterns) {
    if (!stock.endsWith(suffix)) continue;
    const id = stock.slice(0, -suffix.length);
    beyond.set(id, (beyond.get(id) ?? 0) + times);
  }
  const bought = request.stock.filter(({ id }) => beyond.has(id));
  const { bound } = total;
  return {
    aim,
    beyond,
    boardCount: sum(beyond.values()),
    price:
      measureOf(request.stock) === 'price'
        ? sum(bought.map(({ id, price = 0 }) => price * (beyond.get(id) ?? 0)))
        : undefined,
    patterns: plan.patterns.map((pattern) =>
      pattern.stock.endsWith(suffix) ? { ...pattern, stock: pattern.stock.slice(0, -suffix.length) } : pattern,
    ),
    cost: total.price ?? 0,
    // What was found by ruling out the rest can be worked out again only as far as its certificate goes.
    bound: bound.proof === 'search' ? bound.certified.cost : bound.cost,
  };
}

/**
 * A cost by which fewer boards always come before shorter ones: no more boards than the first plan takes can
 * be longer together than what one board more costs.
 */
function fewest(request: PlanRequest): (board: StockLength) => number {
  const boards = buyable(request);
  const unit = boards.reduce((common, { length }) => commonDivisor(common, length), 0) || 1;
  const longest = boards.reduce((most, { length }) => Math.max(most, length), 0) / unit;
  const { patterns } = firstPlan(lifted(request, () => 1));
  const most = sum(patterns.map(({ stock, times }) => (stock.endsWith(suffix) ? times : 0)));
  return ({ length }) => most * longest + length / unit;
}

function purchase(request: PlanRequest, found: Found, aims: Purchase['aims'], cheapestProven = false): Purchase {
  const raised = {
    ...request,
    stock: request.stock.map((board) =>
      board.count === undefined ? board : { ...board, count: board.count + (found.beyond.get(board.id) ?? 0) },
    ),
  };
  const boards = request.stock
    .filter(({ id }) => found.beyond.has(id))
    .sort((a, b) => b.length - a.length)
    .map(({ id, length }) => ({ stock: id, length, count: found.beyond.get(id) as number }));
  const ownProven = found.cost <= found.bound ? [found.aim] : [];
  return {
    aims,
    boards,
    boardCount: found.boardCount,
    length: sum(boards.map(({ length, count }) => length * count)),
    ...(found.price !== undefined && { price: found.price }),
    proven: cheapestProven ? [...ownProven, 'cheapest'] : ownProven,
    totals: totalsWith(raised, found),
  };
}

/** At the true prices the planner may cut otherwise; where it finds no plan in time, the one that was found holds. */
function totalsWith(raised: PlanRequest, found: Found): MaterialTotals {
  const { plan } = planWithin(raised, cheapestPlanner, TURNS);
  const [own] = planFrom(raised, found).totals as [MaterialTotals];
  const [better] = plan?.uncut.length === 0 ? plan.totals : [];
  return better && judgedBy(better) <= judgedBy(own) ? better : own;
}

/** The patterns that were found, as a plan of what was asked for. Throws where it does not hold. */
function planFrom(request: PlanRequest, found: Found): Plan {
  const patterns = joined(found.patterns);
  const plan: Plan = { version: 1, patterns, uncut: [], totals: totalsOf(request, patterns) };
  assertHolds(request, plan);
  return plan;
}

/** Boards that are cut alike are one pattern, whether they are there or bought. */
function joined(patterns: readonly Pattern[]): Pattern[] {
  const alike = Map.groupBy(patterns, ({ stock, cuts }) => JSON.stringify([stock, cuts]));
  return [...alike.values()].map((own) => ({ ...(own[0] as Pattern), times: sum(own.map(({ times }) => times)) }));
}

function sum(numbers: Iterable<number>): number {
  let total = 0;
  for (const number of numbers) total += number;
  return total;
}
