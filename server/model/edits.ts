/** Changes of text that keep the way in which a block is written: a statement added to it, or taken out of it. */
import type { Source } from '../../grammar/source.ts';
import { offsetOf, type Place, placeOf, type Statement, segmentOf } from '../../grammar/tree.ts';
import type { Fix } from './finding.ts';

/** What is written in place of a stretch of text. */
export type Edit = Fix['edits'][number];

/**
 * A statement behind the last one of a block: on a line of its own where the others are, and a block where
 * there is none. Undefined where the block is not closed, so that nobody knows where it ends.
 */
export function added(statement: Statement, text: string): Edit | undefined {
  const { block, head } = statement;
  if (!block) return at(statement, head.end, ` { ${text} }`);
  if (block.close < 0) return undefined;
  const last = block.children.at(-1);
  if (!last) {
    const inside = statement.text.slice(block.open + 1, block.close);
    if (inside.trim() !== '') {
      const ending = lineEndAt(statement, block.open + 1);
      return at(statement, block.open + 1, `${ending}${indentOf(statement)}  ${text}`);
    }
    return { place: { statement, start: block.open + 1, end: block.close }, text: ` ${text} ` };
  }
  const end = last.offset + last.text.length;
  const before = statement.text.slice(block.open + 1, last.offset + last.word.start);
  const line = before.lastIndexOf('\n');
  if (line < 0) return at(statement, end, `; ${text}`);
  const indent = /^[ \t]*/.exec(before.slice(line + 1))?.[0] ?? '';
  // Behind what is written on the rest of the line, such as a comment.
  const rest = statement.text.slice(end, block.close).search(/\r?\n/);
  if (rest < 0) return at(statement, end, `; ${text}`);
  const ending = lineEndNear(statement.text, end + rest) ?? '\n';
  return at(statement, end + rest, `${ending}${indent}${text}`);
}

/** The same as a fix, titled by what is written; none where it cannot be. */
export function addedFix(statement: Statement, text: string, details: Omit<Fix, 'title' | 'edits'> = {}): Fix[] {
  const edit = added(statement, text);
  return edit ? [{ title: `Write ${text}`, edits: [edit], ...details }] : [];
}

/** A word of which nobody but somebody on site knows what is to stand behind it: what is written asks for it. */
export function gapFix(statement: Statement, word: string, title = `Write "${word}", to be filled in`): Fix[] {
  return addedFix(statement, word, { byHand: true, gap: true }).map((fix) => ({ ...fix, title }));
}

/** How lines end at a place: as the one before it does, or else the one behind it. A file may mix them. */
export function lineEndNear(text: string, place: number): '\r\n' | '\n' | undefined {
  const before = place > 0 ? text.lastIndexOf('\n', place - 1) : -1;
  const end = before >= 0 ? before : text.indexOf('\n', place);
  return end < 0 ? undefined : text[end - 1] === '\r' ? '\r\n' : '\n';
}

/** The same at a place in a statement. */
export function lineEndAt(statement: Statement, place: number): '\r\n' | '\n' {
  const segment = segmentOf(statement);
  const at = offsetOf(statement) + place;
  // One line alone is looked at with what is around it.
  return lineEndNear(segment.text, at - segment.offset) ?? lineEndNear((segment.source as Source).text, at) ?? '\n';
}

/** A declaration behind the one that a statement stands in, with gaps for what only somebody else knows. */
export function declaredBehind(statement: Statement, text: string, title: string): Fix[] {
  let top = statement;
  while (top.parent.kind === 'statement') top = top.parent;
  const ending = lineEndAt(top, top.text.length);
  const edit = at(top, top.text.length, `${ending}${text}`);
  return [{ title, edits: [edit], byHand: true, gap: true }];
}

/** `high`, or with the first number behind it that makes it free: `high-2`. */
export function freeName(name: string, taken: readonly (string | undefined)[]): string {
  for (let n = 1; ; n++) {
    const free = n === 1 ? name : `${name}-${n}`;
    if (!taken.includes(free)) return free;
  }
}

/** Takes a statement out, with its line where nothing else stands on it, or with one of the `;` beside it. */
export function removed(statement: Statement): Edit {
  const { parent, text } = statement;
  if (parent.kind === 'segment') {
    const all = segmentOf(statement).text;
    const end = statement.offset + text.length;
    const ending = /^\r?\n/.exec(all.slice(end))?.[0].length ?? 0;
    return { place: { statement, start: 0, end: text.length + ending }, text: '' };
  }
  const around = parent.text;
  const [start, end] = [statement.offset, statement.offset + text.length];
  const before = /(^|\n)[ \t]*$/.exec(around.slice(0, start));
  const after = /^[ \t]*;?[ \t]*(\r?\n|$)/.exec(around.slice(end));
  if (before && after) return cut(parent, start - before[0].length + (before[1]?.length ?? 0), end + after[0].length);
  const next = /^[ \t]*;[ \t]*/.exec(around.slice(end));
  if (next) return cut(parent, start, end + next[0].length);
  const previous = /[ \t]*;?[ \t]*$/.exec(around.slice(0, start));
  return cut(parent, start - (previous?.[0].length ?? 0), end);
}

/** One stretch written anew. */
export function written(place: Place, text: string, details: Omit<Fix, 'title' | 'edits'> = {}): Fix {
  return { title: `Write ${text}`, edits: [{ place, text }], ...details };
}

/** In place of a whole statement that leaves a range: `at from 40in to 44in`, `width from 22in to 40in`. */
export function settled({ statement }: Place, text: string): Fix[] {
  const [first] = statement.items;
  const isRange = first?.kind === 'path' && first.words[0]?.text === 'from';
  if (!isRange || text.includes('~') || !text.startsWith(`${statement.word.text} `)) return [];
  return [written(placeOf(statement, statement.head), text)];
}

function cut(statement: Statement, start: number, end: number): Edit {
  return { place: placeOf(statement, { start, end }), text: '' };
}

function at(statement: Statement, offset: number, text: string): Edit {
  return { place: { statement, start: offset, end: offset }, text };
}

/** The white space that the line of a statement begins with. */
/** What stands on its line before a statement, as far as that is space. */
export function indentOf({ offset, parent, word }: Statement): string {
  const before = parent.text.slice(0, offset + word.start);
  return /^[ \t]*/.exec(before.slice(before.lastIndexOf('\n') + 1))?.[0] ?? '';
}
