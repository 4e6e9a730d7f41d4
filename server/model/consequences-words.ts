/** Which statements say how large something is, how it is bought, or name what is there once it is laid out. */
import type { Statement } from '../../grammar/tree.ts';
import { dotted } from './reading.ts';
import { isGround } from './resting.ts';
import { vocabulary } from './vocabulary.ts';

/** It names what is there once a template is laid out: `override main.top`, and what a test expects. */
export function isOfLayout({ word: { text } }: Statement): boolean {
  return text === 'override' || text === 'expect';
}

/** Words of which all that is computed from a declaration is made: a fitting that cannot be read leaves the others where they are. */
const sizes: ReadonlySet<string> = new Set(
  'template unit survey board rod hardware garment wall zone gap parameter width length depth thickness takes'.split(
    ' ',
  ),
);
const fittings: ReadonlySet<string> = new Set(['shelf', 'shelves', 'rod', 'drawers', 'panels', 'override']);

export function isOfASize({ word, parent }: Statement): boolean {
  const within = parent.kind === 'statement' && parent.parent.kind === 'statement' ? parent.word.text : '';
  // How high a stack of drawers is moves all that stands on it.
  if (within === 'drawers' && (word.text === 'height' || word.text === 'count')) return true;
  return !fittings.has(within) && (sizes.has(word.text) || !isWord(word.text));
}

/** How a material or hardware is bought, and what is said of it in words: nothing is built or judged by that. */
const trade: ReadonlySet<string> = new Set(['pack', 'finish', 'source']);

/** Its word may stand in another place: `24 pack`. */
export function isOfTrade({ word, items, parent }: Statement): boolean {
  if (parent.kind !== 'statement' || !isGround(parent.word.text)) return false;
  if (isWord(word.text)) return trade.has(word.text);
  return items.some((item) => item.kind === 'path' && trade.has(dotted(item)));
}

const words = new Set(vocabulary.map(({ word }) => word));

export function isWord(text: string): boolean {
  return words.has(text);
}
