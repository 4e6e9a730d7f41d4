/** The workbook, worked out by LibreOffice: what its formulas come to is what the takeoff and the plan say. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { afterAll, describe, expect, it } from 'vitest';
import { showInches } from '../../server/model/show.ts';
import { lengthsAs, tableOf } from '../../server/sheets/export/table.ts';
import { workbookOf } from '../../server/sheets/export/xlsx.ts';
import { folderWith, root, storypole } from '../cli/command.ts';
import { formulas } from '../sheets/export/exports.ts';
import { office } from './installed.ts';

const folder = mkdtempSync(join(tmpdir(), 'storypole-office-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Works everything out on opening, whatever values stand there. */
const always = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`;

/** Every sheet as rows of texts, as LibreOffice has them: unformatted, so that nothing is rounded. */
function workedOut(xlsx: Uint8Array, sheets: readonly string[]): Map<string, string[][]> {
  mkdirSync(join(folder, 'profile/user'), { recursive: true });
  writeFileSync(join(folder, 'profile/user/registrymodifications.xcu'), always);
  writeFileSync(join(folder, 'a.xlsx'), xlsx);
  // Separator, quotation marks, UTF-8, from the first line; texts in quotation marks, no formulas, as shown: no; all sheets.
  const filter = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,true,false,false,false,false,-1';
  const run = spawnSync(
    office.program,
    [
      `-env:UserInstallation=file://${join(folder, 'profile')}`,
      '--headless',
      '--convert-to',
      filter,
      '--outdir',
      folder,
      join(folder, 'a.xlsx'),
    ],
    { encoding: 'utf8', timeout: 110_000 },
  );
  expect([run.status, run.stderr.includes('Error')]).toEqual([0, false]);
  return new Map(
    sheets.map((name) => [
      name,
      parse(readFileSync(join(folder, `a-${name}.csv`), 'utf8'), { relax_column_count: true }) as string[][],
    ]),
  );
}

/** The same with every value of a formula taken out of it: what comes out has been worked out. */
function withoutValues(xlsx: Uint8Array): Uint8Array {
  const files = unzipSync(xlsx);
  let taken = 0;
  for (const [name, bytes] of Object.entries(files)) {
    if (!name.startsWith('xl/worksheets/')) continue;
    const text = strFromU8(bytes).replace(/<\/f><v>[^<]*<\/v>/g, () => {
      taken++;
      return '</f><v>-1</v>';
    });
    files[name] = strToU8(text);
  }
  expect(taken).toBeGreaterThan(50);
  return zipSync(files);
}

describe.skipIf(office.missing)(`the workbook in ${office.title}`, () => {
  it('comes to the counts and prices of takeoff and plan', () => {
    const out = join(folderWith({}), 'a.xlsx');
    const lane = 'examples/quarry-lane';
    expect(storypole(['export', lane, '--out', out], root).status).toBe(0);
    const sheets = workedOut(withoutValues(readFileSync(out)), ['Bill of materials', 'Boards and rods', 'Cut list']);
    const column = (sheet: string, title: string): string[] => {
      const [titles = [], ...rows] = sheets.get(sheet) ?? [];
      expect(titles).toContain(title);
      return rows.map((row) => row[titles.indexOf(title)] ?? '');
    };
    const project = (command: string) =>
      JSON.parse(storypole([command, lane, '--format', 'json'], root).out).projects[0];
    const takeoff = project('takeoff');
    expect(Number(column('Bill of materials', 'price, EUR').at(-1))).toBe(takeoff.price.hundredths / 100);
    const packs = takeoff.hardware.map((line: { packs: number }) => line.packs);
    expect(column('Bill of materials', 'packs').slice(0, packs.length).map(Number)).toEqual(packs);
    expect(Number(column('Bill of materials', 'packs').at(-1))).toBe(packs.reduce((a: number, b: number) => a + b, 0));
    const { totals } = project('plan');
    const price = totals.reduce((sum: number, one: { price: { hundredths: number } }) => sum + one.price.hundredths, 0);
    expect(Number(column('Boards and rods', 'price, EUR').at(-1))).toBe(price / 100);
    const cuts: { quantity: number; length: { mm: number } }[] = project('cuts').totals;
    expect(Number(column('Cut list', 'pieces').at(-1))).toBe(cuts.reduce((sum, { quantity }) => sum + quantity, 0));
    expect(Number(column('Cut list', 'all pieces, in').at(-1))).toBeCloseTo(
      cuts.reduce((sum, { quantity, length }) => sum + quantity * length.mm, 0) / 25.4,
      6,
    );
  });

  it('works nothing out that a file says', async () => {
    const columns = [{ id: 'a', title: 'a', type: 'text' }] as const;
    const lengths = lengthsAs(undefined, showInches);
    const table = tableOf(
      'x',
      'Texts',
      columns,
      formulas.map((a) => ({ a })),
    );
    const rows = workedOut(await workbookOf([table], { lengths, currency: undefined }), ['Texts']).get('Texts');
    const plain = (text: string): string => text.replaceAll(/\r\n?/g, '\n');
    expect(rows?.slice(1).map(([cell = '']) => plain(cell))).toEqual(formulas.map(plain));
  });
});
