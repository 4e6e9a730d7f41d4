/** CSV of the lists, read back by another library: RFC 4180, lengths as text and number, text never a formula. */
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import type { Ticks } from '../../../server/model/ticks.ts';
import { csvOf } from '../../../server/sheets/export/csv.ts';
import { tablesOf } from '../../../server/sheets/export/lists.ts';
import { lengthNumber, lengthText, tableOf } from '../../../server/sheets/export/table.ts';
import { formulas, laneExported } from './exports.ts';

const { exported } = laneExported({ spare: 500 });

function readBack(text: string): Record<string, string>[] {
  return parse(text, { columns: true, record_delimiter: '\r\n' });
}

it('reads back as it was', () => {
  for (const table of tablesOf(exported)) {
    const rows = readBack([...csvOf(table, exported.lengths)].join(''));
    expect(rows.length).toBe(table.rows.length);
    for (const [k, row] of table.rows.entries()) {
      for (const [i, { title, type }] of table.columns.entries()) {
        const [cell, read] = [row[i], rows[k]?.[title]];
        if (cell === undefined || type === 'box') expect(read).toBe('');
        else if (type === 'length') {
          expect(read).toBe(lengthText(cell as Ticks, exported.lengths));
          expect(Number(rows[k]?.[`${title} in`])).toBe(lengthNumber(Number(cell), exported.lengths));
        } else if (type === 'money') expect(read).toBe((Number(cell) / 100).toFixed(2));
        else if (type === 'percent') expect(read).toBe(String(Number(cell) / 100));
        else if (type === 'yes') expect(read).toBe(cell ? 'yes' : 'no');
        else expect(read).toBe(String(cell));
      }
    }
  }
});

it('begins no cell with what a spreadsheet works out, and changes nothing else', () => {
  const columns = [{ id: 'a', title: 'a', type: 'text' }] as const;
  const text = [
    ...csvOf(
      tableOf(
        'x',
        'Texts',
        columns,
        formulas.map((a) => ({ a })),
      ),
      exported.lengths,
    ),
  ].join('');
  const rows = readBack(text);
  expect(rows.length).toBe(formulas.length);
  for (const [i, said] of formulas.entries()) {
    const cell = rows[i]?.a ?? '';
    expect(cell).not.toMatch(/^[=+\-@\t\r＝]/u);
    expect([said, `'${said}`]).toContain(cell);
  }
});
