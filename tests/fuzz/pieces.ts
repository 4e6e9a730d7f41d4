/** What texts are made of: words, numbers and letters that are likely to be minded badly, and whole statements. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Source } from '../../grammar/source.ts';
import { offsetOf, type Statement, statementsWithin } from '../../grammar/tree.ts';
import { keywords, topWords, vocabulary } from '../../server/model/vocabulary.ts';
import { closetFiles, examples } from '../examples/load.ts';
import { NotTaken } from './target.ts';

const { first, inner } = keywords();

/** Every word of the language, as it may and may not stand. */
export const words: readonly string[] = [...first, ...inner];

export const measures = [
  'in',
  'ft',
  'mm',
  'cm',
  'm',
  '"',
  "'",
  'EUR',
  '%',
  '°',
  'deg',
  'lb',
  'lbf/ft2',
  'ksi',
  'kPa',
  'days',
  '',
];

export const numbers = [
  ...['0', '-1', '1', '2', '-0', '00', '1/0', '0/0', '0/1', '1/3', '63/64', '1-1/0', '7-8/8', '.', '.5', '5.', '0.1'],
  ...['40', '41', '100000', '100001', '1000000', '2147483647', '2147483648', '4294967296', '9007199254740991'],
  ...[
    '9007199254740993',
    `1${'0'.repeat(308)}`,
    `${'9'.repeat(60)}`,
    `0.${'0'.repeat(50)}1`,
    '1e308',
    '-1e-308',
    '0x10',
  ],
  ...['NaN', 'Infinity', '1_000', '1,000', '٣', '½', '3½', '6ft 3-1/2in', `6'-3 1/2"`, '1/64', '1/128', '0.000001'],
];

/** Names that some object has already, or that look like something else. */
export const oddNames = [
  ...['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf', 'prototype', 'length', 'undefined', 'null'],
  ...['é', 'e\u0301', '棚', '🚪', 'a-b', 'A-101', 'x'.repeat(300), '_', 'İ', 'ß', 'ﬁ', 'ملابس', 'a.b', 'a.b.c.d'],
];

export const oddLetters = [
  ...['\0', '\r', '\r\n', '\n', '\t', '\v', '\f', '\u0085', '\u00a0', '\u2028', '\u2029', '\ufeff', '\u200b', '\u200f'],
  ...[
    '\ud800',
    '\udc00',
    '\ud83d\udeaa',
    '\u0301',
    '\u202e',
    '\uffff',
    '\u{10ffff}',
    '\x1b[31m',
    '\x7f',
    '\\',
    '`',
    '$',
    '@',
  ],
];

export const marks = [
  '{',
  '}',
  '(',
  ')',
  ';',
  '"',
  "'",
  '/*',
  '*/',
  '//',
  '///',
  ',',
  ':',
  '=',
  '.',
  '-',
  ' - ',
  '+',
  '*',
  '/',
  '%',
];

/** Lines as version control leaves them. */
export const conflictLines = [
  '<<<<<<< ours',
  '||||||| base',
  '=======',
  '>>>>>>> theirs',
  '<<<<<<<',
  '>>>>>>>',
  '<<<<<<<<',
  '=======',
];

export interface Donor {
  readonly word: string;
  readonly text: string;
}

let known: { readonly top: readonly Donor[]; readonly nested: readonly Donor[] } | undefined;

/** Statements of the examples and of the vocabulary, those that may begin a line of a file and those within them. */
export function donors(): NonNullable<typeof known> {
  if (known) return known;
  const top = new Map<string, Donor>();
  const nested = new Map<string, Donor>();
  const take = (text: string): void => {
    for (const statement of new Source('donor', text, topWords).statements())
      for (const own of statementsWithin(statement)) {
        const donor = { word: own.word.text, text: own.text.trim() };
        if (donor.text.length < 1_500) (own === statement ? top : nested).set(donor.text, donor);
      }
  };
  for (const file of closetFiles(examples))
    if (!file.endsWith('latin-1.closet')) take(readFileSync(join(examples, file), 'utf8'));
  for (const { example, places } of vocabulary) take(places.includes('file') ? example : `x { ${example} }`);
  known = { top: [...top.values()], nested: [...nested.values()] };
  return known;
}

export interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly statement: Statement;
}

function sourceOf(text: string): Statement[] {
  try {
    return [...new Source('case', text, topWords).statements()];
  } catch (error) {
    throw new NotTaken(text, error);
  }
}

/** Every statement of a text with its place, outermost first. */
export function statementsOf(text: string): Stretch[] {
  return sourceOf(text).flatMap((top) =>
    [...statementsWithin(top)].map((statement) => {
      const start = offsetOf(statement);
      return { start, end: start + statement.text.length, statement };
    }),
  );
}

/** Words, numbers, spaces, comments and single signs, in order and without a gap. Coarser than the lexer, and not it. */
export function bitsOf(text: string): string[] {
  return text.match(/\s+|"[^"\n]*"?|\/\/[^\n]*|[\p{L}_][\p{L}\p{N}_]*(?:-[\p{L}\p{N}_]+)*|\d[\d/.-]*|[\s\S]/gu) ?? [];
}
