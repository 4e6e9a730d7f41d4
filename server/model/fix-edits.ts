/** What a fix changes, as edits of files: made when somebody asks, as what stands around them may have changed since it was found. */
import type { Edit, Source } from '../../grammar/source.ts';
import { type Range, segmentOf, spanOf } from '../../grammar/tree.ts';
import type { Fix } from './finding.ts';

export interface FileEdit extends Edit {
  readonly file: string;
}

/** Of what is taken out, with its line where nothing else stands on it: what is left is in the one style. */
export function editsOfFix({ edits }: Pick<Fix, 'edits'>): FileEdit[] {
  return edits.map(({ place, text }) => {
    const source = segmentOf(place.statement).source as Source;
    const range = spanOf(place);
    return { file: source.id, ...(text === '' && range.start < range.end ? withItsSpace(source, range) : range), text };
  });
}

function withItsSpace(source: Source, { start, end }: Range): Range {
  const [first, last] = [source.positionAt(start).line, source.positionAt(end).line];
  const [from, to] = [startOf(source, first), endOf(source, last)];
  const [lead, rest] = [source.slice(from, start), source.slice(end, to)];
  if (rest.trim() !== '' && !/^[ \t]/.test(rest)) return { start, end };
  // Not the last thing on its line, or not the only one.
  if (lead.trim() !== '')
    return { start: start - (/[ \t]*$/.exec(lead)?.[0].length ?? 0), end: rest.trim() === '' ? to : end };
  if (rest.trim() !== '') return { start, end };
  if (first === 0) return { start: from, end: isLast(source, last) ? to : startOf(source, last + 1) };
  // Of two blank lines around it one goes as well.
  const isBetween = isBlank(source, first - 1) && (isLast(source, last) || isBlank(source, last + 1));
  return { start: endOf(source, first > 1 && isBetween ? first - 2 : first - 1), end: to };
}

function isBlank(source: Source, line: number): boolean {
  return source.slice(startOf(source, line), endOf(source, line)).trim() === '';
}

function isLast(source: Source, line: number): boolean {
  return endOf(source, line) >= source.length;
}

function startOf(source: Source, line: number): number {
  return source.offsetAt({ line, column: 0 });
}

function endOf(source: Source, line: number): number {
  return source.offsetAt({ line, column: Number.MAX_SAFE_INTEGER });
}
