/** What the checks of a plan share. */
import type { Piece, Plan, PlanRequest, StockLength } from './types.ts';

export type ViolationRule =
  | 'version'
  | 'not a whole number'
  | 'unknown stock'
  | 'unknown piece'
  | 'material differs'
  | 'length differs'
  | 'order of cuts'
  | 'board overfull'
  | 'board figures'
  | 'stock over count'
  | 'piece cut too often'
  | 'piece missing'
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
  return {
    request,
    plan,
    pieces: new Map(request.pieces.map((piece) => [piece.id, piece])),
    stock: new Map(request.stock.map((board) => [board.id, board])),
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
