/** A length that is written in another unit of measure than was meant: feet for inches, inches for feet, millimetres for either. */

import { measureOf } from '../../grammar/measures.ts';
import type { NumberLiteral } from '../../grammar/tree.ts';
import { capital } from './capital.ts';

export interface Meant {
  /** `8ft` */
  readonly text: string;
  readonly unit: string;
}

/** What each is taken for, the likeliest first: the next list only where nothing in the one before can be meant. */
const takenFor: Readonly<Record<string, readonly (readonly string[])[]>> = {
  in: [['ft']],
  '"': [['ft']],
  ft: [['in']],
  "'": [['in']],
  mm: [['cm', 'm', 'in']],
  cm: [['mm', 'm', 'in']],
  m: [['mm'], ['cm', 'in', 'ft']],
};

/** The same number with other units of measure, where it comes to a length that could be meant, in ticks. */
export function meantInstead(number: NumberLiteral, mayBe: (length: number) => boolean): readonly Meant[] {
  const [part, another] = number.parts;
  const unit = part?.unit;
  if (!unit || another) return [];
  const amount = Number(part.numerator) / Number(part.denominator);
  const written = number.raw.slice(0, unit.start - number.start).trimEnd();
  for (const units of takenFor[unit.text] ?? []) {
    const likely = units.filter((other) => mayBe(amount * (measureOf(other)?.size ?? 0)));
    if (likely.length > 0) return likely.map((other) => ({ text: written + other, unit: other }));
  }
  return [];
}

/** ` Feet may be written where inches were meant.`, where it is told apart. */
export function slipSaid(number: NumberLiteral, [only, ...more]: readonly Meant[]): string {
  const written = number.parts[0]?.unit;
  if (!only || !written) return '';
  if (more.length > 0) return ' Another unit of measure may be meant.';
  const [said = '', meant = ''] = [written.text, only.unit].map((unit) => measureOf(unit)?.title ?? unit);
  return ` ${capital(said)} may be written where ${meant} were meant.`;
}
