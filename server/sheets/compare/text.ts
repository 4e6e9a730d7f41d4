/** The change report for a terminal, and as Markdown for a comment on a pull request. */

import { limits } from '../../model/limits.ts';
import { counted } from '../../model/money.ts';
import { printable } from '../../model/printable.ts';
import type { Show } from '../../model/show.ts';
import { type Column, tableLines } from '../text-table.ts';
import type { Comparison } from './compare.ts';
import { namesOf, type SaidChange, saidGroup, summaryOf, totalRows } from './said.ts';

export interface Titles {
  readonly project: string;
  readonly before: string;
  readonly after: string;
}

export interface ReportOptions {
  readonly show: Show;
  readonly currency: string | undefined;
}

/** A longer comment is cut, with a sentence that says so: forges refuse more than 65,536 characters. */
export const longestComment = limits.longestComment.most;

export function compareText(comparison: Comparison, titles: Titles, { show, currency }: ReportOptions): string {
  const lines = [`${titles.project}: ${titles.before} -> ${titles.after}`, '', summaryOf(comparison)];
  for (const group of comparison.groups) {
    const { title, units, rows } = saidGroup(group, show);
    lines.push('', title, `  ${units}`, ...table(rows).map((line) => `  ${line}`));
  }
  const list = (title: string, names: readonly string[]): void => {
    if (names.length > 0) lines.push('', `${title}: ${namesOf(names)}`);
  };
  list('New units', comparison.added);
  list('Units that are gone', comparison.removed);
  list(
    'Units with another name',
    comparison.renamed.map(({ before, after }) => `${before} -> ${after}`),
  );
  for (const [title, findings] of [
    ['New findings', comparison.findings.added],
    ['Findings that are gone', comparison.findings.gone],
  ] as const)
    if (findings.length > 0)
      lines.push('', title, ...findings.map(({ severity, rule, message }) => `  ${severity} ${rule.id}: ${message}`));
  const totals = totalRows(comparison, show, currency);
  const columns: Column[] = [
    { title: '', align: 'left' },
    { title: 'before', align: 'right' },
    { title: 'after', align: 'right' },
    { title: '', align: 'right' },
  ];
  lines.push(
    '',
    ...tableLines(
      columns,
      totals.map(({ what, before, after, difference }) => [what, before, after, difference]),
    ),
  );
  return printable(`${lines.map((line) => line.trimEnd()).join('\n')}\n`);
}

function table(rows: readonly SaidChange[]): string[] {
  const of = Math.max(0, ...rows.map((row) => row.of.length));
  return rows.map((row) => `${row.sign} ${row.of.padEnd(of)}  ${row.what}: ${row.how}`);
}

export function compareMarkdown(comparison: Comparison, titles: Titles, { show, currency }: ReportOptions): string {
  const blocks = [
    `### ${inline(titles.project)}: ${code(titles.before)} → ${code(titles.after)}`,
    `**${inline(summaryOf(comparison))}**`,
  ];
  const totals = totalRows(comparison, show, currency);
  blocks.push(
    [
      '|  | before | after |  |',
      '| --- | ---: | ---: | ---: |',
      ...totals.map(
        ({ what, before, after, difference }) =>
          `| ${cell(what)} | ${cell(before)} | ${cell(after)} | ${cell(difference)} |`,
      ),
    ].join('\n'),
  );
  for (const group of comparison.groups) {
    const { title, units, rows } = saidGroup(group, show);
    blocks.push(
      [
        `<details${comparison.groups.length < 4 ? ' open' : ''}><summary><b>${html(title)}</b>: ${html(units)}</summary>`,
        '',
        '| | thing | what | how |',
        '| --- | --- | --- | --- |',
        ...rows.map(({ sign, of, what, how }) => `| ${cell(sign)} | ${cell(of)} | ${cell(what)} | ${cell(how)} |`),
        '',
        '</details>',
      ].join('\n'),
    );
  }
  const list = (title: string, names: readonly string[]): void => {
    if (names.length > 0) blocks.push(`**${title}:** ${inline(namesOf(names))}`);
  };
  list('New units', comparison.added);
  list('Units that are gone', comparison.removed);
  list(
    'Units with another name',
    comparison.renamed.map(({ before, after }) => `${before} → ${after}`),
  );
  for (const [title, findings] of [
    ['New findings', comparison.findings.added],
    ['Findings that are gone', comparison.findings.gone],
  ] as const)
    if (findings.length > 0)
      blocks.push(
        `**${title}**\n\n${findings.map(({ severity, rule, message }) => `- ${severity} ${code(rule.id)}: ${inline(message)}`).join('\n')}`,
      );
  return fitting(blocks);
}

/** As many of the blocks as a comment takes: whole ones only, so that no table is torn. */
export function fitting(blocks: readonly string[]): string {
  const kept: string[] = [];
  let length = 0;
  for (const [i, block] of blocks.entries()) {
    if (length + block.length > longestComment) {
      kept.push(
        `What comes after (${counted(blocks.length - i, 'more part')}) would make this report too long for a comment.`,
      );
      break;
    }
    kept.push(block);
    length += block.length + 2;
  }
  return `${kept.join('\n\n')}\n`;
}

/** What somebody called a thing is shown, and does nothing: no markup, no mention, no link. */
function inline(text: string): string {
  return html(printable(text))
    .replace(/[\\`*_{}[\]()#+!|~]/g, '\\$&')
    .replace(/:(?=\/\/)/g, '\\:')
    .replace(/\b(www)\./gi, '$1\\.')
    .replace(/@/g, '@\u200b')
    .replace(/[\r\n]+/g, ' ');
}

function cell(text: string): string {
  return inline(text);
}

function code(text: string): string {
  return `\`${printable(text)
    .replaceAll('`', "'")
    .replace(/[\r\n]+/g, ' ')}\``;
}

function html(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
