/** A file in the one style: whole, in part, and a little of it behind every `}`, `;` and line end that is typed. */
import { sayTheSame } from '../../grammar/format.ts';
import { indentation, isUncertain } from '../../grammar/layout.ts';
import { type Edit, Source } from '../../grammar/source.ts';
import { offsetOf, outwards, type Range } from '../../grammar/tree.ts';
import { deeper, styleOf } from '../model/style.ts';
import type { Snapshot } from './snapshot.ts';

export function formattingEdits({ source }: Snapshot): readonly Edit[] {
  return styleOf(source).edits;
}

/** The edits that lie on the lines of selections, in order. One that ends where a line begins does not reach into that line. */
export function rangeFormattingEdits({ source }: Snapshot, selected: readonly Range[]): readonly Edit[] {
  const found = new Map<number, Edit>();
  for (const { start, end } of selected) {
    const first = source.positionAt(Math.min(start, end)).line;
    const last = source.positionAt(Math.max(start, end));
    const to = last.column === 0 && last.line > first ? last.line - 1 : last.line;
    const lines = { start: startOf(source, first), end: endOf(source, to) };
    // Two selections may share a line.
    for (const edit of styleOf(source, lines).edits) found.set(edit.start, edit);
  }
  return [...found.values()].sort((a, b) => a.start - b.start);
}

/** Characters behind which something is laid out. */
export const typedCharacters = ['}', ';', '\n'] as const;

/** What is laid out once a character has been typed; `offset` is behind it. Nothing behind the cursor ever moves. */
export function typedEdits({ source }: Snapshot, offset: number, typed: string): readonly Edit[] {
  if (inComment(source, typed === '\n' ? offset : offset - 1)) return [];
  if (typed === '}') return closedBlock(source, offset);
  const { line } = source.positionAt(offset);
  if (typed === ';') return finishedLine(source, { start: startOf(source, line), end: offset - 1 });
  if (line === 0) return [];
  const above = { start: startOf(source, line - 1), end: endOf(source, line - 1) };
  return [...finishedLine(source, above), ...indented(source, line)];
}

/** The whole block that a brace has closed, with the lines of its head. */
function closedBlock(source: Source, offset: number): readonly Edit[] {
  const closed = outwards(source.statementAt(offset - 1)).find(
    (statement) => offsetOf(statement) + (statement.block?.close ?? Number.NaN) === offset - 1,
  );
  if (!closed) return [];
  const start = startOf(source, source.positionAt(offsetOf(closed)).line);
  return styleOf(source, { start, end: offset }).edits;
}

/** Spaces in a line that was ended. It stays one line, and keeps the `;` that was typed. */
function finishedLine(source: Source, line: Range): readonly Edit[] {
  return styleOf(source, line).edits.filter(
    (edit) => !/[\n\r]/.test(edit.text) && !/[\n\r;]/.test(source.slice(edit.start, edit.end)),
  );
}

function indented(source: Source, line: number): readonly Edit[] {
  const start = startOf(source, line);
  const now = source.slice(start, endOf(source, line));
  const written = leadOf(now);
  const wanted = leadFor(source, start, line, now.startsWith('}', written.length));
  // What comes to the first column may begin a declaration there, and documentation there is that of the next one.
  if (wanted === '' && written !== '' && now !== written) {
    if (now.startsWith('///', written.length) || !saysTheSameAt(source, start, written.length)) return [];
  }
  if (wanted === written || (written === '' && beginsDeclaration(source, start, now))) return [];
  return [{ start, end: start + written.length, text: wanted }];
}

/** Where blocks are not closed, a line that begins in the first column with such a word, or with what documents it, is in none. */
function beginsDeclaration(source: Source, start: number, line: string): boolean {
  if (!source.segmentAt(start)?.statements.some(isUncertain)) return false;
  const [word = ''] = /^[\p{L}\p{N}_-]*/u.exec(line) ?? [];
  return line.startsWith('//') || source.topWords.has(word);
}

/** Whether a line means the same without the space that it begins with. */
function saysTheSameAt(source: Source, start: number, length: number): boolean {
  const segment = source.segmentAt(start);
  if (!segment) return true;
  const within = start - segment.offset;
  const text = segment.text.slice(0, within) + segment.text.slice(within + length);
  return sayTheSame(segment.statements, [...new Source(source.id, text, source.topWords).statements()]);
}

/** The space that a line begins with: a level more than the line on which its block was opened. */
function leadFor(source: Source, start: number, line: number, closes: boolean): string {
  const level = ' '.repeat(indentation);
  const segment = source.segmentAt(start);
  if (segment?.statements.some(isUncertain)) {
    // Where its blocks end cannot be told: as the line above has it.
    for (let above = line - 1; above >= 0; above--) {
      const text = source.slice(startOf(source, above), endOf(source, above));
      if (text.trim() === '') continue;
      const opens = /\{\s*(?:\/\/.*)?$/.test(text);
      const lead = leadOf(text);
      return opens === closes ? lead : opens ? lead + level : lead.replace(/(?:\t| {1,2})$/, '');
    }
    return '';
  }
  if (line > 0 && isDeeper(source, endOf(source, line - 1))) {
    const above = startOf(source, line - 1);
    return leadOf(source.slice(above, endOf(source, line - 1)));
  }
  const owner = outwards(source.statementAt(start)).find((statement) => {
    const { block } = statement;
    const at = start - offsetOf(statement);
    return block && block.open < at && at <= block.close;
  });
  if (!owner?.block) return '';
  const opened = source.positionAt(offsetOf(owner) + owner.block.open).line;
  const lead = leadOf(source.slice(startOf(source, opened), endOf(source, opened)));
  return closes ? lead : lead + level;
}

/** It belongs in a block that lacks its braces: where that ends is told by nothing but its indentation. */
function isDeeper(source: Source, offset: number): boolean {
  const segment = source.segmentAt(offset);
  const levels = segment && deeper(segment);
  return levels !== undefined && outwards(source.statementAt(offset)).some((statement) => levels(statement) > 0);
}

function inComment(source: Source, offset: number): boolean {
  const within = (ranges: readonly Range[], base: number): boolean =>
    ranges.some(({ start, end }) => base + start < offset && offset < base + end);
  const segment = source.segmentAt(offset);
  if (segment && within(segment.comments, segment.offset)) return true;
  return outwards(source.statementAt(offset)).some((statement) => {
    const base = offsetOf(statement);
    return within(statement.comments, base) || within(statement.block?.comments ?? [], base);
  });
}

function startOf(source: Source, line: number): number {
  return source.offsetAt({ line, column: 0 });
}

function endOf(source: Source, line: number): number {
  return source.offsetAt({ line, column: Number.MAX_SAFE_INTEGER });
}

function leadOf(line: string): string {
  return /^[ \t]*/.exec(line)?.[0] ?? '';
}
