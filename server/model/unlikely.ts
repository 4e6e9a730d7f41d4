/** Lengths that nobody would mean where they stand: far more or less than anything of their kind is built. */
import { measureOf } from '../../grammar/measures.ts';
import { type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Comparison, type Finding, type FindingDetails, finding } from './finding.ts';
import * as rules from './rules.ts';
import { type Show, showInches, showLength, showMillimetres } from './show.ts';
import { inches, LONGEST, type Ticks, ticks } from './ticks.ts';
import { type Meant, meantInstead, slipSaid } from './unit-slips.ts';
import { listOr } from './word-lists.ts';
import type { WordEntry } from './words/entry.ts';

interface Beyond {
  readonly relation: 'at least' | 'at most';
  readonly limit: Ticks;
}

/** The end of what its word is ever likely to be that a length is beyond. */
export function beyondLikely(length: number, { plausible, leastPlausible }: WordEntry): Beyond | undefined {
  if (plausible !== undefined && length > inches(plausible)) return { relation: 'at most', limit: inches(plausible) };
  // Nothing at all is told of by what it is given for.
  const isLittle = leastPlausible !== undefined && length > 0 && length < inches(leastPlausible);
  return isLittle ? { relation: 'at least', limit: inches(leastPlausible) } : undefined;
}

export function isLikely(length: number, entry: WordEntry): boolean {
  return length > 0 && !beyondLikely(length, entry);
}

/** A number of feet where only inches make sense, or of inches where only feet do, and so on. */
export function unlikely(statement: Statement, entry: WordEntry, items: Statement['items']): Finding[] {
  return items.flatMap((item) => {
    if (item.kind !== 'number' || item.parts.length !== 1) return [];
    const [part] = item.parts;
    const measure = part?.unit && measureOf(part.unit.text);
    if (!part?.unit || measure?.dimension !== 'length') return [];
    const length = (Number(part.numerator) / Number(part.denominator)) * measure.size;
    const beyond = beyondLikely(length, entry);
    if (!beyond) return [];
    const show = /^(mm|cm|m)$/.test(part.unit.text) ? showMillimetres : showInches;
    const long = ticks(Math.min(Math.round(length), LONGEST));
    const meant = meantInstead(item, (other) => isLikely(other, entry));
    // What is written in the smallest unit of measure is not said a second time.
    const isSmallest = /^(in|"|mm)$/.test(part.unit.text);
    const size = beyond.relation === 'at most' ? 'long' : 'small';
    const is = isSmallest ? `${item.raw} is ${size}:` : `${item.raw} is ${showLength(long, show)}, and`;
    const place = placeOf(statement, item);
    return [
      finding(
        rules.unlikelySize,
        place,
        `${is} "${entry.word}" ${seldom(beyond, show)} here.${slipSaid(item, meant)}`,
        {
          ...(meant.length > 0
            ? mended(place, meant)
            : { advice: `See whether there is a digit too ${beyond.relation === 'at most' ? 'many' : 'few'}.` }),
          comparison: comparisonOf(entry.word, long, beyond),
        },
      ),
    ];
  });
}

/** `is hardly ever more than 240in` */
export function seldom({ relation, limit }: Beyond, show: Show): string {
  return `is hardly ever ${relation === 'at most' ? 'more' : 'less'} than ${showLength(limit, show)}`;
}

export function comparisonOf(what: string, measured: Ticks, { relation, limit }: Beyond): Comparison {
  return { what, measured: { ticks: measured }, relation, limit: { ticks: limit } };
}

/** What was meant, and a fix for each way to mean it: by hand, as it is another length that is built then. */
export function mended(place: Place, meant: readonly Meant[]): Pick<FindingDetails, 'advice' | 'fixes'> {
  return {
    advice: `Did you mean ${listOr(meant.map(({ text }) => text))}?`,
    fixes: meant.map(({ text }) => written(place, text, { byHand: true })),
  };
}

/** What was meant by an argument that a dimension takes as it stands. */
export function givenInstead(argument: Statement, { comparison }: Finding): Pick<FindingDetails, 'advice' | 'fixes'> {
  const [item] = argument.items;
  if (!comparison || item?.kind !== 'number' || !('ticks' in comparison.measured) || !('ticks' in comparison.limit))
    return {};
  const [{ ticks: measured }, { ticks: limit }] = [comparison.measured, comparison.limit];
  const isAsGiven = item.parts.some(({ numerator, denominator, unit }) => {
    const size = unit && measureOf(unit.text)?.size;
    return size !== undefined && (Number(numerator) * size) / Number(denominator) === measured;
  });
  const isMost = comparison.relation === 'at most';
  const meant = meantInstead(item, (other) => (isMost ? other > 0 && other <= limit : other >= limit));
  return isAsGiven && meant.length > 0 ? mended(placeOf(argument, item), meant) : {};
}
