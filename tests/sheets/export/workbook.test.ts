/**
 * The workbook, read by another library than the one that writes it: its cells, what it works out, and that no text in
 * it is ever worked out. tests/clients/workbook.test.ts has LibreOffice work it out again.
 */
import { read, utils, type WorkBook, type WorkSheet } from '@e965/xlsx';
import { describe, expect, it } from 'vitest';
import type { Ticks } from '../../../server/model/ticks.ts';
import { lettersOf } from '../../../server/sheets/export/letters.ts';
import { tablesOf } from '../../../server/sheets/export/lists.ts';
import {
  hundredPercent,
  lengthNumber,
  lengthText,
  type Table,
  tableOf,
  totalsOf,
} from '../../../server/sheets/export/table.ts';
import { mostCharacters, workbookOf } from '../../../server/sheets/export/xlsx.ts';
import { formulas, laneExported } from './exports.ts';

const { exported } = laneExported({ spare: 750 });
const tables = tablesOf(exported);

async function book(of: readonly Table[]): Promise<WorkBook> {
  return read(await workbookOf(of, exported), { cellFormula: true, cellNF: true, cellStyles: true, bookFiles: true });
}

function rowsOf(sheet: WorkSheet | undefined): unknown[][] {
  return utils.sheet_to_json(sheet ?? {}, { header: 1, raw: true, blankrows: true, defval: undefined });
}

describe('the workbook of Quarry Lane', async () => {
  const made = await book(tables);

  it('has a sheet for each list, with its headings frozen, filtered and printed on each page', () => {
    expect(made.SheetNames).toEqual(tables.map(({ title }) => title));
    const files = (made as WorkBook & { readonly files: Record<string, { readonly content: Uint8Array | string }> })
      .files;
    const text = (name: string): string => Buffer.from(files[name]?.content ?? '').toString('utf8');
    for (const [i, title] of made.SheetNames.entries()) {
      expect(text(`xl/worksheets/sheet${i + 1}.xml`)).toMatch(/<pane [^>]*ySplit="1"[^>]*state="frozen"/);
      expect(made.Sheets[title]?.['!autofilter']?.ref).toMatch(/^A1:[A-Z]+\d+$/);
      expect(text('xl/workbook.xml')).toContain(`'${title}'!$1:$1`);
    }
    expect(text('xl/workbook.xml')).toContain('fullCalcOnLoad="1"');
  });

  it('holds each value as what it is, lengths with the exact text beside them', () => {
    for (const table of tables) {
      const [titles = [], ...rows] = rowsOf(made.Sheets[table.title]);
      for (const [i, { title, type, id }] of table.columns.entries()) {
        const number = type === 'length' ? `${title}, in` : type === 'money' ? `${title}, EUR` : title;
        const at = titles.indexOf(number);
        // What holds nothing is left out of a sheet.
        if (table.rows.length > 0 && table.rows.every((row) => row[i] === undefined))
          expect([id, at]).toEqual([id, -1]);
        else expect(at, `${table.id} ${id}`).toBeGreaterThanOrEqual(0);
        if (at < 0 || type === 'box') continue;
        for (const [k, row] of table.rows.entries()) {
          const cell = row[i];
          const found = rows[k]?.[at];
          if (cell === undefined) expect(found).toBeUndefined();
          else if (type === 'length') {
            expect(found).toBeCloseTo(lengthNumber(Number(cell), exported.lengths), 10);
            expect(rows[k]?.[at - 1]).toBe(lengthText(cell as Ticks, exported.lengths));
          } else if (type === 'money') expect(found).toBe(Number(cell) / 100);
          else if (type === 'percent') expect(found).toBe(Number(cell) / (hundredPercent / 100));
          else if (type === 'yes') expect(found).toBe(cell ? 'yes' : 'no');
          else expect(found).toBe(cell);
        }
      }
    }
  });

  it('adds up under the rows by a formula, with what it comes to beside it', () => {
    let formulasFound = 0;
    for (const table of tables) {
      const sheet = made.Sheets[table.title] ?? {};
      const titles = rowsOf(sheet)[0] ?? [];
      for (const [i, total] of totalsOf(table).entries()) {
        const column = table.columns[i];
        if (total === undefined || !column || table.rows.length === 0) continue;
        const at = titles.findIndex(
          (title) =>
            String(title).replace(/, (in|EUR)$/, '') === column.title &&
            (column.type !== 'length' || String(title).endsWith(', in')),
        );
        const letters = lettersOf(at);
        const last = table.rows.length + 1;
        const cell = sheet[`${letters}${last + 1}`];
        expect(cell?.f).toBe(`SUM(${letters}2:${letters}${last})`);
        const worth =
          column.type === 'money'
            ? total / 100
            : column.type === 'length'
              ? lengthNumber(total, exported.lengths)
              : total;
        expect(cell?.v).toBeCloseTo(worth, 8);
        formulasFound++;
      }
    }
    expect(formulasFound).toBeGreaterThan(8);
  });
});

it('works nothing out that a file says, and changes no letter of it', async () => {
  const table = tableOf(
    'x',
    'Texts',
    [{ id: 'a', title: '=1+1', type: 'text' }],
    formulas.map((a) => ({ a })),
  );
  const sheet = (await book([table])).Sheets.Texts ?? {};
  expect(sheet.A1?.f).toBeUndefined();
  for (const [i, text] of formulas.entries()) {
    const cell = sheet[`A${i + 2}`];
    const said = (of: unknown): string => String(of).replaceAll(/\r\n?/g, '\n');
    expect([cell?.f, cell?.t, said(cell?.v)]).toEqual([undefined, 's', said(text)]);
    // Where somebody edits it, it stays what it is.
    if (/^[=+\-@\t\r＝]/.test(text)) expect(cell?.z).toBe('@');
  }
});

it('shortens a text that no cell can hold, and refuses a list that no sheet can', async () => {
  const columns = [{ id: 'a', title: 'a', type: 'text' }] as const;
  const long = await book([tableOf('x', 'Texts', columns, [{ a: 'x'.repeat(40_000) }])]);
  expect(String(long.Sheets.Texts?.A2?.v).length).toBe(mostCharacters);
  const rows = Array.from({ length: 1_048_575 }, () => [undefined]);
  await expect(workbookOf([{ id: 'x', title: 'Many', columns, rows }], exported)).rejects.toThrow(
    'The list "Many" has 1,048,575 rows; beside its heading and its totals a sheet holds 1,048,574.',
  );
});

it('letters columns as a spreadsheet does', () => {
  expect([0, 25, 26, 51, 52, 701, 702].map(lettersOf)).toEqual(['A', 'Z', 'AA', 'AZ', 'BA', 'ZZ', 'AAA']);
});
