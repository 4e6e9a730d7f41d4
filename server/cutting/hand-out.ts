/** From lengths on boards to pieces on boards. */
import { patternOf } from './board.ts';
import type { Boards } from './pack.ts';
import { inOrder } from './patterns/order.ts';
import { cutsOf, type Item } from './sets.ts';
import type { Pattern, Saw, StockLength } from './types.ts';

/** Pieces and matched sets of one length, in the order in which they are handed out. */
export type Queue = { readonly item: Item; left: number }[];

/**
 * Says which pieces each board's lengths are, with a queue for each size, in the order of cutting (patterns/order.ts). Boards stay together as long as
 * they cut the same pieces, so there are never more patterns than kinds of filling and twice the pieces.
 * What is left in the queues afterwards is not cut.
 */
export function handOut(
  boards: readonly Boards[],
  queues: readonly Queue[],
  stock: readonly StockLength[],
  saw: Saw,
): Pattern[] {
  const patterns = new Map<string, Pattern>();
  const first = queues.map(() => 0);
  for (const { kind, times, parts } of inOrder(boards)) {
    for (let left = times; left > 0; ) {
      let alike = left;
      const taken: { entry: Queue[number]; quantity: number }[] = [];
      for (const [size, quantity] of parts) {
        const queue = queues[size] as Queue;
        let at = first[size] as number;
        while (queue[at]?.left === 0) at++;
        first[size] = at;
        for (let wanted = quantity; wanted > 0; at++) {
          const entry = queue[at] as Queue[number];
          const some = Math.min(wanted, entry.left);
          taken.push({ entry, quantity: some });
          alike = Math.min(alike, Math.floor(entry.left / some));
          wanted -= some;
        }
      }
      for (const { entry, quantity } of taken) entry.left -= quantity * alike;
      left -= alike;
      const key = JSON.stringify([kind, taken.map(({ entry: { item }, quantity }) => [item.id, quantity])]);
      const known = patterns.get(key);
      const cuts = () => taken.flatMap(({ entry: { item }, quantity }) => cutsOf(item, quantity));
      patterns.set(
        key,
        known ? { ...known, times: known.times + alike } : patternOf(stock[kind] as StockLength, saw, cuts(), alike),
      );
    }
  }
  return [...patterns.values()];
}
