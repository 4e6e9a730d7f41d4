/** How the findings about stock find their place and count what waits. */
import type { Place } from '../../grammar/tree.ts';
import type { Item } from '../cutting/sets.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { originsOf, type StockInput } from './stock-input.ts';

/**
 * The stock statement of a material, that of its longest length where there are several; where it has
 * none, the material itself, and at the last a part of it.
 */
export function placeFor(material: string, pieces: readonly Item[], input: StockInput): Place | undefined {
  const { request, items, materials } = input;
  const [first] = request.stock
    .filter((stock) => stock.material === material && items.has(stock.id))
    .sort((a, b) => b.length - a.length);
  const declaration = first && items.get(first.id)?.declaration;
  return declaration ?? materials.get(material) ?? originsOf(pieces, input)[0]?.place;
}

export function byMaterial(pieces: readonly Item[]): [string, Item[]][] {
  const wanted = pieces.filter(({ quantity }) => quantity > 0);
  return [...Map.groupBy(wanted, ({ material }) => material)].sort(([a], [b]) => (a < b ? -1 : 1));
}

export function longest(lengths: readonly Ticks[]): Ticks {
  return ticks(lengths.reduce<number>((most, length) => Math.max(most, length), 0));
}

export function quantityOf(pieces: readonly Item[]): number {
  return pieces.reduce((sum, { quantity }) => sum + quantity, 0);
}

export function plural(pieces: readonly Item[]): boolean {
  return quantityOf(pieces) !== 1;
}

/** `1 part`, `12 parts`, `12 parts and 1 matched set`. */
export function parts(items: readonly Item[]): string {
  const [sets, single] = [items.filter(({ runs }) => runs), items.filter(({ runs }) => !runs)].map(quantityOf) as [
    number,
    number,
  ];
  const said = [
    ...(single > 0 || sets === 0 ? [`${single} ${single === 1 ? 'part' : 'parts'}`] : []),
    ...(sets > 0 ? [`${sets} matched ${sets === 1 ? 'set' : 'sets'}`] : []),
  ];
  return said.join(' and ');
}
