/** Where something is typed: at the first word of a statement, or behind some of its items. */
import type { Source } from '../../grammar/source.ts';
import { type Item, offsetOf, outwards, type Statement, segmentOf } from '../../grammar/tree.ts';
import type { BlockPlace } from '../model/vocabulary.ts';
import { placeInside, touches } from './locate.ts';
import type { Snapshot } from './snapshot.ts';

export type Cursor =
  | {
      readonly kind: 'word';
      /** The statements around, outermost first. */
      readonly around: readonly Statement[];
      readonly place: BlockPlace | undefined;
      /** What is replaced. */
      readonly start: number;
      readonly end: number;
    }
  | {
      readonly kind: 'item';
      /** The statement last. */
      readonly trail: readonly Statement[];
      readonly place: BlockPlace | undefined;
      /** Complete items before the cursor. */
      readonly before: readonly Item[];
      /** The item being typed. */
      readonly item: Item | undefined;
      readonly within: number;
    };

/** Undefined in comments and texts. */
export function cursorAt({ source }: Snapshot, offset: number): Cursor | undefined {
  if (inComment(source, offset)) return undefined;
  const probe = startOfBlank(source, offset);
  const previous = probe > 0 ? source.slice(probe - 1, probe) : undefined;
  const at = source.statementAt(offset) ?? source.statementAt(probe);
  const before = previous === undefined || '\n\r;{}'.includes(previous) ? undefined : source.statementAt(probe);
  if (before) {
    const within = offset - offsetOf(before);
    const trail = outwards(before).reverse();
    const head = before.block ? before.block.open : Number.POSITIVE_INFINITY;
    if (within <= head && probe - offsetOf(before) > before.word.start) return inHead(before, trail, within);
  }
  const around = blockAround(at, offset);
  // Text may go on behind the cursor: the word it stands in is replaced whole.
  const word = at?.word;
  const here = at && word && word.text !== '' && touches(word, offset - offsetOf(at)) ? offsetOf(at) : undefined;
  return {
    kind: 'word',
    around,
    place: placeInside(around),
    start: here === undefined || !word ? offset : here + word.start,
    end: here === undefined || !word ? offset : here + word.end,
  };
}

function inHead(statement: Statement, trail: readonly Statement[], within: number): Cursor | undefined {
  const around = trail.slice(0, -1);
  const place = placeInside(around);
  const { word } = statement;
  // A hyphen that a name is still to go on behind is read as a minus.
  const goesOn = word.text !== '' && word.end === within - 1 && statement.text[word.end] === '-';
  if (touches(word, within) || goesOn) {
    const base = offsetOf(statement);
    return { kind: 'word', around, place, start: base + word.start, end: base + word.end + (goesOn ? 1 : 0) };
  }
  const item = statement.items.find((i) => i.kind !== 'mark' && i.kind !== 'stray' && touches(i, within));
  if (item?.kind === 'text' && within > item.start) return undefined;
  // `3in + |`: what is missing belongs to the item before.
  const open = item ?? statement.items.findLast((i) => i.end <= within && endsMissing(i));
  if (open !== item)
    return {
      kind: 'item',
      trail,
      place,
      before: statement.items.filter((i) => i.end <= (open as Item).start),
      item: open,
      within,
    };
  const end = item ? item.start : within;
  const before = statement.items.filter((i) => i !== item && i.kind !== 'stray' && i.end <= end);
  return { kind: 'item', trail, place, before, item, within };
}

function endsMissing(item: Item): boolean {
  if (item.kind === 'missing') return true;
  if (item.kind === 'binary') return endsMissing(item.right);
  return item.kind === 'negation' && endsMissing(item.operand);
}

/** The statements whose blocks are around an offset, outermost first. */
function blockAround(statement: Statement | undefined, offset: number): Statement[] {
  if (!statement) return [];
  const trail = outwards(statement).reverse();
  const { block } = statement;
  const within = offset - offsetOf(statement);
  const inside = block && within > block.open && (block.close < 0 || within <= block.close);
  return inside ? trail : trail.slice(0, -1);
}

function startOfBlank(source: Source, offset: number): number {
  // The text of a line is enough, and a large file is not put together for it.
  const start = source.offsetAt({ line: source.positionAt(offset).line, column: 0 });
  const line = source.slice(start, offset);
  let length = line.length;
  while (length > 0 && (line[length - 1] === ' ' || line[length - 1] === '\t')) length--;
  return start + length;
}

function inComment(source: Source, offset: number): boolean {
  const segment = source.segmentAt(offset);
  if (!segment) return false;
  // A line comment reaches to the end of its line, a block comment to behind its mark.
  const reaches = (c: { kind: string; start: number; end: number }, at: number): boolean =>
    c.start < at && (c.kind === 'block' ? at < c.end : at <= c.end);
  if (segment.comments.some((c) => reaches(c, offset - segment.offset))) return true;
  const innermost = source.statementAt(offset);
  if (!innermost || segmentOf(innermost) !== segment) return false;
  if (innermost.doc !== undefined && offset - offsetOf(innermost) < innermost.word.start) return true;
  return outwards(innermost)
    .reverse()
    .some((s) => {
      const within = offset - offsetOf(s);
      return [...s.comments, ...(s.block?.comments ?? [])].some((c) => reaches(c, within));
    });
}
