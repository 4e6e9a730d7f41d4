/** Lengths from inches to millimetres and back. All that is converted unasked is exact; one alone may be rounded, and says so. */
import { type NumberLiteral, offsetOf, type Statement, statementsWithin, topOf } from '../../../grammar/tree.ts';
import { writtenLength } from '../../model/closing.ts';
import { showInches, showLength } from '../../model/show.ts';
import { TICKS_PER_INCH, TICKS_PER_MM, ticks } from '../../model/ticks.ts';
import type { Located } from '../locate.ts';
import { nameRangeOf } from '../name-range.ts';
import type { Snapshot, TextEdit } from '../snapshot.ts';
import { type Edit, inStyle, instead, textEdits } from './edits.ts';
import { numberAt, numbersOf } from './numbers.ts';
import type { Refactoring } from './refactoring.ts';

export function convertQuantity(_: Snapshot, located: Located): Refactoring[] {
  const number = numberAt(located);
  const made = number && converted(number);
  if (!number || !made) return [];
  const top = topOf(located.statement);
  const edits = textEdits(inStyle(top, [instead(located.statement, number, made.text)]));
  const title = `Write ${made.text} for ${number.raw}${made.exact ? '' : ', rounded to 1/64in'}`;
  return [{ id: 'convert-quantity', kind: 'refactor.rewrite', title, edits }];
}

/** Every length of the other system than the one under the cursor stays; what would be rounded stays too. */
export function convertFile({ source }: Snapshot, located: Located): Refactoring[] {
  const here = numberAt(located);
  const length = here && writtenLength(here);
  if (!length) return [];
  const edits: TextEdit[] = [];
  let rounded = 0;
  for (const top of source.statements()) {
    const made = [...statementsWithin(top)].map((one) => editsOf(one, length.metric));
    const own = made.flatMap((one) => one.edits);
    for (const edit of textEdits(inStyle(top, own))) edits.push(edit);
    for (const one of made) rounded += one.rounded;
  }
  const to = length.metric ? 'inches' : 'millimetres';
  const kept = rounded > 0 ? `; ${rounded} that would be rounded stay` : '';
  const title = `Write all lengths of this file in ${to}${kept}`;
  if (edits.length === 0)
    return [{ id: 'convert-file', kind: 'refactor.rewrite', title, disabled: 'None of them is exact there.', edits }];
  return [{ id: 'convert-file', kind: 'refactor.rewrite', title, edits }];
}

/**
 * The lengths of one statement and of what is in its block: of the one that the cursor is in, or around it, that has
 * several. Written in both systems, it can be brought into either.
 */
export function convertStatement(_: Snapshot, located: Located): Refactoring[] {
  const statement = located.trail.findLast((one) => hasSeveral(one));
  if (!statement) return [];
  return [false, true].flatMap((metric): Refactoring[] => {
    const all = [...statementsWithin(statement)].map((one) => editsOf(one, metric));
    const own = all.flatMap((one) => one.edits);
    const edits = textEdits(inStyle(topOf(statement), own));
    const rounded = all.reduce((sum, one) => sum + one.rounded, 0);
    if (edits.length + rounded === 0) return [];
    const kept = rounded > 0 ? `; ${rounded} that would be rounded ${rounded === 1 ? 'stays' : 'stay'}` : '';
    const title = `Write the lengths of ${nameOf(statement)} in ${metric ? 'inches' : 'millimetres'}${kept}`;
    const id = `convert-statement-to-${metric ? 'inches' : 'millimetres'}`;
    const common = { id, kind: 'refactor.rewrite' as const, title, edits };
    return [edits.length === 0 ? { ...common, disabled: 'None of them is exact there.' } : common];
  });
}

function hasSeveral(statement: Statement): boolean {
  let count = 0;
  for (const one of statementsWithin(statement))
    for (const number of numbersOf(one)) if (writtenLength(number) && ++count > 1) return true;
  return false;
}

/** `zone shirts`; `studs` where it has no name. */
function nameOf(statement: Statement): string {
  const { word, items, block, parent, text } = statement;
  const [first] = items;
  const base = offsetOf(statement);
  const { start, end } = nameRangeOf(statement);
  if (start > base + word.start) return `${word.text} ${text.slice(start - base, end - base)}`;
  const isNamed = first?.kind === 'path' && (block || parent.kind === 'segment');
  return isNamed ? `${word.text} ${text.slice(first.start, first.end)}` : word.text;
}

function editsOf(statement: Statement, metric: boolean): { readonly edits: readonly Edit[]; readonly rounded: number } {
  const edits: Edit[] = [];
  let rounded = 0;
  for (const number of numbersOf(statement)) {
    const made = writtenLength(number)?.metric === metric ? converted(number) : undefined;
    if (!made) continue;
    if (!made.exact) rounded++;
    else edits.push(instead(statement, number, made.text));
  }
  return { edits, rounded };
}

/** Undefined where it is no length, or nothing that could be written. */
function converted(number: NumberLiteral): { readonly text: string; readonly exact: boolean } | undefined {
  const written = writtenLength(number);
  if (!written) return undefined;
  const { length, metric } = written;
  // A tick is 25 nm, so that millimetres with six decimals are always exact.
  if (!metric) return { text: `${trimmed(length / TICKS_PER_MM, 6)}mm`, exact: true };
  const text = showLength(ticks(length), showInches);
  if (!text.startsWith('~')) return { text, exact: true };
  const thousandths = (length * 1000) / TICKS_PER_INCH;
  if (Number.isInteger(thousandths)) return { text: `${trimmed(thousandths / 1000, 3)}in`, exact: true };
  return { text: text.slice(1), exact: false };
}

function trimmed(amount: number, decimals: number): string {
  return amount.toFixed(decimals).replace(/\.?0+$/, '');
}
