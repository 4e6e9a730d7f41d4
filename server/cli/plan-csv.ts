/**
 * `storypole plan FILE.csv`: a plan of plain lengths, for a shop that has no layout. A row for each part, stock
 * length or offcut:
 *
 *     what, material, length, count, price, matched
 *     part, white-12, 22-1/2in, 48
 *     part, oak, 15in, 2, , fronts
 *     part, oak, 30in, 1, , fronts
 *     stock, white-12, 8ft, , 18.90
 *     offcut, white-12, 50in, 2
 *     kept, white-12, 1ft, , 1.20
 *     spare, white-12, 10in to 24in, 6
 *
 * Without a count a part is one and stock is as much as is wanted; an offcut is one and costs nothing. Parts of a
 * material with the same name under `matched` are one set: all of them come from one board, one after another in
 * the order of their rows. A row `kept` says what kept offcuts of the material are worth: so much for so much length.
 * A spare may have any length in its range, and is cut from what is left over: as many as find room, up to its count.
 * Where the column is `length mm` or `length in`, its cells are plain numbers. Other columns are left alone.
 */

import { parse } from 'csv-parse/sync';
import type { Demand } from '../cutting/demand.ts';
import { dearerThanBought, flawsOf } from '../cutting/request.ts';
import type { MatchedSet, OffcutWorth, Piece, PlanRequest, SawLimits, Spare, StockLength } from '../cutting/types.ts';
import { limits } from '../model/limits.ts';
import { defaultSettings, type ProjectSettings } from '../model/settings.ts';
import { showMillimetres } from '../model/show.ts';
import { millimetres, type Ticks } from '../model/ticks.ts';
import { readLength } from './length-text.ts';
import { Stop } from './stop.ts';
import { wholeOf } from './whole.ts';
import { counted, someOf } from './words.ts';

/** What a .closet project says of the saw, said on the command line. */
export interface SawOptions {
  readonly kerf?: string | undefined;
  readonly endTrim?: string | undefined;
  readonly keepOffcutsFrom?: string | undefined;
  readonly currency?: string | undefined;
  readonly mostPatterns?: string | undefined;
  readonly mostStopSettings?: string | undefined;
}

export interface LengthsAsked {
  readonly demand: Demand;
  readonly settings: ProjectSettings;
}

const mostRows = limits.mostLengths.most;
const kinds = ['part', 'stock', 'offcut', 'kept', 'spare'] as const;

/** Throws Stop with every row that cannot be read, so that nothing is left out in silence. */
export function lengthsAsked(file: string, written: string, options: SawOptions): LengthsAsked {
  const rows = rowsOf(file, written);
  const header = headerOf(rows[0] ?? [], written);
  const problems: string[] = [];
  const parts: Row[] = [];
  const stock: StockLength[] = [];
  const worth: OffcutWorth[] = [];
  const spares: Spare[] = [];
  let [lengths, metric] = [0, 0];
  rows.slice(1).forEach((row, index) => {
    if (row.every((cell) => cell.trim() === '')) return;
    const read = rowOf(row, header);
    if ('problem' in read) {
      problems.push(`row ${index + 2}: ${read.problem}`);
      return;
    }
    const { what, material, least, length, count, price } = read;
    lengths++;
    if (read.metric) metric++;
    if (what === 'part') parts.push(read);
    else if (what === 'kept') worth.push({ material, price: price as number, per: length });
    else if (what === 'spare')
      spares.push({ id: `spare (row ${index + 2})`, material, least, most: length, quantity: count ?? 0 });
    else {
      stock.push({
        id: `${what} ${material} ${length} (row ${index + 2})`,
        material,
        length,
        offcut: what === 'offcut',
        ...(price !== undefined && { price }),
        ...(what === 'offcut' ? { count: count ?? 1, price: price ?? 0 } : count !== undefined && { count }),
      });
    }
  });
  if (problems.length > 0) throw new Stop(`${written} cannot be read: ${told(problems)}.`);
  if (parts.length === 0) throw new Stop(`${written} asks for no part: write rows that begin with "part".`);
  const settings = settingsFrom(options, 2 * metric > lengths);
  const { kerf, endTrim, sawStep, keepOffcutsFrom } = settings;
  const request: PlanRequest = {
    ...piecesOf(parts),
    stock,
    worth,
    ...(spares.length > 0 && { spares }),
    saw: { kerf, trim: endTrim, ...(spares.length > 0 && { step: sawStep }), keepOffcutsFrom },
    limits: limitsFrom(options),
  };
  for (const each of worth) {
    const [board] = dearerThanBought(stock, each).filter(({ price }) => price !== undefined);
    if (board)
      throw new Stop(
        `${written} cannot be planned: an offcut as long as a whole board would be worth no less than the board of ${rowIn(board.id)} costs, so that it would pay to cut nothing. Say less for "${each.material}" under kept.`,
      );
  }
  const [flaw] = flawsOf(request);
  if (flaw !== undefined) throw new Stop(`${written} cannot be planned: ${flaw}.`);
  return {
    demand: { request, items: new Map(), origins: new Map(), materials: new Map(), matched: new Map(), notCounted: [] },
    settings,
  };
}

/** `row 5` of `stock oak 97536000 (row 5)`. */
function rowIn(id: string): string {
  return /[(](row \d+)[)]$/.exec(id)?.[1] ?? id;
}

/** Equal parts together; those of a matched set by themselves, in the order of their rows. */
function piecesOf(parts: readonly Row[]): Pick<PlanRequest, 'pieces' | 'sets'> {
  const pieces = new Map<string, Piece>();
  const sets = new Map<string, MatchedSet>();
  for (const { material, length, count = 1, matched } of parts) {
    const set = matched === '' ? undefined : `${material} matched ${matched}`;
    const id = set === undefined ? `${material} ${length}` : `${set}: ${length}`;
    pieces.set(id, { id, material, length, quantity: (pieces.get(id)?.quantity ?? 0) + count });
    if (set === undefined || count === 0) continue;
    const runs = sets.get(set)?.runs ?? [];
    const last = runs.at(-1);
    const more = { piece: id, quantity: count + (last?.piece === id ? last.quantity : 0) };
    sets.set(set, { id: set, quantity: 1, runs: [...(last?.piece === id ? runs.slice(0, -1) : runs), more] });
  }
  return { pieces: [...pieces.values()], sets: [...sets.values()] };
}

const mostTold = 12;

function told(problems: readonly string[]): string {
  const more = problems.length - mostTold;
  return `${problems.slice(0, mostTold).join('; ')}${more > 0 ? `; and ${counted(more, 'more row')}` : ''}`;
}

function rowsOf(file: string, written: string): string[][] {
  const bytes = wholeOf(file, written, limits.largestTable.most);
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Stop(`${written} is not UTF-8. Save it as "CSV UTF-8".`);
  }
  // Spreadsheets write semicolons where the comma is the decimal mark.
  const [first = ''] = text.split(/\r?\n/, 1);
  const delimiter = first.includes('\t') ? '\t' : first.includes(';') && !first.includes(',') ? ';' : ',';
  try {
    const rows = parse(text, { bom: true, delimiter, relax_column_count: true, relax_quotes: true }) as string[][];
    if (rows.length > mostRows)
      throw new Stop(
        `${written} has ${counted(rows.length, 'row')}; ${mostRows.toLocaleString('en')} are the most that are planned at once. Write equal lengths as one row with a count.`,
      );
    return rows;
  } catch (error) {
    if (error instanceof Stop) throw error;
    throw new Stop(`${written} is not CSV: ${error instanceof Error ? error.message : String(error)}.`);
  }
}

interface Header {
  readonly what: number;
  readonly material: number;
  readonly length: number;
  readonly count: number;
  readonly price: number;
  readonly matched: number;
  /** Undefined: each cell says its own. */
  readonly unit: 'mm' | 'cm' | 'in' | undefined;
}

function headerOf(cells: readonly string[], written: string): Header {
  const names = cells.map((cell) => cell.trim().toLowerCase());
  const length = names.findIndex((name) => /^length( mm| cm| in)?$/.test(name));
  const what = names.indexOf('what');
  const material = names.indexOf('material');
  if (what < 0 || material < 0 || length < 0) {
    throw new Stop(
      `The first row of ${written} names the columns: what, material, length, and where they are needed count, price and matched. It has ${someOf(
        names.map((name) => `"${name}"`),
        8,
      )}.`,
    );
  }
  const unit = /( mm| cm| in)$/.exec(names[length] as string)?.[1]?.trim() as Header['unit'];
  const [count, price, matched] = ['count', 'price', 'matched'].map((name) => names.indexOf(name)) as [
    number,
    number,
    number,
  ];
  return { what, material, length, count, price, matched, unit };
}

interface Row {
  readonly what: (typeof kinds)[number];
  readonly material: string;
  readonly length: Ticks;
  /** The shortest of a spare; for anything else the length itself. */
  readonly least: Ticks;
  /** Written in millimetres, centimetres or metres. */
  readonly metric: boolean;
  readonly count: number | undefined;
  readonly price: number | undefined;
  /** Empty: any board will do. */
  readonly matched: string;
}

function rowOf(cells: readonly string[], header: Header): Row | { readonly problem: string } {
  const cell = (column: number): string => (column < 0 ? '' : (cells[column] ?? '').trim());
  const what = kinds.find((kind) => kind === cell(header.what).toLowerCase());
  if (!what) return { problem: `"${cell(header.what)}" is neither part, stock, offcut, kept nor spare` };
  const material = cell(header.material);
  if (material === '') return { problem: 'no material is given' };
  const text = cell(header.length);
  const ends = what === 'spare' ? text.split(/\s+to\s+/i) : [text];
  const [least, most = least] = ends.map((end) => lengthOf(end, header));
  if (!least || !most || ends.length > 2) return { problem: `length "${text}" is not a range such as 10in to 24in` };
  if ('problem' in least) return least;
  if ('problem' in most) return most;
  if (least.length > most.length) return { problem: `length "${text}": the first is longer than the second` };
  const count = cell(header.count);
  if (count !== '' && !/^\d{1,9}$/.test(count)) return { problem: `count "${count}" is not a whole number` };
  const price = cell(header.price);
  if (price !== '' && !/^\d{1,9}([.,]\d{1,2})?$/.test(price))
    return { problem: `price "${price}" is not an amount such as 18.90` };
  if (what === 'kept' && price === '') return { problem: 'the price says what kept offcuts of this length are worth' };
  if (what === 'kept' && most.length === 0) return { problem: 'offcuts of no length are worth nothing' };
  const matched = cell(header.matched);
  if (what !== 'part' && matched !== '') return { problem: `${what} cannot be matched, only parts can` };
  if (what === 'spare' && !/[1-9]/.test(count)) return { problem: 'a spare needs a count of how many would be of use' };
  return {
    what,
    material,
    length: most.length,
    least: least.length,
    metric: /m$/i.test(header.unit ?? text),
    count: count === '' ? undefined : Number(count),
    price: price === '' ? undefined : Math.round(Number(price.replace(',', '.')) * 100),
    matched,
  };
}

function lengthOf(text: string, { unit }: Header): { readonly length: Ticks } | { readonly problem: string } {
  if (unit && !/^\d+([.,]\d+)?$/.test(text)) return { problem: `length "${text}" is not a plain number of ${unit}` };
  const read = readLength(unit ? `${text.replace(',', '.')}${unit}` : text);
  return read.kind === 'refused' ? { problem: read.why.replace(/[.]$/, '') } : { length: read.length };
}

/** The limits on the command line. Throws Stop where one is no count. */
export function limitsFrom({ mostPatterns, mostStopSettings }: SawOptions): SawLimits {
  const count = (option: string, text: string | undefined): number | undefined => {
    if (text === undefined) return undefined;
    const { most } = limits.mostPatterns;
    if (!/^[1-9]\d{0,5}$/.test(text) || Number(text) > most)
      throw new Stop(`--${option}: "${text}" is not a whole number from 1 to ${most.toLocaleString('en')}.`);
    return Number(text);
  };
  return {
    patterns: count('most-patterns', mostPatterns),
    stopSettings: count('most-stop-settings', mostStopSettings),
  };
}

function settingsFrom(options: SawOptions, metric: boolean): ProjectSettings {
  const length = (option: string, text: string | undefined, fallback: Ticks): Ticks => {
    if (text === undefined) return fallback;
    if (/^0(in|mm)?$/.test(text.trim())) return 0 as Ticks;
    const read = readLength(text);
    if (read.kind === 'refused') throw new Stop(`--${option}: ${read.why}`);
    return read.length;
  };
  const { kerf, endTrim, keepOffcutsFrom } = defaultSettings;
  return {
    ...defaultSettings,
    // Whole millimetres where lengths are metric.
    ...(metric && { show: showMillimetres, sawStep: millimetres(1) }),
    currency: options.currency,
    kerf: length('kerf', options.kerf, kerf),
    endTrim: length('end-trim', options.endTrim, endTrim),
    keepOffcutsFrom: length('keep-offcuts-from', options.keepOffcutsFrom, keepOffcutsFrom),
  };
}
