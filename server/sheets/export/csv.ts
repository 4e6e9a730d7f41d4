/**
 * A table as CSV (RFC 4180): CRLF, quotation marks doubled, UTF-8. A length is two cells, as text and as a number. Text
 * that a spreadsheet would take for a formula gets an apostrophe in front, which is all that is changed.
 */
import { stringify } from 'csv-stringify/sync';
import type { Ticks } from '../../model/ticks.ts';
import { looksLikeFormula } from './inert.ts';
import {
  type Cell,
  type Column,
  hundredPercent,
  type Lengths,
  lengthNumber,
  lengthText,
  lengthUnit,
  type Table,
} from './table.ts';

/** In front of UTF-8 for programs that take a file without it for something else. */
export const byteOrderMark = '\ufeff';

const rowsAtOnce = 500;

/** In pieces; without totals, which a reader would take for one more row. */
export function* csvOf(table: Table, lengths: Lengths): Generator<string> {
  const { columns, rows } = table;
  yield written([columns.flatMap((column) => titlesOf(column, lengths))]);
  for (let at = 0; at < rows.length; at += rowsAtOnce)
    yield written(
      rows.slice(at, at + rowsAtOnce).map((row) => columns.flatMap((column, i) => cellsOf(column, row[i], lengths))),
    );
}

function written(rows: string[][]): string {
  return stringify(rows, { record_delimiter: 'windows' });
}

function titlesOf({ title, type }: Column, lengths: Lengths): string[] {
  return type === 'length' ? [title, `${title} ${lengthUnit(lengths)}`] : [title];
}

function cellsOf({ type }: Column, cell: Cell, lengths: Lengths): string[] {
  if (cell === undefined) return type === 'length' ? ['', ''] : [''];
  switch (type) {
    case 'length':
      return [inert(lengthText(cell as Ticks, lengths)), String(lengthNumber(cell as number, lengths))];
    case 'money':
      return [(Number(cell) / 100).toFixed(2)];
    case 'percent':
      return [String(Number(cell) / (hundredPercent / 100))];
    case 'yes':
      return [cell ? 'yes' : 'no'];
    case 'box':
      return [''];
    case 'count':
      return [String(cell)];
    case 'text':
      return [inert(String(cell))];
  }
}

function inert(text: string): string {
  return looksLikeFormula(text) ? `'${text}` : text;
}
