/** What lines of a block that cannot be read may have said for all that stands beside them, or is built on that. */
import type { Statement } from '../../grammar/tree.ts';
import { memo } from './memo.ts';
import type { Names } from './names.ts';
import { nearestOnes } from './nearest.ts';
import { dotted } from './reading.ts';
import { type BlockPlace, wordsIn } from './vocabulary.ts';

/** Words by which a template or a zone says something for all that is in it: what parts are cut from, what they stand on. */
export type SaidAround = 'board' | 'pole' | 'wall';

const kindOf: Readonly<Partial<Record<SaidAround, 'board' | 'rod'>>> = { board: 'board', pole: 'rod' };

/** The blocks in which a line that cannot be read may begin with such a word. */
export function unreadAround(
  heads: Iterable<Statement>,
  names: Names,
): ReadonlyMap<SaidAround, ReadonlySet<Statement>> {
  const found = new Map<SaidAround, Set<Statement>>();
  for (const head of heads) {
    const { parent } = head;
    if (parent.kind !== 'statement') continue;
    for (const word of ['board', 'pole', 'wall'] as const)
      if (mayBe(word, head, parent, names)) memo(found, word, () => new Set<Statement>()).add(parent);
  }
  return found;
}

/** Its word is that, or a slip of it; or it is none that stands there, and names a board or a rod, or has a block. */
function mayBe(said: SaidAround, { word, items, block }: Statement, parent: Statement, names: Names): boolean {
  const { text } = word;
  const here = wordsIn(parent.word.text as BlockPlace).map((entry) => entry.word);
  if (!here.includes(said)) return false;
  if (here.includes(text)) return text === said;
  const near = nearestOnes(text, here);
  if (near.length > 0) return near.includes(said);
  const kind = kindOf[said];
  // A wall that has lost its word is a name with a block.
  if (!kind) return block !== undefined;
  return [text, ...items.flatMap((item) => (item.kind === 'path' ? [dotted(item)] : []))].some((name) =>
    names.find(kind, name),
  );
}
