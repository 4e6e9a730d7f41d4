/** What all slips of the wording of a head are told with. */
import { type Item, placeOf, type Range, type Statement } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { fits } from './name-slips.ts';
import type { Mismatch } from './phrase.ts';
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
