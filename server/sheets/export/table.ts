/**
 * A list as people take it elsewhere: rows under typed columns, whatever it is written as. What a row works out from its
 * other cells says how, so that a spreadsheet can work it out again.
 */
import { type Show, showLength } from '../../model/show.ts';
import { TICKS_PER_INCH, TICKS_PER_MM, type Ticks } from '../../model/ticks.ts';
import { drawnLength, type LengthStyle } from '../drawing/drawable.ts';
import { shownAs } from '../drawing/drawings.ts';

/**
 * `length`: in ticks, written as a number and as text. `money`: in hundredths. `percent`: in hundredths of one.
 * `yes`: yes or no. `box`: empty, to be ticked by whoever works from the list.
 */
export type ColumnType = 'text' | 'count' | 'length' | 'money' | 'percent' | 'yes' | 'box';

export interface Column {
  /** In JSON, and for other columns to name. */
  readonly id: string;
  readonly title: string;
  readonly type: ColumnType;
  /** How it comes about from other cells of its row. */
  readonly how?: How;
  /** Added up under the rows. */
  readonly total?: true;
}

/** In whole numbers, so that everybody comes to the same. */
export type How =
  | { readonly kind: 'sum' | 'product'; readonly of: readonly [string, string] }
  /** Whole packs that hold so many. */
  | { readonly kind: 'packs'; readonly of: string; readonly by: string }
  /** So many percent of it, rounded up to whole pieces. */
  | { readonly kind: 'share'; readonly of: string; readonly percent: string };

export type Cell = string | number | boolean | undefined;

export interface Table {
  readonly id: string;
  readonly title: string;
  readonly columns: readonly Column[];
  /** As many cells as there are columns. */
  readonly rows: readonly (readonly Cell[])[];
}

/** What stands under a column that is added up; undefined under the others. What is not known is left out of a sum. */
export function totalsOf({ columns, rows }: Table): (number | undefined)[] {
  return columns.map(({ total }, at) =>
    total ? rows.reduce((sum, row) => sum + (typeof row[at] === 'number' ? row[at] : 0), 0) : undefined,
  );
}

/** The value that a cell has by its row; undefined where something it rests on is not known. */
export function workedOut(how: How, cell: (id: string) => Cell): number | undefined {
  const number = (id: string): number | undefined => {
    const value = cell(id);
    return typeof value === 'number' ? value : undefined;
  };
  switch (how.kind) {
    case 'sum':
    case 'product': {
      const [a, b] = how.of.map(number);
      if (a === undefined || b === undefined) return undefined;
      return how.kind === 'sum' ? a + b : a * b;
    }
    case 'packs': {
      const [of, by] = [number(how.of), number(how.by)];
      return of === undefined || by === undefined || by === 0 ? undefined : Math.ceil(of / by);
    }
    case 'share': {
      const [of, percent] = [number(how.of), number(how.percent)];
      return of === undefined || percent === undefined ? undefined : Math.ceil((of * percent) / hundredPercent);
    }
  }
}

/** In hundredths of a percent. */
export const hundredPercent = 10_000;

/** A table whose rows are given by the ids of columns; what a column works out by itself is filled in. */
export function tableOf(
  id: string,
  title: string,
  columns: readonly Column[],
  rows: Iterable<Readonly<Record<string, Cell>>>,
): Table {
  const made: Cell[][] = [];
  for (const row of rows) {
    const cells: Record<string, Cell> = { ...row };
    for (const { id: own, how } of columns) if (how) cells[own] = workedOut(how, (other) => cells[other]);
    made.push(columns.map((column) => cells[column.id]));
  }
  return { id, title, columns, rows: made };
}

/** How lengths are written. */
export interface Lengths {
  readonly show: Show;
  readonly style: LengthStyle;
}

/** As the project says it, or as was asked. */
export function lengthsAs(style: LengthStyle | undefined, show: Show): Lengths {
  return style === undefined ? { show, style: show.system } : { show: shownAs(show, style), style };
}

/** `21-3/4in`, `1'-9 3/4"`, `552.45mm`; `~` before what is finer than what is shown. */
export function lengthText(length: Ticks, lengths: Lengths): string {
  return lengths.style === 'feet' ? drawnLength(length, lengths) : showLength(length, lengths.show);
}

/** In inches or millimetres, for adding up. */
export function lengthNumber(length: number, { show }: Lengths): number {
  return length / (show.system === 'inches' ? TICKS_PER_INCH : TICKS_PER_MM);
}

/** The unit of measure of that number. */
export function lengthUnit({ show }: Lengths): 'in' | 'mm' {
  return show.system === 'inches' ? 'in' : 'mm';
}
