/** Whether the stock holds the parts of the whole project: what is proven, what one plan shows, and what to buy. */
import type { Shortfall } from '../cutting/purchase.ts';
import { type Item, itemsOf } from '../cutting/sets.ts';
import { longerThanAnyStock, provenShort, type Shortage } from '../cutting/shortage.ts';
import { examplesIn } from '../model/examples.ts';
import { type Finding, finding } from '../model/finding.ts';
import { memo } from '../model/memo.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { greatest, NONE, subtract, ticks } from '../model/ticks.ts';
import { nearMissFindings, stockNearlySaved } from './near-miss.ts';
import { compared } from './say.ts';
import { type PieceOrigin, type StockInput, waiting } from './stock-input.ts';
import { byMaterial, longest, parts, placeFor, plural, quantityOf } from './stock-parts.ts';
import { purchaseText } from './stock-purchase.ts';
import { longerStock, matchedSetLongerThanStock, setsTooLong } from './stock-sets.ts';
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
    'The parts come to more than the boards or rods long enough for them can hold, so that no cutting plan fits. This is proven by adding up, or in whole numbers from the certificate of the planner, not by trying. Buy more, or say that there is no limit.',
  severity: 'error',
  source: { kind: 'language' },
  comparison:
    'lengths of the parts, each with a kerf <= usable lengths of the stock, each with a kerf; or the same in pieces, or in weights of the certificate',
};

export const stockPlanDoesNotFit: Rule = {
  id: 'stock-plan-does-not-fit',
  family: 'stock',
  title: 'The plan found so far does not fit the stock',
  explanation:
    'The plan leaves parts without a board or rod. That is no proof that the stock is short: another plan may fit. Have more stock at hand, or let `storypole plan` look for another plan.',
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
  stockNearlySaved,
  offcutWorthNotCounted,
];

/**
 * Findings about the stock of a project. Each sits on the stock statement (on the material, where there
 * is no stock), with the parts that wait as related places and their units as reach. What nearly saves stock
 * sits on the dimension that would save it.
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
    ...nearMissFindings(input),
    ...worthNotCounted(input),
  ];
}

function missing(input: StockInput): Finding[] {
  const { request, show } = input;
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
            advice: `Declare the lengths in which it can be had: \`stock ${material} { length ${examplesIn('8ft', show.system)} }\`.`,
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
  const long = longerThanAnyStock(request).filter(({ runs }) => !runs);
  for (const [material, pieces] of byMaterial(withoutSlips(long, input))) {
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
          `The longest stock of "${material}" is ${showLength(longest(own), show)}${lost}; ${parts(pieces)} of it ${plural(pieces) ? `are longer, up to ${showLength(part, show)}` : `is ${showLength(part, show)} long`}.`,
          {
            advice: `Add a stock length of at least ${showLength(ticks(part + trims), show)}, or divide the ${plural(pieces) ? 'parts' : 'part'} in the layout.`,
            fixes: longerStock(place, ticks(part + trims), show),
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

/** What is as long as it is for nothing but a slip is told at that. */
function withoutSlips(pieces: readonly Item[], { origins, ofSlips }: StockInput): readonly Item[] {
  const slipped = pieces.length > 0 ? ofSlips?.() : undefined;
  if (!slipped || slipped.size === 0) return pieces;
  const isOfSlip = ({ unit, units = [unit] }: PieceOrigin): boolean => units.every((name) => slipped.has(name));
  return pieces.filter(({ id }) => !origins.get(id)?.every(isOfSlip));
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
  const shortfall = shortfallIn(material, input);
  const left = leftBy(material, input);
  return [
    waiting(
      finding(stockShort, place, `"${material}" is short, whatever the plan: ${told}.${leaves(left, shortfall)}`, {
        advice:
          purchaseText(shortfall, input) ??
          (shortage.kind === 'length'
            ? `Have at least ${showLength(ticks(need - have), show)} more of it in such lengths, or more of them without a limit.`
            : `Have stock for at least ${need - have} more of them, or more of it without a limit.`),
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
      left.length > 0 ? left : pieces,
      input,
    ),
  ];
}

/** What the plan leaves without stock, where adding up does not show that it has to. */
function doesNotFit(input: StockInput, proven: ReadonlySet<string>): Finding[] {
  const found: Finding[] = [];
  for (const [material] of byMaterial(input.request.pieces)) {
    const own = leftBy(material, input);
    if (own.length === 0 || proven.has(material)) continue;
    const place = placeFor(material, own, input);
    if (!place) continue;
    const shortfall = shortfallIn(material, input);
    const details = {
      advice:
        purchaseText(shortfall, input) ?? 'Have more of it at hand, or let `storypole plan` look for another plan.',
      comparison: {
        what: `parts of "${material}" without stock`,
        measured: { count: quantityOf(own) },
        relation: 'equal to',
        limit: { count: 0 },
      },
      about: material,
    } as const;
    const made = shortfall?.proven
      ? finding(
          stockShort,
          place,
          `"${material}" is short, whatever the plan: no way of cutting what is counted gives all its parts, which is proven in whole numbers.${leaves(own, shortfall)}`,
          details,
        )
      : finding(
          stockPlanDoesNotFit,
          place,
          `The best plan found leaves ${parts(own)} of "${material}" without stock. That is no proof that it is short: another plan may fit.`,
          details,
        );
    found.push(waiting(made, own, input));
  }
  return found;
}

function shortfallIn(material: string, { advice }: StockInput): Shortfall | undefined {
  return advice?.materials.find((one) => one.material === material)?.shortfall;
}

const leftovers = new WeakMap<StockInput, ReadonlyMap<string, Item[]>>();

/** The pieces that the plan leaves for want of stock, as many as it leaves. All materials are gone through once. */
function leftBy(material: string, input: StockInput): Item[] {
  const left = memo(leftovers, input, () => {
    const quantities = new Map<string, number>();
    for (const { piece, reason, quantity } of input.plan?.uncut ?? [])
      if (reason === 'stock used up') quantities.set(piece, (quantities.get(piece) ?? 0) + quantity);
    const pieces = input.request.pieces.flatMap((piece) => {
      const quantity = quantities.get(piece.id) ?? 0;
      return quantity > 0 ? [{ ...piece, quantity }] : [];
    });
    return Map.groupBy(pieces, (piece) => piece.material);
  });
  return left.get(material) ?? [];
}

function leaves(left: readonly Item[], shortfall: Shortfall | undefined): string {
  if (!shortfall || left.length === 0) return '';
  return ` The best plan found leaves ${parts(left)} without stock.`;
}
