/**
 * Lists of projects at random, written in every format there is and read back by readers that are none of ours (csv-parse,
 * SheetJS, JSON.parse): pieces, lengths, boards, kerf, waste and money are the same everywhere, to the tick and the
 * hundredth, and what the layouts and the stock come to when they are added up here.
 */
import { read, utils } from '@e965/xlsx';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Planned, planProject } from '../../../server/checks/analysis.ts';
import { cutsCsv, planCsv } from '../../../server/cli/csv.ts';
import { exportJson } from '../../../server/cli/export-json.ts';
import { cutsJson } from '../../../server/cli/json-cuts.ts';
import { planJson } from '../../../server/cli/json-plan.ts';
import { jsonPieces } from '../../../server/cli/json-text.ts';
import { type Chosen, extrasOf, sparesOf } from '../../../server/cli/targets.ts';
import { firstPlan } from '../../../server/cutting/first-fit.ts';
import { rememberingPlanner } from '../../../server/cutting/optimal.ts';
import type { Planner } from '../../../server/cutting/types.ts';
import type { Project } from '../../../server/model/project.ts';
import { csvOf } from '../../../server/sheets/export/csv.ts';
import type { Exported } from '../../../server/sheets/export/exported.ts';
import { tablesOf } from '../../../server/sheets/export/lists.ts';
import { workbookOf } from '../../../server/sheets/export/xlsx.ts';
import { randomProjects } from '../../random-projects.ts';
import { longer, runs } from '../../runs.ts';
import { projectWith } from '../drawing/units.ts';
import { exportedOf } from './exports.ts';

const perMm = 40_000n;
/** At once, without looking for a better plan. */
const first: Planner = { name: 'first', plan: (request) => [firstPlan(request)] };

/** Sums by a key, in whole ticks, pieces or hundredths. */
class Sums {
  readonly by = new Map<string, bigint>();
  add(key: string, more: bigint): this {
    const sum = (this.by.get(key) ?? 0n) + more;
    if (sum === 0n) this.by.delete(key);
    else this.by.set(key, sum);
    return this;
  }
  get sorted(): [string, bigint][] {
    return [...this.by].sort(([a], [b]) => (a < b ? -1 : 1));
  }
  get total(): bigint {
    return [...this.by.values()].reduce((a, b) => a + b, 0n);
  }
}

// Numbers as they stand in a file

/** A decimal number exactly, in ticks. */
function exactly(text: string, perUnit: bigint): bigint {
  const read = /^(-?)(\d+)(?:\.(\d+))?(?:e-(\d+))?$/.exec(text);
  if (!read) throw new Error(`"${text}" is no number`);
  const [, sign, whole = '', part = '', down = '0'] = read;
  const over = 10n ** BigInt(part.length + Number(down));
  const ticks = BigInt(whole + part) * perUnit;
  // A double in a file is the nearest to a whole tick, and not always that number: half a tick is far from it.
  const rounded = (ticks * 2n + over) / (over * 2n);
  return sign === '-' ? -rounded : rounded;
}

const ofMm = (text: string): bigint => exactly(text, perMm);
const ofInches = (text: string): bigint => exactly(text, 1_016_000n);

/** `21-3/4in`, `552.5mm`; undefined where it says that it is not quite that. */
function said(text: string): bigint | undefined {
  if (text.startsWith('~')) return undefined;
  if (text.endsWith('mm')) return ofMm(text.slice(0, -2));
  const read = /^(?:(\d+)(?:-(?=\d+\/)|in$))?(?:(\d+)\/(\d+)in)?$/.exec(text);
  if (!read) throw new Error(`"${text}" is no length`);
  return BigInt(read[1] ?? 0) * 1_016_000n + (BigInt(read[2] ?? 0) * 1_016_000n) / BigInt(read[3] ?? 1);
}

type Row = Readonly<Record<string, string>>;

const csvRows = (text: Iterable<string>): Row[] =>
  parse([...text].join(''), { columns: true, record_delimiter: '\r\n' }) as Row[];

const cell = (row: Row, name: string): string => {
  const found = row[name];
  if (found === undefined) throw new Error(`no column "${name}"`);
  return found;
};

/** A length of a row: its text and its number say the same. */
function lengthIn(row: Row, name: string, unit: 'in' | 'mm'): bigint {
  const ticks = (unit === 'mm' ? ofMm : ofInches)(cell(row, `${name} ${unit}`));
  expect([name, said(cell(row, name)) ?? ticks]).toEqual([name, ticks]);
  return ticks;
}

const json = (value: object): unknown => JSON.parse([...jsonPieces(value)].join(''));

interface LengthJson {
  readonly ticks: number;
  readonly mm: number;
  readonly text: string;
}

function fromJson({ ticks, mm, text }: LengthJson): bigint {
  expect([ofMm(String(mm)), said(text) ?? BigInt(ticks)]).toEqual([BigInt(ticks), BigInt(ticks)]);
  return BigInt(ticks);
}

// What there is

/** Pieces by material and length, from the layouts themselves. */
function piecesOf(project: Project): Sums {
  const pieces = new Sums();
  for (const { count, resolved } of project.units())
    for (const { material, length } of resolved?.layout.parts ?? []) pieces.add(`${material} ${length}`, BigInt(count));
  for (const made of project.computed('extra'))
    if (made.kind === 'extra' && made.value?.kind === 'extra')
      pieces.add(`${made.value.part.material} ${made.value.part.length}`, BigInt(made.value.count));
  return pieces;
}

const together = (pieces: Sums): Sums => {
  const lengths = new Sums();
  for (const [key, count] of pieces.by) {
    const [material = '', length = '0'] = key.split(' ');
    lengths.add(material, count * BigInt(length));
  }
  return lengths;
};

// Reading each format

function piecesInCutsCsv(rows: readonly Row[]): Sums {
  const pieces = new Sums();
  for (const row of rows) {
    const length = lengthIn(row, 'length', 'mm');
    if (cell(row, 'kind') === 'spare') {
      // As long as finds room: from the least to the most.
      expect([lengthIn(row, 'at least', 'mm') < length, cell(row, 'matched')]).toEqual([true, '']);
      met.spares++;
    } else {
      pieces.add(`${cell(row, 'material')} ${length}`, BigInt(cell(row, 'quantity')));
      expect([cell(row, 'at least'), cell(row, 'at least mm')]).toEqual(['', '']);
    }
  }
  return pieces;
}

function piecesInList(rows: readonly Row[], unit: 'in' | 'mm'): Sums {
  const pieces = new Sums();
  // Spares are none of the pieces.
  for (const row of rows)
    if (cell(row, 'pieces') !== '')
      pieces.add(`${cell(row, 'material')} ${lengthIn(row, 'length', unit)}`, BigInt(cell(row, 'pieces')));
  return pieces;
}

interface ListJson {
  readonly list: string;
  readonly rows: readonly Readonly<Record<string, unknown>>[];
  readonly totals: Readonly<Record<string, unknown>>;
}

function piecesInJson(rows: ListJson['rows']): Sums {
  const pieces = new Sums();
  for (const { material, length, quantity } of rows)
    if (quantity !== null) pieces.add(`${material} ${fromJson(length as LengthJson)}`, BigInt(quantity as number));
  return pieces;
}

/** A sheet of a workbook as rows of text, and what stands under them. */
function sheetRows(book: ReturnType<typeof read>, title: string): { rows: Row[]; under: Row } {
  const sheet = book.Sheets[title];
  if (!sheet) throw new Error(`no sheet "${title}"`);
  const [titles = [], ...all] = utils.sheet_to_json<unknown[]>(sheet, { header: 1, raw: true, blankrows: true });
  // A length is its text and, beside it, its number with the unit of measure behind the title.
  const names = titles.map((name) => String(name).replace(/, (in|mm)$/, ' $1'));
  const rows = all.map((row) =>
    Object.fromEntries(names.map((name, i) => [name, row[i] === undefined ? '' : String(row[i])])),
  );
  const totals = rows.findIndex((_, i) =>
    Object.keys(sheet).some(
      (at) => new RegExp(`^[A-Z]+${i + 2}$`).test(at) && /^SUM\(/.test(String(sheet[at]?.f ?? '')),
    ),
  );
  return totals < 0 ? { rows, under: {} } : { rows: rows.slice(0, totals), under: rows[totals] ?? {} };
}

// A plan, added up from its file

interface Figures {
  readonly boards: Sums;
  readonly pieces: Sums;
  readonly spares: Sums;
  readonly stock: Sums;
  readonly used: Sums;
  readonly kerf: Sums;
  readonly trim: Sums;
  readonly kept: Sums;
  readonly waste: Sums;
}

/** Each pattern is a board: what its pieces, its cuts and its trimmed ends take, and what is left of it. */
function figuresOf(
  rows: readonly Row[],
  saw: { readonly kerf: bigint; readonly trim: bigint; readonly keepFrom: bigint },
): Figures {
  const sums = (): Sums => new Sums();
  const figures = {
    boards: sums(),
    pieces: sums(),
    spares: sums(),
    stock: sums(),
    used: sums(),
    kerf: sums(),
    trim: sums(),
    kept: sums(),
    waste: sums(),
  };
  for (const own of Map.groupBy(rows, (row) => cell(row, 'pattern')).values()) {
    const [first] = own as [Row];
    const material = cell(first, 'material');
    const times = BigInt(cell(first, 'boards cut this way'));
    const board = lengthIn(first, 'board', 'mm');
    let [used, count] = [0n, 0n];
    for (const row of own) {
      const [length, each] = [lengthIn(row, 'piece', 'mm'), BigInt(cell(row, 'pieces a board'))];
      expect(BigInt(cell(row, 'pieces in all'))).toBe(each * times);
      expect([cell(row, 'boards cut this way'), lengthIn(row, 'board', 'mm')]).toEqual([String(times), board]);
      used += length * each;
      count += each;
      const isSpare = cell(row, 'spare') !== '';
      figures[isSpare ? 'spares' : 'pieces'].add(isSpare ? material : `${material} ${length}`, each * times);
    }
    const room = board - 2n * saw.trim - used;
    // A cut behind each piece; the last takes no more than there is.
    const kerf = room < saw.kerf * count ? room : saw.kerf * count;
    expect([material, room >= saw.kerf * (count - 1n)]).toEqual([material, true]);
    const left = lengthIn(first, 'left of a board', 'mm');
    expect([material, left]).toEqual([material, room - kerf]);
    const keep = cell(first, 'keep') === 'yes';
    expect([material, left, keep]).toEqual([material, left, left > 0n && left >= saw.keepFrom]);
    figures.boards.add(`${material} ${board} ${cell(first, 'from the rack') === 'yes' ? 'rack' : 'stock'}`, times);
    figures.stock.add(material, board * times);
    figures.used.add(material, used * times);
    figures.kerf.add(material, kerf * times);
    figures.trim.add(material, 2n * saw.trim * times);
    (keep ? figures.kept : figures.waste).add(material, left * times);
  }
  return figures;
}

interface TotalsJson {
  readonly material: string;
  readonly boardCount: number;
  readonly pieceCount: number;
  readonly spareCount: number;
  readonly price: { readonly hundredths: number; readonly text: string } | null;
  readonly stockLength: LengthJson;
  readonly usedLength: LengthJson;
  readonly trimLoss: LengthJson;
  readonly kerfLoss: LengthJson;
  readonly keptLength: LengthJson;
  readonly waste: LengthJson;
  readonly boughtLength: LengthJson;
}

interface PlanJson {
  readonly verified: boolean;
  readonly saw: Readonly<Record<'kerf' | 'trim' | 'keepOffcutsFrom', LengthJson>>;
  readonly stock: readonly {
    readonly material: string;
    readonly length: LengthJson;
    readonly offcut: boolean;
    readonly price: { readonly hundredths: number } | null;
  }[];
  readonly uncut: readonly { readonly material: string; readonly length: LengthJson; readonly quantity: number }[];
  readonly totals: readonly TotalsJson[];
}

const met = { pieces: 0n, boards: 0n, money: 0n, lists: 0, uncut: 0, spares: 0, sparesCut: 0n, kept: 0n };

async function compare(text: string, project: Project, planned: Planned): Promise<void> {
  const { settings } = project;
  const chosen = { project, root: '/quarry-lane', alone: false, files: undefined } as unknown as Chosen;
  const units = [...project.units()];
  const [extras, spares] = [extrasOf(chosen), sparesOf(chosen)];
  const pathOf = (path: string): string => path;
  const unit = settings.show.system === 'inches' ? ('in' as const) : ('mm' as const);
  const exported: Exported = exportedOf(project, { planned });
  const tables = tablesOf(exported);
  const csv = (id: string): Row[] => {
    const table = tables.find((one) => one.id === id);
    if (!table) throw new Error(`no list ${id}`);
    return csvRows(csvOf(table, exported.lengths));
  };
  const book = read(await workbookOf(tables, exported), { cellFormula: true });
  const lists = (
    json(exportJson({ chosen, exported, findings: [] }, tables.map(({ id }) => id) as never, pathOf)) as {
      lists: ListJson[];
    }
  ).lists;
  const list = (id: string): ListJson => {
    const found = lists.find((one) => one.list === id);
    if (!found) throw new Error(`no list ${id}`);
    return found;
  };
  const same = (what: string, found: Sums, wanted: Sums): void =>
    expect([text, what, found.sorted]).toEqual([text, what, wanted.sorted]);

  // Pieces and lengths.
  const pieces = piecesOf(project);
  const cuts = json(cutsJson(chosen, units, true, [], pathOf)) as {
    totals: ListJson['rows'];
    units: { count: number; parts: ListJson['rows'] }[];
  };
  same('cuts as CSV', piecesInCutsCsv(csvRows(cutsCsv([{ chosen, units, extras, spares }]))), pieces);
  same('cuts as JSON', piecesInJson(cuts.totals), pieces);
  for (const id of ['cut-list', 'parts'] as const) {
    const sheet = sheetRows(book, id === 'cut-list' ? 'Cut list' : 'Parts');
    same(`${id} as CSV`, piecesInList(csv(id), unit), pieces);
    same(`${id} as JSON`, piecesInJson(list(id).rows), pieces);
    same(`${id} in a workbook`, piecesInList(sheet.rows, unit), pieces);
    expect([text, BigInt(list(id).totals.quantity as number)]).toEqual([text, pieces.total]);
    if (pieces.total > 0n) expect([text, sheet.under.pieces]).toEqual([text, String(pieces.total)]);
    met.lists += 3;
  }
  const all = together(pieces).total;
  const cutList = sheetRows(book, 'Cut list');
  expect([text, fromJson(list('cut-list').totals.together as LengthJson)]).toEqual([text, all]);
  expect([text, csv('cut-list').reduce((sum, row) => sum + lengthIn(row, 'all pieces', unit), 0n)]).toEqual([
    text,
    all,
  ]);
  if (all > 0n)
    expect([text, exactly(cutList.under[`all pieces ${unit}`] ?? '', unit === 'mm' ? perMm : 1_016_000n)]).toEqual([
      text,
      all,
    ]);
  met.pieces += pieces.total;

  // The plan.
  const plan = json(planJson({}, { planned, settings, findings: [] }, pathOf)) as PlanJson;
  const saw = {
    kerf: fromJson(plan.saw.kerf),
    trim: fromJson(plan.saw.trim),
    keepFrom: fromJson(plan.saw.keepOffcutsFrom),
  };
  const figures = figuresOf(csvRows(planCsv([{ title: settings.title, settings, planned }])), saw);
  expect([text, plan.verified]).toEqual([text, planned.plan !== undefined]);
  const cut = new Sums();
  for (const [key, count] of pieces.by) cut.add(key, count);
  for (const { material, length, quantity } of plan.uncut) {
    cut.add(`${material} ${fromJson(length)}`, -BigInt(quantity));
    met.uncut++;
  }
  same('what the plan cuts', figures.pieces, cut);
  const inJson = (of: (total: TotalsJson) => bigint): Sums => {
    const sums = new Sums();
    for (const total of plan.totals) sums.add(total.material, of(total));
    return sums;
  };
  const byMaterial = (of: Sums): Sums => {
    const sums = new Sums();
    for (const [key, count] of of.by) sums.add(key.split(' ')[0] as string, count);
    return sums;
  };
  same(
    'boards',
    byMaterial(figures.boards),
    inJson((total) => BigInt(total.boardCount)),
  );
  same(
    'pieces of the plan',
    byMaterial(figures.pieces),
    inJson((total) => BigInt(total.pieceCount)),
  );
  same(
    'length of boards',
    figures.stock,
    inJson((total) => fromJson(total.stockLength)),
  );
  same(
    'length used',
    figures.used,
    inJson((total) => fromJson(total.usedLength)),
  );
  same(
    'kerf',
    figures.kerf,
    inJson((total) => fromJson(total.kerfLoss)),
  );
  same(
    'trimmed ends',
    figures.trim,
    inJson((total) => fromJson(total.trimLoss)),
  );
  same(
    'kept offcuts',
    figures.kept,
    inJson((total) => fromJson(total.keptLength)),
  );
  same(
    'waste',
    figures.waste,
    inJson((total) => fromJson(total.waste)),
  );
  // All of a board is something.
  const parts = new Sums();
  for (const own of [figures.used, figures.kerf, figures.trim, figures.kept, figures.waste])
    for (const [material, length] of own.by) parts.add(material, length);
  same('parts of the boards', parts, figures.stock);

  // Boards and money: of the plan, by the prices of the stock.
  const price = (key: string): bigint => {
    const [material, length, from] = key.split(' ');
    const own = plan.stock.find(
      (one) => one.material === material && one.length.ticks === Number(length) && one.offcut === (from === 'rack'),
    );
    return BigInt(own?.price?.hundredths ?? 0);
  };
  const money = new Sums();
  for (const [key, count] of figures.boards.by) money.add(key.split(' ')[0] as string, price(key) * count);
  same(
    'money',
    inJson((total) => BigInt(total.price?.hundredths ?? 0)),
    money,
  );
  const boardsIn = (rows: readonly Row[], each: (row: Row) => bigint): { boards: Sums; money: Sums } => {
    const found = { boards: new Sums(), money: new Sums() };
    for (const row of rows) {
      const count = BigInt(cell(row, 'boards'));
      found.boards.add(`${cell(row, 'material')} ${lengthIn(row, 'length', unit)} ${cell(row, 'from')}`, count);
      found.money.add(cell(row, 'material'), each(row));
    }
    return found;
  };
  const sheet = sheetRows(book, 'Boards and rods');
  const cents = (amount: string): bigint => exactly(amount || '0', 100n);
  const asCsv = boardsIn(csv('boards'), (row) => cents(cell(row, 'price')));
  const inBook = boardsIn(sheet.rows, (row) => cents(row['price, EUR'] ?? ''));
  for (const [where, found] of [
    ['CSV', asCsv],
    ['a workbook', inBook],
  ] as const) {
    same(`boards in ${where}`, found.boards, figures.boards);
    same(`money in ${where}`, found.money, money);
  }
  const { rows, totals } = list('boards');
  expect([
    text,
    BigInt(totals.quantity as number),
    BigInt((totals.price as { hundredths: number }).hundredths),
  ]).toEqual([text, figures.boards.total, money.total]);
  expect([text, rows.reduce((sum, one) => sum + BigInt(one.quantity as number), 0n)]).toEqual([
    text,
    figures.boards.total,
  ]);
  if (sheet.rows.length > 0) expect([text, sheet.under.boards]).toEqual([text, String(figures.boards.total)]);
  // And the plan of the export.
  const planned2 = new Sums();
  for (const row of csv('cutting-plan'))
    if (!cell(row, 'for').endsWith(', from what is left over'))
      planned2.add(`${cell(row, 'material')} ${lengthIn(row, 'piece', unit)}`, BigInt(cell(row, 'pieces')));
  same('cutting plan of an export', planned2, figures.pieces);
  met.sparesCut += figures.spares.total;
  met.boards += figures.boards.total;
  met.money += money.total;
  met.kept += figures.kept.total;
}

describe('lists of projects at random, read back', () => {
  it('agree with one another and with what they are of, to the tick and the hundredth', async () => {
    let times = 0;
    await fc.assert(
      fc.asyncProperty(randomProjects, async ({ text }) => {
        const project = projectWith(text);
        // The best plan takes its time, and is as much a plan.
        const planner = times++ % 8 === 0 ? rememberingPlanner() : first;
        await compare(text, project, planProject(project, planner));
      }),
      runs(25),
    );
    expect(met.pieces).toBeGreaterThan(300n * BigInt(longer));
    expect(met.boards).toBeGreaterThan(100n * BigInt(longer));
    expect(met.money).toBeGreaterThan(100_000n * BigInt(longer));
    expect(met.spares).toBeGreaterThan(10 * longer);
    expect(met.sparesCut).toBeGreaterThan(0n);
    expect(met.kept).toBeGreaterThan(0n);
  });
});
