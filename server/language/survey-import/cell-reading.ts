/** The cells of a table as they are read: lengths with the unit of measure that counts for them, and what cannot be read, by its cell. */
import { limits } from '../../model/limits.ts';
import { counted } from '../../model/money.ts';
import type { Project } from '../../model/project.ts';
import type { Ticks } from '../../model/ticks.ts';
import { addressOf, type Cell, foundIn, isBlank, type Problem, plainText, type Row, type Sheet } from './cells.ts';
import { type Column, type Mapping, type Position, positions, type ReadHead } from './columns.ts';
import { type HowToRead, lengthWritten, type NotRead, oddityOf, readLength } from './lengths.ts';
import { type Measure, measureOf, unknownMeasure } from './measures.ts';
import { commaDoubt } from './stud-lists.ts';

/** A length with the way it is to be written. */
export interface Said {
  readonly value: Ticks;
  readonly written: string;
}

export interface Asked {
  readonly project: Project;
  readonly mapping: Mapping;
  readonly how: HowToRead;
}

/** Where on a wall a reading was taken. Not known: it was to be said, and could not be read. */
export interface Height {
  readonly at: Said | undefined;
  readonly known: boolean;
  /** The column that says it. */
  readonly beside?: Column;
}

/** Problems that are kept; of more, how many there are is enough. */
const mostKept = limits.mostProblems.most;

export class Cells {
  /** The columns that say a thing. */
  readonly of: (is: Column['is']) => readonly Column[];
  readonly problems: Problem[] = [];
  /** How many there are, those that are not kept too. */
  problemCount = 0;
  private readonly sheet: Sheet;
  private readonly head: ReadHead;
  private readonly asked: Asked;
  private readonly asks = new Map<'unit-of-measure' | 'decimal-comma', { first: Problem; count: number }>();
  private readonly lengths = new Map<string, ReturnType<typeof readLength>>();
  private readonly fixedHeights = new Map<string, Said | undefined>();
  private toldMeasures = 0;

  constructor(sheet: Sheet, head: ReadHead, asked: Asked) {
    this.sheet = sheet;
    this.head = head;
    this.asked = asked;
    const byMeaning = Map.groupBy(head.columns, ({ is }) => is);
    this.of = (is) => byMeaning.get(is) ?? [];
  }

  /** How many problems and questions there are so far. */
  get troubles(): number {
    return this.problemCount + this.asks.size;
  }

  /** Tells what is to be asked, once, and puts all in order: from the top of the table down, whatever was met first. */
  close(): ('unit-of-measure' | 'decimal-comma')[] {
    for (const { first, count } of this.asks.values()) {
      const others = count > 1 ? ` The same goes for ${counted(count - 1, 'other cell')}.` : '';
      this.problems.push({ ...first, message: first.message + others });
      this.problemCount++;
    }
    this.problems.sort((a, b) => inTable(a.cell, b.cell));
    return [...this.asks.keys()];
  }

  /** Tells what is wrong with a cell. */
  problem(column: number, row: Row, message: string): void {
    this.problemCount++;
    if (this.problems.length < mostKept) this.problems.push(this.problemAt(column, row, message));
  }

  private problemAt(column: number, row: Row, message: string): Problem {
    return {
      sheet: this.sheet.name,
      cell: addressOf(column, row.number),
      found: foundIn(row.cells[column]),
      message,
    };
  }

  /** Tells why a cell cannot be read; what is only to be said for the whole table is asked once. */
  notRead(column: number, row: Row, { wrong, lacksMeasure, hasComma }: NotRead): undefined {
    const kind = lacksMeasure ? 'unit-of-measure' : hasComma ? 'decimal-comma' : undefined;
    if (!kind) {
      this.problem(column, row, wrong);
      return undefined;
    }
    const known = this.asks.get(kind);
    if (known) known.count++;
    else this.asks.set(kind, { first: this.problemAt(column, row, wrong), count: 1 });
    return undefined;
  }

  /** What the numbers of a cell are in, where they say nothing of it themselves. */
  howOf(column: Column, row: Row): HowToRead {
    const { measure, decimalComma } = this.asked.how;
    const own = column.measure;
    const said = this.measureSaid(row);
    if (!said) return { measure: own ?? measure, decimalComma };
    // In doubt none is taken, neither that of the row nor any other.
    const inDoubt = own !== undefined && own !== said.measure;
    return { measure: inDoubt ? undefined : said.measure, decimalComma };
  }

  /** What the cell of a row says that is there to say the unit of measure; undefined where it says nothing. */
  private measureSaid(row: Row): { readonly cell: Cell; readonly measure: Measure | undefined } | undefined {
    const [column] = this.of('unit-of-measure');
    const cell = column && row.cells[column.index];
    if (!cell || isBlank(cell)) return undefined;
    return { cell, measure: oddityOf(cell) === undefined ? measureOf(plainText(cell)) : undefined };
  }

  /** A unit of measure that nobody knows is told, or lengths would be taken in another one. */
  tellMeasureOfRow(row: Row): void {
    const said = this.measureSaid(row);
    if (!said || said.measure !== undefined) return;
    const [column] = this.of('unit-of-measure') as [Column];
    const wrong = `${unknownMeasure(plainText(said.cell))} Write one of them, for the numbers of the row rest on it, or leave the cell empty where each says its own.`;
    this.problem(column.index, row, oddityOf(said.cell) ?? wrong);
  }

  /** Answers true, and tells of it once a row, where it is the cell of the row that leaves a number without a unit of measure. */
  private blamesRow(column: Column, row: Row, cell: Cell): boolean {
    const said = this.measureSaid(row);
    if (!said) return false;
    // One that is not known was told already.
    if (said.measure === undefined || this.toldMeasures === row.number) return true;
    this.toldMeasures = row.number;
    const [own] = this.of('unit-of-measure') as [Column];
    this.problem(
      own.index,
      row,
      `It says ${said.measure} for its row, and the column "${column.heading}" (${addressOf(column.index, this.head.row.number)}) is in ${column.measure}: which of the two ${plainText(cell)} is in, nobody can tell. Correct this cell or leave it empty, or say the other in the heading or the mapping file.`,
    );
    return true;
  }

  said(column: Column, row: Row, cell = row.cells[column.index]): Said | undefined {
    if (!cell || isBlank(cell)) return undefined;
    const how = this.howOf(column, row);
    // Tables are long, and their lengths few.
    const key = cell.oddity ? undefined : `${how.measure} ${cell.number ?? `"${cell.text}`} ${cell.suffix ?? ''}`;
    const read = (key !== undefined && this.lengths.get(key)) || readLength(cell, how);
    if (key !== undefined) this.lengths.set(key, read);
    if ('wrong' in read)
      return read.lacksMeasure && this.blamesRow(column, row, cell) ? undefined : this.notRead(column.index, row, read);
    return { value: read.length, written: lengthWritten(read.length, read.measure) };
  }

  /** A height without a length may be a length that stands one cell too far. */
  tellBareHeights(row: Row): void {
    for (const height of this.of('height-of-length')) {
      if (isBlank(row.cells[height.index])) continue;
      const own = this.of('length').filter((length) => this.besideOf(length) === height);
      if (own.some(({ index }) => !isBlank(row.cells[index]))) continue;
      const expected = own.map(({ index, heading }) => `${addressOf(index, row.number)} ("${heading}")`).join(' and ');
      this.problem(
        height.index,
        row,
        expected === ''
          ? 'It says at which height a length was measured, and there is no column of the lengths that it is the height of. Add one, or empty this cell.'
          : `It says at which height a length was measured, and ${expected} ${own.length === 1 ? 'holds' : 'hold'} no length. Write it there, or empty this cell where none was measured.`,
      );
    }
  }

  /** The column of the heights of a length. */
  private besideOf({ at, wall }: Column): Column | undefined {
    return this.of('height-of-length').find((one) => one.at === at && (one.wall === undefined || one.wall === wall));
  }

  /** The height of a reading: in its heading, in the column beside it, or by what the project says of low, middle and high. */
  heightOf(column: Column, row: Row): Height {
    const { at } = column;
    const { decimalComma } = this.asked.how;
    if (at !== undefined && !(positions as readonly string[]).includes(at))
      return this.fixedHeight(at, column, decimalComma);
    const beside = this.besideOf(column);
    if (beside && !isBlank(row.cells[beside.index])) {
      const said = this.said(beside, row);
      return { at: said, known: said !== undefined, beside };
    }
    const kept = at === undefined ? undefined : this.asked.mapping.heights?.[at as Position];
    return kept === undefined ? { at: undefined, known: true } : this.fixedHeight(kept, column, false);
  }

  /** Numbers in a heading are written as those below it are; those of the mapping file as lengths are in a project. */
  private fixedHeight(text: string, column: Column, decimalComma: boolean): Height {
    const key = `${text} ${column.measure} ${decimalComma}`;
    if (!this.fixedHeights.has(key)) {
      const read = readLength({ text }, { measure: column.measure ?? this.asked.how.measure, decimalComma });
      if ('wrong' in read)
        this.problem(column.index, this.head.row, `The height "${text}" of it cannot be read. ${read.wrong}`);
      this.fixedHeights.set(
        key,
        'wrong' in read ? undefined : { value: read.length, written: lengthWritten(read.length, read.measure) },
      );
    }
    const at = this.fixedHeights.get(key);
    return { at, known: at !== undefined };
  }

  /** Lengths in one cell; undefined, and told, where they cannot be told apart. A unit of measure behind the last goes for all where nothing else says one. */
  listed(text: string, column: Column, row: Row): Cell[] | undefined {
    const { measure, decimalComma } = this.howOf(column, row);
    const separator = /[;\n|]/.test(text) ? /[;\n|]/ : decimalComma ? /,\s+/ : /,/;
    const doubt = separator.source === ',' ? commaDoubt(text) : undefined;
    if (doubt !== undefined) return this.notRead(column.index, row, { wrong: doubt, hasComma: true });
    const pieces = text
      .split(separator)
      .map((piece) => piece.trim())
      .filter((piece) => piece !== '');
    const last = /[a-z'"\u2032\u2033\u201d]+$/i.exec(pieces.at(-1) ?? '')?.[0] ?? '';
    const lent = measure === undefined && measureOf(last) ? last : '';
    return pieces.map((piece) => ({ text: lent !== '' && /\d$/.test(piece) ? `${piece}${lent}` : piece }));
  }

  /** For telling which unit of measure a length was taken to be in. */
  measureFor(column: Column, row: Row): Measure | undefined {
    const cell = row.cells[column.index];
    const read = cell && readLength(cell, this.howOf(column, row));
    return read && !('wrong' in read) ? read.measure : undefined;
  }
}

function inTable(a: string, b: string): number {
  const [, aColumn = '', aRow = ''] = /^([A-Z]+)(\d+)$/.exec(a) ?? [];
  const [, bColumn = '', bRow = ''] = /^([A-Z]+)(\d+)$/.exec(b) ?? [];
  return Number(aRow) - Number(bRow) || aColumn.length - bColumn.length || (aColumn < bColumn ? -1 : 1);
}
