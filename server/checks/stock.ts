/** Whether the stock holds the parts of the whole project: what is proven, and what one plan shows. */
import type { Place } from '../../grammar/tree.ts';
import { type Item, itemsOf } from '../cutting/sets.ts';
import { longerThanAnyStock, provenShort, type Shortage } from '../cutting/shortage.ts';
import { type Finding, finding } from '../model/finding.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { greatest, NONE, subtract, type Ticks, ticks } from '../model/ticks.ts';
import { compared } from './say.ts';
import { originsOf, type StockInput, waiting } from './stock-input.ts';
import { matchedSetLongerThanStock, setsTooLong } from './stock-sets.ts';
import { offcutWorthNotCounted, worthNotCounted } from './stock-worth.ts';

export type { PieceOrigin, StockInput } from './stock-input.ts';

export const partLongerThanStock: Rule = {
  id: 'part-longer-than-stock',
  family: 'stock',
  title: 'A part is longer than any stock of its material',
  explanation:
    'No board or rod that can be had is long enough, with what its ends lose taken off. Add a longer stock length, or divide the part in the layout.',
  severity: 'error',
  source: { kind: 'language' },
  comparison: 'length of the part <= longest stock length - what its two ends lose',
};

export const stockShort: Rule = {
  id: 'stock-short',
  family: 'stock',
  title: 'The stock cannot hold the parts, whatever the plan',
  explanation:
    'The parts come to more than the boards or rods long enough for them can hold, so that no cutting plan fits. This is proven by adding up, not by trying. Buy more, or say that there is no limit.',
  severity: 'error',
  source: { kind: 'language' },
  comparison:
    'lengths of the parts, each with a kerf <= usable lengths of the stock, each with a kerf; or the same in pieces',
};

export const stockPlanDoesNotFit: Rule = {
  id: 'stock-plan-does-not-fit',
  family: 'stock',
  title: 'The plan found so far does not fit the stock',
  explanation:
    'The plan leaves parts without a board or rod. That is no proof that the stock is short: another plan may fit. Let the planner work on, or have more stock at hand.',
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'parts without a board = 0',
};

export const stockMissing: Rule = {
  id: 'stock-missing',
  family: 'stock',
  title: 'A material has no stock',
  explanation:
    'Parts are cut from this board or rod, and nothing says in which lengths it can be had, so that they cannot be planned. Declare its stock: `stock white-12 { length 8ft }`.',
  severity: 'warning',
  source: { kind: 'language' },
};

export const stockRules: readonly Rule[] = [
  partLongerThanStock,
  matchedSetLongerThanStock,
  stockShort,
  stockPlanDoesNotFit,
  stockMissing,
  offcutWorthNotCounted,
];

/**
 * Findings about the stock of a project. Each sits on the stock statement (on the material, where there
 * is no stock), with the parts that wait as related places and their units as reach.
 */
export function stockFindings(input: StockInput): Finding[] {
  const short = provenShort(input.request);
  const proven = new Set(short.map(({ material }) => material));
  return [
    ...missing(input),
    ...tooLong(input),
    ...setsTooLong(input),
    ...short.flatMap((shortage) => cannotHold(shortage, input)),
    ...doesNotFit(input, proven),
    ...worthNotCounted(input),
  ];
}

function missing(input: StockInput): Finding[] {
  const { request } = input;
  const stocked = new Set(request.stock.map(({ material }) => material));
  const found: Finding[] = [];
  for (const [material, pieces] of byMaterial(request.pieces.filter((piece) => !stocked.has(piece.material)))) {
    const place = placeFor(material, pieces, input);
    if (!place) continue;
    found.push(
      waiting(
        finding(
          stockMissing,
          place,
          `"${material}" has no stock, and ${parts(pieces)} of it ${plural(pieces) ? 'are' : 'is'} to be cut.`,
          {
            advice: `Declare the lengths in which it can be had: \`stock ${material} { length 8ft }\`.`,
            about: material,
          },
        ),
        pieces,
        input,
      ),
    );
  }
  return found;
}

function tooLong(input: StockInput): Finding[] {
  const { request, show } = input;
  const { saw } = request;
  const found: Finding[] = [];
  for (const [material, pieces] of byMaterial(longerThanAnyStock(request).filter(({ runs }) => !runs))) {
    const place = placeFor(material, pieces, input);
    if (!place) continue;
    const own = request.stock.filter((stock) => stock.material === material).map(({ length }) => length);
    const trims = ticks(2 * (saw.trim ?? 0));
    const usable = greatest(NONE, subtract(longest(own), trims));
    const part = longest(pieces.map(({ length }) => length));
    const lost = trims > 0 ? `, of which ${showLength(usable, show)} can be used` : '';
    found.push(
      waiting(
        finding(
          partLongerThanStock,
          place,
          `The longest stock of "${material}" is ${showLength(longest(own), show)}${lost}; ${parts(pieces)} of it ${plural(pieces) ? 'are' : 'is'} longer, up to ${showLength(part, show)}.`,
          {
            advice: `Add a stock length of at least ${showLength(ticks(part + trims), show)}, or divide the ${plural(pieces) ? 'parts' : 'part'} in the layout.`,
            comparison: compared(`longest part of "${material}"`, part, 'at most', usable),
            about: material,
          },
        ),
        pieces,
        input,
      ),
    );
  }
  return found;
}

function cannotHold(shortage: Shortage, input: StockInput): Finding[] {
  const { request, show } = input;
  const { material, need, have } = shortage;
  const counted = new Set(shortage.pieces);
  const items = itemsOf(request).filter((item) => item.material === material);
  const pieces = items.filter(({ id }) => counted.has(id));
  const place = placeFor(material, pieces, input);
  if (!place) return [];
  const all = pieces.length === items.length;
  const which = all
    ? `the ${parts(pieces)}`
    : `the ${parts(pieces)} of ${showLength(ticks(shortage.from), show)} and longer`;
  const told =
    shortage.kind === 'length'
      ? `${which} take ${showLength(ticks(need), show)} with a kerf each, and the stock that is long enough holds ${showLength(ticks(have), show)}`
      : `${which} find room for ${have} at most in the stock that is long enough`;
  return [
    waiting(
      finding(stockShort, place, `"${material}" is short, whatever the plan: ${told}.`, {
        advice:
          shortage.kind === 'length'
            ? `Have at least ${showLength(ticks(need - have), show)} more of it in such lengths, or more of them without a limit.`
            : `Have stock for at least ${need - have} more of them, or more of it without a limit.`,
        comparison:
          shortage.kind === 'length'
            ? compared(`parts of "${material}" with a kerf each`, ticks(need), 'at most', ticks(have))
            : {
                what: `${pieces.some(({ runs }) => runs) ? 'parts and matched sets' : 'parts'} of "${material}"`,
                measured: { count: need },
                relation: 'at most',
                limit: { count: have },
              },
        about: material,
      }),
      pieces,
      input,
    ),
  ];
}

function doesNotFit(input: StockInput, proven: ReadonlySet<string>): Finding[] {
  const { request, plan } = input;
  const left = new Map<string, number>();
  for (const { piece, material, reason, quantity } of plan?.uncut ?? []) {
    if (reason === 'stock used up' && !proven.has(material)) left.set(piece, (left.get(piece) ?? 0) + quantity);
  }
  const pieces = request.pieces.flatMap((piece) => {
    const quantity = left.get(piece.id) ?? 0;
    return quantity > 0 ? [{ ...piece, quantity }] : [];
  });
  const found: Finding[] = [];
  for (const [material, own] of byMaterial(pieces)) {
    const place = placeFor(material, own, input);
    if (!place) continue;
    found.push(
      waiting(
        finding(
          stockPlanDoesNotFit,
          place,
          `The first plan found leaves ${parts(own)} of "${material}" without stock. That is no proof that it is short: another plan may fit.`,
          {
            advice: 'Let the planner look for a better plan, or have more of it at hand.',
            comparison: {
              what: `parts of "${material}" without stock`,
              measured: { count: quantityOf(own) },
              relation: 'equal to',
              limit: { count: 0 },
            },
            about: material,
          },
        ),
        own,
        input,
      ),
    );
  }
  return found;
}

/**
 * The stock statement of a material, that of its longest length where there are several; where it has
 * none, the material itself, and at the last a part of it.
 */
function placeFor(material: string, pieces: readonly Item[], input: StockInput): Place | undefined {
  const { request, items, materials } = input;
  const [first] = request.stock
    .filter((stock) => stock.material === material && items.has(stock.id))
    .sort((a, b) => b.length - a.length);
  const declaration = first && items.get(first.id)?.declaration;
  return declaration ?? materials.get(material) ?? originsOf(pieces, input)[0]?.place;
}

function byMaterial(pieces: readonly Item[]): [string, Item[]][] {
  const wanted = pieces.filter(({ quantity }) => quantity > 0);
  return [...Map.groupBy(wanted, ({ material }) => material)].sort(([a], [b]) => (a < b ? -1 : 1));
}

function longest(lengths: readonly Ticks[]): Ticks {
  return ticks(lengths.reduce<number>((most, length) => Math.max(most, length), 0));
}

function quantityOf(pieces: readonly Item[]): number {
  return pieces.reduce((sum, { quantity }) => sum + quantity, 0);
}

function plural(pieces: readonly Item[]): boolean {
  return quantityOf(pieces) !== 1;
}

/** `1 part`, `12 parts`, `12 parts and 1 matched set`. */
function parts(items: readonly Item[]): string {
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
