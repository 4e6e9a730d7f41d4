/**
 * Cut lists and plans for a spreadsheet: RFC 4180. A cell that a spreadsheet would take for a formula is made
 * inert by an apostrophe in front, as it may hold what anybody typed.
 */
import { stringify } from 'csv-stringify/sync';
import type { Planned } from '../checks/analysis.ts';
import type { Demand } from '../cutting/demand.ts';
import { settingNumbers } from '../cutting/patterns/figures.ts';
import type { Cut, Pattern } from '../cutting/types.ts';
import type { Extra, Spare } from '../model/extras.ts';
import type { Part } from '../model/layout.ts';
import { calledInProject } from '../model/names.ts';
import type { Unit } from '../model/project.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { type Show, showLength } from '../model/show.ts';
import { TICKS_PER_MM, type Ticks } from '../model/ticks.ts';
import type { Chosen } from './targets.ts';

export type Cell = string | number | undefined;

const cutColumns = [
  'project',
  'unit',
  'template',
  'floor',
  'flat',
  'phase',
  'part',
  'kind',
  'material',
  'quantity',
  'length',
  'length mm',
  'depth',
  'depth mm',
  'thickness',
  'thickness mm',
  'wall',
  'zone',
  'height',
  'height mm',
  'matched',
  'at least',
  'at least mm',
];

interface Listed {
  readonly chosen: Chosen;
  readonly units: readonly Unit[];
  readonly extras: readonly Extra[];
  readonly spares: readonly Spare[];
}

/** A row for each part of each unit, and one for each kind of loose part. */
export function cutsCsv(lists: readonly Listed[]): Iterable<string> {
  return written(cutColumns, rowsOf(lists, cutRows));
}

function* cutRows({ chosen, units, extras, spares }: Listed): Generator<Cell[]> {
  const { title, show } = chosen.project.settings;
  for (const { name, info, floor, flat, phase, count, resolved } of units) {
    for (const part of resolved?.layout.parts ?? []) {
      const where = [title, name, info && calledInProject(info.declared), floor, flat, phase, part.path, part.kind];
      const at = [part.wall, part.zone, ...lengthCells(part.at, show), part.matched?.set];
      yield [...where, ...pieceCells(part, count, show), ...at, ...lengthCells(undefined, show)];
    }
  }
  for (const { name, floor, flat, phase, part, count } of extras) {
    const where = [title, undefined, undefined, floor, flat, phase, name, 'loose part'];
    const none = [undefined, undefined, undefined, undefined];
    yield [...where, ...pieceCells(part, count, show), ...none, part.matched?.set, ...lengthCells(undefined, show)];
  }
  // How long they will be is known when it is planned: the shortest and the longest are told.
  for (const { name, floor, flat, phase, material, count, least, most, depth, thickness } of spares) {
    const where = [title, undefined, undefined, floor, flat, phase, name, 'spare'];
    const sizes = [most, depth, thickness].flatMap((value) => lengthCells(value, show));
    const none = [undefined, undefined, undefined, undefined, undefined];
    yield [...where, material, count, ...sizes, ...none, ...lengthCells(least, show)];
  }
}

function pieceCells(part: Part, quantity: number, show: Show): Cell[] {
  const { material, length, depth, thickness } = part;
  return [material, quantity, ...[length, depth, thickness].flatMap((value) => lengthCells(value, show))];
}

const planColumns = [
  'project',
  'pattern',
  'material',
  'boards cut this way',
  'board',
  'board mm',
  'from the rack',
  'piece',
  'piece mm',
  'spare',
  'stop setting',
  'pieces a board',
  'pieces in all',
  'left of a board',
  'left of a board mm',
  'keep',
  'matched set',
];

interface Made {
  readonly title: string;
  readonly settings: ProjectSettings;
  readonly planned: Planned;
}

/**
 * A row for each kind of piece in each pattern; patterns are numbered from 1 in the order of the plan, and so are,
 * for each material, the settings of the saw's stop: rows of the same number are cut without setting it anew.
 */
export function planCsv(made: readonly Made[]): Iterable<string> {
  return written(planColumns, rowsOf(made, planRows));
}

function* planRows({ title, settings, planned: { demand, plan } }: Made): Generator<Cell[]> {
  const { show } = settings;
  const stock = new Map(demand.request.stock.map((board) => [board.id, board]));
  const spares = new Set(demand.request.spares?.map(({ id }) => id));
  const patterns = plan?.patterns ?? [];
  const stops = new Map<Pattern, readonly number[]>();
  for (const own of Map.groupBy(patterns, ({ material }) => material).values()) {
    settingNumbers(own).forEach((numbers, at) => {
      stops.set(own[at] as Pattern, numbers);
    });
  }
  for (const [index, pattern] of patterns.entries()) {
    const board = stock.get(pattern.stock);
    const sets = setNumbers(pattern.cuts, demand);
    for (const [at, cut] of [...pattern.cuts, ...(pattern.spares ?? [])].entries()) {
      yield [
        title,
        index + 1,
        pattern.material,
        pattern.times,
        ...lengthCells(board?.length, show),
        board?.offcut ? 'yes' : 'no',
        ...lengthCells(cut.length, show),
        spares.has(cut.piece) ? cut.piece : undefined,
        stops.get(pattern)?.[at],
        cut.quantity,
        cut.quantity * pattern.times,
        ...lengthCells(pattern.offcut, show),
        pattern.keep ? 'yes' : 'no',
        sets[at],
      ];
    }
  }
}

/** For each cut, which set on its board it is of, from 1 and with its name: rows of one number are cut one after another. */
function setNumbers(cuts: readonly Cut[], { request, matched }: Demand): (string | undefined)[] {
  const runs = new Map(request.sets?.map((set) => [set.id, set.runs.length]));
  let [number, left] = [0, 0];
  return cuts.map(({ set }) => {
    if (set === undefined) return undefined;
    if (left === 0) [number, left] = [number + 1, runs.get(set) ?? 1];
    left--;
    return `${number} ${matched.get(set)?.name ?? set}`;
  });
}

/** As the project shows it, and in millimetres for adding up. */
function lengthCells(length: Ticks | undefined, show: Show): Cell[] {
  return length === undefined ? [undefined, undefined] : [showLength(length, show), length / TICKS_PER_MM];
}

export function* rowsOf<T>(projects: readonly T[], rows: (project: T) => Iterable<Cell[]>): Generator<Cell[]> {
  for (const project of projects) yield* rows(project);
}

/** Rows that are made into text together. */
const rowsAtOnce = 500;

export function* written(columns: readonly string[], rows: Iterable<readonly Cell[]>): Generator<string> {
  let batch: (readonly Cell[])[] = [columns];
  for (const row of rows) {
    batch.push(row);
    if (batch.length < rowsAtOnce) continue;
    yield asText(batch);
    batch = [];
  }
  yield asText(batch);
}

function asText(rows: (readonly Cell[])[]): string {
  return stringify(rows, { record_delimiter: 'windows', escape_formulas: true });
}
