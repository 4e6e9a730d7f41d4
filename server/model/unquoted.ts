/** A text that stands without quotation marks: all of it, whatever its words and signs would mean by themselves. */
import { type Item, placeOf, type Range, type Statement } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { fits } from './name-slips.ts';
import { expectedAfter, type Mismatch } from './phrase.ts';
import * as rules from './rules.ts';
import type { WordEntry } from './words/entry.ts';

/** Of so many words a text that lacks its marks has at most, or it goes to the end of its head. */
const mostWords = 40;
/** Longer heads are gone through once by the parser, and not for each word again. */
const mostItems = 200;
/** A text stands so near to what does not fit. */
const nearBy = 8;

export function textUnquoted(
  statement: Statement,
  entry: WordEntry,
  items: readonly Item[],
  { at }: Mismatch,
): { readonly finding: Finding; readonly range: Range } | undefined {
  if (items.length > mostItems) return undefined;
  const last = items.at(-1);
  for (let first = Math.min(at, items.length - 1); first >= Math.max(0, at - nearBy); first--) {
    const { expected } = expectedAfter(entry.phrase, items.slice(0, first));
    if (!expected.some((one) => one.kind === 'slot' && one.type.kind === 'text')) continue;
    const before = items[first - 1]?.end ?? statement.word.end;
    // Signs that are no item belong to it as well.
    const start = before + (/^[ \t]*/.exec(statement.text.slice(before))?.[0].length ?? 0);
    const rest = items.slice(Math.max(at, first));
    for (const { end } of new Set([...rest.slice(0, mostWords), ...(last ? [last] : [])])) {
      const raw = statement.text.slice(start, end);
      if (raw.includes('"') || !fits(statement, entry, { start, end }, `"${raw}"`)) continue;
      const range = { start, end };
      const place = placeOf(statement, range);
      const message = 'This is a text, and a text stands in quotation marks.';
      const details = { advice: `Did you mean "${raw}"?`, fixes: [written(place, `"${raw}"`)] };
      return { finding: finding(rules.phraseNotUnderstood, place, message, details), range };
    }
  }
  return undefined;
}
