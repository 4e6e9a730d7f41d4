/** The lengths that would end a conflict, where one is written plainly: `width 24in`, `at 80in`. */
import { measureOf } from '../../grammar/measures.ts';
import { type NumberLiteral, type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import type { Conflict } from './constraints-conflict.ts';
import type { Fix } from './finding.ts';
import { type Show, showInches, showLength, showMillimetres } from './show.ts';
import { type Ticks, ticks } from './ticks.ts';

/** A statement that takes part. */
interface Stated {
  readonly place: Place;
}

/** Around the conflict, each statement as often as it counts: above 0 it is too long, below 0 too short. */
export type Weights = ReadonlyMap<Stated, number>;

export function weightsOf({ parts }: Pick<Conflict<Stated>, 'parts'>): Weights {
  const weights = new Map<Stated, number>();
  for (const { label, side } of parts) weights.set(label, (weights.get(label) ?? 0) + (side === 'least' ? 1 : -1));
  return weights;
}

/**
 * One fix for each statement that says one plain length and counts once: the length that takes the
 * excess away. None where nothing would be left, or where the length cannot be written exactly.
 */
export function closingFixes(weights: Weights, excess: Ticks, word: 'width' | 'at', show: Show): Fix[] {
  const fixes: Fix[] = [];
  for (const [{ place }, weight] of weights) {
    const { statement } = place;
    const [item, ...others] = statement.items;
    if (statement.word.text !== word || item?.kind !== 'number' || others.length > 0) continue;
    const written = writtenLength(item);
    if (!written || (weight !== 1 && weight !== -1)) continue;
    const fix = writeInstead(statement, item, ticks(written.length - weight * excess), show);
    if (fix) fixes.push(fix);
  }
  return fixes;
}

/**
 * Writes another length in place of a plain one, in the system that is written in. None where nothing
 * would be left, or where the length cannot be written exactly. Several can be offered for one finding,
 * so each says what it replaces.
 */
export function writeInstead(statement: Statement, item: NumberLiteral, length: Ticks, show: Show): Fix | undefined {
  const text = showLength(length, writtenLength(item)?.metric ? metricOf(show) : inchesOf(show));
  if (length <= 0 || text.startsWith('~')) return undefined;
  return {
    title: `Write ${wordOf(statement)}${text} instead of ${item.raw}${nameOf(statement)}`,
    edits: [{ place: placeOf(statement, item), text }],
  };
}

/** Of the lengths of one thing, those that have a name of their own and could be taken for one another. */
const ownLengths: ReadonlySet<string> = new Set(['depth', 'height', 'foot', 'pull-out', 'reach', 'leg', 'inset']);

/** `depth `, where it would not be clear which length is written. */
function wordOf({ word }: Statement): string {
  return ownLengths.has(word.text) ? `${word.text} ` : '';
}

/** ` for shirts`: whose length it is. */
function nameOf({ parent }: Statement): string {
  const name = parent.kind === 'statement' ? parent.items[0] : undefined;
  return name?.kind === 'path' ? ` for ${name.words.map((w) => w.text).join('.')}` : '';
}

/** A length as it is written, in ticks, and whether in the metric system. Undefined for anything else. */
export function writtenLength({
  parts,
}: NumberLiteral): { readonly length: number; readonly metric: boolean } | undefined {
  let length = 0;
  let metric = false;
  for (const { numerator, denominator, unit } of parts) {
    const measure = unit && measureOf(unit.text);
    if (measure?.dimension !== 'length') return undefined;
    metric ||= /^[cm]?m$/.test(measure.spelling);
    length += (Number(numerator) / Number(denominator)) * measure.size;
  }
  return Number.isSafeInteger(length) ? { length, metric } : undefined;
}

/** In the system that is written in, as fine as the project shows. */
function inchesOf(show: Show): Show {
  return show.system === 'inches' ? show : showInches;
}

function metricOf(show: Show): Show {
  return show.system === 'millimetres' ? show : showMillimetres;
}
