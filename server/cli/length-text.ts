/** A length as a person writes it outside a .closet file: read by the language itself, so that both mean the same. */
import { Source } from '../../grammar/source.ts';
import { lengthIn, plainContext } from '../model/context.ts';
import { Names } from '../model/names.ts';
import { child, read, readingAt } from '../model/reading.ts';
import type { Ticks } from '../model/ticks.ts';
import { Trace } from '../model/trace.ts';
import { topWords } from '../model/vocabulary.ts';

export type ReadLength =
  | { readonly kind: 'read'; readonly length: Ticks }
  /** A whole sentence, and what to do. */
  | { readonly kind: 'refused'; readonly why: string };

const nothing = new Names();

/** `84-3/4in`, `6ft 3-1/2in`, `1200mm`. A number without a unit of measure is refused, as it is in a file. */
export function readLength(text: string): ReadLength {
  const written = text.trim();
  // Only what a length can be made of: nothing that ends a statement or begins another one.
  if (!/^[\d\s./'"a-z°+*()-]+$/i.test(written)) return refused(`"${text}" is not a length.`);
  const source = new Source('length', `extra x { length ${written} }`, topWords);
  const [statement] = [...source.statements()];
  const problems: string[] = [];
  const reading = statement && readingAt(statement, 'file');
  if (!statement || !reading) return refused(`"${text}" is not a length.`);
  const said = read(statement, 'file').findings;
  const context = plainContext(nothing, new Trace(), (f) => problems.push(`${f.message} ${f.advice ?? ''}`.trim()));
  const length = lengthIn(child(reading, 'length'), 'value', context);
  const [first] = [...said.map((f) => `${f.message} ${f.advice ?? ''}`.trim()), ...problems];
  if (length === undefined || first !== undefined) return refused(first ?? `"${text}" is not a length.`);
  return length > 0 ? { kind: 'read', length } : refused(`A length of ${written} is nothing.`);
}

function refused(why: string): ReadLength {
  return { kind: 'refused', why };
}
