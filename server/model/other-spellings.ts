/**
 * What keyboards, word processors and tables write in place of what the language reads: fractions and quotation marks of
 * one sign, dashes, primes for inches and feet, decimal commas, units of measure as words. What was meant is told, and
 * offered; nothing of it is taken away, as half a length is another length.
 */
import type { Expression, Range, Statement } from '../../grammar/tree.ts';

export interface SlipEdit extends Range {
  readonly text: string;
}

const signs: readonly (readonly [sign: RegExp, meant: string])[] = [
  [/^[\u2010-\u2015\u2212\uFE58\uFF0D]$/, '-'],
  [/^[\u2044\u2215\uFF0F]$/, '/'],
  [/^[\u00D7\u2217]$/, '*'],
  [/^\u00F7$/, '/'],
  [/^[\u00B0\u02DA]$/, 'deg'],
];
const inch = /^[\u2033\u02BA\u201D\u201C\uFF02]$/;
const foot = /^[\u2032\u02B9\u2019\u2018\uFF07]$/;
const openQuote = /[\u201C\u201E\u201D\u00AB\uFF02]/;
const closeQuote = /[\u201C\u201D\u00BB\uFF02]/;

/** What a character that the language does not know was meant to be, as edits of the statement; undefined where nobody can tell. */
export function meantBy(text: string, { start, end }: Range): readonly SlipEdit[] | undefined {
  const sign = text.slice(start, end);
  const feet = feetAndInches.exec(sign);
  if (feet) return inFeetAndInches(feet, { start, end });
  const before = text.slice(0, start);
  const digits = /\d([ \t]*)$/.exec(before);
  // `½` is told as `1⁄2` by the standard. source: Unicode Standard Annex 15, NFKC
  const fraction = /^(\d+)\u2044(\d+)$/.exec(sign.normalize('NFKC'));
  if (fraction) {
    const written = `${fraction[1]}/${fraction[2]}`;
    return digits
      ? [{ start: start - (digits[1] ?? '').length, end, text: `-${written}` }]
      : [{ start, end, text: written }];
  }
  const meant = signs.find(([one]) => one.test(sign))?.[1];
  if (meant !== undefined) return [{ start, end, text: meant }];
  const quoted = quotation(text, { start, end });
  if (quoted) return quoted;
  if (!digits) return undefined;
  const from = start - (digits[1] ?? '').length;
  if (inch.test(sign)) return [{ start: from, end, text: 'in' }];
  return foot.test(sign) ? [{ start: from, end, text: 'ft' }] : undefined;
}

/** `' 5''` behind a number: the mark of feet, where there is one, what joins it to the inches, these, and their mark. */
const feetAndInches =
  /^(?:(ft|['\u2019\u2032])(-|[ \t]*)(\d[\d \t/.-]*))?(''|\u2019\u2019|\u2032\u2032|(?<=\d)[ \t]*(?:in|["\u2033\u201D]))$/;

/** The marks alone are written anew, and the inches are left as they are. */
function inFeetAndInches(
  [, foot = '', joint = '', , mark = '']: RegExpExecArray,
  { start, end }: Range,
): readonly SlipEdit[] {
  const inches = { start: end - mark.length, end, text: 'in' };
  return foot === '' ? [inches] : [{ start, end: start + foot.length + joint.length, text: 'ft ' }, inches];
}

/** Both marks of a text in marks of another kind. */
function quotation(text: string, { start, end }: Range): readonly SlipEdit[] | undefined {
  if (!openQuote.test(text.slice(start, end)) || /\d[ \t]*$/.test(text.slice(0, start))) return undefined;
  const rest = /^[^\r\n;{}]*/.exec(text.slice(end))?.[0] ?? '';
  const close = rest.search(closeQuote);
  if (close < 0) return undefined;
  return [
    { start, end, text: '"' },
    { start: end + close, end: end + close + 1, text: '"' },
  ];
}

/** A number that a character stands behind which means something to people: what is wrong is told of that. */
export function isCutByASlip({ text }: Statement, { end }: Range): boolean {
  const space = /^[ \t]*/.exec(text.slice(end))?.[0].length ?? 0;
  const at = end + space;
  return (
    at < text.length && !/[\w\s]/.test(text[at] as string) && meantBy(text, { start: at, end: at + 1 }) !== undefined
  );
}

/** A name that stands right behind such a character: what seems to be one is the rest of a value. */
export function isLeftByASlip({ text }: Statement, { start }: Range): boolean {
  return (
    start > 0 &&
    !/[\w\s]/.test(text[start - 1] as string) &&
    meantBy(text, { start: start - 1, end: start }) !== undefined
  );
}

/** `2438,4` where a number ends and another begins behind its comma: the whole, and how it is written. */
export function decimalComma(
  { text }: Statement,
  { start, end }: Range,
): (Range & { readonly text: string }) | undefined {
  const rest = /^,(\d+)(?:[ \t]*[A-Za-z]+)?/.exec(text.slice(end));
  const whole = text.slice(start, end);
  if (!rest || !/^\d+$/.test(whole)) return undefined;
  return { start, end: end + rest[0].length, text: `${whole}.${rest[0].slice(1)}` };
}

/** Units of measure as words, and slips that are common; by what is meant. */
export const unitWords: Readonly<Record<string, string>> = {
  inch: 'in',
  inches: 'in',
  ins: 'in',
  foot: 'ft',
  feet: 'ft',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeters: 'mm',
  centimetres: 'cm',
  meter: 'm',
  metre: 'm',
  metres: 'm',
  pound: 'lb',
  pounds: 'lb',
  lbs: 'lb',
  degrees: 'deg',
};

/** A unit of measure that stands as a word behind a number. */
export function unitAsWord(
  expression: Expression,
  { text }: Statement,
): (Range & { readonly meant: string }) | undefined {
  if (expression.kind !== 'number') return undefined;
  const found = /^([ \t]+)([A-Za-z]+)(?![\w-])/.exec(text.slice(expression.end));
  const meant = unitWords[found?.[2]?.toLowerCase() ?? ''];
  if (!found || meant === undefined) return undefined;
  const start = expression.end + (found[1] ?? '').length;
  return { start, end: start + (found[2] ?? '').length, meant };
}
