/**
 * The least cost of cutting everything, by an integer programme over ways to fill boards, solved by HiGHS. No code of
 * the planner.
 *
 * source: HiGHS (Q. Huangfu and J. A. J. Hall, Mathematical Programming Computation 10, 2018;
 * https://highs.dev), as the package `highs`.
 */
import highsModule, { type LegacyHighs } from 'highs';
import { expect } from 'vitest';

// The package's types describe its CommonJS form; imported, the default is the loader itself.
export const loadHighs = highsModule as unknown as typeof highsModule.default;

/** One way to fill a board of a kind, as counts of each length, and what such a board costs. */
export interface Filling {
  readonly kind: number;
  readonly counts: readonly number[];
  readonly cost: number;
}

/** Infinity when not everything can be cut. */
export function leastByProgramme(
  highs: LegacyHighs,
  columns: readonly Filling[],
  wanted: readonly { readonly quantity: number }[],
  stock: readonly { readonly count?: number | undefined }[],
): number {
  if (columns.length === 0) return Number.POSITIVE_INFINITY;
  const sum = (terms: [number, number][]) => terms.map(([factor, index]) => `+ ${factor} x${index}`).join('\n ');
  const demands = wanted.map(({ quantity }, size) => {
    const terms = columns.flatMap(({ counts }, index): [number, number][] =>
      counts[size] ? [[counts[size] as number, index]] : [],
    );
    return terms.length === 0 ? undefined : ` d${size}: ${sum(terms)} = ${quantity}`;
  });
  if (demands.includes(undefined)) return Number.POSITIVE_INFINITY;
  const limits = stock.flatMap(({ count }, kind) => {
    const terms = columns.flatMap((column, index): [number, number][] => (column.kind === kind ? [[1, index]] : []));
    return count === undefined || terms.length === 0 ? [] : [` s${kind}: ${sum(terms)} <= ${count}`];
  });
  const { Status, ObjectiveValue } = highs.solve(
    [
      'Minimize',
      ` cost: ${sum(columns.map(({ cost }, index) => [cost, index]))}`,
      'Subject To',
      ...demands,
      ...limits,
      'General',
      ...columns.map((_, index) => ` x${index}`),
      'End',
    ].join('\n'),
    { output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.1 },
  );
  if (Status === 'Infeasible') return Number.POSITIVE_INFINITY;
  expect(Status).toBe('Optimal');
  return Math.round(ObjectiveValue);
}
