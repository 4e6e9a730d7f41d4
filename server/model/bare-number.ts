/** A bare number where a length is meant: which units of measure it may be in, those that the project is written in first. */
import { measureOf } from '../../grammar/measures.ts';
import { type Expression, type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import type { Fix } from './finding.ts';
import { entryWithLikely } from './reading.ts';
import type { Show } from './show.ts';
import { TICKS_PER_INCH } from './ticks.ts';
import { beyondLikely } from './unlikely.ts';
import { listOr } from './word-lists.ts';

const spellings: Readonly<Record<Show['system'], readonly string[]>> = {
  inches: ['in', 'ft', 'mm', 'cm'],
  millimetres: ['mm', 'cm', 'm', 'in'],
};
/** Inches: nothing in a closet is longer, where its word does not say so itself (common practice, no source). */
const longest = 480;

export interface BareNumber {
  /** `a length says whether it is inches, feet or millimetres`. */
  readonly why: string;
  readonly advice: string;
  readonly fixes: readonly Fix[];
}

/**
 * What a length without a unit of measure may be: the sizes that its word is ever likely to have, all of them where none is.
 * By hand, also where only one is likely: that is a guess at what somebody measured.
 */
export function bareNumber(expression: Expression, statement: Statement, system: Show['system']): BareNumber {
  if (expression.kind !== 'number')
    return { why: whyOf(spellings[system]), advice: 'Give each number its unit of measure.', fixes: [] };
  const [part] = expression.parts;
  const amount = part && expression.parts.length === 1 ? Number(part.numerator) / Number(part.denominator) : 0;
  const entry = entryWithLikely(statement);
  const likely = spellings[system].filter((unit) => {
    const length = amount * sizeOf(unit);
    return entry ? beyondLikely(length, entry) === undefined : length / TICKS_PER_INCH <= longest;
  });
  const units = likely.length > 0 ? likely : spellings[system];
  const texts = units.map((unit) => `${expression.raw}${unit}`);
  const place: Place = placeOf(statement, expression);
  return {
    why: whyOf(units),
    advice: `Write ${listOr(texts)}.`,
    fixes: texts.map((text) => written(place, text, { byHand: true })),
  };
}

function whyOf(units: readonly string[]): string {
  const titles = listOr(units.map((unit) => measureOf(unit)?.title ?? unit));
  return units.length > 1
    ? `a length says whether it is ${titles}`
    : `a length says which it is in, and only ${titles} are likely here`;
}

function sizeOf(unit: string): number {
  // Measures are in ticks already.
  return measureOf(unit)?.size ?? 0;
}
