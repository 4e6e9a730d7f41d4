/** Dimensions that, a little smaller, would save stock: found by planning again with the parts shortened. */
import { type NumberLiteral, placeOf, sliceOf } from '../../grammar/tree.ts';
import type { LeverOrigin } from '../cutting/levers.ts';
import type { NearMiss, Saving } from '../cutting/near-miss.ts';
import { type Finding, type Fix, finding, type Related, type Working } from '../model/finding.ts';
import { counted, money } from '../model/money.ts';
import { isExpression } from '../model/phrase.ts';
import type { Rule } from '../model/rule.ts';
import { showInches, showLength, showMillimetres } from '../model/show.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { evaluate } from '../model/values.ts';
import { capital, compared } from './say.ts';
import { mostNamed, type StockInput, unitNamed } from './stock-input.ts';
import { boardWord } from './stock-purchase.ts';

export const stockNearlySaved: Rule = {
  id: 'stock-nearly-saved',
  family: 'stock',
  title: 'A dimension a little smaller would save stock',
  explanation:
    'The parts that take their length from this dimension were planned again, shorter by no more than `worth-shortening`, and what takes the rest of the wall longer. ' +
    'What is said to be saved is the difference between the plan that came out and what the parts as they are cannot cost less than. ' +
    'It is told from a board, or the step from one board to the next shorter one, upwards; each dimension by itself. Only the most promising ones are tried.',
  severity: 'note',
  source: { kind: 'common-practice' },
  comparison: 'cost of the plan with the dimension smaller by at most worth-shortening > least cost as it is - a board',
  limits: ['worth-shortening'],
};

/** So many are told; what saves most comes first. */
const mostTold = 6;

export function nearMissFindings(input: StockInput): Finding[] {
  const { advice, levers } = input;
  return (advice?.nearMisses ?? []).slice(0, mostTold).flatMap((miss) => {
    const origin = levers?.get(miss.lever);
    return origin ? [nearMissFinding(miss, origin, input)] : [];
  });
}

function nearMissFinding(miss: NearMiss, origin: LeverOrigin, input: StockInput): Finding {
  const { show } = input;
  const { by, saves, further } = miss;
  const longest = ticks(origin.parts.reduce((most, { length }) => Math.max(most, length), 0));
  const more = further
    ? ` By ${showLength(ticks(further.by), show)} it is more: ${savingText(further.saves, origin, input)}.`
    : '';
  const made = finding(
    stockNearlySaved,
    origin.place,
    `${capital(nameOf(origin))} is ${showLength(ticks(by), show)} from saving stock: so much ${smaller(origin)}, ${savingText(saves, origin, input)}. ${shortened(origin)}${more}`,
    {
      advice: `${adviceText(origin, showLength(ticks(by), show))} Then run the checks again.`,
      comparison: compared(
        `longest part that takes its length from ${nameOf(origin)}`,
        longest,
        'at most',
        ticks(longest - by),
      ),
      about: origin.name,
      working: [
        workingOf(origin, ticks(by), saves, input),
        ...(further ? [workingOf(origin, ticks(further.by), further.saves, input)] : []),
      ],
      fixes: [
        ...smallerFix(origin, ticks(by), saves, input),
        ...(further ? smallerFix(origin, ticks(further.by), further.saves, input) : []),
      ],
    },
  );
  return {
    ...made,
    related: relatedParts(origin, ticks(by), input),
    reach: [...new Set(origin.parts.flatMap(({ units }) => units))],
  };
}

/** `zone "main"`, `1/16in narrower`, `the plan takes 1 board fewer`. */
function workingOf(origin: LeverOrigin, by: Ticks, saves: Saving, input: StockInput): Working {
  const value = `${showLength(by, input.show)} ${smaller(origin)}`;
  return { what: nameOf(origin), value, how: savingText(saves, origin, input) };
}

/**
 * The dimension as it would be written: what it saves has been planned. By hand, as the design is somebody's; whether
 * another rule minds is found out before it is offered. A length that comes from the room is not one number's to change.
 */
function smallerFix(origin: LeverOrigin, by: Ticks, saves: Saving, input: StockInput): Fix[] {
  const { place, kind } = origin;
  const [first, ...others] = place.statement.items;
  if (kind === 'fitting' || !first || others.length > 0 || !isExpression(first) || first.kind === 'path') return [];
  const off = showLength(by, input.show);
  const old = sliceOf(place.statement, first);
  const text = first.kind === 'number' ? lessThan(first, origin, by) : `${old} - ${off}`;
  if (text === undefined || text.includes('~') || off.startsWith('~')) return [];
  const title = `Write ${text}, ${off} ${smaller(origin)}: ${savingText(saves, origin, input)}`;
  return [{ title, edits: [{ place: placeOf(place.statement, first), text }], byHand: true }];
}

/** So much less than what is written, in inches where that is and else in millimetres. */
function lessThan(number: NumberLiteral, { place: { statement } }: LeverOrigin, by: Ticks): string | undefined {
  const nowhere = { lookUp: () => undefined, report: () => undefined, system: () => showInches.system };
  const value = evaluate(number, statement, nowhere);
  if (value?.kind !== 'length' || value.ticks <= by) return undefined;
  const isMetric = number.parts.some(({ unit }) => unit !== undefined && /^(mm|cm|m)$/.test(unit.text));
  return showLength(ticks(value.ticks - by), isMetric ? showMillimetres : showInches);
}

/** `zone "shirts"`, `"coats.top"`. */
export function nameOf({ kind, name, parts }: LeverOrigin): string {
  switch (kind) {
    case 'width':
      return `zone "${name}"`;
    case 'length':
      return `the loose part "${name}"`;
    default: {
      const paths = [...new Set(parts.map(({ path }) => path))];
      return paths.length > 1 ? `"${paths[0]}" with ${paths.length - 1} like it` : `"${name}"`;
    }
  }
}

function smaller({ kind }: LeverOrigin): string {
  return kind === 'width' ? 'narrower' : kind === 'height' ? 'lower' : 'shorter';
}

function adviceText({ kind, parts }: LeverOrigin, by: string): string {
  const them = parts.length > 1 || (parts[0]?.quantity ?? 0) > 1 ? 'them' : 'it';
  switch (kind) {
    case 'width':
      return `Narrow it by ${by} where nothing else needs the width.`;
    case 'height':
      return `Lower ${them} by ${by} where nothing stands in the way.`;
    case 'length':
      return `Cut ${them} ${by} shorter where that does.`;
    case 'fitting':
      return `Take ${by} more off at the ends where what holds ${them} allows it.`;
  }
}

/** `the plan takes 1 board fewer and costs 18.90 EUR less`. */
function savingText(
  { boards, price, length, pieces, atLeast }: Saving,
  { parts }: LeverOrigin,
  { show, currency, materials, request }: StockInput,
): string {
  if (pieces > 0) return `the stock holds ${counted(pieces, 'part')} more`;
  const words = new Set(parts.map(({ material }) => boardWord(material, { materials })));
  const word = words.size === 1 ? [...words].join() : 'length of stock';
  const shorter = word === 'length of stock' ? 'shorter lengths of stock' : `shorter ${word}s`;
  const taken =
    boards > 0
      ? `takes ${counted(boards, word, word === 'length of stock' ? 'lengths of stock' : undefined)} fewer`
      : boards < 0
        ? `takes ${shorter}, though ${-boards} more of them,`
        : `takes ${shorter}`;
  const least = atLeast ? 'at least ' : '';
  const isNet = request.worth?.some((one) => parts.some(({ material }) => material === one.material)) ?? false;
  const [costs, worth] = isNet ? ['comes to', ' with what its offcuts are worth'] : ['costs', ''];
  const saved = [
    ...(price > 0 ? [`${costs} ${least}${money(price, currency)} less${worth}`] : []),
    ...(length > 0 ? [`buys ${least}${showLength(ticks(length), show)} less`] : []),
  ];
  return `the plan ${[taken, ...saved].join(' and ')}`;
}

/** `6 parts of "white-12" and 3 of "chrome" get shorter.` */
function shortened({ parts, longer }: LeverOrigin): string {
  const byMaterial = Map.groupBy(parts, ({ material }) => material);
  const texts = [...byMaterial].map(([material, own], place) => {
    const quantity = own.reduce((sum, part) => sum + part.quantity, 0);
    return place === 0 ? `${counted(quantity, 'part')} of "${material}"` : `${quantity} of "${material}"`;
  });
  const total = parts.reduce((sum, part) => sum + part.quantity, 0);
  const beside =
    longer > 0
      ? `; ${counted(longer, 'part')} beside ${longer === 1 ? 'gets' : 'get'} longer, which is counted in`
      : '';
  return `${texts.join(' and ')} ${total === 1 ? 'gets' : 'get'} shorter by it${beside}.`;
}

/** Each fitting and length once, the longest first, with the units that it is in. */
function relatedParts({ parts, place }: LeverOrigin, by: Ticks, { show }: StockInput): Related[] {
  const others = parts.filter((part) => part.place.statement !== place.statement);
  const alike = [
    ...Map.groupBy(others, ({ path, length, place: { start, end } }) => `${path} ${length} ${start} ${end}`),
  ];
  const sorted = alike.sort(([, [a]], [, [b]]) => (b?.length ?? 0) - (a?.length ?? 0));
  return sorted.slice(0, mostNamed).flatMap(([, own], index): Related[] => {
    const [part] = own;
    if (!part) return [];
    const units = own.reduce((sum, one) => sum + one.units.length, 0);
    const where = units > 1 ? `${units} units` : unitNamed(part.unit);
    const more = index === mostNamed - 1 && sorted.length > mostNamed ? `; and ${sorted.length - mostNamed} more` : '';
    const lengths = `${showLength(ticks(part.length - by), show)}, not ${showLength(part.length, show)}`;
    return [{ place: part.place, message: `"${part.path}" of ${where} would be ${lengths}${more}.` }];
  });
}
