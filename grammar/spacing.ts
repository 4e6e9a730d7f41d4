/**
 * Spaces within the head of a statement: one between two tokens, none where tokens belong together. Lengths, angles
 * and shares touch their unit of measure (`84in`), other quantities stand a space apart from theirs (`15 lbf/ft2`).
 */
import type { IToken } from 'chevrotain';
import { type Dimension, measureOf } from './measures.ts';
import {
  CloseToken,
  ColonToken,
  CommaToken,
  DotToken,
  JointToken,
  lex,
  NegateToken,
  NumberToken,
  OpenToken,
  UnitToken,
  WordToken,
} from './tokens.ts';
import type { Range } from './tree.ts';

/** A stretch of space with what is to stand in its place. */
export interface Respaced extends Range {
  readonly text: string;
}

/** One for all heads that are in order. */
const none: readonly never[] = [];

/** Most heads are in order, and it shows without taking them to tokens: words, numbers and texts, a space apart. */
const tidy = ((): RegExp => {
  const word = String.raw`[A-Za-z_]\w*(?:-\w+)*`;
  const number = String.raw`\d+(?:-\d+\/\d+|\/\d+|\.\d+)?(?:(?:in|mm|ft)(?![\w/])|(?![\w/.'"°%-])(?! (?:in|ft|mm|cm|m|deg|%|°)(?!\w)))`;
  return new RegExp(`^${word}(?:[,:]?(?: =)? (?:${word}|${number}|"[^"\\n\\r]*"))*$`);
})();

/** What has to change in a head that can be read, in order; offsets count in the head. */
export function respacedHead(head: string): readonly Respaced[] {
  return head.length < 400 && tidy.test(head) ? none : respacedByTokens(head);
}

/** As respacedHead, without its short way: what that is compared with. */
export function respacedByTokens(head: string): readonly Respaced[] {
  const { tokens, comments } = lex(head);
  const all = comments.length === 0 ? tokens : [...tokens, ...comments].sort((a, b) => a.startOffset - b.startOffset);
  // Characters that only look like space make a statement as well, and a comment behind them a part of it.
  if (tokens.length === 0 || all[0] !== tokens[0]) return none;
  const changes: Respaced[] = [];
  const space = (start: number, end: number, text: string): void => {
    if (head.slice(start, end) !== text) changes.push({ start, end, text });
  };
  let previous: IToken | undefined;
  for (const token of all) {
    if (previous) space(endOf(previous), token.startOffset, spaceBetween(previous, token));
    else space(0, token.startOffset, '');
    if (token.tokenType === NumberToken) {
      // `3 1/2` is one number.
      const [whole = '', gap = ''] = /^(\d+)([^\S\n\r]+)\d/.exec(token.image)?.slice(1) ?? [];
      if (gap !== '') space(token.startOffset + whole.length, token.startOffset + whole.length + gap.length, ' ');
    }
    previous = token;
  }
  if (previous) space(endOf(previous), head.length, '');
  return changes;
}

function spaceBetween(left: IToken, right: IToken): '' | ' ' {
  const { tokenType: a } = left;
  const { tokenType: b } = right;
  const written = endOf(left) < right.startOffset ? ' ' : '';
  if (b === CommaToken || b === CloseToken || b === ColonToken || b === DotToken || b === JointToken) return '';
  if (a === OpenToken || a === NegateToken || a === DotToken || a === JointToken) return '';
  // `max(a, b)` is a call, `by (a + b)` a word and a value.
  if (b === OpenToken) return a === WordToken ? written : ' ';
  if (a === NumberToken && b === UnitToken) return unitSpace(right.image) ?? written;
  // `101-bed` was meant to be a name.
  if (a === NumberToken && b === NegateToken) return written;
  return ' ';
}

/** Quantities whose unit touches their number; the others stand a space apart from theirs. */
const touching: ReadonlySet<Dimension> = new Set(['length', 'angle', 'share']);

/** Undefined where the unit of measure is not known: what is written against the number would be taken for a word. */
function unitSpace(unit: string): '' | ' ' | undefined {
  const measure = measureOf(unit);
  if (!measure) return undefined;
  return touching.has(measure.dimension) ? '' : ' ';
}

function endOf(token: IToken): number {
  return token.startOffset + token.image.length;
}
