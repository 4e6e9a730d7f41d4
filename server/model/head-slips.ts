/** What all slips of the wording of a head are told with. */
import { measureOf } from '../../grammar/measures.ts';
import { type Item, placeOf, type Range, type Statement } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { fits } from './name-slips.ts';
import { type Bindings, isMatch, type Match, type Mismatch, matchPhrase, slotsOf } from './phrase.ts';
import * as rules from './rules.ts';
import type { WordEntry } from './words/entry.ts';

/** A head that its phrase does not fit. */
export interface HeadSlip {
  readonly statement: Statement;
  readonly entry: WordEntry;
  /** Those that mean something. */
  readonly items: readonly Item[];
  readonly mismatch: Mismatch;
}

export function told(
  statement: Statement,
  range: Range,
  message: string,
  details: { readonly advice: string; readonly fixes: readonly Fix[]; readonly examples?: true },
): Finding {
  return finding(rules.phraseNotUnderstood, placeOf(statement, range), message, details);
}

export function textOf({ text }: Statement, { start, end }: Range): string {
  return text.slice(start, end);
}

/** A stretch of the head written anew, where all of it is understood then. */
export function anew(
  { statement, entry }: Pick<HeadSlip, 'statement' | 'entry'>,
  range: Range,
  by: string,
): { readonly whole: string; readonly fix: Fix } | undefined {
  if (!fits(statement, entry, range, by)) return undefined;
  const { word, head, text } = statement;
  const whole = text.slice(word.start, range.start) + by + text.slice(range.end, head.end);
  return { whole, fix: written(placeOf(statement, range), by) };
}

/** What the items are in the phrase of a word, where they fit it and each number says what its slot asks for. */
export function fitting({ phrase }: WordEntry, items: readonly Item[]): Match | undefined {
  const match = matchPhrase(phrase, items);
  return isMatch(match) && areOfTheirKind(phrase, match.slots) ? match : undefined;
}

/** A number without a unit of measure can be a count, or a price that lacks its currency. */
function areOfTheirKind(phrase: WordEntry['phrase'], slots: Bindings): boolean {
  return slotsOf(phrase).every(({ name, type }) => {
    if (type.kind !== 'quantity') return true;
    return (slots[name] ?? []).every((item) => {
      if (item.kind !== 'number') return true;
      const unit = item.parts.at(-1)?.unit;
      if (!unit) return type.dimension === 'count' || type.dimension === 'money';
      const measure = measureOf(unit.text);
      return measure ? measure.dimension === type.dimension : type.dimension === 'money';
    });
  });
}

/** Words of a sentence that say nothing in a statement, and are taken for a name. */
export function isFiller(item: Item | undefined): boolean {
  return item?.kind === 'path' && /^(?:of|is|as|at|a|an|the|with|to|uses?|like)$/.test(item.words[0]?.text ?? '');
}
