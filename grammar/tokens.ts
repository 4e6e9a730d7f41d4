/** Tokens of a statement's head: everything up to its block or the end of its line. */
import { createToken, type IToken, Lexer, type TokenType } from 'chevrotain';
import { isCurrency, isMeasure, longestMeasure } from './measures.ts';

const unitRun = /[\p{L}°%µ][\p{L}\p{N}²³°]*/uy;

/**
 * A unit of measure stands behind a number and nowhere else. Written against the number, any run of
 * letters is taken for one, so that a misspelt unit is named as such; behind a space only a known
 * one is, so that `share 2 after` stays two words. An inch or foot mark belongs to its number.
 */
function matchUnit(text: string, offset: number, tokens: readonly IToken[]): RegExpExecArray | null {
  const last = tokens.at(-1);
  if (last?.tokenType !== NumberToken) return null;
  const adjacent = touches(last, offset);
  const mark = text[offset];
  if (adjacent) {
    const other = otherMark(text, offset, tokens);
    if (other !== undefined) return found(other);
  }
  if (mark === '"' || mark === "'") return adjacent ? found(mark) : null;
  const known = longestMeasure(text, offset);
  unitRun.lastIndex = offset;
  const run = unitRun.exec(text)?.[0] ?? '';
  if (known !== undefined && known.length >= run.length) return found(known);
  if (run === '') return null;
  return adjacent || isCurrency(run) || isMeasure(run) ? found(run) : null;
}

const twoMarks = /''|\u2019\u2019|\u2032\u2032/y;
const inchMark = /[\u2033\u201D]/y;
const footMark = /[\u2019\u2032](?=(?:-|[ \t]*)\d(?:[\d \t/.-]*\d)?(?:''|\u2019\u2019|\u2032\u2032|["\u2033\u201D]))/y;

/** Feet and inches as other programs write them, in marks that are read and told of: `3' 5''`, `3’ 5”`. */
function otherMark(text: string, offset: number, tokens: readonly IToken[]): string | undefined {
  const at = (marks: RegExp): string | undefined => {
    marks.lastIndex = offset;
    return marks.exec(text)?.[0];
  };
  const before = tokens.at(tokens.at(-2)?.tokenType === JointToken ? -3 : -2);
  const followsFeet = before?.tokenType === UnitToken && isFoot(before.image);
  return at(twoMarks) ?? at(footMark) ?? (followsFeet ? at(inchMark) : undefined);
}

/** `6'-3 1/2"`: the hyphen joins feet and inches. */
function matchJoint(text: string, offset: number, tokens: readonly IToken[]): RegExpExecArray | null {
  const last = tokens.at(-1);
  if (last?.tokenType !== UnitToken || !isFoot(last.image)) return null;
  return touches(last, offset) && text[offset] === '-' && /\d/.test(text[offset + 1] ?? '') ? found('-') : null;
}

/** Names may hold hyphens, so a binary minus has a space on both sides. */
function matchMinus(text: string, offset: number): RegExpExecArray | null {
  if (text[offset] !== '-') return null;
  const before = text[offset - 1];
  const after = text[offset + 1];
  const spaced = (c: string | undefined): boolean => c === ' ' || c === '\t';
  return spaced(before) && (after === undefined || spaced(after)) ? found('-') : null;
}

/** Nothing stands between the token and the offset. */
export function touches(token: IToken, offset: number): boolean {
  return token.startOffset + token.image.length === offset;
}

function found(text: string): RegExpExecArray {
  return [text] as unknown as RegExpExecArray;
}

export function isFoot(unit: string): boolean {
  return unit === 'ft' || markMeant(unit) === "'";
}

export function isInch(unit: string): boolean {
  return unit === 'in' || markMeant(unit) === '"';
}

/** The mark of feet or inches that was meant by one of another program; any other unit as it is. */
export function markMeant(unit: string): string {
  if (/^[\u2019\u2032]$/.test(unit)) return "'";
  return /^(?:''|\u2019\u2019|\u2032\u2032|[\u2033\u201D])$/.test(unit) ? '"' : unit;
}

const wordRun = /[\p{L}_][\p{L}\p{N}_]*(?:-[\p{L}\p{N}_]+)*/uy;

function matchWord(text: string, offset: number): RegExpExecArray | null {
  wordRun.lastIndex = offset;
  return wordRun.exec(text);
}

/** Any one character (a pair of surrogates counts as one), so that lexing never fails. */
function matchStray(text: string, offset: number): RegExpExecArray {
  // By its halves: V8's compiled codePointAt (Node 24) reads on past the end of a slice that ends in the middle of a pair.
  const isPair = isBetween(text.charCodeAt(offset), 0xd800) && isBetween(text.charCodeAt(offset + 1), 0xdc00);
  return found(text.slice(offset, offset + (isPair ? 2 : 1)));
}

/** One of the 1,024 halves of pairs that begin there. */
function isBetween(code: number, from: number): boolean {
  return code >= from && code < from + 0x400;
}

// First characters, for the lexer to skip patterns that cannot match. Those above ASCII are looked up
// by bucket, so one code in each 128 tells them all.
const beyondAscii: number[] = [];
for (let code = 0x80; code <= 0xffff; code += code < 0x100 ? 1 : 0x80) beyondAscii.push(code);
// The library files characters by 255, so that the last one is by itself.
beyondAscii.push(0xffff);
const codes = (from: number, to: number): number[] => Array.from({ length: to - from + 1 }, (_, i) => from + i);
const letters = [...codes(65, 90), ...codes(97, 122), ...beyondAscii];
const anything = [...codes(0, 127), ...beyondAscii];

export const WordToken = createToken({
  name: 'Word',
  pattern: { exec: matchWord },
  line_breaks: false,
  start_chars_hint: [...letters, '_'],
});
/** Whatever looks like a space joins `3 1/2`, so that a layout with other spaces says the same. */
export const NumberToken: TokenType = createToken({
  name: 'Number',
  pattern: /\d+(?:-\d+\/\d+|[^\S\n\r]+\d+\/\d+|\/\d+|\.\d+)?|\.\d+/,
});
export const UnitToken: TokenType = createToken({
  name: 'Unit',
  pattern: { exec: matchUnit },
  line_breaks: false,
  start_chars_hint: [...letters, '"', "'", '%'],
});
export const JointToken = createToken({
  name: 'Joint',
  pattern: { exec: matchJoint },
  line_breaks: false,
  start_chars_hint: ['-'],
});
export const TextToken = createToken({ name: 'Text', pattern: /"[^"\n\r]*"?/ });
export const MinusToken = createToken({
  name: 'Minus',
  pattern: { exec: matchMinus },
  line_breaks: false,
  start_chars_hint: ['-'],
});
export const NegateToken = createToken({ name: 'Negate', pattern: /-/ });
export const PlusToken = createToken({ name: 'Plus', pattern: /\+/ });
export const TimesToken = createToken({ name: 'Times', pattern: /\*/ });
export const OverToken = createToken({ name: 'Over', pattern: /\// });
export const OpenToken = createToken({ name: 'Open', pattern: /\(/ });
export const CloseToken = createToken({ name: 'Close', pattern: /\)/ });
export const DotToken = createToken({ name: 'Dot', pattern: /\./ });
export const CommaToken = createToken({ name: 'Comma', pattern: /,/ });
export const ColonToken = createToken({ name: 'Colon', pattern: /:/ });
export const EqualsToken = createToken({ name: 'Equals', pattern: /=/ });
const SpaceToken = createToken({ name: 'Space', pattern: /[\s\uFEFF]+/, group: Lexer.SKIPPED, line_breaks: true });
const LineCommentToken = createToken({ name: 'LineComment', pattern: /\/\/[^\n\r]*/, group: 'comments' });
const BlockCommentToken = createToken({
  name: 'BlockComment',
  pattern: /\/\*[\s\S]*?\*\//,
  group: 'comments',
  line_breaks: true,
});
const OpenCommentToken = createToken({
  name: 'OpenComment',
  pattern: /\/\*[\s\S]*/,
  group: 'comments',
  line_breaks: true,
});
export const StrayToken = createToken({
  name: 'Stray',
  pattern: { exec: matchStray },
  line_breaks: false,
  start_chars_hint: anything,
});

export const operators: ReadonlySet<TokenType> = new Set([MinusToken, NegateToken, PlusToken, TimesToken, OverToken]);

/** In order of trial. */
export const allTokens: TokenType[] = [
  SpaceToken,
  LineCommentToken,
  BlockCommentToken,
  OpenCommentToken,
  UnitToken,
  JointToken,
  WordToken,
  NumberToken,
  TextToken,
  MinusToken,
  NegateToken,
  PlusToken,
  TimesToken,
  OverToken,
  OpenToken,
  CloseToken,
  DotToken,
  CommaToken,
  ColonToken,
  EqualsToken,
  StrayToken,
];

const settings = { positionTracking: 'onlyOffset', ensureOptimizations: true } as const;

/** What the library would look for at every start, faults of the tokens, is looked for by a test. */
const lexer = new Lexer(allTokens, { ...settings, skipValidations: true });

/** Throws where the library finds a fault in the tokens: one that another hides, say. */
export function validateTokens(): void {
  new Lexer(allTokens, settings);
}

export interface Lexed {
  readonly tokens: IToken[];
  readonly comments: IToken[];
}

/** Lexes a head. Never fails: what no token takes is a stray. */
export function lex(head: string): Lexed {
  const result = lexer.tokenize(head);
  return { tokens: result.tokens, comments: (result.groups as { comments?: IToken[] }).comments ?? [] };
}
