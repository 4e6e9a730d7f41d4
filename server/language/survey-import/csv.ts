/**
 * A CSV file as a table: RFC 4180, and the separators that spreadsheets write where the comma is the decimal mark. UTF-8
 * alone: what is read in a wrong encoding looks right until a fraction of an inch is gone.
 */
import { parse } from 'csv-parse/browser/esm/sync';
import { moreThanIsRead } from '../../model/sizes.ts';
import {
  addressOf,
  Beyonds,
  type Cell,
  mostBytes,
  mostCells,
  mostColumns,
  mostRows,
  type Row,
  type Sheet,
  type Unreadable,
} from './cells.ts';

export function readCsv(bytes: Uint8Array, name: string): Sheet | Unreadable {
  if (bytes.length > mostBytes) return { unreadable: tooLarge(name, bytes.length) };
  const text = textOf(bytes, name);
  if (typeof text !== 'string') return text;
  const { separator, from } = separatorOf(text);
  const read = (marks: boolean): string[][] =>
    parse(text.slice(from), {
      delimiter: separator,
      relax_column_count: true,
      relax_quotes: marks,
      // One more than is taken on tells that there are more.
      to: mostRows + 2,
    }) as string[][];
  let records: string[][];
  try {
    records = read(false);
  } catch (error) {
    const looser = hasInchMarks(error) ? withInchMarks(() => read(true)) : undefined;
    if (!looser) return { unreadable: notCsv(error, name, from > 0) };
    records = looser;
  }
  if (records.length > mostRows + 1) return { unreadable: tooManyRows(name) };
  let count = 0;
  for (const { length } of records) count += length;
  if (count > mostCells) return { unreadable: tooManyCells(name) };
  const first = from > 0 ? 2 : 1;
  const beyond = new Beyonds();
  const rows = records.map((cells, i): Row => {
    const number = i + first;
    for (let c = mostColumns; c < cells.length; c++) if (cells[c]?.trim()) beyond.add(number, c, cells[c] as string);
    return { number, cells: cells.slice(0, mostColumns).map(cellOf) };
  });
  return { name: undefined, rows, hiddenColumns: new Set(), beyond: beyond.all };
}

/** Of a whole table, which no survey is. */
export function tooLarge(name: string, bytes: number): string {
  return `${moreThanIsRead(name, bytes, mostBytes)} Leave the survey in it and nothing else.`;
}

export function tooManyRows(name: string): string {
  return `${name} has more than ${mostRows.toLocaleString('en')} rows, and no more are taken on at once. Divide it, by floors for example.`;
}

export function tooManyCells(name: string): string {
  return `${name} has more than ${mostCells.toLocaleString('en')} cells, merged ones each by itself, and no more are taken on. Leave the survey in it and nothing else.`;
}

function cellOf(text: string): Cell | undefined {
  return text === '' ? undefined : { text };
}

/** The text without a mark of the byte order; or which byte is no UTF-8. */
function textOf(bytes: Uint8Array, name: string): string | Unreadable {
  const [a, b] = bytes;
  if ((a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff))
    return { unreadable: `${name} is UTF-16 (it begins with the bytes ${hex(a)} ${hex(b)}). Save it as "CSV UTF-8".` };
  const zero = bytes.indexOf(0);
  if (zero >= 0)
    return {
      unreadable: `${name} is no text: byte 00 at ${placeOf(bytes, zero)}. Save the table as "CSV UTF-8" or as .xlsx.`,
    };
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const at = firstNotUtf8(bytes);
    const meant = new TextDecoder('windows-1252').decode(bytes.subarray(at, at + 1));
    return {
      unreadable: `${name} is not all UTF-8: byte ${hex(bytes[at])} at ${placeOf(bytes, at)}, which in an older encoding may have been "${meant}". Save the whole table as "CSV UTF-8"; where it was put together from several, each of them.`,
    };
  }
}

function hasInchMarks(error: unknown): boolean {
  return (error as { code?: string }).code === 'INVALID_OPENING_QUOTE';
}

/** `93 3/4"` as people type it, which RFC 4180 (section 2, rule 5) would have within quotation marks, can mean but one thing; one that begins a cell could mean two. */
function withInchMarks(read: () => string[][]): string[][] | undefined {
  try {
    const records = read();
    return records.some((cells) => cells.some((cell) => cell.startsWith('"'))) ? undefined : records;
  } catch {
    return undefined;
  }
}

function hex(byte: number | undefined): string {
  return (byte ?? 0).toString(16).toUpperCase().padStart(2, '0');
}

/** `line 12, byte 1,204 of the file (after "A-101-bedroom,back,93")`. */
function placeOf(bytes: Uint8Array, at: number): string {
  let line = 1;
  let start = 0;
  for (let i = bytes.indexOf(10); i >= 0 && i < at; i = bytes.indexOf(10, i + 1)) {
    line++;
    start = i + 1;
  }
  const before = new TextDecoder().decode(bytes.subarray(Math.max(start, at - 30), at));
  return `line ${line}, byte ${(at + 1).toLocaleString('en')} of the file${before === '' ? '' : ` (after "${before}")`}`;
}

/** The first byte that cannot stand where it does (Unicode 15, table 3-7). */
function firstNotUtf8(bytes: Uint8Array): number {
  for (let i = 0; i < bytes.length; ) {
    const byte = bytes[i] as number;
    const length = byte < 0x80 ? 1 : byte >= 0xc2 && byte <= 0xdf ? 2 : byte >> 4 === 0xe ? 3 : byte <= 0xf4 ? 4 : 0;
    if (length === 0 || (length === 4 && byte < 0xf0)) return i;
    try {
      new TextDecoder('utf-8', { fatal: true }).decode(bytes.subarray(i, i + length));
    } catch {
      return i;
    }
    if (i + length > bytes.length) return i;
    i += length;
  }
  return bytes.length;
}

/** The one of comma, semicolon and tab that is most often in the first line that holds one, outside quotation marks; `sep=;` above the table says it. */
function separatorOf(text: string): { readonly separator: string; readonly from: number } {
  const said = /^sep=([,;\t])\r?\n/i.exec(text);
  if (said?.[1]) return { separator: said[1], from: said[0].length };
  const counts = { ',': 0, ';': 0, '\t': 0 };
  let quoted = false;
  for (const char of text) {
    if (char === '"') quoted = !quoted;
    else if (quoted) continue;
    else if (char === ',' || char === ';' || char === '\t') counts[char]++;
    else if (char === '\n' && (counts[','] > 0 || counts[';'] > 0 || counts['\t'] > 0)) break;
  }
  const [most] = (['\t', ';', ','] as const).toSorted((a, b) => counts[b] - counts[a]);
  return { separator: most ?? ',', from: 0 };
}

function notCsv(error: unknown, name: string, hasSaid: boolean): string {
  const { code, lines, column, records, message } = error as {
    code?: string;
    lines?: number;
    column?: number | string;
    records?: number;
    message?: string;
  };
  const row = (records ?? 0) + (hasSaid ? 2 : 1);
  const at =
    typeof column === 'number'
      ? `${addressOf(column, row)} (line ${(lines ?? row) + (hasSaid ? 1 : 0)})`
      : `row ${row}`;
  switch (code) {
    case 'CSV_QUOTE_NOT_CLOSED':
      return `${name}: the quotation mark that opens ${at} is never closed. Inside quotation marks, write one as two ("").`;
    case 'INVALID_OPENING_QUOTE':
      return `${name}: a quotation mark stands in the middle of ${at}. A cell with quotation marks in it, such as inches, stands in quotation marks itself, with each of them doubled: "93 3/4""".`;
    case 'CSV_INVALID_CLOSING_QUOTE':
      return `${name}: something stands behind the closing quotation mark of ${at}. Inside quotation marks, write one as two ("").`;
    default:
      return `${name} cannot be read as CSV, at ${at}: ${message ?? String(error)}.`;
  }
}
