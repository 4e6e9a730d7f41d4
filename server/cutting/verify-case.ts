/** What the checks of a plan share. */
import type { Cut, MatchedSet, OffcutWorth, Piece, Plan, PlanRequest, StockLength } from './types.ts';

export type ViolationRule =
  | 'version'
  | 'not a whole number'
  | 'unknown stock'
  | 'unknown piece'
  | 'material differs'
  | 'length differs'
  | 'order of cuts'
  | 'matched set torn'
  | 'board overfull'
  | 'board figures'
  | 'stock over count'
  | 'piece cut too often'
  | 'piece missing'
  | 'unknown spare'
  | 'spare out of range'
  | 'spare cut too often'
  | 'room for a spare'
  | 'reason for uncut pieces'
  | 'totals'
  | 'bound';

export interface Violation {
  readonly rule: ViolationRule;
  /** The pattern, piece, stock or material at fault. */
  readonly where: string;
  readonly message: string;
}

/** A plan under examination, with what it speaks of at hand. */
export interface Case {
  readonly request: PlanRequest;
  readonly plan: Plan;
  readonly pieces: ReadonlyMap<string, Piece>;
  readonly stock: ReadonlyMap<string, StockLength>;
  readonly sets: ReadonlyMap<string, MatchedSet>;
  /** The set that a piece belongs to. */
  readonly setOf: ReadonlyMap<string, MatchedSet>;
  /** How many boards the plan takes of each stock. */
  readonly taken: ReadonlyMap<string, bigint>;
  readonly violations: readonly Violation[];
  report(rule: ViolationRule, where: string, message: string): void;
}

/** Opens the case. Numbers that are not whole come to nothing here; they are reported before anything else. */
export function caseOf(request: PlanRequest, plan: Plan): Case {
  const violations: Violation[] = [];
  const taken = new Map<string, bigint>();
  for (const { stock, times } of plan.patterns) {
    taken.set(stock, (taken.get(stock) ?? 0n) + (Number.isSafeInteger(times) ? BigInt(times) : 0n));
  }
  const sets = request.sets ?? [];
  return {
    request,
    plan,
    pieces: new Map(request.pieces.map((piece) => [piece.id, piece])),
    stock: new Map(request.stock.map((board) => [board.id, board])),
    sets: new Map(sets.map((set) => [set.id, set])),
    setOf: new Map(sets.flatMap((set) => set.runs.map(({ piece }) => [piece, set] as const))),
    taken,
    violations,
    report: (rule, where, message) => violations.push({ rule, where, message }),
  };
}

export function total<T>(things: readonly T[], figure: (thing: T) => bigint): bigint {
  let sum = 0n;
  for (const thing of things) sum += figure(thing);
  return sum;
}

/** What a board's cuts make of it: single pieces, and matched sets end to end. */
export interface Stretch {
  readonly length: bigint;
  readonly quantity: bigint;
  readonly set?: MatchedSet;
}

/** How much of a board a matched set takes, with a kerf between each two of its pieces. */
export function lengthOfSet({ request, pieces }: Case, set: MatchedSet): bigint {
  const kerf = BigInt(request.saw.kerf);
  let length = -kerf;
  for (const { piece, quantity } of set.runs)
    length += (BigInt(pieces.get(piece)?.length ?? 0) + kerf) * BigInt(quantity);
  return length;
}

/**
 * The cuts of a board read from its end: where one belongs to a matched set, all runs of the set must follow from
 * there in their order. Each that does not is given to `torn` in words, and read as a single piece.
 */
export function stretchesOf(
  examined: Case,
  cuts: readonly Cut[],
  torn: (message: string) => void = () => undefined,
): Stretch[] {
  const found: Stretch[] = [];
  for (let at = 0; at < cuts.length; ) {
    const { piece, length, quantity, set: named } = cuts[at] as Cut;
    const alone: Stretch = { length: BigInt(length), quantity: BigInt(quantity) };
    const set = examined.setOf.get(piece);
    at++;
    if (named !== set?.id) {
      torn(`piece "${piece}" is cut as part of ${set ? `"${named ?? 'nothing'}", not of "${set.id}"` : `"${named}"`}`);
      found.push(alone);
      continue;
    }
    if (!set) {
      found.push(alone);
      continue;
    }
    const own = cuts.slice(at - 1, at - 1 + set.runs.length);
    const whole = set.runs.every((run, index) => {
      const cut = own[index];
      return cut?.piece === run.piece && cut.quantity === run.quantity && cut.set === set.id;
    });
    if (whole) {
      found.push({ length: lengthOfSet(examined, set), quantity: 1n, set });
      at += set.runs.length - 1;
    } else {
      torn(`"${set.id}" is not cut whole and in its order from piece "${piece}" on`);
      found.push(alone);
    }
  }
  return found;
}

/** What the kept offcuts of a material are worth; undefined where they are worth nothing. */
export function statedWorth({ request: { worth, stock } }: Case, material: string): OffcutWorth | undefined {
  const stated = worth?.find((each) => each.material === material);
  const bought = stock.filter((board) => board.material === material && !board.offcut);
  const priced = stock.some((board) => board.material === material && board.price !== undefined);
  const all = bought.every((board) => board.price !== undefined);
  return stated && stated.price > 0 && priced && all ? stated : undefined;
}

/** In minor units, rounded down; nothing for what does not go back to the rack. */
export function worthOfOffcut({ request: { saw } }: Case, stated: OffcutWorth | undefined, length: bigint): bigint {
  if (!stated || length <= 0n || length < BigInt(saw.keepOffcutsFrom)) return 0n;
  return (length * BigInt(stated.price)) / BigInt(stated.per);
}

/** What taking an offcut costs beyond its price: what it is worth on the rack. */
export function lossOnRack(examined: Case, stated: OffcutWorth | undefined, board: StockLength): bigint {
  if (!board.offcut) return 0n;
  const beyond = worthOfOffcut(examined, stated, BigInt(board.length)) - BigInt(board.price ?? 0);
  return beyond > 0n ? beyond : 0n;
}
