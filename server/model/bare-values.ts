/** Values without the word that says what they are: in a block, or in front of where it should be. */
import { measureOf } from '../../grammar/measures.ts';
import { type Item, placeOf } from '../../grammar/tree.ts';
import type { Finding, Fix } from './finding.ts';
import { type HeadSlip, textOf, told } from './head-slips.ts';
import { isExpression, isMatch, matchPhrase } from './phrase.ts';
import { dimensionsOf } from './unit-spellings.ts';
import { type BlockPlace, wordsIn } from './vocabulary.ts';
import { listOr } from './word-lists.ts';
import type { WordEntry } from './words/entry.ts';

/** What a length by itself mostly is, of the thing in whose block it stands. Common practice, no source. */
const first: Partial<Record<BlockPlace, string>> = {
  wall: 'length',
  'survey-wall': 'length',
  extra: 'length',
  zone: 'width',
  gap: 'width',
  opening: 'width',
  'survey-opening': 'width',
  garment: 'hang',
  rod: 'diameter',
  shelf: 'at',
  'hanging-rod': 'at',
};

/** Of several words, that one which is meant mostly; otherwise all of them. */
export function likeliest(entries: readonly WordEntry[], place: BlockPlace): readonly WordEntry[] {
  const mostly = entries.filter(({ word }) => word === first[place]);
  return mostly.length > 0 ? mostly : entries;
}

/** Of more that would do nobody is helped by a list. */
const mostWords = 2;

/** `wall back 59-1/2in`: the value belongs in the block, behind its word. */
export function valueOutside({ statement, entry, items, mismatch }: HeadSlip): Finding | undefined {
  const item = items[mismatch.at];
  if (!entry.block || !item || mismatch.at !== items.length - 1 || !isMeasure(item)) return undefined;
  if (!isMatch(matchPhrase(entry.phrase, items.slice(0, -1)))) return undefined;
  const words = likeliest(wordsFor(item, entry.block), entry.block);
  if (words.length === 0 || words.length > mostWords) return undefined;
  const value = textOf(statement, item);
  const before = textOf(statement, { start: statement.word.start, end: items[mismatch.at - 1]?.end ?? item.start });
  const written = words.map(({ word }) => `${before} { ${word} ${value}${statement.block ? '; …' : ''} }`);
  return told(statement, item, `${value} belongs in the block of "${before}", behind the word that says what it is.`, {
    advice: `Write ${listOr(written)}`,
    fixes: words.map((word) => movedInto(statement, item, word)),
  });
}

function isMeasure(item: Item): boolean {
  return isExpression(item) && item.kind !== 'path';
}

function wordsFor(item: Item, place: BlockPlace): readonly WordEntry[] {
  const unit = item.kind === 'number' ? item.parts[0]?.unit : undefined;
  const measure = unit && measureOf(unit.text);
  const fitting = wordsIn(place).filter((entry) => !entry.block && isMatch(matchPhrase(entry.phrase, [item])));
  return measure ? fitting.filter((entry) => dimensionsOf(entry).has(measure.dimension)) : fitting;
}

/** By hand: which word is meant is a guess. */
function movedInto(statement: HeadSlip['statement'], item: Item, { word }: WordEntry): Fix {
  const { block } = statement;
  const content = `${word} ${textOf(statement, item)}`;
  const title = `Write { ${content}${block ? '; …' : ''} }`;
  if (!block) return { title, edits: [{ place: placeOf(statement, item), text: `{ ${content} }` }], byHand: true };
  const start = statement.text.slice(0, item.start).trimEnd().length;
  const inside = { start: block.open + 1, end: block.open + 1 };
  return {
    title,
    edits: [
      { place: placeOf(statement, { start, end: item.end }), text: '' },
      { place: placeOf(statement, inside), text: ` ${content};` },
    ],
    byHand: true,
  };
}
