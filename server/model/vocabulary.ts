/**
 * The vocabulary: every word of the language, where it may stand, what follows it and what it means.
 * It drives validation, messages, completion, hover, the TextMate keyword list and the reference.
 * A new word is one entry here and its meaning in the model.
 */

import { literalsOf } from './phrase.ts';
import type { BlockPlace, WordEntry } from './words/entry.ts';
import { fileWords } from './words/file.ts';
import { fittingWords } from './words/fittings.ts';
import { materialWords } from './words/materials.ts';
import { templateWords } from './words/template.ts';
import { unitWords } from './words/units.ts';

export type { BlockPlace, WordEntry } from './words/entry.ts';

export const vocabulary: readonly WordEntry[] = [
  ...fileWords,
  ...materialWords,
  ...templateWords,
  ...fittingWords,
  ...unitWords,
];

const byPlace = new Map<BlockPlace, Map<string, WordEntry>>();
for (const entry of vocabulary) {
  for (const place of entry.places) {
    const words = byPlace.get(place) ?? new Map<string, WordEntry>();
    if (words.has(entry.word)) throw new Error(`two entries for ${entry.word} in ${place}`);
    words.set(entry.word, entry);
    byPlace.set(place, words);
  }
}

export function wordIn(place: BlockPlace, word: string): WordEntry | undefined {
  return byPlace.get(place)?.get(word);
}

export function wordsIn(place: BlockPlace): readonly WordEntry[] {
  return [...(byPlace.get(place)?.values() ?? [])];
}

export function placesOf(word: string): readonly BlockPlace[] {
  return [...new Set(vocabulary.filter((e) => e.word === word).flatMap((e) => e.places))];
}

/** The words that begin a top-level declaration; the cutter of the grammar is given them. */
export const topWords: ReadonlySet<string> = new Set(wordsIn('file').map((e) => e.word));

/** Every keyword: first words and the literals of phrases. */
export function keywords(): { readonly first: readonly string[]; readonly inner: readonly string[] } {
  const first = new Set(vocabulary.map((e) => e.word));
  const inner = new Set(vocabulary.flatMap((e) => literalsOf(e.phrase)).filter((w) => /^[a-z]/.test(w)));
  return { first: [...first].sort(), inner: [...inner].filter((w) => !first.has(w)).sort() };
}

/** The name of a place as messages use it: `a zone`, `the project`. */
export function placeName(place: BlockPlace): string {
  const names: Partial<Record<BlockPlace, string>> = {
    file: 'the top level of a file',
    project: 'a project',
    'survey-wall': 'a wall of a survey',
    'survey-opening': 'an opening of a survey',
    'hanging-rod': 'a rod of a zone',
    extra: 'an extra',
    opening: 'an opening',
    override: 'an override',
    hardware: 'hardware',
    panels: 'panels',
    drawers: 'drawers',
    shelves: 'a row of shelves',
    stock: 'stock',
    'template-test': 'a test',
    anything: 'this block',
  };
  return names[place] ?? `a ${place}`;
}
