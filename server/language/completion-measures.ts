/** Units of measure that may be written behind a number. */

import { type Dimension, type Measure, measures } from '../../grammar/measures.ts';
import type { Item, Statement } from '../../grammar/tree.ts';
import { isExpression, type SlotType } from '../model/phrase.ts';
import { lastOperand } from './completion-path.ts';
import { typeOfValue } from './completion-values.ts';
import type { Offer } from './offer.ts';
import type { Snapshot } from './snapshot.ts';

interface Typed {
  readonly type: SlotType;
}

/** Those that a number in one of these slots can have. */
export function measuresFor(snapshot: Snapshot, trail: readonly Statement[], wanted: readonly Typed[]): Offer[] {
  const dimensions = new Set(wanted.flatMap(({ type }) => dimensionOf(snapshot, trail, type) ?? []));
  const fits = ({ dimension, spelling }: Measure): boolean => dimensions.has(dimension) && /^[a-z%]/i.test(spelling);
  const found = measures
    .filter(fits)
    .map((m, rank): Offer => ({ kind: 'measure', label: m.spelling, text: m.spelling, detail: m.title, rank }));
  return dimensions.has('money') ? [...found, ...currencyOf(snapshot)] : found;
}

/** `330 k`: behind a space, what is begun of a unit of measure is read as a word of its own, or there is nothing yet. */
export function measuresBehind(
  snapshot: Snapshot,
  trail: readonly Statement[],
  before: readonly Item[],
  slotsBehind: (items: readonly Item[]) => readonly Typed[],
): Offer[] {
  const last = before.at(-1);
  const number = isExpression(last) ? lastOperand(last) : undefined;
  if (number?.kind !== 'number' || number.parts.at(-1)?.unit) return [];
  return measuresFor(snapshot, trail, slotsBehind(before.slice(0, -1)));
}

/** `lbf/f` of what stands before the cursor: a unit of measure that is being written is read as a sum up to its last letter. */
export function measureBegun(before: string): string | undefined {
  return /\d\s*([a-z]+\/[a-z]*)$/i.exec(before)?.[1];
}

function dimensionOf(snapshot: Snapshot, trail: readonly Statement[], type: SlotType): Dimension | undefined {
  if (type.kind === 'quantity') return type.dimension;
  if (type.kind !== 'value') return undefined;
  const given = typeOfValue(snapshot, trail) ?? 'length';
  return given === 'length' || given === 'angle' ? given : undefined;
}

/** All prices of a project are in one currency. */
function currencyOf({ project }: Snapshot): Offer[] {
  const { currency } = project.settings;
  return currency === undefined
    ? []
    : [{ kind: 'measure', label: currency, text: currency, detail: 'the currency of the project', rank: 0 }];
}
