/** The declarations of stock, by the material that they are of: in a library that is reached in two ways it has two names. */
import type { Computed } from './computed.ts';
import type { Finding } from './finding.ts';
import type { Stock } from './materials.ts';
import type { Declared } from './names.ts';
import { repetitions } from './repeated.ts';

interface Held {
  readonly declared: Declared;
  readonly stock: Stock;
}

/** By what each material is called in the project. Of several for one material the first counts, which is told. */
export function stockByMaterial(computed: readonly Computed[]): ReadonlyMap<string, Stock> {
  return new Map([...heldOf(computed)].flatMap(([material, [first]]) => (first ? [[material, first.stock]] : [])));
}

/** Stock of one material that is said twice, under two names: what is said under one name needs no looking up. */
export function repeatedStock(computed: readonly Computed[]): Finding[] {
  return [...heldOf(computed).values()].flatMap((all) => {
    if (all.length < 2) return [];
    const byName = Map.groupBy(all, ({ declared }) => declared.name);
    return repetitions([...byName.values()].flatMap(([first]) => (first ? [first.declared] : [])));
  });
}

function heldOf(computed: readonly Computed[]): ReadonlyMap<string, readonly Held[]> {
  const stock = computed.flatMap((c) => (c.kind === 'stock' ? [{ declared: c.declared, stock: c.value }] : []));
  return Map.groupBy(stock, (held) => held.stock.material);
}
