/**
 * The sheets of a workbook (ECMA-376, part 1) as tables. What a survey must not rest on unseen is told beside each
 * value: that it is a formula, a date, an error, merged with others; and which rows, columns and sheets are hidden.
 */
import { strFromU8, unzipSync } from 'fflate';
import { Parser } from 'saxen';
import { limits } from '../../model/limits.ts';
import { megabytes } from '../../model/sizes.ts';
import {
  Beyonds,
  type Cell,
  foundIn,
  isBlank,
  mostBytes,
  mostCells,
  mostColumns,
  mostRows,
  type Sheet,
  type Unreadable,
} from './cells.ts';
import { tooLarge, tooManyCells, tooManyRows } from './csv.ts';
import { type CellFormat, dateText, formatOf } from './number-formats.ts';

/** Of one part, unpacked. */
const mostUnpacked = limits.largestSheet.most;

export interface Workbook {
  /** The sheets that can be seen, in their order. */
  readonly names: readonly string[];
  readonly hidden: readonly string[];
  /** Reads one of them, hidden or not. */
  readonly sheet: (name: string) => Sheet | Unreadable;
}

type Attributes = Readonly<Record<string, string>>;

/** Never throws: what is no workbook says so. */
export function readXlsx(bytes: Uint8Array, name: string): Workbook | Unreadable {
  if (bytes.length > mostBytes) return { unreadable: tooLarge(name, bytes.length) };
  try {
    return workbookOf(bytes, name);
  } catch (error) {
    return { unreadable: damaged(name, error) };
  }
}

function damaged(name: string, error: unknown): string {
  const why =
    error instanceof TooLarge
      ? `a part of it takes ${megabytes(error.size)} unpacked, and ${megabytes(mostUnpacked)} are the most that is read`
      : 'it is damaged, or of another kind';
  return `${name} cannot be read as a workbook: ${why}. Open it in a spreadsheet and save it as .xlsx or "CSV UTF-8".`;
}

class TooLarge extends Error {
  readonly size: number;

  constructor(size: number) {
    super();
    this.size = size;
  }
}

function workbookOf(bytes: Uint8Array, name: string): Workbook | Unreadable {
  // A password makes a workbook a compound file of another kind ([MS-CFB], header signature).
  if (bytes[0] === 0xd0 && bytes[1] === 0xcf)
    return {
      unreadable: `${name} is an older workbook (.xls), or one behind a password. Open it and save it as .xlsx without one, or as "CSV UTF-8".`,
    };
  const part = (path: string): string | undefined => {
    const found = unzipSync(bytes, {
      filter: (file) => {
        if (file.name !== path) return false;
        if (file.originalSize > mostUnpacked) throw new TooLarge(file.originalSize);
        return true;
      },
    })[path];
    return found && strFromU8(found);
  };
  const main = part('xl/workbook.xml');
  if (main === undefined)
    return { unreadable: `${name} is no workbook of sheets. Save the table as .xlsx or as "CSV UTF-8".` };
  const targets = new Map<string, string>();
  walk(part('xl/_rels/workbook.xml.rels') ?? '', (element, attributes) => {
    const { Id, Target } = attributes();
    if (element === 'Relationship' && Id && Target) targets.set(Id, Target);
  });
  const sheets: { readonly name: string; readonly path: string; readonly hidden: boolean }[] = [];
  let from1904 = false;
  walk(main, (element, attributes) => {
    const given = attributes();
    if (element === 'workbookPr') from1904 = isTrue(given.date1904);
    if (element !== 'sheet' || given.name === undefined) return;
    const target = targets.get(given['r:id'] ?? '') ?? '';
    const path = target.startsWith('/') ? target.slice(1) : `xl/${target.replace(/^\.\//, '')}`;
    sheets.push({ name: given.name, path, hidden: (given.state ?? 'visible') !== 'visible' });
  });
  if (sheets.length > limits.mostSheets.most)
    return {
      unreadable: `${name} has ${sheets.length.toLocaleString('en')} sheets, and ${limits.mostSheets.most} are taken on. Save the one with the survey by itself.`,
    };
  let shared: readonly string[] | undefined;
  let formats: readonly CellFormat[] | undefined;
  const read = (own: string): Sheet | Unreadable => {
    const found = sheets.find((sheet) => sheet.name === own);
    const xml = found && part(found.path);
    if (xml === undefined) return { unreadable: `There is no sheet "${own}" in ${name}.` };
    shared ??= sharedTexts(part('xl/sharedStrings.xml') ?? '');
    formats ??= cellFormats(part('xl/styles.xml') ?? '');
    return sheetOf(own, xml, { name, shared, formats, from1904 });
  };
  return {
    names: sheets.flatMap((sheet) => (sheet.hidden ? [] : [sheet.name])),
    hidden: sheets.flatMap((sheet) => (sheet.hidden ? [sheet.name] : [])),
    sheet: (own) => {
      try {
        return read(own);
      } catch (error) {
        return { unreadable: damaged(name, error) };
      }
    },
  };
}

function isTrue(text: string | undefined): boolean {
  return text === '1' || text === 'true';
}

/** Every element of a text in XML, without the prefix of its name. Throws where it is not well formed. */
function walk(
  xml: string,
  open: (element: string, attributes: () => Attributes) => void,
  close: (element: string) => void = () => undefined,
  text: (text: string) => void = () => undefined,
): void {
  if (xml === '') return;
  const local = (name: string): string => name.slice(name.indexOf(':') + 1);
  const parser = new Parser();
  parser.on('openTag', (name: string, attributes: () => Attributes | boolean, decode: (text: string) => string) =>
    open(local(name), () => {
      const given = attributes();
      if (typeof given !== 'object') return {};
      return Object.fromEntries(Object.entries(given).map(([key, value]) => [key, decode(value)]));
    }),
  );
  parser.on('closeTag', (name: string) => close(local(name)));
  parser.on('text', (value: string, decode: (text: string) => string) => text(decode(value)));
  parser.on('cdata', (value: string) => text(value));
  parser.on('error', (error: Error) => {
    throw error;
  });
  parser.on('warn', () => undefined);
  parser.parse(xml);
}

/** A shared text of several runs is one text; what is only how it is spoken (`rPh`) is left out. */
function sharedTexts(xml: string): string[] {
  const texts: string[] = [];
  let current = '';
  let [inText, inSpoken] = [false, false];
  walk(
    xml,
    (element) => {
      if (element === 'si') current = '';
      else if (element === 't') inText = true;
      else if (element === 'rPh') inSpoken = true;
    },
    (element) => {
      if (element === 'si') texts.push(unescaped(current));
      else if (element === 't') inText = false;
      else if (element === 'rPh') inSpoken = false;
    },
    (text) => {
      if (inText && !inSpoken) current += text;
    },
  );
  return texts;
}

/** `_x000D_` stands for a character that XML cannot hold (ECMA-376, part 1, 22.4.2.4). */
function unescaped(text: string): string {
  return text.includes('_x')
    ? text.replace(/_x([0-9a-fA-F]{4})_/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)))
    : text;
}

function cellFormats(xml: string): CellFormat[] {
  const own = new Map<number, string>();
  const formats: CellFormat[] = [];
  let inCells = false;
  walk(
    xml,
    (element, attributes) => {
      if (element === 'cellXfs') inCells = true;
      else if (element === 'numFmt') {
        const { numFmtId, formatCode } = attributes();
        own.set(Number(numFmtId), formatCode ?? '');
      } else if (element === 'xf' && inCells) {
        const id = Number(attributes().numFmtId ?? 0);
        formats.push(formatOf(id, own.get(id)));
      }
    },
    (element) => {
      if (element === 'cellXfs') inCells = false;
    },
  );
  return formats;
}

interface Rest {
  readonly name: string;
  readonly shared: readonly string[];
  readonly formats: readonly CellFormat[];
  readonly from1904: boolean;
}

interface Open {
  readonly column: number;
  readonly type: string;
  readonly style: number;
  value: string;
  hasValue: boolean;
  formula: string | undefined;
}

function sheetOf(own: string, xml: string, rest: Rest): Sheet | Unreadable {
  const rows: { number: number; cells: (Cell | undefined)[]; hidden?: true }[] = [];
  const hiddenColumns = new Set<number>();
  const merged: string[] = [];
  const beyond = new Beyonds();
  let cell: Open | undefined;
  let into: 'value' | 'formula' | undefined;
  let inSpoken = false;
  let count = 0;
  let tooMany = false;
  let cells = 0;
  walk(
    xml,
    (element, attributes) => {
      switch (element) {
        case 'row': {
          const { r, hidden } = attributes();
          const number = r === undefined ? (rows.at(-1)?.number ?? 0) + 1 : Number(r);
          rows.push({ number, cells: [], ...(isTrue(hidden) && { hidden: true }) });
          count++;
          tooMany ||= count > mostRows + 1;
          if (tooMany) rows.length = 0;
          return;
        }
        case 'c': {
          cells++;
          const { r, t = 'n', s } = attributes();
          const column = r === undefined ? (rows.at(-1)?.cells.length ?? 0) : columnOf(r);
          cell = { column, type: t, style: Number(s ?? 0), value: '', hasValue: false, formula: undefined };
          return;
        }
        case 'v':
        case 't':
          into = 'value';
          if (cell) cell.hasValue = true;
          return;
        case 'f':
          into = 'formula';
          if (cell) cell.formula = '';
          return;
        case 'rPh':
          inSpoken = true;
          return;
        case 'col': {
          const { min, max, hidden } = attributes();
          if (!isTrue(hidden)) return;
          for (let c = Number(min); c <= Math.min(Number(max), mostColumns); c++) hiddenColumns.add(c - 1);
          return;
        }
        case 'mergeCell': {
          const { ref } = attributes();
          if (ref !== undefined) merged.push(ref);
        }
      }
    },
    (element) => {
      if (element === 'v' || element === 't' || element === 'f') into = undefined;
      else if (element === 'rPh') inSpoken = false;
      else if (element === 'c' && cell) {
        const made = cellOf(cell, rest);
        const row = rows.at(-1);
        if (made && row && cells <= mostCells) {
          if (cell.column < mostColumns) row.cells[cell.column] = made;
          else if (!isBlank(made)) beyond.add(row.number, cell.column, foundIn(made));
        }
        cell = undefined;
      }
    },
    (text) => {
      if (!cell || inSpoken) return;
      if (into === 'value') cell.value += text;
      else if (into === 'formula') cell.formula = (cell.formula ?? '') + text;
    },
  );
  if (tooMany) return { unreadable: tooManyRows(rest.name) };
  if (cells > mostCells || !markMerged(rows, merged, mostCells)) return { unreadable: tooManyCells(rest.name) };
  return { name: own, rows, hiddenColumns, beyond: beyond.all };
}

function cellOf(
  { type, style, value, hasValue, formula }: Open,
  { shared, formats, from1904 }: Rest,
): Cell | undefined {
  const made = plainCell();
  if (formula === undefined) return made;
  return { text: '', ...made, oddity: { kind: 'formula', formula } };

  function plainCell(): Cell | undefined {
    if (!hasValue) return undefined;
    switch (type) {
      case 's':
        return textCell(shared[Number(value)] ?? '');
      case 'inlineStr':
      case 'str':
        return textCell(unescaped(value));
      case 'b':
        return textCell(isTrue(value) ? 'TRUE' : 'FALSE');
      case 'e':
        return { text: value, oddity: { kind: 'error' } };
      case 'd':
        return { text: value, oddity: { kind: 'date' } };
      default: {
        const number = Number(value);
        if (!Number.isFinite(number)) return textCell(value);
        const format = formats[style];
        if (format?.isDate) return { text: dateText(number, from1904), number, oddity: { kind: 'date' } };
        const suffix = format?.suffix ?? '';
        return { text: `${number}${suffix === '' ? '' : ` ${suffix}`}`, number, ...(suffix !== '' && { suffix }) };
      }
    }
  }
}

function textCell(text: string): Cell | undefined {
  return text === '' ? undefined : { text };
}

/** 2 of `C7`. */
function columnOf(address: string): number {
  let column = 0;
  for (const char of address.toUpperCase()) {
    const digit = char.charCodeAt(0) - 64;
    if (digit < 1 || digit > 26) break;
    column = column * 26 + digit;
  }
  return column - 1;
}

/** Every cell of a merged stretch says so: what is seen in one of them stands for all, and nobody knows how it is meant. */
function markMerged(
  rows: readonly { number: number; cells: (Cell | undefined)[] }[],
  ranges: readonly string[],
  most: number,
): boolean {
  const inOrder = rows.toSorted((a, b) => a.number - b.number);
  let looked = 0;
  for (const range of ranges) {
    const [from = '', to = from] = range.split(':');
    const [firstRow, lastRow] = [from, to].map((address) => Number(/\d+$/.exec(address)?.[0] ?? 0)) as [number, number];
    const [left, right] = [columnOf(from), Math.min(columnOf(to), mostColumns - 1)];
    // A whole column that is merged is met in the rows that are there.
    for (let at = firstFrom(inOrder, firstRow); at < inOrder.length; at++) {
      const row = inOrder[at];
      if (!row || row.number > lastRow) break;
      // Stretches that lie over each other, which no spreadsheet writes, are as much work as large ones.
      looked += Math.max(1, right - left + 1);
      if (looked > most) return false;
      for (let c = left; c <= right; c++)
        row.cells[c] = { text: '', ...row.cells[c], oddity: { kind: 'merged', range } };
    }
  }
  return true;
}

/** The first row that has the number or a greater one. */
function firstFrom(rows: readonly { readonly number: number }[], number: number): number {
  let [low, high] = [0, rows.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rows[middle]?.number ?? 0) < number) low = middle + 1;
    else high = middle;
  }
  return low;
}
