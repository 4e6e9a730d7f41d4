/** What a table says of each unit, read cell by cell; whatever cannot be read is told with its cell, and then nothing is taken. */

import type { Layout } from '../../model/layout.ts';
import { limits } from '../../model/limits.ts';
import { counted } from '../../model/money.ts';
import { nearest } from '../../model/nearest.ts';
import type { Project, Unit } from '../../model/project.ts';
import type { Ticks } from '../../model/ticks.ts';
import { addressOf, type Cell, foundIn, isBlank, type Problem, plainText, type Row, type Sheet } from './cells.ts';
import { type Column, type Mapping, type Position, positions, type ReadHead } from './columns.ts';
import { type HowToRead, lengthWritten, type NotRead, oddityOf, readAngle, readLength } from './lengths.ts';
import { type Measure, measureOf, unknownMeasure } from './measures.ts';
import { farOff, tooHigh } from './slips.ts';
import { commaDoubt } from './stud-lists.ts';

/** A length with the way it is to be written. */
export interface Said {
  readonly value: Ticks;
  readonly written: string;
}

export interface MeasuredWall {
  readonly name: string;
  readonly lengths: (Said & { readonly at: Said | undefined })[];
  ceiling?: Said;
  floorFalls?: Said & { readonly to: 'left' | 'right' | undefined };
  outOfPlumb?: Said;
  studs?: { readonly side: 'left' | 'right'; readonly at: Said[] };
  /** What the language has no words for. */
  readonly notes: { readonly label: string; readonly texts: string[] }[];
}

export interface Measured {
  readonly unit: Unit;
  /** The cell of its name, where it is met first. */
  readonly cell: string;
  readonly walls: Map<string, MeasuredWall>;
  readonly corners: { readonly walls: readonly [string, string]; readonly degrees: number }[];
  readonly openings: Map<string, { width?: Said; height?: Said }>;
  readonly taken: string[];
}

export interface ReadTable {
  readonly measured: readonly Measured[];
  readonly problems: readonly Problem[];
  /** As many as there are, those beyond what is told of included. */
  readonly problemCount: number;
  /** Worth a look, and no reason to take nothing. */
  readonly notes: readonly string[];
  /** What has to be said of the whole table before it can be read. */
  readonly asks: readonly ('unit-of-measure' | 'decimal-comma')[];
  /** Of those that hold anything. */
  readonly rowCount: number;
}

export interface Asked {
  readonly project: Project;
  readonly mapping: Mapping;
  readonly how: HowToRead;
}

/** Problems that are kept; of more, how many there are is enough. */
const mostKept = limits.mostProblems.most;
/** Names that are looked for among those of the project. */
const mostSought = 50;

export function readTable(sheet: Sheet, head: ReadHead, asked: Asked): ReadTable {
  return new Reader(sheet, head, asked).read();
}

/** Where on a wall a reading was taken. Not known: it was to be said, and could not be read. */
interface Height {
  readonly at: Said | undefined;
  readonly known: boolean;
  /** The column that says it. */
  readonly beside?: Column;
}

/** One pass over a table: what it has met so far. */
class Reader {
  private readonly sheet: Sheet;
  private readonly head: ReadHead;
  private readonly asked: Asked;
  private readonly units: ReadonlyMap<string, Unit>;
  private readonly byUnit = new Map<string, Measured>();
  private readonly seen = new Map<string, string>();
  private readonly problems: Problem[] = [];
  private readonly notes: string[] = [];
  private readonly asks = new Map<'unit-of-measure' | 'decimal-comma', { first: Problem; count: number }>();
  private readonly lengths = new Map<string, ReturnType<typeof readLength>>();
  private readonly fixedHeights = new Map<string, Said | undefined>();
  private readonly of: (is: Column['is']) => readonly Column[];
  private problemCount = 0;
  private sought = 0;
  private toldTwice = 0;
  private toldMeasures = 0;
  private rowCount = 0;
  private readonly empty: string[] = [];

  constructor(sheet: Sheet, head: ReadHead, asked: Asked) {
    this.sheet = sheet;
    this.head = head;
    this.asked = asked;
    this.units = new Map([...asked.project.units()].map((unit) => [unit.name, unit]));
    const byMeaning = Map.groupBy(head.columns, ({ is }) => is);
    this.of = (is) => byMeaning.get(is) ?? [];
  }

  read(): ReadTable {
    const { sheet, head } = this;
    for (const column of head.columns)
      if (column.is !== 'ignored' && sheet.hiddenColumns.has(column.index))
        this.problem(
          column.index,
          head.row,
          'The column is hidden. Show it, or delete it: what nobody sees is not taken.',
        );
    for (const row of sheet.rows) if (row.number > head.row.number) this.row(row);
    for (const { first, count } of this.asks.values()) {
      const others = count > 1 ? ` The same goes for ${counted(count - 1, 'other cell')}.` : '';
      this.problems.push({ ...first, message: first.message + others });
      this.problemCount++;
    }
    // From the top of the table down, whatever was met first.
    this.problems.sort((a, b) => inTable(a.cell, b.cell));
    if (this.rowCount === 0 && this.problemCount === 0)
      this.problem(0, head.row, 'Below the headings there is no row that holds anything.');
    this.tellMissing();
    return {
      measured: [...this.byUnit.values()],
      problems: this.problems,
      problemCount: this.problemCount,
      notes: this.notes,
      asks: [...this.asks.keys()],
      rowCount: this.rowCount,
    };
  }

  private problem(column: number, row: Row, message: string): void {
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

  private notRead(column: number, row: Row, { wrong, lacksMeasure, hasComma }: NotRead): undefined {
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

  private row(row: Row): void {
    const used = this.head.columns.filter(({ is, index }) => is !== 'ignored' && !isBlank(row.cells[index]));
    if (used.length === 0) return;
    this.rowCount++;
    const [column] = this.of('unit') as [Column];
    if (row.hidden) {
      this.problem(column.index, row, 'The row is hidden. Show it, or delete it: what nobody sees is not taken.');
      return;
    }
    const merged = used.find(({ index }) => row.cells[index]?.oddity?.kind === 'merged');
    if (merged) {
      this.problem(merged.index, row, oddityOf(row.cells[merged.index] as Cell) ?? '');
      return;
    }
    const unit = this.unitIn(column, row);
    if (!unit) return;
    this.compareLabels(unit, row);
    const measured = this.measuredOf(unit, addressOf(column.index, row.number));
    const before = this.problemCount + this.asks.size;
    this.tellMeasureOfRow(row);
    const wall = this.wallIn(unit, row);
    const said = this.takenOf(measured, wall, row);
    if (said === 0 && this.problemCount + this.asks.size === before)
      this.empty.push(`${unit.name} (row ${row.number})`);
  }

  private unitIn({ index }: Column, row: Row): Unit | undefined {
    const cell = row.cells[index];
    if (isBlank(cell) || !cell) {
      this.problem(
        index,
        row,
        'The name of a unit was expected: the row holds something, but does not say of which unit.',
      );
      return undefined;
    }
    const odd = oddityOf(cell);
    if (odd !== undefined) {
      this.problem(index, row, odd);
      return undefined;
    }
    const name = plainText(cell);
    const unit = this.units.get(name);
    if (!unit) {
      const near = this.sought++ < mostSought ? this.nearName(name) : undefined;
      this.problem(index, row, `There is no unit of that name in the project.${near ? ` Is "${near}" meant?` : ''}`);
      return undefined;
    }
    if (unit.count !== 1) {
      this.problem(
        index,
        row,
        `The unit stands for ${unit.count} alike, so that it cannot be the one that was measured. Write the measured one as a unit of its own first.`,
      );
      return undefined;
    }
    return unit;
  }

  private nearName(name: string): string | undefined {
    const lower = name.toLowerCase();
    for (const own of this.units.keys()) if (own.toLowerCase() === lower) return own;
    return nearest(name, this.units.keys());
  }

  /** What a table says beside the name has to agree with the project, or the name is that of another unit. */
  private compareLabels(unit: Unit, row: Row): void {
    for (const label of ['floor', 'flat', 'phase'] as const)
      for (const { index } of this.of(label)) {
        const cell = row.cells[index];
        const own = unit[label];
        if (!cell || isBlank(cell) || own === undefined) continue;
        if (plainText(cell).toLowerCase() !== own.toLowerCase())
          this.problem(index, row, `Unit ${unit.name} has ${label} ${own} in the project. Which of the two is meant?`);
      }
  }

  private measuredOf(unit: Unit, cell: string): Measured {
    let found = this.byUnit.get(unit.name);
    if (!found) {
      found = { unit, cell, walls: new Map(), corners: [], openings: new Map(), taken: [] };
      this.byUnit.set(unit.name, found);
    }
    return found;
  }

  /** The wall that a row is about; undefined, and told, where it is not there. */
  private wallIn(unit: Unit, row: Row): string | undefined {
    const [column] = this.of('wall');
    const cell = column && row.cells[column.index];
    const walls = unit.resolved?.layout.walls.map(({ name }) => name) ?? [];
    if (column && cell && !isBlank(cell)) {
      const odd = oddityOf(cell);
      const name = plainText(cell);
      const found = walls.find((own) => own.toLowerCase() === name.toLowerCase());
      if (odd !== undefined) this.problem(column.index, row, odd);
      else if (found === undefined && (walls.length > 0 || !/^[a-z][\w-]*$/i.test(name))) {
        const near = nearest(name, walls);
        this.problem(
          column.index,
          row,
          `Unit ${unit.name} has no such wall.${near ? ` Is "${near}" meant?` : walls.length > 0 ? ` It has ${walls.join(', ')}.` : ''}`,
        );
      } else return found ?? name;
      return undefined;
    }
    const { wall = 'back' } = this.asked.mapping;
    if (walls.length === 0 || walls.includes(wall)) return wall;
    if (walls.length === 1) return walls[0];
    const [own] = this.of('unit') as [Column];
    if (this.head.columns.every((one) => one.is !== 'length' || one.wall !== undefined)) return walls[0];
    this.problem(
      own.index,
      row,
      `Unit ${unit.name} has no wall "${wall}" (it has ${walls.join(', ')}), and the table does not say which wall was measured. Add a column "wall".`,
    );
    return undefined;
  }

  private howOf(column: Column, row: Row): HowToRead {
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
  private tellMeasureOfRow(row: Row): void {
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

  private said(column: Column, row: Row, cell = row.cells[column.index]): Said | undefined {
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

  /** Answers false, and tells of it once a row, where the same was said before. */
  private first(key: string, column: Column, row: Row): boolean {
    const before = this.seen.get(key);
    if (before === undefined) {
      this.seen.set(key, addressOf(column.index, row.number));
      return true;
    }
    if (this.toldTwice === row.number) return false;
    this.toldTwice = row.number;
    const [unit] = this.of('unit') as [Column];
    this.problem(
      unit.index,
      row,
      `The unit is in the table twice: what ${addressOf(column.index, row.number)} says was said in ${before} already. Keep the one that holds.`,
    );
    return false;
  }

  /** Takes all that a row says, and answers how much that is. */
  private takenOf(measured: Measured, wall: string | undefined, row: Row): number {
    const { unit } = measured;
    const layout = unit.resolved?.layout;
    let count = 0;
    const wallOf = (name: string): MeasuredWall => {
      let found = measured.walls.get(name);
      if (!found) {
        found = { name, lengths: [], notes: [] };
        measured.walls.set(name, found);
      }
      return found;
    };
    for (const column of this.of('length')) {
      const name = column.wall ?? wall;
      if (name === undefined) continue;
      if (column.wall !== undefined && layout && !layout.walls.some((own) => own.name === name)) {
        if (!isBlank(row.cells[column.index]))
          this.problem(column.index, row, `Unit ${unit.name} has no wall "${name}".`);
        continue;
      }
      const said = this.said(column, row);
      if (!said) continue;
      const { at, known, beside } = this.heightOf(column, row);
      if (!known) continue;
      const position = at?.value ?? column.at;
      const hasHeights = this.of('height-of-length').some((one) => one.at === column.at);
      const isNamed = position !== undefined || !hasHeights;
      if (isNamed && !this.first(`${unit.name} ${name} length ${position ?? ''}`, column, row)) continue;
      const wrong = farOff(said, wallIn(layout, name)?.nominal, `wall ${name}`, measureIn(column, row, this));
      const above = at && tooHigh(at, wallIn(layout, name)?.height);
      if (wrong !== undefined) this.problem(column.index, row, wrong);
      else if (above !== undefined) this.problem(beside?.index ?? column.index, row, above);
      else {
        wallOf(name).lengths.push({ ...said, at });
        count++;
      }
    }
    if (wall !== undefined) {
      const own = wallIn(layout, wall);
      for (const column of this.of('ceiling')) {
        const said = this.said(column, row);
        if (!said || !this.first(`${unit.name} ${wall} ceiling`, column, row)) continue;
        const wrong = farOff(said, own?.height, `wall ${wall} from floor to ceiling`, measureIn(column, row, this));
        if (wrong !== undefined) this.problem(column.index, row, wrong);
        else {
          wallOf(wall).ceiling = said;
          count++;
        }
      }
      for (const column of this.of('floor-falls')) count += this.floorFalls(column, row, unit, wallOf(wall));
      for (const column of this.of('out-of-plumb')) {
        const said = this.said(column, row);
        if (!said || !this.first(`${unit.name} ${wall} plumb`, column, row)) continue;
        wallOf(wall).outOfPlumb = said;
        count++;
      }
      for (const column of this.of('corner')) count += this.corner(column, row, measured, wall);
      count += this.studs(row, unit, wallOf(wall), own?.nominal);
      count += this.remarks(row, wallOf(wall));
    }
    for (const is of ['opening-width', 'opening-height'] as const)
      for (const column of this.of(is)) count += this.opening(column, row, measured);
    for (const column of this.of('taken')) {
      const cell = row.cells[column.index];
      const odd = cell && oddityOf(cell);
      if (odd !== undefined) this.problem(column.index, row, odd);
      const text = plainText(cell).replaceAll('"', "'").replaceAll(/\s+/g, ' ');
      if (odd === undefined && text !== '' && !measured.taken.includes(text)) measured.taken.push(text);
    }
    // A row of nothing but heights is one where nothing was measured yet, and is noted as such.
    if (count > 0) this.tellBareHeights(row);
    return count;
  }

  /** A height without a length may be a length that stands one cell too far. */
  private tellBareHeights(row: Row): void {
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
  private heightOf(column: Column, row: Row): Height {
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

  private floorFalls(column: Column, row: Row, unit: Unit, wall: MeasuredWall): number {
    const cell = row.cells[column.index];
    if (!cell || isBlank(cell)) return 0;
    const text = cell.number === undefined ? plainText(cell) : '';
    const match = /^(.*?)\s*(?:\bto\b)?\s*(?:the\s+)?\b(left|right|l|r)$/i.exec(text);
    const isLevel = /^(?:level|even|flat)$/i.test(text);
    const amount = cell.oddity ? cell : match ? { text: match[1] ?? '' } : isLevel ? { text: '0in' } : cell;
    const said = this.said(column, row, amount);
    if (!said) return 0;
    if (!this.first(`${unit.name} ${wall.name} floor`, column, row)) return 0;
    const [beside] = this.of('floor-falls-to');
    const word = (match?.[2] ?? plainText(beside && row.cells[beside.index])).toLowerCase();
    const to = /^l/.test(word) ? 'left' : /^r/.test(word) ? 'right' : undefined;
    if (beside && word !== '' && to === undefined) {
      this.problem(beside.index, row, '"left" or "right" was expected: the end of the wall to which the floor falls.');
      return 0;
    }
    wall.floorFalls = { ...said, to };
    return 1;
  }

  private corner(column: Column, row: Row, { unit, corners }: Measured, wall: string): number {
    const cell = row.cells[column.index];
    if (!cell || isBlank(cell)) return 0;
    const read = readAngle(cell, this.howOf(column, row));
    if ('wrong' in read) {
      this.notRead(column.index, row, read);
      return 0;
    }
    // The wall whose right end it is comes first.
    const found = unit.resolved?.layout.corners.find(({ walls }) => walls[column.side === 'left' ? 1 : 0] === wall);
    if (!found) {
      this.problem(
        column.index,
        row,
        `The template draws no wall that meets the ${column.side ?? ''} end of wall ${wall}, so that there is no corner to measure.`,
      );
      return 0;
    }
    const { walls } = found;
    if (!this.first(`${unit.name} corner ${walls.join(' ')}`, column, row)) return 0;
    corners.push({ walls, degrees: read.degrees });
    return 1;
  }

  private studs(row: Row, unit: Unit, wall: MeasuredWall, nominal: Ticks | undefined): number {
    let count = 0;
    for (const column of this.of('studs')) {
      const cell = row.cells[column.index];
      if (!cell || isBlank(cell)) continue;
      const side = column.side ?? 'left';
      const pieces = cell.number !== undefined || cell.oddity ? [cell] : this.listed(plainText(cell), column, row);
      const found = pieces?.map((piece) => this.said(column, row, piece));
      if (!found || found.some((one) => one === undefined)) continue;
      if (!this.first(`${unit.name} ${wall.name} studs ${column.index}`, column, row)) continue;
      const beyond = found.find((one) => nominal !== undefined && (one?.value ?? 0) > nominal * 1.1);
      if (beyond) {
        this.problem(column.index, row, `A stud at ${beyond.written} would be beyond the end of wall ${wall.name}.`);
        continue;
      }
      if (wall.studs && wall.studs.side !== side) {
        this.problem(column.index, row, 'Studs are said from both ends of the wall. Say all of them from one.');
        continue;
      }
      wall.studs ??= { side, at: [] };
      wall.studs.at.push(...(found as Said[]));
      count++;
    }
    wall.studs?.at.sort((a, b) => a.value - b.value);
    return count;
  }

  /** Lengths in one cell; undefined, and told, where they cannot be told apart. A unit of measure behind the last goes for all where nothing else says one. */
  private listed(text: string, column: Column, row: Row): Cell[] | undefined {
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

  private remarks(row: Row, wall: MeasuredWall): number {
    let count = 0;
    const add = (label: string, text: string): void => {
      let found = wall.notes.find((note) => note.label === label);
      if (!found) {
        found = { label, texts: [] };
        wall.notes.push(found);
      }
      if (!found.texts.includes(text)) found.texts.push(text);
      count++;
    };
    const diagonals: Said[] = [];
    for (const column of this.of('diagonal')) {
      const said = this.said(column, row);
      if (!said) continue;
      diagonals.push(said);
      add(
        'Diagonals',
        `${column.name === undefined || /^\d+$/.test(column.name) ? '' : `${column.name} `}${said.written}`,
      );
    }
    for (const [is, label] of [
      ['photos', 'Photos'],
      ['note', 'Note'],
    ] as const)
      for (const column of this.of(is)) {
        const cell = row.cells[column.index];
        if (!cell || isBlank(cell)) continue;
        const odd = oddityOf(cell);
        if (odd !== undefined) this.problem(column.index, row, odd);
        else
          for (const text of is === 'photos' ? plainText(cell).split(/\s*[;,\n|]\s*/) : [plainText(cell)])
            if (oneLine(text) !== '') add(label, oneLine(text));
      }
    return count;
  }

  private opening(column: Column, row: Row, { unit, openings }: Measured): number {
    const said = this.said(column, row);
    if (!said) return 0;
    const own = unit.resolved?.layout.openings ?? [];
    const drawn = column.opening === undefined ? own[0] : own.find(({ name }) => name === column.opening);
    if (!drawn || (column.opening === undefined && own.length > 1)) {
      const which = own.map(({ name }) => name).join(', ');
      this.problem(
        column.index,
        row,
        own.length === 0
          ? `The template of unit ${unit.name} draws no opening.`
          : `Unit ${unit.name} has the openings ${which}: say in the mapping file which of them the column is about.`,
      );
      return 0;
    }
    const part = column.is === 'opening-width' ? 'width' : 'height';
    if (!this.first(`${unit.name} opening ${drawn.name} ${part}`, column, row)) return 0;
    const wrong = farOff(said, drawn[part], `opening ${drawn.name}, its ${part},`, measureIn(column, row, this));
    if (wrong !== undefined) {
      this.problem(column.index, row, wrong);
      return 0;
    }
    openings.set(drawn.name, { ...openings.get(drawn.name), [part]: said });
    return 1;
  }

  private tellMissing(): void {
    const { byUnit, empty, notes } = this;
    if (empty.length > 0) notes.push(`Nothing was measured in ${someOf(empty)}.`);
    const missing = [...this.units.values()].filter(({ name, count }) => count === 1 && !byUnit.has(name));
    if (missing.length === 0) return;
    const bare = missing.filter(({ survey }) => survey === undefined).map(({ name }) => name);
    const known = missing.length - bare.length;
    const kept =
      known === 0 ? '' : `${counted(known, 'unit')} that ${known === 1 ? 'has a survey' : 'have surveys'} already`;
    if (bare.length > 0)
      notes.push(`Not in the table, and without a survey: ${someOf(bare)}.${kept === '' ? '' : ` Besides, ${kept}.`}`);
    else notes.push(`Not in the table: ${kept}.`);
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

function measureIn(column: Column, row: Row, reader: Reader): () => Measure | undefined {
  return () => reader.measureFor(column, row);
}

function wallIn(layout: Layout | undefined, name: string): Layout['walls'][number] | undefined {
  return layout?.walls.find((wall) => wall.name === name);
}

/** Nothing that ends a comment, or that would be read as something else in it. */
function oneLine(text: string): string {
  return text
    .replaceAll(/[\p{Cc}\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
}

const mostTold = 8;

function someOf(names: readonly string[]): string {
  const more = names.length - mostTold;
  return more <= 0 ? names.join(', ') : `${names.slice(0, mostTold).join(', ')} and ${more} more`;
}
