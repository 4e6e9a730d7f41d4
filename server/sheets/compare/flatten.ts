/**
 * A text by its statements, for comparing two versions line by line: each with the heads of what it stands in, without
 * comments and layout, lengths in one unit of measure. `at 7ft` and `at 84in` are the same line.
 */
import { withEdits } from '../../../grammar/format.ts';
import type { Source } from '../../../grammar/source.ts';
import { respacedHead } from '../../../grammar/spacing.ts';
import { expressionsWithin, type NumberLiteral, type Statement } from '../../../grammar/tree.ts';
import { writtenLength } from '../../model/closing.ts';
import { showInches, showLength, showMillimetres } from '../../model/show.ts';
import { ticks } from '../../model/ticks.ts';

export function* flattened(source: Source): Generator<string> {
  for (const statement of source.statements()) yield* linesOf(statement, '');
}

/** One statement, whatever it stands in. */
export function flattenedStatement(statement: Statement): string {
  return [...linesOf(statement, '')].join('');
}

function* linesOf(statement: Statement, outer: string): Generator<string> {
  const head = headOf(statement);
  const line = outer === '' ? head : `${outer} > ${head}`;
  yield `${line}\n`;
  for (const child of statement.block?.children ?? []) yield* linesOf(child, line);
}

/** One space between words, comments left out. */
function headOf({ text, head, items, comments }: Statement): string {
  const changes = [
    ...comments.map(({ start, end }) => ({ start, end, text: ' ' })),
    ...items
      .flatMap((item) => [...expressionsWithin(item)])
      .flatMap((one) => (one.kind === 'number' ? lengthOf(one) : [])),
  ].sort((a, b) => a.start - b.start);
  let written = '';
  let at = head.start;
  for (const { start, end, text: instead } of changes) {
    if (start < at || end > head.end) continue;
    written += text.slice(at, start) + instead;
    at = end;
  }
  written += text.slice(at, head.end);
  return withEdits(written, respacedHead(written)).trim();
}

/** In inches where that is exact to 1/64 in, in millimetres otherwise. */
function lengthOf(number: NumberLiteral): { start: number; end: number; text: string }[] {
  const length = writtenLength(number);
  if (!length) return [];
  const inInches = showLength(ticks(length.length), showInches);
  return [
    {
      start: number.start,
      end: number.end,
      text: inInches.startsWith('~') ? showLength(ticks(length.length), showMillimetres) : inInches,
    },
  ];
}
