/** What no plan can fall below, by lengths alone. */
import { capacity, costOf, measureOf, usableLength } from './board.ts';
import { leastNet } from './columns/net.ts';
import type { PlanBound, PlanRequest, Saw, StockLength } from './types.ts';
import { takenValue, type Worth, worthOf } from './worth.ts';

/**
 * The least cost and the least number of boards of any plan that cuts these lengths of a material; a matched set is
 * one length. Pieces may be broken anywhere for this, so every real plan costs at least as much. The cost is
 * rounded up to a sum that whole boards could come to.
 */
export function lengthBound(
  request: PlanRequest,
  material: string,
  pieces: readonly { readonly length: number; readonly quantity: number }[],
): PlanBound {
  const { saw } = request;
  const stock = request.stock.filter((board) => board.material === material);
  const measure = measureOf(stock);
  const shortest = pieces.reduce((least, piece) => Math.min(least, piece.length), Infinity);
  const usable = stock.filter((board) => usableLength(board, saw) >= shortest);
  const boards = usable.map((board) => ({
    room: BigInt(capacity(board, saw)),
    cost: BigInt(costOf(board, measure)),
    count: board.count === undefined ? undefined : BigInt(board.count),
  }));
  let need = 0n;
  for (const { length, quantity } of pieces) need += BigInt(length + saw.kerf) * BigInt(quantity);

  const worth = worthOf(request, material);
  const byCost = [...boards].sort((a, b) => Number(a.cost * b.room - b.cost * a.room));
  const byRoom = [...boards].sort((a, b) => Number(b.room - a.room));
  // A plan's cost is a sum of whole boards' costs, so it is a multiple of what divides them all.
  const divisor = boards.reduce((common, board) => greatestCommonDivisor(common, board.cost), 0n);
  return {
    proof: 'length',
    measure,
    cost: worth ? netOfLengths(need, usable, saw, worth) : Number(roundUp(fill(need, byCost), divisor)),
    boards: Number(
      fill(
        need,
        byRoom.map((board) => ({ ...board, cost: 1n })),
      ),
    ),
  };
}

/**
 * Less what is left can be worth, as if every tick of it were kept: what is not pieces is left. That is the sum of
 * the certificates (see columns/certificate.ts) with lengths for weights.
 */
function netOfLengths(need: bigint, usable: readonly StockLength[], saw: Saw, worth: Worth): number {
  const { price, per } = worth.stated;
  const boards = usable.map((board) => {
    const room = capacity(board, saw) * price;
    const cost = costOf(board, 'price') + takenValue(board, worth);
    return { holds: room, along: room, cost, count: board.count ?? Infinity };
  });
  return leastNet(boards, need * BigInt(price), per);
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
