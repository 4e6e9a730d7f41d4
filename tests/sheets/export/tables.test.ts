/** The lists of an export: whole, added up right, and the same as the cut list, the takeoff and the plan say. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { showInches } from '../../../server/model/show.ts';
import { inches, ticks } from '../../../server/model/ticks.ts';
import { columnsOf, listNames, tablesOf } from '../../../server/sheets/export/lists.ts';
import {
  type Cell,
  lengthsAs,
  lengthText,
  type Table,
  totalsOf,
  workedOut,
} from '../../../server/sheets/export/table.ts';
import { packsOf, priceOf, takeoffOf } from '../../../server/sheets/takeoff.ts';
import { exportedOf, laneExported, projectOf } from './exports.ts';

const { exported, planned } = laneExported();
const tables = new Map(tablesOf(exported).map((table) => [table.id, table]));

function table(name: string, of: ReadonlyMap<string, Table> = tables): Table {
  const found = of.get(name);
  if (!found) throw new Error(`no list ${name}`);
  return found;
}

function column({ columns, rows }: Table, id: string): Cell[] {
  const at = columns.findIndex((one) => one.id === id);
  expect(at).toBeGreaterThanOrEqual(0);
  return rows.map((row) => row[at]);
}

function total(of: Table, id: string): number | undefined {
  return totalsOf(of)[of.columns.findIndex((one) => one.id === id)];
}

describe('the lists of Quarry Lane', () => {
  it('are all there, under the columns that are published', () => {
    expect([...tables.keys()]).toEqual(listNames);
    for (const [name, { columns, rows }] of tables) {
      expect(columns).toBe(columnsOf[name as keyof typeof columnsOf]);
      expect(new Set(columns.map(({ id }) => id)).size).toBe(columns.length);
      for (const row of rows) expect(row.length).toBe(columns.length);
    }
  });

  it('have as many pieces together as part by part, and as the units', () => {
    const parts = exported.units.reduce(
      (sum, { count, resolved }) => sum + count * (resolved?.layout.parts.length ?? 0),
      0,
    );
    const loose = exported.extras.reduce((sum, { count }) => sum + count, 0);
    expect(loose).toBeGreaterThan(0);
    expect(total(table('cut-list'), 'quantity')).toBe(parts + loose);
    expect(total(table('parts'), 'quantity')).toBe(parts + loose);
    expect(total(table('units'), 'pieces')).toBe(parts);
    // And as long.
    const lengths = column(table('parts'), 'length').map(Number);
    // Spares, which are cut from what is left over, have none.
    const counts = column(table('parts'), 'quantity').map((count) => Number(count ?? 0));
    expect(total(table('cut-list'), 'together')).toBe(
      lengths.reduce((sum, length, i) => sum + length * (counts[i] ?? 0), 0),
    );
  });

  it('have the boards and the price of the plan, and cut every piece', () => {
    const totals = planned.plan?.totals ?? [];
    expect(totals.length).toBeGreaterThan(2);
    expect(total(table('boards'), 'price')).toBe(totals.reduce((sum, { price = 0 }) => sum + price, 0));
    expect(total(table('boards'), 'quantity')).toBe(totals.reduce((sum, { boardCount }) => sum + boardCount, 0));
    expect(total(table('cutting-plan'), 'quantity')).toBe(
      totals.reduce((sum, { pieceCount, spareCount = 0 }) => sum + pieceCount + spareCount, 0),
    );
  });

  it('have the hardware, the packs and the price of the takeoff', () => {
    const takeoff = takeoffOf(exported.units);
    const bill = table('bill-of-materials');
    const lines = takeoff.hardware.length;
    expect(column(bill, 'needed').slice(0, lines)).toEqual(takeoff.hardware.map(({ count }) => count));
    expect(column(bill, 'packs').slice(0, lines)).toEqual(takeoff.hardware.map((line) => packsOf(line).packs));
    expect(total(bill, 'price')).toBe(priceOf(takeoff));
    expect(column(bill, 'name').slice(lines)).toEqual(takeoff.screws.map(({ size }) => size));
  });

  it('take off by unit and by floor as much as in all', () => {
    const { rows, columns } = table('takeoff');
    const at = (id: string): number => columns.findIndex((one) => one.id === id);
    const sums = new Map<string, Map<Cell, number>>();
    for (const row of rows) {
      const own = sums.get(String(row[at('by')])) ?? new Map<Cell, number>();
      own.set(row[at('name')], (own.get(row[at('name')]) ?? 0) + Number(row[at('quantity')]));
      sums.set(String(row[at('by')]), own);
    }
    expect(sums.get('project')?.size).toBeGreaterThan(10);
    expect(sums.get('unit')).toEqual(sums.get('project'));
    expect(sums.get('floor')).toEqual(sums.get('project'));
  });

  it('leave out boards and the plan of a part, and say so', () => {
    const part = tablesOf(exportedOf(laneExported().project, { part: 'floor 1' }));
    expect(part.map(({ id }) => id)).toEqual(listNames.filter((name) => name !== 'boards' && name !== 'cutting-plan'));
    expect(part[0]?.rows).toContainEqual([
      'boards',
      'A part of a project has no plan of its own: boards are shared by the whole.',
    ]);
  });

  it('take spare pieces by line, before packs', () => {
    const bill = table('bill-of-materials', new Map(tablesOf({ ...exported, spare: 500 }).map((one) => [one.id, one])));
    const line = bill.rows[column(bill, 'name').indexOf('shelf-pin')] ?? [];
    // 456 pins, 22.8 and so 23 more, 479, in packs of 100, each 6.20.
    const ids = ['needed', 'percent', 'spare', 'quantity', 'packOf', 'packs', 'each', 'price'];
    expect(ids.map((id) => line[bill.columns.findIndex((one) => one.id === id)])).toEqual([
      456, 500, 23, 479, 100, 5, 620, 3100,
    ]);
  });
});

it('what is worked out of a share is the least whole number that is no less, whatever the share', () => {
  fc.assert(
    fc.property(fc.nat(1_000_000), fc.nat(10_000), (of, percent) => {
      const made = workedOut({ kind: 'share', of: 'a', percent: 'b' }, (id) => (id === 'a' ? of : percent)) ?? -1;
      expect(BigInt(made) * 10_000n).toBeGreaterThanOrEqual(BigInt(of) * BigInt(percent));
      expect((BigInt(made) - 1n) * 10_000n).toBeLessThan(BigInt(of) * BigInt(percent) || 1n);
    }),
  );
});

it('what is not known is not worked out', () => {
  expect(workedOut({ kind: 'packs', of: 'a', by: 'b' }, (id) => (id === 'a' ? 3 : undefined))).toBeUndefined();
  expect(workedOut({ kind: 'product', of: ['a', 'b'] }, () => undefined)).toBeUndefined();
});

it('lengths are shown as asked, and what is finer than a tape tells is marked', () => {
  const length = ticks(inches(93) + inches(3 / 4));
  expect(lengthText(length, lengthsAs(undefined, showInches))).toBe('93-3/4in');
  expect(lengthText(length, lengthsAs('feet', showInches))).toBe(`7'-9 3/4"`);
  // 93.75 in are 2381.25 mm.
  expect(lengthText(length, lengthsAs('millimetres', showInches))).toBe('~2381.3mm');
});

it('a project of nothing makes lists of nothing, and one with mistakes makes what can be made', () => {
  for (const text of ['', 'unit a nothing-known\nunit b', 'template t {\n wall back { length'] as const) {
    const made = tablesOf(exportedOf(projectOf(text)));
    expect(made.length).toBeGreaterThan(6);
    for (const { columns, rows } of made) for (const row of rows) expect(row.length).toBe(columns.length);
  }
});
