/** A table as it came from site, cell for cell, with what a reader of the file saw about each beside its value. */
import { limits } from '../../model/limits.ts';
import { lettersOf } from '../../sheets/export/letters.ts';

/** What a spreadsheet keeps that is no plain value. */
export type Oddity =
  | { readonly kind: 'formula'; readonly formula: string }
  | { readonly kind: 'date' }
  | { readonly kind: 'error' }
  | { readonly kind: 'merged'; readonly range: string };

export interface Cell {
  /** As people see it. */
  readonly text: string;
  /** Where the spreadsheet holds a number. */
  readonly number?: number;
  readonly oddity?: Oddity;
  /** What its format writes behind the number, such as `mm`. */
  readonly suffix?: string;
}

export interface Row {
  /** From 1, as a spreadsheet counts. */
  readonly number: number;
  /** By column, from 0; undefined where nothing is. */
  readonly cells: readonly (Cell | undefined)[];
  readonly hidden?: true;
}

export interface Sheet {
  /** Undefined of a CSV, which has but one. */
  readonly name: string | undefined;
  /** In their order; rows without a cell may be left out. */
  readonly rows: readonly Row[];
  readonly hiddenColumns: ReadonlySet<number>;
}

/** A file that could not be read as a table at all. */
export interface Unreadable {
  /** A whole sentence, with what to do. */
  readonly unreadable: string;
}

/** A cell that stands in the way: nothing is taken from a table that has one. */
export interface Problem {
  readonly sheet: string | undefined;
  /** `C7`. */
  readonly cell: string;
  /** What is there; empty where nothing is. */
  readonly found: string;
  /** What is wrong with it and what was expected there, in sentences. */
  readonly message: string;
}

/** Of rows, columns and cells of a table, and bytes of a file. */
export const mostRows = limits.mostRows.most;
export const mostColumns = limits.mostColumns.most;
export const mostCells = limits.mostCells.most;
export const mostBytes = limits.largestTable.most;

/** `C7` of column 2 in row 7. */
export function addressOf(column: number, row: number): string {
  return `${lettersOf(column)}${row}`;
}

export function isBlank(cell: Cell | undefined): boolean {
  return cell === undefined || (cell.text.trim() === '' && cell.number === undefined && cell.oddity === undefined);
}

/** The text of a cell without what is only there for spreadsheets: space around it, and the apostrophe that keeps a formula from being one. */
export function plainText(cell: Cell | undefined): string {
  const text = (cell?.text ?? '').replaceAll(/[\u00a0\u2007\u202f]/g, ' ').trim();
  return /^'[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/u.test(text) ? text.slice(1) : text;
}

/** What is in a cell, for telling. */
export function foundIn(cell: Cell | undefined): string {
  if (cell?.oddity?.kind === 'formula') return `=${cell.oddity.formula}`;
  return cell?.text ?? '';
}
