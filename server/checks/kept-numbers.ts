/**
 * What a fix leaves of the numbers that somebody wrote. A mended spelling keeps each of them, with its unit of measure;
 * what alters, drops or adds one may mend a text into another closet, and is for somebody to choose. This knows no
 * rule: it compares the text before and after.
 */
import type { Source } from '../../grammar/source.ts';
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import type { Fix } from '../model/finding.ts';
import { asDigits, ofWeight, unitMeant } from '../model/unit-spellings.ts';

/** A number as it stands in a text: `23-1/2`, and the unit of measure that it has. */
interface Written {
  readonly number: string;
  /** One that is not known may be any. */
  readonly unit: string | 'none' | 'not known';
}

/** Whether all numbers stand in the text afterwards that stood there before, as they were, and no others. */
export function keepsNumbers({ edits }: Pick<Fix, 'edits'>, sources: Iterable<Source>): boolean {
  const placed = edits.map(({ place, text }) => ({
    source: segmentOf(place.statement).source as Source,
    ...spanOf(place),
    text,
  }));
  const changed = [...Map.groupBy(placed, ({ source }) => source)].map(([source, own]) => changedLines(source, own));
  const before = changed.flatMap((one) => numbersIn(one.before));
  const after = changed.flatMap((one) => numbersIn(one.after));
  if (areSame(before, after)) return true;
  if (placed.some(({ text }) => text !== '')) return false;
  // What is taken away whole may go where it stands a second time.
  const removed = placed.map(({ source, start, end }) => source.text.slice(start, end));
  if (!areSame(before, [...after, ...removed.flatMap(numbersIn)])) return false;
  const texts = new Map([...sources].map((source) => [source, source.text]));
  for (const { source, whole } of changed) texts.set(source, whole);
  const left = [...texts.values()];
  return removed.every((text) => left.some((one) => one.includes(text.replaceAll(/^[\s;,]+|[\s;,]+$/g, ''))));
}

interface Change {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The lines of a file that are touched, as they are and as they come to be, and all of it. */
function changedLines(source: Source, changes: readonly Change[]) {
  const { text } = source;
  const inOrder = changes.toSorted((a, b) => a.start - b.start);
  const first = inOrder[0]?.start ?? 0;
  const last = Math.max(...changes.map(({ end }) => end));
  const start = first > 0 ? text.lastIndexOf('\n', first - 1) + 1 : 0;
  const behind = text.indexOf('\n', last);
  const end = behind < 0 ? text.length : behind;
  let after = '';
  let at = start;
  for (const change of inOrder) {
    after += text.slice(at, change.start) + change.text;
    at = change.end;
  }
  after += text.slice(at, end);
  return { source, before: text.slice(start, end), after, whole: text.slice(0, start) + after + text.slice(end) };
}

/** In whatever order. One whose unit of measure was not known has any, or none, afterwards. */
function areSame(before: readonly Written[], after: readonly Written[]): boolean {
  if (before.length !== after.length) return false;
  const known = (list: readonly Written[]) => list.filter(({ unit }) => unit !== 'not known');
  const left = countsOf(known(before));
  const gained = known(after).filter(({ number, unit }) => !taken(left, `${number} ${unit}`));
  // Each known one is there still; what is new is one of those that were not.
  if ([...left.values()].some((count) => count > 0)) return false;
  const open = countsOf(before.filter(({ unit }) => unit === 'not known').map(({ number }) => ({ number, unit: '' })));
  const others = [...gained, ...after.filter(({ unit }) => unit === 'not known')];
  return others.every(({ number }) => taken(open, `${number} `));
}

function countsOf(list: readonly Written[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { number, unit } of list) counts.set(`${number} ${unit}`, (counts.get(`${number} ${unit}`) ?? 0) + 1);
  return counts;
}

function taken(counts: Map<string, number>, key: string): boolean {
  const count = counts.get(key) ?? 0;
  if (count > 0) counts.set(key, count - 1);
  return count > 0;
}

const number = /(\d+)(?:[- ](?=\d+\/))?(?:(\d+)\/(\d+)|(?:[.,]\d+)*)/g;

/** All digits, those of names too, however a keyboard or a table has written what stands around them. */
export function numbersIn(text: string): Written[] {
  const plain = plainly(text);
  const found: Written[] = [];
  number.lastIndex = 0;
  for (let match = number.exec(plain); match; match = number.exec(plain)) {
    const raw = match[0].replace(' ', '-');
    const isInName = /[\p{L}_]-?$/u.test(plain.slice(0, match.index)) && /^\d+$/.test(raw);
    const behind = plain.slice(number.lastIndex);
    const unit = unitBehind(behind);
    const letters = /^\p{L}+/u.exec(behind)?.[0] ?? '';
    if (unit !== undefined) {
      found.push({ number: raw, unit: unit.meant });
      number.lastIndex += unit.length;
    } else if (!isInName && asDigits(letters) !== undefined) found.push({ number: raw + letters, unit: 'none' });
    else found.push({ number: raw, unit: letters !== '' && !isInName ? 'not known' : 'none' });
  }
  return found;
}

/** Longest first: `lb/sqft` before `lb`. */
function unitBehind(behind: string): { meant: string; length: number } | undefined {
  const word = /^( *)(\p{L}+)(?: *\/ *(\p{L}+\d?))?(?![\p{L}\p{N}_])/u.exec(behind);
  const [whole = '', space = '', above = '', below] = word ?? [];
  if (below !== undefined) {
    const meant = unitMeant(`${above}/${below}`);
    if (meant !== undefined) return { meant: ofWeight(meant), length: whole.length };
  }
  const length = space.length + above.length;
  const meant = above === '' ? undefined : unitMeant(above);
  return meant === undefined ? undefined : { meant: ofWeight(meant), length };
}

/** With the signs of other programs in those of the language, and no marks around texts. */
function plainly(text: string): string {
  return (
    text
      .replaceAll(/\p{Cf}/gu, '')
      .replaceAll(/(\d[ \t]*)?([\u00BC-\u00BE\u2150-\u215F\u2189])/g, (_, before: string | undefined, sign: string) => {
        const fraction = sign.normalize('NFKC');
        return before === undefined ? fraction : `${before.trimEnd()}-${fraction}`;
      })
      .normalize('NFKC')
      .replaceAll(/[\u2010-\u2015\u2212]/g, '-')
      .replaceAll(/[\u2044\u2215]/g, '/')
      .replaceAll(/\s+/g, ' ')
      // A mark that no number stands before begins a text.
      .replaceAll(
        /(?<!\d *)(["'\u201C\u201D\u201E\u2018\u201A\u00AB\u2039])([^"'\u201C\u201D\u2019\u2018\u00BB\u203A]*)["'\u201C\u201D\u2019\u2018\u00BB\u203A]/g,
        ' $2 ',
      )
      .replaceAll(/(?<=\d) *(?:''|\u2019\u2019|\u2032\u2032|["\u201C\u201D\u02BA])/g, 'in ')
      .replaceAll(/(?<=\d) *['\u2018\u2019\u2032\u02B9](?: ?-)?/g, 'ft ')
      .replaceAll(/(?<=\d) ?[\u00B0\u02DA]/g, 'deg')
      // What could part thousands is not taken for a decimal comma.
      .replaceAll(/(?<=\d),(?=\d)(?!\d{3}(?!\d))/g, '.')
  );
}
