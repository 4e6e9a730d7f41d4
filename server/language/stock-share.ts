/** What of a plan falls to one unit: a board is cut for several, so boards and their price are shared out by length, offcuts and saw cuts with them. */
import type { MaterialTotals } from '../cutting/types.ts';
import type { Part } from '../model/layout.ts';

export interface StockShare {
  /** Of each material that the plan cuts: the unit's part of it, 1 for all. */
  readonly known: readonly { readonly material: string; readonly totals: MaterialTotals; readonly share: number }[];
  /** In minor units, not rounded; undefined where a material is not planned or its stock has no price. */
  readonly price: number | undefined;
}

export function stockShare(
  parts: readonly Part[],
  totalsOf: (material: string) => MaterialTotals | undefined,
): StockShare {
  const lengths = new Map<string, number>();
  for (const { material, length } of parts) lengths.set(material, (lengths.get(material) ?? 0) + length);
  const known = [...lengths].flatMap(([material, length]) => {
    const totals = totalsOf(material);
    return totals && totals.usedLength > 0 ? [{ material, totals, share: length / totals.usedLength }] : [];
  });
  const isPriced = known.length === lengths.size && known.every(({ totals }) => totals.price !== undefined);
  return {
    known,
    price: isPriced ? known.reduce((sum, { totals, share }) => sum + share * (totals.price ?? 0), 0) : undefined,
  };
}
