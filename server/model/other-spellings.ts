/**
 * What keyboards, word processors and tables write in place of what the language reads: fractions and quotation marks of
 * one sign, dashes, primes for inches and feet, decimal commas, units of measure as words. What was meant is told, and
 * offered; nothing of it is taken away, as half a length is another length.
 */
import type { Range, Statement } from '../../grammar/tree.ts';

export interface SlipEdit extends Range {
  readonly text: string;
}

const signs: readonly (readonly [sign: RegExp, meant: string])[] = [
  [/^[\u2010-\u2015\u2212\uFE58\uFF0D]$/, '-'],
  [/^[\u2044\u2215\uFF0F]$/, '/'],
  [/^[\u00D7\u2217]$/, '*'],
  [/^\u00F7$/, '/'],
  [/^[\u00B0\u02DA]$/, 'deg'],
  [/^\u00B2$/, '2'],
];
const inch = /^[\u2033\u02BA\u201D\u201C\uFF02]$/;
const foot = /^[\u2032\u02B9\u2019\u2018\uFF07]$/;
/** Marks that texts begin with elsewhere, and what they end with; a single one ends at the end of a word. */
const quotes: readonly (readonly [open: RegExp, close: RegExp])[] = [
  [/^[\u201C\u201E\u201D\u00AB\uFF02]$/, /[\u201C\u201D\u00BB\uFF02"]/],
  [/^['\u2018\u201A\u2039]$/, /['\u2019\u2018\u203A](?=[\s,]|$)/],
];

/** So far around a sign is looked at what it means: farther than a name or a number is long, and a sentence. */
const [farBefore, farBehind] = [250, 1000];

export function textBefore(text: string, at: number): string {
  return text.slice(Math.max(0, at - farBefore), at);
}

function textBehind(text: string, at: number): string {
  return text.slice(at, at + farBehind);
}

/** What a character that the language does not know was meant to be, as edits of the statement; undefined where nobody can tell. */
export function meantBy(text: string, { start, end }: Range): readonly SlipEdit[] | undefined {
  const sign = text.slice(start, end);
  const feet = feetAndInches.exec(sign);
  if (feet) return inFeetAndInches(feet, { start, end });
  const digits = /\d([ \t]*)$/.exec(textBefore(text, start));
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
  const name = nameMeant(text, { start, end });
  if (name) return [name];
  if (unseen.test(sign)) return [{ start, end, text: '' }];
  const priced = inLetters(text, { start, end });
  if (priced) return priced;
  const quoted = quotation(text, { start, end });
  if (quoted) return quoted;
  if (!digits) return undefined;
  const from = start - (digits[1] ?? '').length;
  if (inch.test(sign)) return [{ start: from, end, text: 'in' }];
  return foot.test(sign) ? [{ start: from, end, text: 'ft' }] : undefined;
}

/** Currencies that have a sign of their own; dollars are those of many. */
const currencies: Readonly<Record<string, string>> = { '\u20AC': 'EUR', '\u00A3': 'GBP' };
export const currencySign = /^\p{Sc}$/u;

/** `€12.50`, `12.50 €`. */
function inLetters(text: string, { start, end }: Range): readonly SlipEdit[] | undefined {
  const code = currencies[text.slice(start, end)];
  if (code === undefined) return undefined;
  const behind = /^[ \t]*\d[\d.]*/.exec(textBehind(text, end));
  if (behind) {
    const at = end + behind[0].length;
    return [
      { start, end: at - behind[0].trimStart().length, text: '' },
      { start: at, end: at, text: ` ${code}` },
    ];
  }
  const before = /\d([ \t]*)$/.exec(textBefore(text, start));
  return [{ start: start - (before?.[1]?.length ?? 0), end, text: before ? ` ${code}` : code }];
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

/** Format characters: what joins, parts or turns round what is beside it, and shows nothing itself. */
const unseen = /^\p{Cf}+$/u;
const ofNames = '\\p{L}\\p{N}\\p{M}\\p{Cf}_-';
const nameBefore = new RegExp(`(?<![.${ofNames}])[\\p{L}_\\p{Cf}][${ofNames}]*$`, 'u');
const nameBehind = new RegExp(`^[${ofNames}]*`, 'u');

/**
 * A name in which a character is none of a name by itself: with each letter as one character, or without its mark where
 * there is none for both. source: Unicode Standard Annex 15, NFC
 */
export function nameMeant(text: string, { start, end }: Range): SlipEdit | undefined {
  if (!/^[\p{M}\p{Cf}]+$/u.test(text.slice(start, end))) return undefined;
  const from = start - (nameBefore.exec(textBefore(text, start))?.[0].length ?? 0);
  const to = start + (nameBehind.exec(textBehind(text, start))?.[0].length ?? 0);
  const name = text
    .slice(from, to)
    .normalize('NFC')
    .replaceAll(/[\p{M}\p{Cf}]/gu, '');
  return /\p{L}/u.test(name) ? { start: from, end: to, text: name } : undefined;
}

/** Both marks of a text in marks of another kind. */
export function quotation(text: string, { start, end }: Range): readonly SlipEdit[] | undefined {
  const closing = quotes.find(([open]) => open.test(text.slice(start, end)))?.[1];
  if (!closing || /\d[ \t]*$/.test(textBefore(text, start))) return undefined;
  const rest = /^[^\r\n;{}]*/.exec(textBehind(text, end))?.[0] ?? '';
  const close = rest.search(closing);
  if (close < 0) return undefined;
  return [
    { start, end, text: '"' },
    { start: end + close, end: end + close + 1, text: '"' },
  ];
}

/** A number that a character stands behind which means something to people: what is wrong is told of that. */
export function isCutByASlip({ text }: Statement, { end }: Range): boolean {
  const space = /^[ \t]*/.exec(textBehind(text, end))?.[0].length ?? 0;
  const at = end + space;
  return (
    at < text.length && !/[\w\s]/.test(text[at] as string) && meantBy(text, { start: at, end: at + 1 }) !== undefined
  );
}

/** A word with such a character in it or right behind it: what seems to be the word is a part of it. */
export function isTornByASlip({ text }: Statement, { end }: Range): boolean {
  return (
    end < text.length && !/\s/.test(text[end] as string) && nameMeant(text, { start: end, end: end + 1 }) !== undefined
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
  const rest = /^,(\d+)(?:[ \t]*[A-Za-z]+)?/.exec(textBehind(text, end));
  const whole = text.slice(start, end);
  if (!rest || !/^\d+$/.test(whole)) return undefined;
  return { start, end: end + rest[0].length, text: `${whole}.${rest[0].slice(1)}` };
}
