/** What the rules of the TextMate grammar are made of: comments, texts, quantities, names and operators. */
import { measures } from '../grammar/measures.ts';

export interface Rule {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: Captures;
  readonly beginCaptures?: Captures;
  readonly endCaptures?: Captures;
  readonly patterns?: readonly Rule[];
  readonly include?: string;
}

type Captures = Readonly<Record<string, { readonly name: string }>>;

export const word = String.raw`[\p{L}_][\p{L}\p{N}_]*(?:-[\p{L}\p{N}_]+)*`;
/** A word ends here: no letter goes on, nor a hyphen with a letter behind it. */
export const wordEnd = String.raw`(?![\p{L}\p{N}_]|-[\p{L}\p{N}_])`;

export function oneOf(texts: readonly string[]): string {
  const sorted = [...new Set(texts)].sort().map(escaped);
  return sorted.length === 1 ? (sorted[0] as string) : `(?:${sorted.join('|')})`;
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);
}

/** Captures by number, each with the language at the end of its scope. */
export function captures(scopes: Readonly<Record<number, string>>): Captures {
  return Object.fromEntries(Object.entries(scopes).map(([group, scope]) => [group, { name: `${scope}.closet` }]));
}

const number = String.raw`(?:\d+(?:-\d+/\d+|[^\S\n\r]+\d+/\d+|/\d+|\.\d+)?|\.\d+)`;
const unitEnd = String.raw`(?![\p{L}\p{N}²³°])`;

export const comments: readonly Rule[] = [
  { match: String.raw`^[ \t]*(///.*)$`, captures: captures({ 1: 'comment.line.documentation' }) },
  { match: '//.*$', name: 'comment.line.double-slash.closet' },
  { begin: String.raw`/\*`, end: String.raw`\*/`, name: 'comment.block.closet' },
];

const letterUnits = measures.map((m) => m.spelling).filter((spelling) => !/^["']$/.test(spelling));
/** A known unit of measure, the longer spellings first, or a currency. */
const known = `(?:${[...letterUnits]
  .sort((a, b) => b.length - a.length)
  .map(escaped)
  .join('|')}|[A-Z]{3})${unitEnd}`;
const foot = `(?:'|[ \\t]*ft${unitEnd})`;
const inch = `(?:"|[ \\t]*in${unitEnd})`;

export const values: readonly Rule[] = [
  // Feet and inches, joined by a hyphen, a space or nothing: 6'-3 1/2", 6ft 3-1/2in.
  {
    match: `(${number})(${foot})(?:(-)|[ \\t]*)(${number})(${inch})`,
    captures: captures({
      1: 'constant.numeric',
      2: 'keyword.other.unit',
      3: 'punctuation.separator.feet-and-inches',
      4: 'constant.numeric',
      5: 'keyword.other.unit',
    }),
  },
  // Any letters that touch a number are taken for a unit of measure; those that are none are marked.
  {
    match: String.raw`(${number})(?:(["']|[ \t]*${known})|([\p{L}°%µ][\p{L}\p{N}²³°]*))?`,
    captures: captures({ 1: 'constant.numeric', 2: 'keyword.other.unit', 3: 'invalid.illegal.unit' }),
  },
  {
    match: '(")[^"]*("|$)',
    name: 'string.quoted.double.closet',
    captures: captures({ 1: 'punctuation.definition.string.begin', 2: 'punctuation.definition.string.end' }),
  },
  { match: String.raw`(\.)(${word})`, captures: captures({ 1: 'punctuation.accessor', 2: 'variable.other.property' }) },
  { match: String.raw`${word}(?=\()`, name: 'support.function.closet' },
  { match: word, name: 'variable.other.closet' },
  { match: '=', name: 'keyword.operator.assignment.closet' },
  { match: '[-+*/]', name: 'keyword.operator.arithmetic.closet' },
  { match: ',', name: 'punctuation.separator.comma.closet' },
  { match: ':', name: 'punctuation.separator.type.closet' },
  { match: String.raw`\(`, name: 'punctuation.section.parens.begin.closet' },
  { match: String.raw`\)`, name: 'punctuation.section.parens.end.closet' },
];
