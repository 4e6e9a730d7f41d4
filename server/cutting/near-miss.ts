/**
 * Near misses: a dimension that, a little smaller, would save a board. Nothing is guessed: pieces are made
 * shorter as the dimension would make them, and planned again; what is said to be saved is the difference
 * between the plan that comes out and what the pieces as they are cannot cost less than. Which dimensions are
 * tried is chosen by the certificate: where its weights show that the bound stays as it is, nothing is saved.
 * Budgets are counted in turns of the planner, so that the same request gives the same answer everywhere.
 */
import { ticks } from '../model/ticks.ts';
import { capacity, costOf, usableLength } from './board.ts';
import { lengthBound } from './bound.ts';
import { planOf, requestOf } from './by-material.ts';
import { leastCost } from './columns/certificate.ts';
import { createKnapsack } from './columns/knapsack.ts';
import { rememberingPlanner } from './optimal.ts';
import { type Item, itemsOf } from './sets.ts';
import { judgedBy } from './totals.ts';
import { finished, planSteps } from './turns.ts';
import type { Certificate, Measure, Piece, Plan, PlanRequest } from './types.ts';
import { worthOf } from './worth.ts';

/** A dimension that pieces of no matched set take their length from. One tick less, and each of `moves` is one tick shorter, or longer. */
export interface Lever {
  /** Unlike any other lever's. */
  readonly id: string;
  readonly moves: readonly Move[];
}

export interface Move {
  /** The id of a piece. */
  readonly piece: string;
  /** How many of it. */
  readonly quantity: number;
  readonly by: 1 | -1;
}

export interface NearMissOptions {
  /** No dimension is asked to be smaller by more than this. */
  readonly most: number;
  /** What lengths are set in: a dimension is made smaller by a multiple of it. */
  readonly step: number;
}

export interface NearMiss {
  readonly lever: string;
  /** The least that was found to save what is stated. */
  readonly by: number;
  readonly saves: Saving;
  /** By as much as may be asked, where that saves more. */
  readonly further?: { readonly by: number; readonly saves: Saving };
}

/** Compared with the plan as it is. */
export interface Saving {
  /** Less than 0 where shorter boards are taken, and more of them. */
  readonly boards: number;
  /** Minor units, of the materials that have prices; less what is lost in the worth of offcuts. */
  readonly price: number;
  /** Ticks of bought stock, of the materials that have none. */
  readonly length: number;
  /** Pieces that have no board as it is, and have one then. */
  readonly pieces: number;
  /** It may be more: the plan as it is was not proven to be the best. */
  readonly atLeast: boolean;
}

/** Dimensions that are weighed, and those of them that are planned; turns for each plan, and for all. */
const WEIGHED = 400;
const PLANNED = 12;
const TURNS = 60;
const ALL_TURNS = 400;
/** How much a saving counts that the certificate only does not rule out, beside one that it suggests. */
const BEYOND = 1e-6;
/** Cells of knapsack tables, over all that are weighed. */
const CELLS = 4e8;

/**
 * The dimensions that save most for their size first. The plan is the best one known of the whole request; the
 * request must be free of flaws.
 */
export function nearMisses(
  request: PlanRequest,
  plan: Plan,
  levers: readonly Lever[],
  options: NearMissOptions,
): NearMiss[] {
  return finished(nearMissSteps(request, plan, levers, options));
}

/** The same in steps. */
export function* nearMissSteps(
  request: PlanRequest,
  plan: Plan,
  levers: readonly Lever[],
  { most, step }: NearMissOptions,
): Generator<void, NearMiss[]> {
  const steps = Math.floor(most / step);
  if (steps < 1) return [];
  const cases = new Map<string, MaterialCase>();
  for (const { material } of request.pieces)
    if (!cases.has(material)) cases.set(material, caseOf(requestOf(request, material), planOf(plan, material)));
  const pieces = new Map(request.pieces.map((piece) => [piece.id, piece]));
  const planner = rememberingPlanner(false);
  let left = ALL_TURNS;

  const found: NearMiss[] = [];
  for (const lever of promising(levers, steps * step, pieces, cases)) {
    const tried = new Map<number, Saving | undefined>();
    const saving = function* (by: number): Generator<void, Saving | undefined> {
      if (tried.has(by)) return tried.get(by);
      const made = left > 0 ? yield* planned(lever, by) : undefined;
      tried.set(by, made);
      return made;
    };
    const planned = function* ({ moves }: Lever, by: number): Generator<void, Saving | undefined> {
      const all: Tried[] = [];
      for (const [, own] of affected(moves, pieces, cases)) {
        const shortened = movedBy(own.request, moves, by);
        const enough = (now: Plan): boolean => isSettled(now, own);
        const within = Math.min(TURNS, Math.max(1, left));
        const { plan: outcome, turns } = yield* planSteps(shortened, planner, within, enough);
        left -= turns;
        if (!outcome) return undefined;
        all.push({ own, outcome, grows: moves.some((move) => move.by < 0 && own.ids.has(move.piece)) });
      }
      return savingOf(all);
    };
    const furthest = yield* saving(steps * step);
    if (!furthest) continue;
    // The least number of steps that saves anything, by halving.
    let [no, yes] = [0, steps];
    while (yes - no > 1) {
      const middle = Math.floor((no + yes) / 2);
      if (yield* saving(middle * step)) yes = middle;
      else no = middle;
    }
    const least = (yield* saving(yes * step)) as Saving;
    const more = yes < steps && isMore(furthest, least);
    found.push({
      lever: lever.id,
      by: yes * step,
      saves: least,
      ...(more && { further: { by: steps * step, saves: furthest } }),
    });
  }
  return found.sort((a, b) => worth(b.saves) - worth(a.saves) || a.by - b.by || (a.lever < b.lever ? -1 : 1));
}

/** A material with a dimension made smaller. */
interface Tried {
  readonly own: MaterialCase;
  readonly outcome: Plan;
  /** Some of its pieces get longer. */
  readonly grows: boolean;
}

/** A material as it is, with what its pieces cannot cost less than. */
interface MaterialCase {
  readonly request: PlanRequest;
  readonly ids: ReadonlySet<string>;
  readonly plan: Plan;
  readonly measure: Measure;
  readonly uncut: number;
  readonly bound: number;
  /** What its certificate proves of the pieces as they are. */
  readonly certified: number;
  readonly certificate: Certificate | undefined;
  /** The least that is worth telling: a board, or the step from one board to the next shorter one. */
  readonly worth: number;
}

function caseOf(request: PlanRequest, plan: Plan): MaterialCase {
  const [totals] = plan.totals;
  const bound = totals?.bound ?? lengthBound(request, request.pieces[0]?.material ?? '', itemsOf(request));
  const certified = bound.proof === 'search' ? bound.certified : bound;
  const worth = worthOf(request, request.pieces[0]?.material ?? '');
  // A board that is left whole is worth what its offcut would be.
  const costs = [
    ...new Set(request.stock.map((board) => costOf(board, bound.measure) - (worth?.offcut(board.length) ?? 0))),
  ].sort((a, b) => a - b);
  const differences = costs.map((cost, place) => cost - (costs[place - 1] ?? 0)).filter((cost) => cost > 0);
  return {
    request,
    ids: new Set(request.pieces.map(({ id }) => id)),
    plan,
    measure: bound.measure,
    uncut: plan.uncut.reduce((sum, { quantity }) => sum + quantity, 0),
    bound: bound.cost,
    certified: certified.cost,
    certificate:
      bound.proof === 'dual' ? bound.certificate : bound.proof === 'search' ? bound.certified.certificate : undefined,
    worth: differences.reduce((least, cost) => Math.min(least, cost), Infinity),
  };
}

function affected(
  moves: readonly Move[],
  pieces: ReadonlyMap<string, Piece>,
  cases: ReadonlyMap<string, MaterialCase>,
): [string, MaterialCase][] {
  const materials = new Set(moves.flatMap(({ piece }) => pieces.get(piece)?.material ?? []));
  return [...cases].filter(([material]) => materials.has(material));
}

// Choosing

/** Those that may save something, the most promising first; levers that come to the same are tried in the order of their names. */
function promising(
  levers: readonly Lever[],
  by: number,
  pieces: ReadonlyMap<string, Piece>,
  cases: ReadonlyMap<string, MaterialCase>,
): Lever[] {
  let cells = CELLS;
  const weighed = levers
    .filter(({ moves }) => moves.some((move) => move.by > 0 && (pieces.get(move.piece)?.length ?? 0) > by))
    .sort((a, b) => stepsDown(b, by, pieces, cases) - stepsDown(a, by, pieces, cases) || (a.id < b.id ? -1 : 1))
    .slice(0, WEIGHED)
    .map((lever) => {
      let hope = 0;
      for (const [, own] of affected(lever.moves, pieces, cases)) {
        const shortened = movedBy(own.request, lever.moves, by);
        if (shortened.pieces.some(({ length }) => length < 1)) return { lever, hope: 0 };
        if (own.uncut > 0) {
          hope += fitsMore(own, shortened) ? Number.MAX_SAFE_INTEGER / 1e6 : 0;
          continue;
        }
        if (cells <= 0) continue;
        const { bound, work } = boundWith(own, shortened, lever.moves, by);
        cells -= work;
        hope += (own.certified - bound) / own.worth;
        // Where a search has proven more than the certificate does, the certificate rules nothing out.
        if (own.certified < own.bound) hope += (BEYOND * (own.bound - bound)) / own.worth;
      }
      return { lever, hope };
    });
  return weighed
    .filter(({ hope }) => hope > 0)
    .sort((a, b) => b.hope - a.hope || (a.lever.id < b.lever.id ? -1 : 1))
    .slice(0, PLANNED)
    .map(({ lever }) => lever);
}

/** How many pieces come to fit a shorter board, or one at all. */
function stepsDown(
  { moves }: Lever,
  by: number,
  pieces: ReadonlyMap<string, Piece>,
  cases: ReadonlyMap<string, MaterialCase>,
): number {
  return moves.reduce((sum, move) => {
    const piece = pieces.get(move.piece);
    if (!piece || move.by < 0) return sum;
    const { stock, saw } = (cases.get(piece.material) as MaterialCase).request;
    const just = stock.some((board) => {
      const usable = usableLength(board, saw);
      return usable < piece.length && usable >= piece.length - by;
    });
    return just ? sum + move.quantity : sum;
  }, 0);
}

/** Where pieces are without a board: whether one more could have one. */
function fitsMore({ plan }: MaterialCase, { pieces, stock, saw }: PlanRequest): boolean {
  if (plan.uncut.some(({ reason }) => reason === 'stock used up')) return true;
  const longest = stock.reduce((most, board) => Math.max(most, usableLength(board, saw)), 0);
  const over = pieces.reduce((sum, { length, quantity }) => (length > longest ? sum + quantity : sum), 0);
  return over < plan.uncut.reduce((sum, { quantity }) => sum + quantity, 0);
}

/** What the pieces cannot cost less than once they are moved, by the weights of the pieces as they are. */
function boundWith(
  { certificate, request: { saw, stock }, measure, request }: MaterialCase,
  shortened: PlanRequest,
  moves: readonly Move[],
  by: number,
): { readonly bound: number; readonly work: number } {
  // Weights that share a board with the worth of what is left over say nothing without it.
  if (!certificate || certificate.worth !== undefined) {
    const items = itemsOf(shortened);
    return { bound: lengthBound(shortened, items[0]?.material ?? '', items).cost, work: items.length };
  }
  const { grid } = certificate;
  const weights = new Map<number, number>(certificate.weights.map(([length, weight]) => [length, weight]));
  const items = itemsOf(request).flatMap((piece) => {
    const weight = weights.get(piece.length) ?? 0;
    return splitBy(piece, moves, by).map(({ length, quantity }) => ({ length, quantity, weight }));
  });
  const there = stock.filter(({ count }) => count !== 0);
  const rooms = there.map((board) => Math.floor(capacity(board, saw) / grid));
  const sizes = items.map(({ length }) => Math.floor((length + saw.kerf) / grid));
  if (sizes.some((size) => size < 1)) return { bound: 0, work: 1 };
  const knapsack = createKnapsack(sizes, Math.max(0, ...rooms));
  const table = knapsack.solve(
    items.map(({ weight }) => weight),
    items.map(({ quantity }) => quantity),
  );
  const need = items.reduce((sum, { quantity, weight }) => sum + BigInt(quantity) * BigInt(weight), 0n);
  const bound = leastCost(
    there.map((board, place) => ({
      holds: table[rooms[place] as number] as number,
      cost: costOf(board, measure),
      count: board.count ?? Infinity,
    })),
    need,
  );
  return { bound, work: knapsack.cells };
}

// Moving

/** The request with pieces as they are when a dimension is so much smaller. */
export function movedBy(request: PlanRequest, moves: readonly Move[], by: number): PlanRequest {
  return { ...request, pieces: request.pieces.flatMap((piece) => splitBy(piece, moves, by)) };
}

function splitBy<T extends Item>(piece: T, moves: readonly Move[], by: number): T[] {
  const own = moves.filter((move) => move.piece === piece.id);
  if (own.length === 0) return [piece];
  const stays = piece.quantity - own.reduce((sum, { quantity }) => sum + quantity, 0);
  const moved = own.map((move) => ({
    ...piece,
    id: `${piece.id} ${move.by > 0 ? '-' : '+'} ${by}`,
    length: ticks(piece.length - move.by * by),
    quantity: move.quantity,
  }));
  return stays > 0 ? [{ ...piece, quantity: stays }, ...moved] : moved;
}

// Comparing

/** Nothing cheaper is to be expected of a plan, or enough is known of it to say that it saves nothing. */
function isSettled({ uncut, totals: [totals] }: Plan, own: MaterialCase): boolean {
  if (uncut.length > 0 || !totals || own.uncut > 0) return false;
  return judgedBy(totals) <= totals.bound.cost || totals.bound.cost > own.bound - own.worth;
}

/** Undefined where it is not worth telling. */
function savingOf(tried: readonly Tried[]): Saving | undefined {
  let [boards, price, length, pieces] = [0, 0, 0, 0];
  let atLeast = false;
  let isWorth = false;
  for (const { own, outcome, grows } of tried) {
    const { uncut, totals } = outcome;
    const waiting = uncut.reduce((sum, { quantity }) => sum + quantity, 0);
    // What only gets shorter can be cut as before, where nothing better is found.
    const asBefore = !grows && (waiting > own.uncut || (waiting === own.uncut && costIn(outcome) >= costIn(own.plan)));
    if (asBefore) continue;
    pieces += own.uncut - waiting;
    // Where not the same pieces are cut, what they cost cannot be compared.
    if (own.uncut > 0 || waiting > 0) continue;
    const saved = own.bound - costIn(outcome);
    boards += boardsIn(own.plan) - (totals[0]?.boardCount ?? 0);
    if (own.measure === 'price') price += saved;
    else length += saved;
    atLeast ||= costIn(own.plan) > own.bound;
    isWorth ||= saved >= own.worth;
  }
  if (pieces < 0 || price < 0 || length < 0) return undefined;
  if (pieces > 0) return { boards: 0, price: 0, length: 0, pieces, atLeast: false };
  return isWorth ? { boards, price, length, pieces, atLeast } : undefined;
}

function costIn({ totals: [totals] }: Plan): number {
  return totals ? judgedBy(totals) : 0;
}

function boardsIn({ totals: [totals] }: Plan): number {
  return totals?.boardCount ?? 0;
}

function isMore(a: Saving, b: Saving): boolean {
  return a.pieces > b.pieces || a.price > b.price || a.length > b.length;
}

/** For the order in which they are told: what makes parts possible, then money, then length. */
function worth({ pieces, price, length }: Saving): number {
  return pieces * 1e15 + price * 1e6 + length / 1e6;
}
