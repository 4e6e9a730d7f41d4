/** What the columns of a table are, by their headings; and the file in which a project keeps it, for a person to correct. */
import { counted } from '../../model/money.ts';
import { addressOf, foundIn, isBlank, type Problem, plainText, type Row, type Sheet } from './cells.ts';
import { type Measure, measures, withMeasure } from './measures.ts';

export const positions = ['low', 'middle', 'high'] as const;
export type Position = (typeof positions)[number];

/** The words of the mapping file. */
export const meanings = [
  'unit',
  'wall',
  'length',
  'height-of-length',
  'ceiling',
  'floor-falls',
  'floor-falls-to',
  'out-of-plumb',
  'corner',
  'studs',
  'opening-width',
  'opening-height',
  'diagonal',
  'taken',
  'photos',
  'note',
  'unit-of-measure',
  'floor',
  'flat',
  'phase',
  'ignored',
] as const;
export type Meaning = (typeof meanings)[number];

export interface ColumnMeaning {
  readonly is: Meaning;
  /** Of a length: where on the wall, or the height itself (`at 42in`). Of its height: of which. */
  readonly at?: Position | string;
  /** Of a length, where the heading names the wall. */
  readonly wall?: string;
  /** Of a corner: at which end of the wall. Of studs: from which end. */
  readonly side?: 'left' | 'right';
  /** Of an opening, where there are several. */
  readonly opening?: string;
  /** Of a diagonal or a note: what it is called. */
  readonly name?: string;
  readonly measure?: Measure;
}

export interface Column extends ColumnMeaning {
  /** From 0. */
  readonly index: number;
  readonly heading: string;
}

/** What a project keeps. */
export interface Mapping {
  readonly measure?: Measure;
  readonly decimalComma?: boolean;
  /** The wall of a table that names none. */
  readonly wall?: string;
  /** Heights of low, middle and high where the table has no columns for them, as lengths are written. */
  readonly heights?: Readonly<Partial<Record<Position, string>>>;
  readonly columns: readonly (ColumnMeaning & { readonly heading: string })[];
}

export const noMapping: Mapping = { columns: [] };

const wordsOfPositions: Readonly<Record<Position, readonly string[]>> = {
  low: ['low', 'lower', 'bottom', 'base', '1'],
  middle: ['middle', 'mid', 'centre', 'center', '2'],
  high: ['high', 'upper', 'top', '3'],
};

const lengthWords = [
  'length',
  'lengths',
  'width',
  'widths',
  'measured',
  'wide',
  'wall length',
  'wall width',
  'opening',
];
const heightWords = ['height', 'heights', 'at', 'at height', 'height at', 'height of', 'measured at', 'h'];

const simple: readonly (readonly [RegExp, ColumnMeaning])[] = [
  [/^(?:unit|unit (?:name|id)|closet|closet (?:name|id))$/, { is: 'unit' }],
  [/^wall(?: name)?$/, { is: 'wall' }],
  [
    /^(?:taken|taken (?:by|on)|date|date taken|survey date|(?:measured|surveyed) (?:by|on)|surveyor|when|who)$/,
    { is: 'taken' },
  ],
  [/^(?:photos?|photographs?|pictures?|images?)(?: files?| file names?)?(?: \d+)?$/, { is: 'photos' }],
  [/^(?:notes?|remarks?|comments?)(?: \d+)?$/, { is: 'note' }],
  [/^(?:unit of measure|units of measure|measure|uom)$/, { is: 'unit-of-measure' }],
  [/^(?:ceiling|ceiling height|wall height|room height|floor to ceiling(?: height)?)$/, { is: 'ceiling' }],
  [/^(?:floor )?(?:falls|falls off|drops|slopes) to$|^(?:floor )?low(?:er)? (?:side|end)$/, { is: 'floor-falls-to' }],
  [/^floor (?:level|falls?|fall off|falls off|drop|off|off level|out of level)$|^out of level$/, { is: 'floor-falls' }],
  [/^(?:wall )?(?:out of )?plumb$/, { is: 'out-of-plumb' }],
  [/^studs?(?: found| centres?| centers?| positions?)?(?: \d+)?(?: from left)?$/, { is: 'studs' }],
  [/^studs?(?: found| centres?| centers?| positions?)?(?: \d+)? from right$/, { is: 'studs', side: 'right' }],
  [/^(?:opening|door|doorway) width$|^width of (?:opening|door)$/, { is: 'opening-width' }],
  [/^(?:opening|door|doorway) height$|^height of (?:opening|door)$/, { is: 'opening-height' }],
  [/^(?:floor|storey|story|level)$/, { is: 'floor' }],
  [/^(?:flat|apartment|dwelling)$/, { is: 'flat' }],
  [/^phase$/, { is: 'phase' }],
  [/^(?:#|no|nr|number|row|template|type)$/, { is: 'ignored' }],
];

/** What a heading means; undefined where nobody can tell. A heading `height` alone depends on the others. */
export function recognised(heading: string, walls: ReadonlySet<string>): ColumnMeaning | undefined {
  const { words, measure } = withMeasure(heading.trim());
  const plain = words
    .toLowerCase()
    .replaceAll(/[_\-./:()[\]]+/g, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
  const with_ = (meaning: ColumnMeaning): ColumnMeaning => (measure ? { ...meaning, measure } : meaning);
  for (const [pattern, meaning] of simple) if (pattern.test(plain)) return with_(meaning);
  const diagonal = /\bdiag(?:onals?)?\b/.exec(plain);
  if (diagonal) {
    const name = plain
      .replace(diagonal[0], '')
      .replace(/\b(?:of|from)\b/g, '')
      .trim();
    return with_({ is: 'diagonal', ...(name !== '' && { name }) });
  }
  if (/\b(?:corner|angle)\b/.test(plain)) {
    const side = /\b(left|right)\b/.exec(plain)?.[1];
    return side === 'left' || side === 'right' ? { is: 'corner', side } : undefined;
  }
  return lengthOrHeight(heading, plain, walls, with_);
}

function lengthOrHeight(
  heading: string,
  plain: string,
  walls: ReadonlySet<string>,
  with_: (meaning: ColumnMeaning) => ColumnMeaning,
): ColumnMeaning | undefined {
  // `Width at 42in`: the height is in the heading, its unit of measure that of the height.
  const fixed = /^(.*?)\s*(?:\bat\b|@)\s*(\d.*)$/i.exec(heading.trim());
  if (fixed?.[2] !== undefined) {
    const before = recognised(fixed[1] === '' ? 'length' : (fixed[1] ?? ''), walls);
    return before?.is === 'length' && before.at === undefined ? { ...before, at: fixed[2].trim() } : undefined;
  }
  let rest = plain.split(' ');
  const wall = rest.find((word) => walls.has(word));
  if (wall !== undefined) rest = rest.filter((word) => word !== wall);
  const at = positions.find((position) => rest.some((word) => wordsOfPositions[position].includes(word)));
  if (at !== undefined) rest = rest.filter((word) => !wordsOfPositions[at].includes(word));
  const left = rest.filter((word) => word !== 'wall').join(' ');
  const of = left.replace(/\b(?:of|at) (?=length|width)/, '').trim();
  if (
    heightWords.includes(left) ||
    /^height (?:of )?(?:length|width)$/.test(left) ||
    /^(?:length|width) height$/.test(of)
  )
    return with_({ is: 'height-of-length', ...(at !== undefined && { at }), ...(wall !== undefined && { wall }) });
  if (lengthWords.includes(left) || (left === '' && (at !== undefined || wall !== undefined)))
    return with_({ is: 'length', ...(at !== undefined && { at }), ...(wall !== undefined && { wall }) });
  return undefined;
}

export interface ReadHead {
  /** The row of the headings. */
  readonly row: Row;
  readonly columns: readonly Column[];
  /** Recognised here and in no mapping. */
  readonly fresh: readonly Column[];
}

/** So many rows of a title may stand above the headings. */
const mostAbove = 20;

/** The headings of a table and what they mean, or what stands in the way. */
export function headOf(
  sheet: Sheet,
  mapping: Mapping,
  walls: ReadonlySet<string>,
): ReadHead | { readonly problems: readonly Problem[] } {
  const known = new Map(mapping.columns.map((column) => [keyOf(column.heading), column]));
  const meaningOf = (heading: string): ColumnMeaning | undefined =>
    known.get(keyOf(heading)) ?? recognised(heading, walls);
  const row = sheet.rows
    .slice(0, mostAbove)
    .find(({ cells }) => cells.some((cell) => cell && meaningOf(plainText(cell))?.is === 'unit'));
  if (!row) {
    const first = sheet.rows.find(({ cells }) => cells.some((cell) => !isBlank(cell)));
    const column = first?.cells.findIndex((cell) => !isBlank(cell)) ?? 0;
    return {
      problems: [
        {
          sheet: sheet.name,
          cell: addressOf(Math.max(0, column), first?.number ?? 1),
          found: first ? foundIn(first.cells[column]) : '',
          message: first
            ? 'A row of headings was expected, with one "unit" among them: the column of the names of units as the project has them.'
            : 'The table is empty: a row of headings was expected, with one "unit" among them.',
        },
      ],
    };
  }
  const problems: Problem[] = [];
  const columns: Column[] = [];
  const problem = (index: number, message: string): void =>
    void problems.push({
      sheet: sheet.name,
      cell: addressOf(index, row.number),
      found: foundIn(row.cells[index]),
      message,
    });
  const used = usedColumns(sheet, row);
  row.cells.forEach((cell, index) => {
    if (isBlank(cell) || !cell) return;
    if (cell.oddity?.kind === 'merged') {
      problem(
        index,
        `The heading is merged with others (${cell.oddity.range}). Give each column a heading of its own.`,
      );
      return;
    }
    const heading = plainText(cell);
    const meaning = meaningOf(heading);
    if (meaning) columns.push({ ...meaning, index, heading });
    else if (used.has(index))
      problem(
        index,
        'It is not clear what this column holds. Say so in the mapping file ("ignored" leaves it out), or give it another heading.',
      );
  });
  for (const index of used)
    if (isBlank(row.cells[index])) problem(index, 'There are cells below, and no heading that says what they are.');
  const settled = columns.map((column) => plainHeight(column, columns));
  for (const repeated of repeatedIn(settled))
    problem(repeated.index, `Another column means the same (${repeated.same}). Say in the mapping file what each is.`);
  if (!settled.some(({ is }) => measured.has(is)) && problems.length === 0)
    problem(
      settled.find(({ is }) => is === 'unit')?.index ?? 0,
      'Beside the units there is no column of anything that was measured: length, ceiling, studs, corner left and such.',
    );
  if (problems.length > 0) return { problems };
  return { row, columns: settled, fresh: settled.filter(({ heading }) => !known.has(keyOf(heading))) };
}

/** What can be said of the headings whatever stands in the way, of those that no mapping has; the row of the most known ones is taken for theirs. */
export function columnsOf(
  sheet: Sheet,
  mapping: Mapping,
  walls: ReadonlySet<string>,
): { readonly columns: readonly Column[]; readonly unclear: readonly string[] } {
  const known = new Set(mapping.columns.map(({ heading }) => keyOf(heading)));
  const read = sheet.rows.slice(0, mostAbove).map(({ cells }) => {
    const columns: Column[] = [];
    const unclear: string[] = [];
    cells.forEach((cell, index) => {
      const heading = plainText(cell);
      if (heading === '') return;
      const meaning = recognised(heading, walls);
      if (meaning) columns.push({ ...meaning, index, heading });
      else unclear.push(heading);
    });
    return { columns, unclear };
  });
  const [best = { columns: [], unclear: [] }] = read.toSorted((a, b) => b.columns.length - a.columns.length);
  const isNew = (heading: string): boolean => !known.has(keyOf(heading));
  return {
    columns: best.columns.map((column) => plainHeight(column, best.columns)).filter(({ heading }) => isNew(heading)),
    unclear: best.unclear.filter(isNew),
  };
}

const measured: ReadonlySet<Meaning> = new Set([
  'length',
  'ceiling',
  'floor-falls',
  'out-of-plumb',
  'corner',
  'studs',
  'opening-width',
  'opening-height',
]);

/** Columns that hold anything below the headings. */
function usedColumns({ rows }: Sheet, head: Row): Set<number> {
  const used = new Set<number>();
  for (const row of rows) {
    if (row.number <= head.number) continue;
    row.cells.forEach((cell, index) => {
      if (!used.has(index) && !isBlank(cell)) used.add(index);
    });
  }
  return used;
}

/** A height that says of nothing: of the reading in its row, where the table has a reading a row; of the wall otherwise. */
function plainHeight(column: Column, all: readonly Column[]): Column {
  if (column.is !== 'height-of-length' || column.at !== undefined || column.wall !== undefined) return column;
  const isOfReading = all.some(({ is, at }) => is === 'length' && at === undefined);
  return isOfReading ? column : { ...column, is: 'ceiling' };
}

const mayRepeat: ReadonlySet<Meaning> = new Set(['studs', 'taken', 'photos', 'note', 'diagonal', 'ignored']);

function repeatedIn(columns: readonly Column[]): { readonly index: number; readonly same: string }[] {
  const first = new Map<string, Column>();
  return columns.flatMap((column) => {
    const { is, at, wall, side, opening, index, heading } = column;
    if (mayRepeat.has(is)) return [];
    const key = [is, at, wall, side, opening].join(' ');
    const other = first.get(key);
    if (other) return [{ index, same: `"${other.heading}"` }];
    first.set(key, { ...column, heading });
    return [];
  });
}

function keyOf(heading: string): string {
  return heading.trim().replaceAll(/\s+/g, ' ').toLowerCase();
}

// The mapping file

const mark = 'survey-columns';

/** Throws nothing: a file that is not as it should be says so in a sentence. */
export function readMapping(text: string, name: string): Mapping | { readonly wrong: string } {
  const wrong = (why: string): { readonly wrong: string } => ({ wrong: `${name}: ${why}` });
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\ufeff/, ''));
  } catch (error) {
    return wrong(`it is no JSON (${error instanceof Error ? error.message : String(error)}).`);
  }
  const all = json as Readonly<Record<string, unknown>>;
  if (typeof json !== 'object' || json === null || all[mark] !== 1 || !Array.isArray(all.columns))
    return wrong(`it holds no "${mark}": 1 and no list of "columns", as a mapping file does.`);
  const strange = Object.keys(all).find((key) => !mappingKeys.includes(key));
  if (strange !== undefined) return wrong(`"${strange}" means nothing in it; known are ${mappingKeys.join(', ')}.`);
  const measure = all['unit-of-measure'];
  if (measure !== undefined && !isMeasure(measure))
    return wrong(`"unit-of-measure" is one of ${measures.join(', ')}, and not ${JSON.stringify(measure)}.`);
  if (all['decimal-comma'] !== undefined && typeof all['decimal-comma'] !== 'boolean')
    return wrong('"decimal-comma" is true or false.');
  if (all.wall !== undefined && typeof all.wall !== 'string') return wrong('"wall" is the name of a wall.');
  const heights = all.heights as Readonly<Record<string, unknown>> | undefined;
  if (heights !== undefined) {
    if (typeof heights !== 'object' || heights === null) return wrong('"heights" holds "low", "middle" and "high".');
    for (const [key, value] of Object.entries(heights))
      if (!(positions as readonly string[]).includes(key) || typeof value !== 'string')
        return wrong('"heights" holds lengths such as "42in", under "low", "middle" and "high".');
  }
  const columns: Mapping['columns'][number][] = [];
  for (const [i, entry] of all.columns.entries()) {
    const read = columnIn(entry);
    if (typeof read === 'string') return wrong(`column ${i + 1} in it: ${read}`);
    columns.push(read);
  }
  return {
    columns,
    ...(measure !== undefined && { measure }),
    ...(all['decimal-comma'] === true && { decimalComma: true }),
    ...(typeof all.wall === 'string' && { wall: all.wall }),
    ...(heights !== undefined && { heights: heights as Mapping['heights'] & object }),
  };
}

const mappingKeys: readonly string[] = [mark, 'unit-of-measure', 'decimal-comma', 'wall', 'heights', 'columns'];
const columnKeys: readonly string[] = ['heading', 'is', 'at', 'wall', 'side', 'opening', 'name', 'unit-of-measure'];

function isMeasure(value: unknown): value is Measure {
  return (measures as readonly unknown[]).includes(value);
}

function columnIn(entry: unknown): (ColumnMeaning & { readonly heading: string }) | string {
  if (typeof entry !== 'object' || entry === null) return 'it is an object with "heading" and "is".';
  const given = entry as Readonly<Record<string, unknown>>;
  const strange = Object.keys(given).find((key) => !columnKeys.includes(key));
  if (strange !== undefined) return `"${strange}" means nothing there; known are ${columnKeys.join(', ')}.`;
  const { heading, is, side } = given;
  if (typeof heading !== 'string') return 'it has no "heading".';
  if (!(meanings as readonly unknown[]).includes(is))
    return `"is" of "${heading}" is ${JSON.stringify(is) ?? 'missing'}; it is one of ${meanings.join(', ')}.`;
  const texts = ['at', 'wall', 'opening', 'name'] as const;
  for (const key of texts)
    if (given[key] !== undefined && typeof given[key] !== 'string') return `"${key}" of "${heading}" is no text.`;
  if (side !== undefined && side !== 'left' && side !== 'right') return `"side" of "${heading}" is left or right.`;
  if (is === 'corner' && side === undefined) return `"${heading}" is a corner: say "side", left or right.`;
  const measure = given['unit-of-measure'];
  if (measure !== undefined && !isMeasure(measure))
    return `"unit-of-measure" of "${heading}" is one of ${measures.join(', ')}.`;
  return {
    heading,
    is: is as Meaning,
    ...Object.fromEntries(texts.flatMap((key) => (given[key] === undefined ? [] : [[key, given[key]]]))),
    ...(side !== undefined && { side }),
    ...(measure !== undefined && { measure }),
  };
}

/** What a project keeps, with the columns of a table that it did not know. */
export function mappingText(mapping: Mapping, fresh: readonly Column[]): string {
  const columns = [...mapping.columns, ...fresh].map(({ heading, is, at, wall, side, opening, name, measure }) => ({
    heading,
    is,
    ...(at !== undefined && { at }),
    ...(wall !== undefined && { wall }),
    ...(side !== undefined && { side }),
    ...(opening !== undefined && { opening }),
    ...(name !== undefined && { name }),
    ...(measure !== undefined && { 'unit-of-measure': measure }),
  }));
  const head = {
    [mark]: 1,
    ...(mapping.measure !== undefined && { 'unit-of-measure': mapping.measure }),
    ...(mapping.decimalComma && { 'decimal-comma': true }),
    ...(mapping.wall !== undefined && { wall: mapping.wall }),
    ...(mapping.heights && { heights: mapping.heights }),
  };
  const lines = columns.map((column) => {
    const pairs = Object.entries(column).map(([key, value]) => `${JSON.stringify(key)}: ${JSON.stringify(value)}`);
    return `    { ${pairs.join(', ')} }`;
  });
  return `${JSON.stringify(head, undefined, 2).slice(0, -2)},\n  "columns": [\n${lines.join(',\n')}\n  ]\n}\n`;
}

/** `4 columns: "Unit" unit, "Low" length low`. */
export function columnsSaid(columns: readonly Column[]): string {
  const said = columns.map(
    ({ heading, is, at, wall, side, measure }) =>
      `"${heading}" ${[is, at, wall, side, measure && `in ${measure}`].filter((word) => word !== undefined).join(' ')}`,
  );
  return `${counted(columns.length, 'column')}: ${said.join(', ')}`;
}
