/** What no plan can fall below, by lengths alone. */
import { capacity, costOf, measureOf, usableLength } from './board.ts';
import type { PlanBound, Saw, StockLength } from './types.ts';

/**
 * The least cost and the least number of boards of any plan that cuts these lengths from this stock (all
 * of one material). Pieces may be broken anywhere for this, so every real plan costs at least as much.
 * The cost is rounded up to a sum that whole boards could come to.
 */
export function lengthBound(
  pieces: readonly { readonly length: number; readonly quantity: number }[],
  stock: readonly StockLength[],
  saw: Saw,
): PlanBound {
  const measure = measureOf(stock);
  const shortest = pieces.reduce((least, piece) => Math.min(least, piece.length), Infinity);
  const boards = stock
    .filter((board) => usableLength(board, saw) >= shortest)
    .map((board) => ({
      room: BigInt(capacity(board, saw)),
      cost: BigInt(costOf(board, measure)),
      count: board.count === undefined ? undefined : BigInt(board.count),
    }));
  let need = 0n;
  for (const { length, quantity } of pieces) need += BigInt(length + saw.kerf) * BigInt(quantity);

  const byCost = [...boards].sort((a, b) => Number(a.cost * b.room - b.cost * a.room));
  const byRoom = [...boards].sort((a, b) => Number(b.room - a.room));
  // A plan's cost is a sum of whole boards' costs, so it is a multiple of what divides them all.
  const divisor = boards.reduce((common, board) => greatestCommonDivisor(common, board.cost), 0n);
  return {
    proof: 'length',
    measure,
    cost: Number(roundUp(fill(need, byCost), divisor)),
    boards: Number(
      fill(
        need,
        byRoom.map((board) => ({ ...board, cost: 1n })),
      ),
    ),
  };
}

/** Fills boards in the given order and adds up what they cost, the last one in proportion and rounded up. */
function fill(need: bigint, boards: readonly { room: bigint; cost: bigint; count: bigint | undefined }[]): bigint {
  let left = need;
  let total = 0n;
  for (const { room, cost, count } of boards) {
    if (count === undefined || count * room >= left) return total + (left * cost + room - 1n) / room;
    total += count * cost;
    left -= count * room;
  }
  return total;
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  return b === 0n ? a : greatestCommonDivisor(b, a % b);
}

function roundUp(value: bigint, step: bigint): bigint {
  return step === 0n ? value : ((value + step - 1n) / step) * step;
}
