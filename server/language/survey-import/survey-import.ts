/** A table from site, read into the surveys of a project: all of it or nothing. The terminal and an editor both ask here. */
import { counted } from '../../model/money.ts';
import type { Project } from '../../model/project.ts';
import type { TextEdit } from '../snapshot.ts';
import { beyondProblem, type Problem, type Sheet, type Unreadable } from './cells.ts';
import { changesFor, type SurveyChange } from './changes.ts';
import { type Column, columnsOf, headOf, type Mapping, mappingText } from './columns.ts';
import { readCsv } from './csv.ts';
import { readTable } from './measured.ts';
import type { Measure } from './measures.ts';
import { readXlsx } from './xlsx.ts';

/** Where a project keeps what the columns of its tables are. */
export const mappingName = 'survey-columns.json';

export interface ImportAsked {
  readonly project: Project;
  readonly mapping: Mapping;
  /** Of numbers that say none, before what the mapping says. */
  readonly measure?: Measure | undefined;
  readonly decimalComma?: boolean | undefined;
  /** The absolute path of the file for new surveys. */
  readonly into?: string | undefined;
}

export interface Imported {
  readonly kind: 'imported';
  readonly edits: readonly TextEdit[];
  readonly created: { readonly file: string; readonly text: string } | undefined;
  readonly changes: readonly SurveyChange[];
  readonly notes: readonly string[];
  readonly columns: readonly Column[];
  /** What the mapping file is to hold; undefined where it holds all of it already. */
  readonly mapping: string | undefined;
}

export interface Refused {
  readonly kind: 'refused';
  readonly problems: readonly Problem[];
  /** With those beyond what is told of. */
  readonly problemCount: number;
  readonly notes: readonly string[];
  /** What has to be said before the table can be read: an editor asks, the terminal names the option. */
  readonly asks: readonly ('unit-of-measure' | 'decimal-comma')[];
  /** Reasons that no cell is to blame for. */
  readonly reasons: readonly string[];
  readonly columns: readonly Column[];
}

export interface Chosen {
  readonly sheet: Sheet;
}

/** Which sheet of a workbook is meant has to be said where there are several. */
export interface SheetAsked {
  readonly asksSheet: readonly string[];
  readonly why: string;
}

/** The table of a file, by its bytes: a workbook begins as every ZIP does. */
export function tableIn(bytes: Uint8Array, name: string, wanted?: string): Chosen | SheetAsked | Unreadable {
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  const isCompound = bytes[0] === 0xd0 && bytes[1] === 0xcf;
  if (!isZip && !isCompound) {
    if (wanted !== undefined) return { unreadable: `${name} is no workbook, so that it has no sheet "${wanted}".` };
    const sheet = readCsv(bytes, name);
    return 'unreadable' in sheet ? sheet : { sheet };
  }
  const workbook = readXlsx(bytes, name);
  if ('unreadable' in workbook) return workbook;
  const { names, hidden } = workbook;
  if (wanted !== undefined) {
    if (![...names, ...hidden].includes(wanted))
      return { asksSheet: names, why: `There is no sheet "${wanted}" in ${name}; it has ${listed(names)}.` };
    const sheet = workbook.sheet(wanted);
    return 'unreadable' in sheet ? sheet : { sheet };
  }
  const filled = names.map((own) => workbook.sheet(own));
  const unreadable = filled.find((sheet): sheet is Unreadable => 'unreadable' in sheet);
  if (unreadable) return unreadable;
  const sheets = (filled as Sheet[]).filter(
    ({ rows, beyond }) => beyond !== undefined || rows.some(({ cells }) => cells.some((cell) => cell?.text)),
  );
  const [only, second] = sheets;
  if (second)
    return {
      asksSheet: sheets.map((sheet) => sheet.name ?? ''),
      why: `${name} has ${counted(sheets.length, 'sheet')} with something in them: ${listed(sheets.map((sheet) => sheet.name ?? ''))}.`,
    };
  if (only) return { sheet: only };
  const behind = hidden.length > 0 ? ` There is something only in hidden sheets, if at all: ${listed(hidden)}.` : '';
  return { unreadable: `${name} is empty.${behind}` };
}

function listed(names: readonly string[]): string {
  return names.map((name) => `"${name}"`).join(', ');
}

/** The project is fresh. Nothing is written here. */
export function importSurvey(sheet: Sheet, asked: ImportAsked): Imported | Refused {
  const { project, mapping } = asked;
  const head = headOf(sheet, mapping, wallsOf(project));
  // Headings may be among what stands too far to the right.
  const beyond = beyondProblem(sheet);
  if ('problems' in head)
    return {
      kind: 'refused',
      problems: [...beyond, ...head.problems],
      problemCount: beyond.length + head.problems.length,
      notes: [],
      asks: [],
      reasons: [],
      columns: [],
    };
  const measure = asked.measure ?? mapping.measure;
  const decimalComma = asked.decimalComma ?? mapping.decimalComma ?? false;
  const read = readTable(sheet, head, { project, mapping, how: { measure, decimalComma } });
  const { columns, fresh } = head;
  const refused = (reasons: readonly string[]): Refused => ({
    kind: 'refused',
    problems: [...beyond, ...read.problems],
    problemCount: beyond.length + read.problemCount,
    notes: read.notes,
    asks: read.asks,
    reasons,
    columns,
  });
  if (read.problemCount + beyond.length > 0) return refused([]);
  const { edits, changes, stuck, created } = changesFor(project, read.measured, asked.into);
  if (stuck.length > 0) return refused(stuck);
  const kept: Mapping = {
    ...mapping,
    ...(asked.measure && { measure: asked.measure }),
    ...(asked.decimalComma && { decimalComma: true }),
  };
  const isKnown = fresh.length === 0 && kept.measure === mapping.measure && kept.decimalComma === mapping.decimalComma;
  const text = isKnown ? undefined : mappingText(kept, fresh);
  return {
    kind: 'imported',
    edits,
    created,
    changes,
    notes: [...read.notes, ...heightsLacking(columns, mapping)],
    columns,
    mapping: text,
  };
}

/** What is recognised of the columns, for the mapping file: those that are not are left out until somebody says what they are. */
export function recognisedIn(
  sheet: Sheet,
  project: Project,
  mapping: Mapping,
): { readonly columns: readonly Column[]; readonly unclear: readonly string[] } {
  const { columns, unclear } = columnsOf(sheet, mapping, wallsOf(project));
  const ignored = unclear.map((heading): Column => ({ is: 'ignored', heading, index: -1 }));
  return { columns: [...columns, ...ignored], unclear };
}

function wallsOf(project: Project): Set<string> {
  return new Set([...project.units()].flatMap(({ resolved }) => resolved?.layout.walls.map(({ name }) => name) ?? []));
}

/** Low, middle and high without heights are read as lengths of the whole wall, of which the least counts. */
function heightsLacking(columns: readonly Column[], { heights }: Mapping): string[] {
  const lacking = columns.filter(
    ({ is, at }) =>
      is === 'length' &&
      (at === 'low' || at === 'middle' || at === 'high') &&
      heights?.[at] === undefined &&
      !columns.some((other) => other.is === 'height-of-length' && other.at === at),
  );
  const headings = lacking.map(({ heading }) => heading);
  if (headings.length === 0) return [];
  if (headings.length === 1)
    return [
      `At which height ${listed(headings)} was measured is not said, so that it counts all the way up. Write the height into a column of its own, or under "heights" in the mapping file.`,
    ];
  return [
    `At which heights ${listed(headings)} were measured is not said, so that the least of them counts all the way up. Write the heights into columns of their own, or under "heights" in the mapping file.`,
  ];
}
