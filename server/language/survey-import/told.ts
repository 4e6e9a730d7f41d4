/** What became of a table, in words: the same in the terminal and in an editor. */
import { counted, grouped } from '../../model/money.ts';
import type { Problem } from './cells.ts';
import type { SurveyChange } from './changes.ts';
import type { Refused } from './survey-import.ts';

/** `Sheet1!C7`, or `C7` of a CSV. */
export function addressSaid({ sheet, cell }: Problem): string {
  return `${sheet === undefined ? '' : `${sheet}!`}${cell}`;
}

const mostShown = 60;

/** What is in the cell, no longer than can be taken in. */
export function foundSaid({ found }: Problem): string {
  if (found === '') return '(empty)';
  return `"${found.length > mostShown ? `${found.slice(0, mostShown - 1)}…` : found}"`;
}

export function refusalSaid({ problemCount }: Refused, table: string): string {
  const why =
    problemCount === 0
      ? 'it cannot be written'
      : problemCount === 1
        ? '1 cell cannot be taken as it is'
        : `${grouped(problemCount)} cells cannot be taken as they are`;
  return `${table} was not taken: ${why}. Nothing was written.`;
}

/** `2 new surveys, 1 survey changed and 3 surveys as they were`. */
export function outcomeSaid(changes: readonly SurveyChange[]): string {
  const count = (kind: SurveyChange['kind']): number => changes.filter((one) => one.kind === kind).length;
  const [fresh, changed, same] = [count('new'), count('changed'), count('same')];
  const parts = [
    ...(fresh > 0 ? [counted(fresh, 'new survey')] : []),
    ...(changed > 0 ? [`${counted(changed, 'survey')} changed`] : []),
    ...(same > 0 ? [`${counted(same, 'survey')} as ${same === 1 ? 'it was' : 'they were'}`] : []),
  ];
  if (parts.length < 2) return parts[0] ?? 'nothing to take';
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** A page to read beside the table. */
export function refusedPage(refused: Refused, table: string): string {
  const { problems, problemCount, reasons, notes } = refused;
  const more = problemCount - problems.length;
  return [
    refusalSaid(refused, table),
    '',
    ...reasons,
    ...problems.map((problem) => `${addressSaid(problem)}  ${foundSaid(problem)}\n    ${problem.message}`),
    ...(more > 0 ? [`and ${grouped(more)} more.`] : []),
    ...(notes.length > 0 ? ['', ...notes] : []),
    '',
  ].join('\n');
}
