/**
 * The formatter. It works on the space between tokens, a declaration at a time, and answers as little as has to change.
 * What cannot be read stays as it stands. Every result is read again before it is handed out: where it would say anything
 * else, nothing is changed.
 */
import { closeTheSame } from './chunks.ts';
import { layoutOf } from './layout.ts';
import { conflictsIn, mayConflict } from './merge-markers.ts';
import { type Edit, Source } from './source.ts';
import { parseSegment } from './statements.ts';
import { lex, NumberToken } from './tokens.ts';
import type { Comment, Range, Segment, Statement } from './tree.ts';

export interface Formatting {
  /** In order, none touching another. */
  readonly edits: readonly Edit[];
  /** What was left as it stands, because where its blocks end cannot be told. */
  readonly kept: readonly Range[];
}

/** What tells of the statements of a segment by how many levels their lines stand deeper than their blocks tell. */
export type Deeper = (segment: Segment) => ((statement: Statement) => number) | undefined;

/** The edits that bring a file into the one style; with `within`, those of them that lie there. Never throws on text. */
export function formattingOf(source: Source, within?: Range, deeper?: Deeper): Formatting {
  const { segments } = source;
  // The markers of a merge are no text: what is between them may be torn apart.
  if (segments.some(({ text }) => mayConflict(text)) && conflictsIn(source.text).length > 0)
    return { edits: [], kept: [{ start: 0, end: source.length }] };
  const lineEnd = lineEndOf(segments);
  const edits: Edit[] = [];
  const kept: Range[] = [];
  for (const [i, segment] of segments.entries()) {
    const { offset, text } = segment;
    if (within && (offset + text.length < within.start || offset > within.end)) continue;
    const around = { isFirst: i === 0, isLast: i === segments.length - 1, lineEnd, deeper: deeper?.(segment) };
    const all = layoutOf(segment, around);
    const changes = within ? all?.filter((c) => within.start <= offset + c.start && offset + c.end <= within.end) : all;
    const isWhole = changes?.length === all?.length;
    // What lies outside of the stretch is not looked at: a comment that is open there may end here.
    const isSafe =
      changes &&
      staysTheSame(segment, changes) &&
      (isWhole || staysCut(source, segment, changes)) &&
      (!within || changes.length === 0 || closeTheSame(text, withEdits(text, changes)));
    if (!changes || !isSafe) kept.push({ start: offset, end: offset + text.length });
    else
      for (const { start, end, text: space } of changes)
        edits.push({ start: offset + start, end: offset + end, text: space });
  }
  // A block that is not closed here may be closed there, and nobody knows what belongs to it.
  if (kept.length > 0 && edits.length > 0 && !readsTheSame(source, edits)) return { edits: [], kept };
  return { edits, kept };
}

/** The whole text in the one style. */
export function formatted(source: Source): string {
  return withEdits(source.text, formattingOf(source).edits);
}

/** A text after edits that are in order. */
export function withEdits(text: string, edits: readonly Edit[]): string {
  let result = '';
  let at = 0;
  for (const edit of edits) {
    result += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return result + text.slice(at);
}

/** What ends the lines of a file: what ends the first one. */
function lineEndOf(segments: readonly Segment[]): string {
  for (const { text } of segments) {
    const [found] = /\r\n|\n|\r/.exec(text) ?? [];
    if (found !== undefined) return found;
  }
  return '\n';
}

function staysTheSame({ text, statements, comments }: Segment, changes: readonly Edit[]): boolean {
  if (changes.length === 0) return true;
  const after = parseSegment(withEdits(text, changes), []);
  return sayTheSame(statements, after.statements) && commentsIn({ statements, comments }) === commentsIn(after);
}

/** Of a part of the changes: a declaration that is moved to the start of its line without its documentation would lose it. */
function staysCut({ id, topWords }: Source, { text, statements }: Segment, changes: readonly Edit[]): boolean {
  return sayTheSame(statements, [...new Source(id, withEdits(text, changes), topWords).statements()]);
}

function readsTheSame(source: Source, edits: readonly Edit[]): boolean {
  const again = new Source(source.id, withEdits(source.text, edits), source.topWords);
  return sayTheSame([...source.statements()], [...again.statements()]);
}

/** The same statements with the same tokens in the same blocks, with the same documentation and problems. */
export function sayTheSame(before: readonly Statement[], after: readonly Statement[]): boolean {
  if (before.length !== after.length) return false;
  return before.every((a, i) => {
    const b = after[i] as Statement;
    if (a.doc !== b.doc || (a.block === undefined) !== (b.block === undefined)) return false;
    if (a.problems.length !== b.problems.length || a.problems.some((p, k) => p.code !== b.problems[k]?.code))
      return false;
    return sameHead(headOf(a), headOf(b)) && (!a.block || sayTheSame(a.block.children, b.block?.children ?? []));
  });
}

function headOf({ text, head, block }: Statement): string {
  return text.slice(head.start, block ? block.open : undefined).trimEnd();
}

function sameHead(before: string, after: string): boolean {
  if (before === after) return true;
  const a = lex(before).tokens;
  const b = lex(after).tokens;
  return (
    a.length === b.length &&
    a.every(({ tokenType, image }, i) => {
      const other = b[i];
      if (tokenType !== other?.tokenType) return false;
      // `3 1/2` is one number.
      return image === other.image || (tokenType === NumberToken && image.replace(/\s+/, ' ') === other.image);
    })
  );
}

function commentsIn(owner: {
  readonly statements: readonly Statement[];
  readonly comments: readonly Comment[];
}): number {
  const within = (count: number, { comments, block }: Statement): number =>
    (block?.children ?? []).reduce(within, count + comments.length + (block?.comments.length ?? 0));
  return owner.statements.reduce(within, owner.comments.length);
}
