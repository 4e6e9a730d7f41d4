/** Plans made one delivery after the other: what one leaves is the stock of the next. */
import type { Plan, PlanRequest, StockLength } from './types.ts';

/**
 * The stock once a plan has been cut: boards that were counted are fewer by what it took, offcuts that were cut are
 * gone, and what it leaves and keeps lies on the rack and costs nothing.
 */
export function stockLeft({ stock }: PlanRequest, { patterns }: Plan): StockLength[] {
  const taken = new Map<string, number>();
  for (const pattern of patterns) taken.set(pattern.stock, (taken.get(pattern.stock) ?? 0) + pattern.times);
  const left = stock.flatMap((board): StockLength[] => {
    if (board.count === undefined) return [board];
    const count = board.count - (taken.get(board.id) ?? 0);
    return count > 0 || !board.offcut ? [{ ...board, count: Math.max(0, count) }] : [];
  });
  const ids = new Set(left.map(({ id }) => id));
  const kept = Map.groupBy(
    patterns.filter(({ keep }) => keep),
    ({ material, offcut }) => `${material} ${offcut}`,
  );
  for (const alike of kept.values()) {
    const [first] = alike;
    if (!first) continue;
    const { material, offcut } = first;
    let id = `offcut ${material} ${offcut}`;
    for (let n = 2; ids.has(id); n++) id = `offcut ${material} ${offcut} (${n})`;
    ids.add(id);
    const count = alike.reduce((sum, { times }) => sum + times, 0);
    left.push({ id, material, length: offcut, offcut: true, price: 0, count });
  }
  return left;
}
