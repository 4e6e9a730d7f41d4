/** What to buy, in a sentence or two. */
import type { Purchase, Shortfall } from '../cutting/purchase.ts';
import { counted, money } from '../model/money.ts';
import { showLength } from '../model/show.ts';
import { ticks } from '../model/ticks.ts';
import { both } from './say.ts';
import type { StockInput } from './stock-input.ts';

type Naming = Pick<StockInput, 'request' | 'materials' | 'show' | 'currency'>;

/** Undefined where nothing is known of it. */
export function purchaseText(shortfall: Shortfall | undefined, input: Naming): string | undefined {
  if (!shortfall) return undefined;
  const { purchases, unbuyable } = shortfall;
  const sentences = purchases.map((one) => purchaseSentence(one, purchases.length > 1, shortfall.material, input));
  if (unbuyable.length > 0) sentences.push(unbuyableSentence(shortfall, input));
  return sentences.length > 0 ? sentences.join(' ') : undefined;
}

function purchaseSentence(purchase: Purchase, isOneOfTwo: boolean, material: string, input: Naming): string {
  const { aims, boardCount, price } = purchase;
  const cost = price === undefined ? '' : `, ${money(price, input.currency)}`;
  const boards = boardsText(purchase, input);
  const how = howGood(purchase);
  if (!isOneOfTwo) return `Buy ${boards} beyond the counts${cost}: ${how}.`;
  const kind = counted(boardCount, boardWord(material, input));
  return aims.includes('least')
    ? `Buy at least ${kind} beyond the counts: ${boards}${cost}; ${how}.`
    : `Cheaper is ${boards}${cost}; ${how}.`;
}

/** `1 of 144in and 2 of 96in`. */
export function boardsText({ boards }: Purchase, { show }: Pick<Naming, 'show'>): string {
  return both(boards.map(({ count, length }) => `${count} of ${showLength(ticks(length), show)}`));
}

/** `no purchase is smaller, and none was found that is cheaper`. */
export function howGood({ aims, proven }: Purchase): string {
  const word = { least: 'smaller', cheapest: 'cheaper' } as const;
  const sure = aims.filter((aim) => proven.includes(aim)).map((aim) => word[aim]);
  const sought = aims.filter((aim) => !proven.includes(aim)).map((aim) => word[aim]);
  if (sought.length === 0) return `no purchase is ${sure.join(' or ')}`;
  if (sure.length === 0) return `none was found that is ${sought.join(' or ')}`;
  return `no purchase is ${sure.join(' or ')}, and none was found that is ${sought.join(' or ')}`;
}

function unbuyableSentence({ unbuyable, material }: Shortfall, { request, show }: Naming): string {
  const quantity = unbuyable.reduce((sum, one) => sum + one.quantity, 0);
  const longest = unbuyable.reduce((most, { length }) => Math.max(most, length), 0) + 2 * (request.saw.trim ?? 0);
  const them = counted(quantity, 'part');
  return (
    `For ${them} of "${material}" nothing that can be bought is long enough, only offcuts on the rack are: ` +
    `add a stock length of at least ${showLength(ticks(longest), show)}, or divide the ${quantity === 1 ? 'part' : 'parts'} in the layout.`
  );
}

/** `board`, or `rod` for what is declared as one. */
export function boardWord(material: string, { materials }: Pick<Naming, 'materials'>): string {
  return materials.get(material)?.statement.word.text === 'rod' ? 'rod' : 'board';
}
