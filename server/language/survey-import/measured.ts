/** What a table says of each unit, read cell by cell; whatever cannot be read is told with its cell, and then nothing is taken. */

import type { Layout } from '../../model/layout.ts';
import { counted } from '../../model/money.ts';
import { nearest } from '../../model/nearest.ts';
import type { Unit } from '../../model/project.ts';
import type { Ticks } from '../../model/ticks.ts';
import { type Asked, Cells, type Said } from './cell-reading.ts';
import { addressOf, type Cell, isBlank, type Problem, plainText, type Row, type Sheet } from './cells.ts';
import type { Column, ReadHead } from './columns.ts';
import { oddityOf, readAngle } from './lengths.ts';
import type { Measure } from './measures.ts';
import { farOff, tooHigh } from './slips.ts';

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

/** Names that are looked for among those of the project. */
const mostSought = 50;

export function readTable(sheet: Sheet, head: ReadHead, asked: Asked): ReadTable {
  return new Reader(sheet, head, asked).read();
}

/** One pass over a table: what it has met so far. */
class Reader {
  private readonly cells: Cells;
  private readonly sheet: Sheet;
  private readonly head: ReadHead;
  private readonly asked: Asked;
  private readonly units: ReadonlyMap<string, Unit>;
  private readonly byUnit = new Map<string, Measured>();
  private readonly seen = new Map<string, string>();
  private readonly notes: string[] = [];
  private sought = 0;
  private toldTwice = 0;
  private rowCount = 0;
  private readonly empty: string[] = [];

  constructor(sheet: Sheet, head: ReadHead, asked: Asked) {
    this.sheet = sheet;
    this.head = head;
    this.asked = asked;
    this.units = new Map([...asked.project.units()].map((unit) => [unit.name, unit]));
    this.cells = new Cells(sheet, head, asked);
  }

  read(): ReadTable {
    const { sheet, head } = this;
    for (const column of head.columns)
      if (column.is !== 'ignored' && sheet.hiddenColumns.has(column.index))
        this.cells.problem(
          column.index,
          head.row,
          'The column is hidden. Show it, or delete it: what nobody sees is not taken.',
        );
    for (const row of sheet.rows) if (row.number > head.row.number) this.row(row);
    const asks = this.cells.close();
    if (this.rowCount === 0 && this.cells.problemCount === 0)
      this.cells.problem(0, head.row, 'Below the headings there is no row that holds anything.');
    this.tellMissing();
    return {
      measured: [...this.byUnit.values()],
      problems: this.cells.problems,
      problemCount: this.cells.problemCount,
      notes: this.notes,
      asks,
      rowCount: this.rowCount,
    };
  }

  private row(row: Row): void {
    const used = this.head.columns.filter(({ is, index }) => is !== 'ignored' && !isBlank(row.cells[index]));
    if (used.length === 0) return;
    this.rowCount++;
    const [column] = this.cells.of('unit') as [Column];
    if (row.hidden) {
      this.cells.problem(column.index, row, 'The row is hidden. Show it, or delete it: what nobody sees is not taken.');
      return;
    }
    const merged = used.find(({ index }) => row.cells[index]?.oddity?.kind === 'merged');
    if (merged) {
      this.cells.problem(merged.index, row, oddityOf(row.cells[merged.index] as Cell) ?? '');
      return;
    }
    const unit = this.unitIn(column, row);
    if (!unit) return;
    this.compareLabels(unit, row);
    const measured = this.measuredOf(unit, addressOf(column.index, row.number));
    const before = this.cells.troubles;
    this.cells.tellMeasureOfRow(row);
    const wall = this.wallIn(unit, row);
    const said = this.takenOf(measured, wall, row);
    if (said === 0 && this.cells.troubles === before) this.empty.push(`${unit.name} (row ${row.number})`);
  }

  private unitIn({ index }: Column, row: Row): Unit | undefined {
    const cell = row.cells[index];
    if (isBlank(cell) || !cell) {
      this.cells.problem(
        index,
        row,
        'The name of a unit was expected: the row holds something, but does not say of which unit.',
      );
      return undefined;
    }
    const odd = oddityOf(cell);
    if (odd !== undefined) {
      this.cells.problem(index, row, odd);
      return undefined;
    }
    const name = plainText(cell);
    const unit = this.units.get(name);
    if (!unit) {
      const near = this.sought++ < mostSought ? this.nearName(name) : undefined;
      this.cells.problem(
        index,
        row,
        `There is no unit of that name in the project.${near ? ` Is "${near}" meant?` : ''}`,
      );
      return undefined;
    }
    if (unit.count !== 1) {
      this.cells.problem(
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
      for (const { index } of this.cells.of(label)) {
        const cell = row.cells[index];
        const own = unit[label];
        if (!cell || isBlank(cell) || own === undefined) continue;
        if (plainText(cell).toLowerCase() !== own.toLowerCase())
          this.cells.problem(
            index,
            row,
            `Unit ${unit.name} has ${label} ${own} in the project. Which of the two is meant?`,
          );
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
    const [column] = this.cells.of('wall');
    const cell = column && row.cells[column.index];
    const walls = unit.resolved?.layout.walls.map(({ name }) => name) ?? [];
    if (column && cell && !isBlank(cell)) {
      const odd = oddityOf(cell);
      const name = plainText(cell);
      const found = walls.find((own) => own.toLowerCase() === name.toLowerCase());
      if (odd !== undefined) this.cells.problem(column.index, row, odd);
      else if (found === undefined && (walls.length > 0 || !/^[a-z][\w-]*$/i.test(name))) {
        const near = nearest(name, walls);
        this.cells.problem(
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
    const [own] = this.cells.of('unit') as [Column];
    if (this.head.columns.every((one) => one.is !== 'length' || one.wall !== undefined)) return walls[0];
    this.cells.problem(
      own.index,
      row,
      `Unit ${unit.name} has no wall "${wall}" (it has ${walls.join(', ')}), and the table does not say which wall was measured. Add a column "wall".`,
    );
    return undefined;
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
    const [unit] = this.cells.of('unit') as [Column];
    this.cells.problem(
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
    for (const column of this.cells.of('length')) {
      const name = column.wall ?? wall;
      if (name === undefined) continue;
      if (column.wall !== undefined && layout && !layout.walls.some((own) => own.name === name)) {
        if (!isBlank(row.cells[column.index]))
          this.cells.problem(column.index, row, `Unit ${unit.name} has no wall "${name}".`);
        continue;
      }
      const said = this.cells.said(column, row);
      if (!said) continue;
      const { at, known, beside } = this.cells.heightOf(column, row);
      if (!known) continue;
      const position = at?.value ?? column.at;
      const hasHeights = this.cells.of('height-of-length').some((one) => one.at === column.at);
      const isNamed = position !== undefined || !hasHeights;
      if (isNamed && !this.first(`${unit.name} ${name} length ${position ?? ''}`, column, row)) continue;
      const wrong = farOff(said, wallIn(layout, name)?.nominal, `wall ${name}`, measureIn(column, row, this.cells));
      const above = at && tooHigh(at, wallIn(layout, name)?.height);
      if (wrong !== undefined) this.cells.problem(column.index, row, wrong);
      else if (above !== undefined) this.cells.problem(beside?.index ?? column.index, row, above);
      else {
        wallOf(name).lengths.push({ ...said, at });
        count++;
      }
    }
    if (wall !== undefined) {
      const own = wallIn(layout, wall);
      for (const column of this.cells.of('ceiling')) {
        const said = this.cells.said(column, row);
        if (!said || !this.first(`${unit.name} ${wall} ceiling`, column, row)) continue;
        const wrong = farOff(
          said,
          own?.height,
          `wall ${wall} from floor to ceiling`,
          measureIn(column, row, this.cells),
        );
        if (wrong !== undefined) this.cells.problem(column.index, row, wrong);
        else {
          wallOf(wall).ceiling = said;
          count++;
        }
      }
      for (const column of this.cells.of('floor-falls')) count += this.floorFalls(column, row, unit, wallOf(wall));
      for (const column of this.cells.of('out-of-plumb')) {
        const said = this.cells.said(column, row);
        if (!said || !this.first(`${unit.name} ${wall} plumb`, column, row)) continue;
        wallOf(wall).outOfPlumb = said;
        count++;
      }
      for (const column of this.cells.of('corner')) count += this.corner(column, row, measured, wall);
      count += this.studs(row, unit, wallOf(wall), own?.nominal);
      count += this.remarks(row, wallOf(wall));
    }
    for (const is of ['opening-width', 'opening-height'] as const)
      for (const column of this.cells.of(is)) count += this.opening(column, row, measured);
    for (const column of this.cells.of('taken')) {
      const cell = row.cells[column.index];
      const odd = cell && oddityOf(cell);
      if (odd !== undefined) this.cells.problem(column.index, row, odd);
      const text = plainText(cell).replaceAll('"', "'").replaceAll(/\s+/g, ' ');
      if (odd === undefined && text !== '' && !measured.taken.includes(text)) measured.taken.push(text);
    }
    // A row of nothing but heights is one where nothing was measured yet, and is noted as such.
    if (count > 0) this.cells.tellBareHeights(row);
    return count;
  }

  private floorFalls(column: Column, row: Row, unit: Unit, wall: MeasuredWall): number {
    const cell = row.cells[column.index];
    if (!cell || isBlank(cell)) return 0;
    const text = cell.number === undefined ? plainText(cell) : '';
    const match = /^(.*?)\s*(?:\bto\b)?\s*(?:the\s+)?\b(left|right|l|r)$/i.exec(text);
    const isLevel = /^(?:level|even|flat)$/i.test(text);
    const amount = cell.oddity ? cell : match ? { text: match[1] ?? '' } : isLevel ? { text: '0in' } : cell;
    const said = this.cells.said(column, row, amount);
    if (!said) return 0;
    if (!this.first(`${unit.name} ${wall.name} floor`, column, row)) return 0;
    const [beside] = this.cells.of('floor-falls-to');
    const word = (match?.[2] ?? plainText(beside && row.cells[beside.index])).toLowerCase();
    const to = /^l/.test(word) ? 'left' : /^r/.test(word) ? 'right' : undefined;
    if (beside && word !== '' && to === undefined) {
      this.cells.problem(
        beside.index,
        row,
        '"left" or "right" was expected: the end of the wall to which the floor falls.',
      );
      return 0;
    }
    wall.floorFalls = { ...said, to };
    return 1;
  }

  private corner(column: Column, row: Row, { unit, corners }: Measured, wall: string): number {
    const cell = row.cells[column.index];
    if (!cell || isBlank(cell)) return 0;
    const read = readAngle(cell, this.cells.howOf(column, row));
    if ('wrong' in read) {
      this.cells.notRead(column.index, row, read);
      return 0;
    }
    // The wall whose right end it is comes first.
    const found = unit.resolved?.layout.corners.find(({ walls }) => walls[column.side === 'left' ? 1 : 0] === wall);
    if (!found) {
      this.cells.problem(
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
    for (const column of this.cells.of('studs')) {
      const cell = row.cells[column.index];
      if (!cell || isBlank(cell)) continue;
      const side = column.side ?? 'left';
      const pieces =
        cell.number !== undefined || cell.oddity ? [cell] : this.cells.listed(plainText(cell), column, row);
      const found = pieces?.map((piece) => this.cells.said(column, row, piece));
      if (!found || found.some((one) => one === undefined)) continue;
      if (!this.first(`${unit.name} ${wall.name} studs ${column.index}`, column, row)) continue;
      const beyond = found.find((one) => nominal !== undefined && (one?.value ?? 0) > nominal * 1.1);
      if (beyond) {
        this.cells.problem(
          column.index,
          row,
          `A stud at ${beyond.written} would be beyond the end of wall ${wall.name}.`,
        );
        continue;
      }
      if (wall.studs && wall.studs.side !== side) {
        this.cells.problem(column.index, row, 'Studs are said from both ends of the wall. Say all of them from one.');
        continue;
      }
      wall.studs ??= { side, at: [] };
      wall.studs.at.push(...(found as Said[]));
      count++;
    }
    wall.studs?.at.sort((a, b) => a.value - b.value);
    return count;
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
    for (const column of this.cells.of('diagonal')) {
      const said = this.cells.said(column, row);
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
      for (const column of this.cells.of(is)) {
        const cell = row.cells[column.index];
        if (!cell || isBlank(cell)) continue;
        const odd = oddityOf(cell);
        if (odd !== undefined) this.cells.problem(column.index, row, odd);
        else
          for (const text of is === 'photos' ? plainText(cell).split(/\s*[;,\n|]\s*/) : [plainText(cell)])
            if (oneLine(text) !== '') add(label, oneLine(text));
      }
    return count;
  }

  private opening(column: Column, row: Row, { unit, openings }: Measured): number {
    const said = this.cells.said(column, row);
    if (!said) return 0;
    const own = unit.resolved?.layout.openings ?? [];
    const drawn = column.opening === undefined ? own[0] : own.find(({ name }) => name === column.opening);
    if (!drawn || (column.opening === undefined && own.length > 1)) {
      const which = own.map(({ name }) => name).join(', ');
      this.cells.problem(
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
    const wrong = farOff(said, drawn[part], `opening ${drawn.name}, its ${part},`, measureIn(column, row, this.cells));
    if (wrong !== undefined) {
      this.cells.problem(column.index, row, wrong);
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
}

function measureIn(column: Column, row: Row, cells: Cells): () => Measure | undefined {
  return () => cells.measureFor(column, row);
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
