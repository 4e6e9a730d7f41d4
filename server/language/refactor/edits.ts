/** Edits of refactorings: made of places, so that they can be tried beside the project, and told as text of files. */
import { formatted } from '../../../grammar/format.ts';
import { widestLine } from '../../../grammar/layout.ts';
import { Source } from '../../../grammar/source.ts';
import { placeOf, type Statement, segmentOf, spanOf } from '../../../grammar/tree.ts';
import { type Edit, lineEndAt } from '../../model/edits.ts';
import type { Names } from '../../model/names.ts';
import { topWords } from '../../model/vocabulary.ts';
import { sourceOf } from '../diagnostics.ts';
import type { TextEdit } from '../snapshot.ts';

export type { Edit };

export function textEdits(edits: readonly Edit[]): TextEdit[] {
  return edits.map(({ place, text }) => ({ file: sourceOf(place).id, ...spanOf(place), text }));
}

/** One word or stretch of a statement anew. */
export function instead(statement: Statement, range: { readonly start: number; readonly end: number }, text: string) {
  return { place: placeOf(statement, range), text };
}

/** The text of a statement from `start` to `end` after edits in it and in what is nested in it. */
export function textAfter(
  statement: Statement,
  edits: readonly Edit[],
  { start, end } = { start: 0, end: statement.text.length },
): string {
  const base = spanOf(placeOf(statement, { start: 0, end: 0 })).start;
  let text = '';
  let at = start;
  const inside = edits
    .map(({ place, text: put }) => ({ start: spanOf(place).start - base, end: spanOf(place).end - base, put }))
    .filter((edit) => edit.start >= start && edit.end <= end)
    .sort((a, b) => a.start - b.start || a.end - b.end);
  for (const edit of inside) {
    text += statement.text.slice(at, edit.start) + edit.put;
    at = edit.end;
  }
  return text + statement.text.slice(at, end);
}

/** A declaration in the one style, its lines ended as those of the file that it goes to. */
export function styled(text: string, beside: Statement): string {
  const plain = text.replace(/\r\n?/g, '\n');
  const made = formatted(new Source('', `${plain}\n`, topWords)).trimEnd();
  return made.replaceAll('\n', lineEndAt(beside, beside.text.length));
}

/** A whole declaration written anew; what is alike at both ends stays. */
export function rewritten(top: Statement, text: string): Edit[] {
  const [before, after] = [top.text, styled(text, top)];
  const shorter = Math.min(before.length, after.length);
  let head = 0;
  while (head < shorter && before[head] === after[head]) head++;
  let tail = 0;
  while (tail < shorter - head && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail++;
  if (head === before.length && head === after.length) return [];
  return [instead(top, { start: head, end: before.length - tail }, after.slice(head, after.length - tail))];
}

/** Small edits of one declaration, or all of it anew where a line of it would grow longer than the style has it. */
export function inStyle(top: Statement, edits: readonly Edit[]): readonly Edit[] {
  if (edits.length === 0) return edits;
  const text = textAfter(top, edits);
  const isWide = text.split('\n').some((line) => line.length > widestLine);
  return isWide && styled(top.text, top) === top.text ? rewritten(top, text) : edits;
}

/** A new declaration with an empty line between: behind one, or before it where more stands on its last line. */
export function declaredBehind(top: Statement, text: string): Edit {
  const made = styled(text, top);
  const line = lineEndAt(top, top.text.length);
  const { length } = top.text;
  const rest = /^[^\r\n]*/.exec(segmentOf(top).text.slice(top.offset + length))?.[0] ?? '';
  return rest.trim() === ''
    ? instead(top, { start: length, end: length }, `${line}${line}${made}`)
    : instead(top, { start: 0, end: 0 }, `${made}${line}${line}`);
}

export function declaredBefore(top: Statement, text: string): Edit {
  const line = lineEndAt(top, top.text.length);
  return instead(top, { start: 0, end: 0 }, `${styled(text, top)}${line}${line}`);
}

/** `linen-2`, the first with a number that no template has. */
export function freeTemplateName(names: Names, like: string): string {
  const stem = like.replace(/-\d+$/, '');
  for (let i = 2; ; i++) {
    const name = `${stem}-${i}`;
    if (names.declarations('template', name).length === 0) return name;
  }
}
