/**
 * The vocabulary: every word of the language, where it may stand, what follows it and what it means.
 * It drives validation, messages, completion, hover, the TextMate keyword list and the reference.
 * A new word is one entry here and its meaning in the model.
 */

import { parseHead } from '../../grammar/parser.ts';
import type { TopWords } from '../../grammar/source.ts';
import type { KnownHead } from '../../grammar/structure.ts';
import type { Item, Path } from '../../grammar/tree.ts';
import { literalsOf, matchPhrase, type Phrase } from './phrase.ts';
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
export const topWords: TopWords = Object.assign(new Set(wordsIn('file').map((e) => e.word)), { know: knowHead });

/** What the words say of a head: which block it may have, and what in it belongs in that. */
export function knowHead(head: string, place: string): KnownHead | undefined {
  const [first, ...rest] = parseHead(head, 0).items;
  const entry = first?.kind === 'path' && first.words.length === 1 && wordIn(place as BlockPlace, textOf(first));
  if (!entry) return undefined;
  const { block: inside, phrase } = entry;
  if (inside === undefined) return { inside };
  return { inside, content: contentIn(inside, phrase, rest)?.start };
}

/** The item that stands where the phrase of a head may end, and begins what stands in its block. */
export function contentIn(inside: BlockPlace, phrase: Phrase, items: readonly Item[]): Item | undefined {
  const match = matchPhrase(phrase, items);
  if (!('at' in match) || !match.expected.some(({ kind }) => kind === 'end')) return undefined;
  const item = items[match.at];
  if (item?.kind !== 'path' || item.words.length !== 1) return undefined;
  // Any name may be that of an argument or of a property to override, with a value behind it.
  const isNamed = inside === 'override' || takesArguments(inside);
  return wordIn(inside, textOf(item)) || (isNamed && items.length > match.at + 1) ? item : undefined;
}

function textOf({ words }: Path): string {
  return words[0]?.text ?? '';
}

/** What is given to a template there has the names of its parameters. */
export function takesArguments(place: BlockPlace): boolean {
  return place === 'unit' || place === 'template-test';
}

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
