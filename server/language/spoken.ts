/** Names and places as sentences have them. */
import { offsetOf, type Statement } from '../../grammar/tree.ts';
import { nameOf } from '../model/files.ts';
import { sourceOf } from './diagnostics.ts';
import type { Meaning } from './meaning.ts';

/** `board "white-12"`. */
export function spoken({ sort, name, root }: Meaning): string {
  if (sort === 'set') return `matched set "${name}"`;
  if (sort === 'use') return `library "${name}"`;
  return `${root?.word.text ?? sort} "${name}"`;
}

export { capital } from '../model/capital.ts';

const plural: ReadonlySet<string> = new Set(['panels', 'shelves', 'drawers']);

/** `an opening`, `a unit`, `hardware`: what a word of the language declares. */
function anArticle(word: string): string {
  if (plural.has(word) || word === 'hardware') return word;
  if (word === 'use') return 'a library';
  return word === 'opening' || word === 'extra' ? `an ${word}` : `a ${word}`;
}

/** `There is a unit`, `There are panels`. */
export function thereIs(word: string): string {
  return `There ${plural.has(word) ? 'are' : 'is'} ${anArticle(word)}`;
}

/** `in units.closet, line 12`, of the first word of a statement or another offset in it. */
export function placeText(statement: Statement, within = statement.word.start): string {
  const source = sourceOf({ statement, start: 0, end: 0 });
  return `in ${nameOf(source.id)}, line ${source.positionAt(offsetOf(statement) + within).line + 1}`;
}
