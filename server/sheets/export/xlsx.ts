/**
 * Tables as a workbook, a sheet each. What rows and totals come to stands there as formulas with the value that we
 * found, which a spreadsheet works out again. Text is text, whatever it begins with.
 */

import writeWorkbook, { type CellObject, type Feature, type Image, type Sheet } from 'write-excel-file/node';
import { limits } from '../../model/limits.ts';
import type { Ticks } from '../../model/ticks.ts';
import { withZipMark } from '../mark.ts';
import { looksLikeFormula } from './inert.ts';
import { lettersOf } from './letters.ts';
import {
  type Cell,
  type Column,
  type How,
  hundredPercent,
  type Lengths,
  lengthNumber,
  lengthText,
  lengthUnit,
  type Table,
  totalsOf,
} from './table.ts';

type Content = Image['content'];

/** Most characters of a cell, and rows of a sheet: the limits of the format's first program, kept by all others. */
export const mostCharacters = limits.mostCellText.most;
export const mostRows = limits.mostSheetRows.most;

export interface WorkbookOptions {
  readonly lengths: Lengths;
  readonly currency: string | undefined;
}

/** Throws RangeError where a table has more rows than a sheet can. */
export async function workbookOf(tables: readonly Table[], options: WorkbookOptions): Promise<Uint8Array> {
  const made = tables.map((table) => sheetOf(table, options));
  const sheets = made.map(({ sheet }) => sheet);
  const results = made.map((one) => one.results);
  const bytes = await writeWorkbook(sheets, {
    fontFamily: 'Calibri',
    fontSize: 11,
    features: [finished(tables, results, made)],
  }).toBuffer();
  return withZipMark(bytes);
}

interface MadeSheet {
  readonly sheet: Sheet<Content>;
  /** What formulas come to, by the address of their cells. */
  readonly results: ReadonlyMap<string, number>;
  readonly across: number;
  readonly down: number;
}

/** A column of a sheet; a length has two. */
interface Place {
  readonly column: Column;
  readonly at: number;
  readonly part: 'value' | 'text';
  readonly letters: string;
}

const ink = '#1a1a1a';
const ground = '#e6e6e0';
const heading = {
  fontWeight: 'bold',
  backgroundColor: ground,
  textColor: ink,
  alignVertical: 'top',
  wrap: true,
} as const;
const foot = {
  height: 20,
  fontWeight: 'bold',
  alignVertical: 'center',
  topBorderStyle: 'thin',
  topBorderColor: ink,
} as const;

/** Why a list cannot be a sheet; undefined where it can. Its heading and its totals are a row each. */
export function tooManyRows({ title, rows }: Pick<Table, 'title' | 'rows'>): string | undefined {
  const most = mostRows - 2;
  if (rows.length <= most) return undefined;
  const [has, holds] = [rows.length, most].map((count) => count.toLocaleString('en'));
  return `The list "${title}" has ${has} rows; beside its heading and its totals a sheet holds ${holds}.`;
}

function sheetOf(table: Table, options: WorkbookOptions): MadeSheet {
  const { rows, columns } = table;
  const totals = totalsOf(table);
  const hasTotals = rows.length > 0 && totals.some((total) => total !== undefined);
  const refused = tooManyRows(table);
  if (refused !== undefined) throw new RangeError(refused);
  // A column that holds nothing is left out: a sheet is for people.
  const isUsed = (at: number): boolean => rows.length === 0 || rows.some((row) => row[at] !== undefined);
  const places = columns.flatMap((column, at): Omit<Place, 'letters'>[] => {
    if (!isUsed(at)) return [];
    return column.type === 'length'
      ? [
          { column, at, part: 'text' },
          { column, at, part: 'value' },
        ]
      : [{ column, at, part: 'value' }];
  });
  const lettered = places.map((place, i): Place => ({ ...place, letters: lettersOf(i) }));
  const letters = new Map(
    lettered.flatMap(({ column, part, letters: own }) => (part === 'value' ? [[column.id, own]] : [])),
  );
  const results = new Map<string, number>();
  const widths = lettered.map((place) => widthOf(place, table, totals[place.at], options));
  const data: (CellObject | null)[][] = [
    lettered.map(({ column, part }) => ({
      ...heading,
      height: headingHeight(lettered, widths, options),
      value: titleOf(column, part, options),
      align: alignOf(column, part),
      ...(alignOf(column, part) === 'left' && { indent: 1 }),
    })),
  ];
  for (const [i, row] of rows.entries())
    data.push(
      tall(
        lettered.map((place) => cellOf(place, row[place.at], { ...options, row: i + 2, letters, results })),
        widths,
      ),
    );
  if (hasTotals) {
    const last = rows.length + 1;
    data.push(
      lettered.map((place, i): CellObject => {
        const total = totals[place.at];
        if (total === undefined)
          return i === firstText(lettered) ? { ...foot, value: 'together', indent: 1 } : { ...foot };
        if (place.part === 'text')
          return { ...foot, value: lengthText(total as Ticks, options.lengths), align: 'right' };
        const value = numberOf(place.column, total, options.lengths);
        results.set(`${place.letters}${last + 1}`, value);
        return {
          ...foot,
          type: 'Formula',
          value: `SUM(${place.letters}2:${place.letters}${last})`,
          ...formatOf(place.column, options.lengths),
        };
      }),
    );
  }
  return {
    sheet: {
      data,
      sheet: sheetName(table.title),
      columns: widths.map((width) => ({ width })),
      stickyRowsCount: 1,
      orientation: 'landscape',
    },
    results,
    across: lettered.length,
    down: rows.length + 1,
  };
}

/** Points of a line of text. */
const line = 15;

function headingHeight(places: readonly Place[], widths: readonly number[], options: WorkbookOptions): number {
  const lines = places.map(({ column, part }, i) => linesOf(titleOf(column, part, options), widths[i] ?? 1));
  return line * Math.max(1, ...lines);
}

/** As high as the text in it needs where that is wrapped: not every program finds out by itself. */
function tall(cells: (CellObject | null)[], widths: readonly number[]): (CellObject | null)[] {
  const lines = cells.map((cell, i) =>
    cell?.wrap && typeof cell.value === 'string' ? linesOf(cell.value, widths[i] ?? 1) : 1,
  );
  const most = Math.min(12, Math.max(1, ...lines));
  const [first, ...rest] = cells;
  return most === 1 ? cells : [{ ...(first ?? { value: '' }), height: most * line }, ...rest];
}

/** Lines that a text takes in a column of so many characters, broken between words. */
function linesOf(text: string, width: number): number {
  let [lines, used] = [1, 0];
  for (const word of text.split(' ')) {
    const length = word.length + (used > 0 ? 1 : 0);
    if (used > 0 && used + length > width - 1) {
      lines++;
      used = word.length;
    } else used += length;
    lines += Math.floor(word.length / Math.max(1, width));
  }
  return lines;
}

function firstText(places: readonly Place[]): number {
  return places.findIndex(({ column }) => column.type === 'text');
}

function titleOf({ title, type }: Column, part: Place['part'], { lengths, currency }: WorkbookOptions): string {
  if (type === 'length' && part === 'value') return `${title}, ${lengthUnit(lengths)}`;
  if (type === 'money' && currency !== undefined) return `${title}, ${currency}`;
  return title;
}

function alignOf({ type }: Column, part: Place['part']): 'left' | 'right' | 'center' {
  if (type === 'box' || type === 'yes') return 'center';
  return type === 'text' && part === 'value' ? 'left' : 'right';
}

interface CellOptions extends WorkbookOptions {
  /** From 1. */
  readonly row: number;
  readonly letters: ReadonlyMap<string, string>;
  readonly results: Map<string, number>;
}

function cellOf({ column, part, letters: own }: Place, cell: Cell, options: CellOptions): CellObject | null {
  const { lengths, row, letters, results } = options;
  if (column.type === 'box')
    return { value: '', type: String, borderStyle: 'thin', borderColor: ink, format: '@', align: 'center' };
  if (cell === undefined) return null;
  if (column.type === 'length' && part === 'text')
    return { value: lengthText(cell as Ticks, lengths), type: String, align: 'right', alignVertical: 'top' };
  if (column.type === 'yes') return { value: cell ? 'yes' : 'no', type: String, align: 'center', alignVertical: 'top' };
  if (typeof cell !== 'number') return textCell(String(cell));
  const value = numberOf(column, cell, lengths);
  const format = formatOf(column, lengths);
  if (!column.how) return { value, type: Number, ...format };
  results.set(`${own}${row}`, value);
  return { value: formulaOf(column.how, (id) => `${letters.get(id) ?? ''}${row}`), type: 'Formula', ...format };
}

/**
 * A shared string is never worked out; the format `@` keeps it so where somebody edits the cell. `_x0041_` would be read
 * as an escaped letter (ECMA-376, part 1, 22.4.2.4), so that its underline is escaped itself.
 */
function textCell(text: string): CellObject {
  const short = text.length > mostCharacters ? `${text.slice(0, mostCharacters - 1)}…` : text;
  const value = short.replace(/_(?=x[0-9a-fA-F]{4}_)/g, '_x005F_');
  return {
    value: value.slice(0, mostCharacters),
    type: String,
    align: 'left',
    indent: 1,
    alignVertical: 'top',
    ...(looksLikeFormula(text) && { format: '@' }),
    ...(text.length > comfortable && { wrap: true }),
  };
}

function numberOf({ type }: Column, cell: number, lengths: Lengths): number {
  switch (type) {
    case 'length':
      return lengthNumber(cell, lengths);
    case 'money':
      return cell / 100;
    case 'percent':
      return cell / (hundredPercent / 100);
    default:
      return cell;
  }
}

/** Four places hold 1/16 in whole. */
function formatOf({ type }: Column, lengths: Lengths): { readonly format?: string; readonly alignVertical: 'top' } {
  const format = {
    length: lengthUnit(lengths) === 'in' ? '#,##0.0000' : '#,##0.0##',
    money: '#,##0.00',
    count: '#,##0',
    percent: '0.##',
    text: undefined,
    yes: undefined,
    box: undefined,
  }[type];
  return { alignVertical: 'top', ...(format !== undefined && { format }) };
}

/** In whole numbers wherever the result is one: 7 % of 100 is 7, and not the next above it. */
function formulaOf(how: How, at: (id: string) => string): string {
  switch (how.kind) {
    case 'sum':
      return `${at(how.of[0])}+${at(how.of[1])}`;
    case 'product':
      return `${at(how.of[0])}*${at(how.of[1])}`;
    case 'packs':
      return `ROUNDUP(${at(how.of)}/${at(how.by)},0)`;
    case 'share':
      return `ROUNDUP(ROUND(${at(how.of)}*${at(how.percent)}*100,0)/${hundredPercent},0)`;
  }
}

/** Characters. */
const comfortable = 70;
const narrowest = 6;

function widthOf(
  { column, at, part }: Place,
  table: Table,
  total: number | undefined,
  options: WorkbookOptions,
): number {
  const title = titleOf(column, part, options);
  const words = Math.max(...title.split(' ').map((word) => word.length));
  let widest = Math.max(narrowest, words, Math.min(title.length, Math.ceil(title.length / 2) + 1));
  if (column.type === 'box') return widest + 1;
  const take = (cell: Cell): void => {
    if (cell !== undefined) widest = Math.max(widest, shownLength(column, part, cell, options.lengths));
  };
  for (const row of table.rows.slice(0, 2000)) take(row[at]);
  take(total);
  return Math.min(comfortable, widest) + 3;
}

function shownLength({ type }: Column, part: Place['part'], cell: Cell, lengths: Lengths): number {
  if (type === 'length')
    return part === 'text'
      ? lengthText(cell as Ticks, lengths).length
      : lengthNumber(cell as number, lengths).toFixed(4).length + 1;
  if (type === 'money') return (Number(cell) / 100).toFixed(2).length + 1;
  return String(cell).length;
}

/** At most 31 characters, without those that a reference to the sheet could not hold. */
function sheetName(title: string): string {
  return title.replaceAll(/[\\/?*[\]:]/g, ' ').slice(0, 31);
}

/**
 * What the library leaves out: the values of formulas, so that a reader that works nothing out shows them; a filter on
 * the headings; printing across the width of a page with the headings on each; working everything out on opening.
 */
function finished(
  tables: readonly Table[],
  results: readonly ReadonlyMap<string, number>[],
  made: readonly MadeSheet[],
): Feature<Content> {
  return {
    files: {
      transform: {
        'xl/worksheets/sheet{id}.xml': {
          transform(xml, _options, { sheetIndex }) {
            const own = results[sheetIndex];
            const { across, down } = made[sheetIndex] as MadeSheet;
            const range = `A1:${lettersOf(across - 1)}${down}`;
            return xml
              .replace(
                /(<c r="([A-Z]+\d+)"[^>]*>)<f>([^<]*)<\/f><\/c>/g,
                (all, open: string, at: string, formula: string) => {
                  const value = own?.get(at);
                  return value === undefined ? all : `${open}<f>${formula}</f><v>${value}</v></c>`;
                },
              )
              .replace(/(<worksheet[^>]*>)/, '$1<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>')
              .replace('</sheetData>', `</sheetData><autoFilter ref="${range}"/>`);
          },
          transformElementAttributes(name, attributes) {
            return name === 'pageSetup' ? { ...attributes, fitToWidth: 1, fitToHeight: 0 } : attributes;
          },
        },
        'xl/workbook.xml': {
          transform(xml) {
            const names = tables.map(
              ({ title }, i) =>
                `<definedName name="_xlnm.Print_Titles" localSheetId="${i}">'${sheetName(title)}'!$1:$1</definedName>`,
            );
            return xml
              .replace(/<definedNames\s*\/>|<definedNames><\/definedNames>/, '')
              .replace(/<calcPr[^>]*\/>|<calcPr[^>]*><\/calcPr>/, '')
              .replace(
                '</sheets>',
                `</sheets><definedNames>${names.join('')}</definedNames><calcPr fullCalcOnLoad="1"/>`,
              );
          },
        },
      },
    },
  };
}
