/** Texts to throw at the grammar: anything at all, and the pieces of the language in any order. */
import fc from 'fast-check';

/** Any string, with characters beyond the first plane and lone surrogates among them. */
export const anyText = fc.oneof(fc.string(), fc.string({ unit: 'binary' }), fc.string({ unit: 'grapheme' }));

const pieces = [
  'at',
  'width',
  'zone',
  'A-101',
  'a',
  'max',
  '84',
  '3/4',
  '21-3/4',
  '23.9',
  '.5',
  'in',
  'ft',
  'mm',
  'EUR',
  'lbf/ft2',
  '"',
  "'",
  '°',
  '%',
  '-',
  ' - ',
  '+',
  '*',
  '/',
  '(',
  ')',
  '.',
  ',',
  ':',
  '=',
  '@',
  '_',
  'é',
  '棚',
  '🚪',
  ' ',
  '  ',
  '\t',
];
const marks = [
  '{',
  '}',
  ';',
  '\n',
  '\r\n',
  '//',
  '///',
  '/*',
  '*/',
  '"text"',
  '\nunit ',
  '\ntemplate ',
  '  ',
  '\uFEFF',
];

/** Pieces of heads on one line. */
export const anyHead = fc.array(fc.constantFrom(...pieces), { maxLength: 16 }).map((list) => list.join(''));

/** Pieces of whole files. */
export const anySoup = fc.array(fc.constantFrom(...pieces, ...marks), { maxLength: 40 }).map((list) => list.join(''));
