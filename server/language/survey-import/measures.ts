/** Units of measure as people write them in a heading or behind a number. */
import { nearest } from '../../model/nearest.ts';
import { TICKS_PER_FOOT, TICKS_PER_INCH, TICKS_PER_MM } from '../../model/ticks.ts';

export const measures = ['inches', 'feet', 'millimetres', 'centimetres', 'metres'] as const;
export type Measure = (typeof measures)[number];

export const ticksPer: Readonly<Record<Measure, number>> = {
  inches: TICKS_PER_INCH,
  feet: TICKS_PER_FOOT,
  millimetres: TICKS_PER_MM,
  centimetres: 10 * TICKS_PER_MM,
  metres: 1000 * TICKS_PER_MM,
};

const spellings: Readonly<Record<Measure, readonly string[]>> = {
  inches: ['in', 'inch', 'inches', '"', "''"],
  feet: ['ft', 'foot', 'feet', "'", 'ft-in', 'ft in', 'feet and inches', 'ft & in'],
  millimetres: ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
  centimetres: ['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'],
  metres: ['m', 'metre', 'metres', 'meter', 'meters'],
};

const bySpelling = new Map(measures.flatMap((measure) => spellings[measure].map((word) => [word, measure] as const)));

/** In whatever case, with the point of an abbreviation or without. */
export function measureOf(word: string): Measure | undefined {
  return bySpelling.get(
    word
      .trim()
      .toLowerCase()
      .replace(/(?<=[a-z])\.$/, '')
      .replaceAll(/[\u2033\u201d]/g, '"')
      .replaceAll(/[\u2032\u2019]/g, "'"),
  );
}

/** In sentences. */
export function unknownMeasure(word: string): string {
  const near = nearest(word.toLowerCase(), longSpellings);
  return `"${word}" is no unit of measure that is known here: in, ft, mm, cm and m are.${near === undefined ? '' : ` Is "${near}" meant?`}`;
}

/** Between abbreviations, one letter amiss says nothing of which is meant. */
const longSpellings = [...bySpelling.keys()].filter((word) => /^[a-z]{4,}$/.test(word));

/** A heading without the unit of measure at its end: `Width low (mm)`, `length in`, `Height, in inches`. */
export function withMeasure(heading: string): { readonly words: string; readonly measure: Measure | undefined } {
  const bracketed = /^(.*\S)\s*[([{]\s*(?:in\s+)?([^()[\]{}]+?)\s*[)\]}]\s*$/i.exec(heading);
  const behind = /^(.*?\S)(?:\s*[,/:]\s*|\s+)(?:in\s+)?(\S+)$/i.exec(heading);
  const marked = /^(.*[^\s"'])\s*(["']{1,2}|[\u2032\u2033\u2019\u201d])$/.exec(heading);
  for (const match of [bracketed, behind, marked]) {
    // `Width m` alone may be the middle one of three widths.
    if (match === behind && /\sm\.?$/i.test(heading) && !/(?:[,/:]|\sin)\s+m\.?$/i.test(heading)) continue;
    const measure = match?.[2] === undefined ? undefined : measureOf(match[2]);
    if (measure !== undefined)
      return { words: (match?.[1] ?? '').replace(/\s+in$/i, '').replace(/[,/:]$/, ''), measure };
  }
  return { words: heading, measure: undefined };
}
