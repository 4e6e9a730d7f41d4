/** What is said in comments: it stays wherever it is carried to, or the refactoring is not offered. */
import { Source } from '../../../grammar/source.ts';
import { type Statement, topOf } from '../../../grammar/tree.ts';
import { topWords } from '../../model/vocabulary.ts';
import { type Edit, textAfter } from './edits.ts';

/** All that stand in a statement, in its head and in all of its block. */
export function commentsIn({ text, comments, block }: Statement): string[] {
  const ranges = [...comments, ...(block?.comments ?? [])];
  const own = ranges.map(({ start, end }) => text.slice(start, end));
  return [...own, ...(block?.children ?? []).flatMap(commentsIn)];
}

export function withoutComments(text: string): string {
  const comments = new Source('', text, topWords).comments();
  return comments.reduceRight((left, { start, end }) => left.slice(0, start) + left.slice(end), text);
}

/** Why not: a comment of what is edited that would stand nowhere afterwards. */
export function losesComment(edits: readonly Edit[]): string | undefined {
  const tops = new Set(edits.map(({ place }) => topOf(place.statement)));
  const after = [...tops].flatMap((top) => {
    const own = edits.filter(({ place }) => topOf(place.statement) === top);
    const text = textAfter(top, own);
    return new Source('', text, topWords).comments().map(({ start, end }) => plain(text.slice(start, end)));
  });
  for (const comment of [...tops].flatMap(commentsIn)) {
    const at = after.indexOf(plain(comment));
    if (at < 0) return `The comment "${short(comment)}" would be lost: put it on a line of its own.`;
    after.splice(at, 1);
  }
  return undefined;
}

/** However far it is indented. */
function plain(comment: string): string {
  return comment.trim().replace(/\s+/g, ' ');
}

function short(comment: string): string {
  const line = plain(comment);
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
}
