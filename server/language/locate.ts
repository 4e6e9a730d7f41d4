/** What stands under the cursor: the statement, the place it stands in, its reading, and the item or word. */
import { type Item, offsetOf, outwards, type Path, type Range, type Statement, type Word } from '../../grammar/tree.ts';
import type { Declared } from '../model/names.ts';
import type { SlotType } from '../model/phrase.ts';
import { slotsOf } from '../model/phrase.ts';
import { type Reading, readingAt } from '../model/reading.ts';
import type { BlockPlace, WordEntry } from '../model/vocabulary.ts';
import { wordIn } from '../model/vocabulary.ts';
import type { Snapshot } from './snapshot.ts';

export interface Located {
  readonly statement: Statement;
  /** Absolute offset of the statement's text, to add to any range in it. */
  readonly base: number;
  /** The statements around it, outermost first, itself last. */
  readonly trail: readonly Statement[];
  /** Where it stands. Undefined where something around it has no meaning. */
  readonly place: BlockPlace | undefined;
  readonly entry: WordEntry | undefined;
  readonly reading: Reading | undefined;
  /** Offset of the cursor within the statement. */
  readonly within: number;
}

export function locate({ source }: Snapshot, offset: number): Located | undefined {
  const statement = source.statementAt(offset);
  return statement && located(statement, offset);
}

export function located(statement: Statement, offset: number): Located {
  const trail = outwards(statement).reverse();
  const place = placeOfLast(trail);
  const entry = place && wordIn(place, statement.word.text);
  const base = offsetOf(statement);
  return {
    statement,
    base,
    trail,
    place,
    entry,
    reading: place && readingAt(statement, place),
    within: offset - base,
  };
}

/** The place that the last statement of a trail stands in. */
function placeOfLast(trail: readonly Statement[]): BlockPlace | undefined {
  let place: BlockPlace | undefined = 'file';
  for (const statement of trail.slice(0, -1)) {
    if (!place) return undefined;
    place = wordIn(place, statement.word.text)?.block;
  }
  return place;
}

/** The place that the children of a statement stand in. */
export function placeInside(trail: readonly Statement[]): BlockPlace | undefined {
  const last = trail.at(-1);
  if (!last) return 'file';
  const place = placeOfLast(trail);
  return place && wordIn(place, last.word.text)?.block;
}

export function touches(range: Range, within: number): boolean {
  return range.start <= within && within <= range.end;
}

/** The item of a statement under the cursor. */
export function itemAt({ statement, within }: Located): Item | undefined {
  const touched = statement.items.filter((item) => touches(item, within));
  // Between a comma and a name the name is meant.
  return touched.find((item) => item.kind !== 'mark') ?? touched[0];
}

/** A path, and one of its words. */
export interface PathAt {
  readonly path: Path;
  readonly word: Word;
  readonly index: number;
}

/** The path under the cursor, inside an expression too, and which of its words. */
export function pathAt(located: Located): PathAt | undefined {
  const item = itemAt(located);
  const path = item && pathWithin(item, located.within);
  if (!path) return undefined;
  const index = path.words.findIndex((w) => touches(w, located.within));
  const word = path.words[index];
  return word && { path, word, index };
}

function pathWithin(item: Item, within: number): Path | undefined {
  if (!touches(item, within)) return undefined;
  switch (item.kind) {
    case 'path':
      return item;
    case 'binary':
      return pathWithin(item.left, within) ?? pathWithin(item.right, within);
    case 'negation':
      return pathWithin(item.operand, within);
    case 'group':
      return pathWithin(item.inner, within);
    case 'call':
      return item.args.map((a) => pathWithin(a, within)).find((p) => p !== undefined);
    default:
      return undefined;
  }
}

/** The slot of a statement's phrase that an item was bound to. */
export function slotOf(reading: Reading, item: Item): { readonly name: string; readonly type: SlotType } | undefined {
  for (const slot of slotsOf(reading.entry.phrase)) {
    if (reading.slots[slot.name]?.includes(item)) return slot;
  }
  return undefined;
}

/** The declaration that a top-level statement is in a project, the one that counts or not. */
export function declaredAt({ project }: Snapshot, statement: Statement): Declared | undefined {
  const reading = readingAt(statement, 'file');
  if (!reading) return undefined;
  for (const declared of project.names.all(reading.word as Declared['kind']))
    if (declared.statement === statement) return declared;
  return undefined;
}

/** The unit, or the test of a template, in whose block arguments are given, where the innermost of these is one. */
export function giverOf(around: readonly Statement[]): Statement | undefined {
  const [top, inner] = around;
  if (top?.word.text === 'unit') return around.length === 1 ? top : undefined;
  return top?.word.text === 'template' && inner?.word.text === 'test' && around.length === 2 ? inner : undefined;
}
