/** The place of what is wrong with a file as a whole. */
import type { Source } from '../../grammar/source.ts';
import { headPlace, type Place, placeOf, type Segment, type Statement } from '../../grammar/tree.ts';

/** The place at the very start of a file, for what is wrong with it as a whole. */
export function startOf(source: Source): Place {
  for (const statement of source.statements()) return headPlace(statement);
  return placeOf(emptyStatement(source), { start: 0, end: 0 });
}

/** A statement to hold a place in a file that has none. */
function emptyStatement(source: Source): Statement {
  const parent: Segment = { kind: 'segment', source, offset: 0, line: 0, text: '', statements: [], comments: [] };
  return {
    kind: 'statement',
    parent,
    offset: 0,
    text: '',
    word: { kind: 'word', text: '', start: 0, end: 0 },
    items: [],
    head: { start: 0, end: 0 },
    comments: [],
    problems: [],
  };
}
