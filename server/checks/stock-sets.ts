/** Matched sets that no board or rod is long enough for. */
import type { Place } from '../../grammar/tree.ts';
import { usableLength } from '../cutting/board.ts';
import { longerThanAnyStock } from '../cutting/shortage.ts';
import { gapFix } from '../model/edits.ts';
import { type Finding, type Fix, finding } from '../model/finding.ts';
import type { Rule } from '../model/rule.ts';
import { type Show, showLength } from '../model/show.ts';
import { NONE, type Ticks, ticks } from '../model/ticks.ts';
import { compared } from './say.ts';
import { originsOf, type StockInput, unitNamed } from './stock-input.ts';

export const matchedSetLongerThanStock: Rule = {
  id: 'matched-set-longer-than-stock',
  family: 'stock',
  title: 'A matched set is longer than any stock of its material',
  explanation:
    'The parts of a matched set are cut from one board, one after another with a cut between each two. No board that can be had is long enough for all of them. Add a longer stock length, or divide the set: give some of its parts another name.',
  severity: 'error',
  source: { kind: 'language' },
  comparison: 'lengths of the parts + a kerf between each two <= longest stock length - what its two ends lose',
};

/** Another length of a stock: which of those that are long enough can be had is to be filled in. */
export function longerStock(declaration: Place | undefined, least: Ticks, show: Show): Fix[] {
  if (declaration?.statement.word.text !== 'stock') return [];
  return gapFix(
    declaration.statement,
    'length',
    `Write "length", to be filled in: one of at least ${showLength(least, show)} that can be had`,
  );
}

/** So many parts are named. */
const mostNamed = 10;

/** One finding for each set, on the statement that says so. */
export function setsTooLong(input: StockInput): Finding[] {
  const { request, matched, items, show } = input;
  const { saw, stock, pieces } = request;
  if (!request.sets) return [];
  const lengths = new Map(pieces.map(({ id, length }) => [id, length]));
  return longerThanAnyStock(request).flatMap((set) => {
    const named = matched?.get(set.id);
    if (!set.runs || !named) return [];
    const own = stock.filter(({ material }) => material === set.material);
    const [longest] = own.toSorted((a, b) => b.length - a.length);
    if (!longest) return [];
    const usable = ticks(Math.max(0, usableLength(longest, saw)));
    const trims = ticks(2 * (saw.trim ?? NONE));
    const parts = set.runs.reduce((sum, { quantity }) => sum + quantity, 0);
    const lost = trims > 0 ? `, of which ${showLength(usable, show)} can be used` : '';
    const origins = originsOf([set], input);
    const lengthOf = ({ path }: (typeof origins)[number]) => {
      const run = set.runs?.find(({ piece }) => input.origins.get(piece)?.some((origin) => origin.path === path));
      return run && lengths.get(run.piece);
    };
    const place = items.get(longest.id)?.place;
    const made = finding(
      matchedSetLongerThanStock,
      named.place,
      `Matched set "${named.name}" takes ${showLength(set.length, show)} of one board: ${parts} parts of "${set.material}" and a cut of ${showLength(saw.kerf, show)} between each two. The longest stock of it is ${showLength(longest.length, show)}${lost}.`,
      {
        advice: `Add a stock length of at least ${showLength(ticks(set.length + trims), show)}, or give some of its parts another name.`,
        fixes: longerStock(items.get(longest.id)?.declaration, ticks(set.length + trims), show),
        comparison: compared(`matched set "${named.name}" of "${set.material}"`, set.length, 'at most', usable),
        about: named.name,
        related: [
          ...(place ? [{ place, message: `The longest stock of "${set.material}".` }] : []),
          ...origins.slice(0, mostNamed).map((origin) => {
            const length = lengthOf(origin);
            const long = length === undefined ? '' : `: ${showLength(length, show)}`;
            return {
              place: origin.place,
              message: `"${origin.path}" of ${unitNamed(origin.unit)} is of the set${long}.`,
            };
          }),
        ],
      },
    );
    return [{ ...made, reach: [...new Set(origins.flatMap(({ unit, units }) => units ?? [unit]))] }];
  });
}
