/** A finding as people read it in a terminal. */
import type { Compared, Comparison } from '../model/finding.ts';
import type { Severity } from '../model/rule.ts';
import { type Show, showLength, significant, toldApart } from '../model/show.ts';
import { type ColumnsOf, columnsFor } from './columns.ts';
import { excerptOf } from './excerpt.ts';
import { type Counts, type LocatedFinding, type Spot, spot } from './located.ts';
import type { Paint } from './style.ts';
import { counted, grouped, listed, printable, someOf } from './words.ts';

export interface TextOptions {
  readonly paint: Paint;
  /** Columns for the line of the file. */
  readonly width: number;
  readonly pathOf: (file: string) => string;
  readonly columnsOf: ColumnsOf;
}

const colours = { error: 'red', warning: 'yellow', note: 'cyan' } as const satisfies Record<Severity, string>;
const mostUnits = 10;

/** Each of them as several lines, the last one without a line end. */
export async function findingTexts(
  findings: readonly LocatedFinding[],
  options: Omit<TextOptions, 'columnsOf'>,
): Promise<string[]> {
  const columnsOf = await columnsFor(new Set(findings.map(({ source }) => source.text)));
  return findings.map((located) => findingText(located, { ...options, columnsOf }));
}

function findingText(located: LocatedFinding, options: TextOptions): string {
  const { finding, show } = located;
  const { paint } = options;
  const { severity, rule } = finding;
  const dim = (text: string): string => (severity === 'note' ? paint('dim', text) : text);
  const lines = [
    `${paint('bold', at(located, options))} ${paint(colours[severity], severity)} ${paint('dim', rule.id)}`,
    `  ${dim(printable(finding.message))}`,
    ...lineOfFile(located, options),
  ];
  const add = (label: string, text: string): void => {
    lines.push(`  ${paint('dim', label)} ${dim(printable(text))}`);
  };
  if (finding.comparison) add('compared:', comparisonText(finding.comparison, show));
  if (finding.advice) add('to do:', finding.advice);
  for (const { title } of finding.fixes) add('fix:', title);
  for (const { place, message } of finding.related) add('see', `${at(spot(place), options)}: ${message}`);
  if (finding.reach.length > 0)
    add(`reaches ${counted(finding.reach.length, 'unit')}:`, someOf(finding.reach, mostUnits));
  return lines.join('\n');
}

/** `templates/linen.closet:12:5`. */
export function at({ file, from }: Spot, { pathOf }: Pick<TextOptions, 'pathOf'>): string {
  return `${printable(pathOf(file))}:${from.line + 1}:${from.column + 1}`;
}

/** `rod to wall 7in (at least 8-1/2in)`. */
export function comparisonText(comparison: Comparison, show: Show): string {
  const { what, measured, relation, limit } = comparison;
  const [is, bound] = toldApart(comparison, show) ?? [amount(measured, show), amount(limit, show)];
  return `${what} ${is} (${relation} ${bound})`;
}

function amount(compared: Compared, show: Show): string {
  if ('ticks' in compared) return showLength(compared.ticks, show);
  return 'count' in compared ? grouped(compared.count) : `${significant(compared.amount)} ${compared.unit}`;
}

function lineOfFile({ source, from, to, finding }: LocatedFinding, options: TextOptions): string[] {
  const { paint, width, columnsOf } = options;
  const start = source.offsetAt({ line: from.line, column: 0 });
  const end = source.offsetAt({ line: from.line, column: Number.MAX_SAFE_INTEGER });
  const text = source.text.slice(start, end);
  if (text.trim() === '') return [];
  const upTo = to.line > from.line ? text.trimEnd().length : to.column;
  const number = String(from.line + 1).padStart(6);
  const { line, carets } = excerptOf(text, from.column, upTo, { width: width - number.length - 3, columnsOf });
  const bar = paint('dim', '|');
  return [
    `${paint('dim', number)} ${bar} ${line}`,
    `${' '.repeat(number.length)} ${bar} ${paint(colours[finding.severity], carets)}`,
  ];
}

/** `2 errors, 1 warning and 3 notes`; `no findings`. */
export function countsText({ errors, warnings, notes }: Counts): string {
  const parts = [
    errors > 0 ? counted(errors, 'error') : '',
    warnings > 0 ? counted(warnings, 'warning') : '',
    notes > 0 ? counted(notes, 'note') : '',
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'no findings' : listed(parts);
}
