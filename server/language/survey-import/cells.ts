/** A table as it came from site, cell for cell, with what a reader of the file saw about each beside its value. */
import { limits } from '../../model/limits.ts';
import { counted } from '../../model/money.ts';
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
  /** What stands further right than is looked at; undefined where nothing does. */
  readonly beyond?: Beyond | undefined;
}

/** Cells that hold something, right of the last column that is looked at. */
export interface Beyond {
  /** The uppermost of them, and what it holds. */
  readonly row: number;
  readonly column: number;
  readonly found: string;
  readonly cells: number;
  readonly rows: number;
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

/** What stands in the way where a table is wider than is looked at. */
export function beyondProblem({ name, beyond }: Sheet): Problem[] {
  if (!beyond) return [];
  const { row, column, found, cells, rows } = beyond;
  const where = rows === 1 ? `in row ${row}` : `in ${counted(rows, 'row')}, the first of them row ${row},`;
  const message = `${counted(cells, 'cell')} ${where} ${cells === 1 ? 'stands' : 'stand'} right of column ${lettersOf(mostColumns - 1)}, the ${mostColumns}th and last that is looked at. Move left what belongs to the survey, and delete the rest.`;
  return [{ sheet: name, cell: addressOf(column, row), found, message }];
}

/** Takes note of cells that stand too far to the right, in the order of the rows. */
export class Beyonds {
  private first: Pick<Beyond, 'row' | 'column' | 'found'> | undefined;
  private cells = 0;
  private rows = 0;
  private last = -1;

  add(row: number, column: number, found: string): void {
    this.first ??= { row, column, found };
    this.cells++;
    if (row !== this.last) this.rows++;
    this.last = row;
  }

  get all(): Beyond | undefined {
    return this.first && { ...this.first, cells: this.cells, rows: this.rows };
  }
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
