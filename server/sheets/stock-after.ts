/** The stock of a project once its plan has been cut: a file that takes the place of the one it had. */
import type { Plan, PlanRequest, StockLength } from '../cutting/types.ts';
import { type Show, showLength } from '../model/show.ts';
import { roundDown, type Ticks } from '../model/ticks.ts';

/**
 * Statements of the language, a declaration for each material in the order of their names. Boards that were counted
 * are fewer by what the plan takes, offcuts that were cut are gone, and what is left over and worth keeping has come.
 * A length finer than what is shown is rounded down, so that nothing is written longer than it lies there.
 */
export function stockAfter(
  { request, plan }: { readonly request: PlanRequest; readonly plan: Plan },
  currency: string | undefined,
  show: Show,
): string {
  const taken = new Map<string, number>();
  for (const { stock, times } of plan.patterns) taken.set(stock, (taken.get(stock) ?? 0) + times);
  const materials = Map.groupBy(request.stock, ({ material }) => material);
  const declarations = [...materials]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([material, stock]) => {
      const offcuts = new Map<Ticks, number>();
      const add = (length: Ticks, count: number): void => {
        if (count > 0 && length > 0) offcuts.set(length, (offcuts.get(length) ?? 0) + count);
      };
      for (const { id, length, count, offcut } of stock) if (offcut) add(length, (count ?? 1) - (taken.get(id) ?? 0));
      for (const { offcut, keep, times, material: of } of plan.patterns)
        if (keep && of === material) add(roundDown(offcut, show.step), times);
      const lines = [
        ...stock
          .filter(({ offcut }) => !offcut)
          .map((board) => boardLine(board, taken.get(board.id) ?? 0, currency, show)),
        ...[...offcuts]
          .toSorted(([a], [b]) => b - a)
          .map(([length, count]) => `  offcut ${showLength(length, show)}${count === 1 ? '' : ` count ${count}`}`),
        ...(request.worth ?? [])
          .filter((worth) => worth.material === material && currency !== undefined)
          .map(
            ({ price, per }) =>
              `  keep-offcuts worth ${(price / 100).toFixed(2)} ${currency} per ${showLength(per, show)}`,
          ),
      ];
      return `stock ${material} {\n${lines.join('\n')}\n}\n`;
    });
  return declarations.join('\n');
}

function boardLine(
  { length, price, count }: StockLength,
  taken: number,
  currency: string | undefined,
  show: Show,
): string {
  const cost = price === undefined || currency === undefined ? '' : ` price ${(price / 100).toFixed(2)} ${currency}`;
  const left = count === undefined ? ' unlimited' : ` count ${Math.max(0, count - taken)}`;
  return `  length ${showLength(roundDown(length, show.step), show)}${cost}${left}`;
}
