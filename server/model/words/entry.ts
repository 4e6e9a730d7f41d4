import { type Phrase, phrase } from '../phrase.ts';

/** Where a word may stand: the top level of a file, or the block of something. */
export type BlockPlace =
  | 'file'
  | 'project'
  | 'board'
  | 'rod'
  | 'hardware'
  | 'stock'
  | 'garment'
  | 'policy'
  | 'template'
  | 'template-test'
  | 'unit'
  | 'survey'
  | 'survey-wall'
  | 'survey-opening'
  | 'extra'
  | 'wall'
  | 'corner'
  | 'opening'
  | 'fixture'
  | 'zone'
  | 'gap'
  | 'shelf'
  | 'hanging-rod'
  | 'panels'
  | 'drawers'
  | 'shelves'
  | 'override'
  /** A block that is kept as it stands: nothing in it is checked yet. */
  | 'anything';

export interface WordEntry {
  readonly word: string;
  readonly places: readonly BlockPlace[];
  readonly phrase: Phrase;
  /** What its block may hold; undefined where it has none. */
  readonly block: BlockPlace | undefined;
  /** A block is needed for it to mean anything. */
  readonly needsBlock: boolean;
  /** May stand more than once in a block. */
  readonly repeats: boolean;
  readonly doc: string;
  /** What holds where it is not written. */
  readonly fallback: string | undefined;
  /** Where its length is measured from or to. */
  readonly datum: string | undefined;
  /** Read and kept, and answered with a note: it has no meaning yet. */
  readonly notYet: boolean;
  /** In inches, the greatest value that anybody would mean; beyond it a slip of the unit is suspected. */
  readonly plausible: number | undefined;
  /** The same for the least value. Both are common practice, no source. */
  readonly leastPlausible: number | undefined;
  /** Other words that say the same of what they stand in, so that only one of them can hold. */
  readonly otherWays: readonly string[];
  /** A line that a test compiles, set into the place the word belongs to. */
  readonly example: string;
}

export interface WordOptions {
  readonly block?: BlockPlace;
  readonly needsBlock?: boolean;
  readonly repeats?: boolean;
  readonly fallback?: string;
  readonly datum?: string;
  readonly notYet?: boolean;
  readonly plausible?: number;
  readonly leastPlausible?: number;
  readonly otherWays?: readonly string[];
}

/** An entry: `word('depth', ['board', 'shelf'], '<value:length>', 'Front to back.', 'depth 12in', {...})`. */
export function word(
  text: string,
  places: readonly BlockPlace[],
  notation: string,
  doc: string,
  example: string,
  options: WordOptions = {},
): WordEntry {
  return {
    word: text,
    places,
    phrase: phrase(notation),
    doc,
    example,
    block: options.block,
    needsBlock: options.needsBlock ?? false,
    repeats: options.repeats ?? false,
    fallback: options.fallback,
    datum: options.datum,
    notYet: options.notYet ?? false,
    plausible: options.plausible,
    leastPlausible: options.leastPlausible,
    otherWays: options.otherWays ?? [],
  };
}
