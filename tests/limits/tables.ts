/** Limits of tables from site, of plans, of other files that the terminal reads, and of what is written. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { read } from '@e965/xlsx';
import { strToU8, zipSync } from 'fflate';
import { afterAll, describe, expect } from 'vitest';
import { readBaseline } from '../../server/cli/ci/baseline.ts';
import { lengthsAsked } from '../../server/cli/plan-csv.ts';
import { verifyFile } from '../../server/cli/plan-verify.ts';
import { revisionOf } from '../../server/cli/revisions.ts';
import { flawsOf } from '../../server/cutting/request.ts';
import { readCsv } from '../../server/language/survey-import/csv.ts';
import { readXlsx } from '../../server/language/survey-import/xlsx.ts';
import { limits } from '../../server/model/limits.ts';
import { fitting } from '../../server/sheets/compare/text.ts';
import { tooManyRows, workbookOf } from '../../server/sheets/export/xlsx.ts';
import { closets, importInto } from '../language/survey-import/importing.ts';
import { many, projectOf, reaches } from './reach.ts';

const folder = mkdtempSync(join(tmpdir(), 'storypole-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A file of so many bytes that takes no room on the disk. */
function sparse(name: string, size: number): string {
  const path = join(folder, name);
  writeFileSync(path, '');
  truncateSync(path, size);
  return path;
}

const csv = (text: string) => readCsv(strToU8(text), 'a.csv');
const why = (read: object): string => ('unreadable' in read ? String(read.unreadable) : '');

/** A workbook with these sheets, as XML. */
function workbook(sheets: readonly string[]): Uint8Array {
  const list = sheets.map((_, i) => `<sheet name="S${i}" sheetId="${i + 1}" r:id="r${i}"/>`).join('');
  const links = sheets.map((_, i) => `<Relationship Id="r${i}" Target="worksheets/s${i}.xml"/>`).join('');
  return zipSync({
    'xl/workbook.xml': strToU8(`<workbook><sheets>${list}</sheets></workbook>`),
    'xl/_rels/workbook.xml.rels': strToU8(`<Relationships>${links}</Relationships>`),
    ...Object.fromEntries(sheets.map((xml, i) => [`xl/worksheets/s${i}.xml`, strToU8(xml)])),
  });
}

function sheetOf(xml: string): object {
  const book = readXlsx(workbook([xml]), 'a.xlsx');
  return 'unreadable' in book ? book : book.sheet('S0');
}

const rowsXml = (count: number): string => `<worksheet><sheetData>${'<row/>'.repeat(count)}</sheetData></worksheet>`;

describe('tables, plans and what is written', () => {
  reaches('largestTable', (most) => {
    const large = (size: number): Uint8Array => new Uint8Array(size).fill(10);
    expect(why(readXlsx(large(most), 'a.xlsx'))).not.toContain('are the most');
    for (const read of [readCsv, readXlsx])
      expect(why(read(large(most + 1), 'a'))).toBe(
        'a has 64.1 MB; 64 MB are the most that is read of such a file. Leave the survey in it and nothing else.',
      );
    expect(() => readBaseline(sparse('known.json', most + 1), folder)).toThrow(
      'known.json has 64.1 MB; 64 MB are the most that is read of such a file.',
    );
    expect(() => lengthsAsked(sparse('list.csv', most + 1), 'list.csv', {} as never)).toThrow(
      'list.csv has 64.1 MB; 64 MB are the most that is read of such a file.',
    );
  });

  reaches('largestSheet', (most) => {
    // Packed, equal bytes take a thousandth. The directory of the file tells the size before anything is unpacked.
    const packed = workbook([`<worksheet/>${' '.repeat(1000)}`]);
    const honest = Uint8Array.from(packed);
    expect(why(sheetOf('<worksheet/>'))).toBe('');
    const view = new DataView(honest.buffer);
    let changed = 0;
    for (let i = 0; i + 4 < honest.length; i++)
      if (view.getUint32(i, true) === 0x02014b50 && view.getUint32(i + 24, true) === 1012) {
        view.setUint32(i + 24, most + 1, true);
        changed++;
      }
    expect(changed).toBe(1);
    const book = readXlsx(honest, 'a.xlsx');
    expect('unreadable' in book ? '' : why(book.sheet('S0'))).toContain(
      'a part of it takes 256.1 MB unpacked, and 256 MB are the most that is read',
    );
    // One that says it is small, and is not, is unpacked no further than it says.
    const lying = workbook([`<worksheet>${'<!-- -->'.repeat(1_000_000)}</worksheet>`]);
    const lie = new DataView(lying.buffer);
    for (let i = 0; i + 4 < lying.length; i++)
      if (lie.getUint32(i, true) === 0x02014b50 && lie.getUint32(i + 24, true) > 1_000_000)
        lie.setUint32(i + 24, 100, true);
    const small = readXlsx(lying, 'a.xlsx');
    expect('unreadable' in small ? small : small.sheet('S0')).toBeDefined();
  });

  reaches('mostRows', (most) => {
    // The headings are a row beside them.
    expect(why(csv('a\n'.repeat(most + 1)))).toBe('');
    expect(why(csv('a\n'.repeat(most + 2)))).toContain('more than 250,000 rows');
    expect(why(sheetOf(rowsXml(most + 1)))).toBe('');
    expect(why(sheetOf(rowsXml(most + 2)))).toContain('more than 250,000 rows');
  });

  reaches('mostColumns', (most) => {
    const cell = (column: string): string =>
      `<worksheet><sheetData><row r="1"><c r="${column}1"><v>1</v></c></row></sheetData></worksheet>`;
    const cells = (column: string): number =>
      (sheetOf(cell(column)) as { rows: { cells: unknown[] }[] }).rows[0]?.cells.length ?? 0;
    // SF is column 500, SG column 501.
    expect([cells('SF'), cells('SG'), cells('XFDXFDXFD')]).toEqual([most, 0, 0]);
    // Just as many are taken, empty ones beyond them too; what holds anything further right stands in the way.
    const line = (columns: number, first: string, last: string): string =>
      `${first}${','.repeat(columns - first.split(',').length)}${last}\n`;
    const table = (columns: number): string =>
      `${line(columns, 'unit,wall,length', 'note')}${line(columns, 'A-101,back,36in', 'dry wall')}`;
    const said = (text: string): string[] => {
      const made = importInto(projectOf(closets), text);
      if (made.kind === 'imported') return [];
      expect(made.problemCount).toBe(made.problems.length);
      return made.problems.map(({ cell, found, message }) => `${cell} "${found}" ${message}`);
    };
    expect(said(table(most))).toEqual([]);
    expect(said(`${line(most + 5, 'unit,wall,length', ' ')}A-101,back,36in\n`)).toEqual([]);
    expect(said(table(most + 1))).toEqual([
      'SG1 "note" 2 cells in 2 rows, the first of them row 1, stand right of column SF, the 500th and last that is looked at. Move left what belongs to the survey, and delete the rest.',
    ]);
    expect(said(`unit,wall,length\n${line(most + 3, 'A-101,back,36in', 'x')}`)).toEqual([
      'SI2 "x" 1 cell in row 2 stands right of column SF, the 500th and last that is looked at. Move left what belongs to the survey, and delete the rest.',
    ]);
    // Where nothing else can be told of the table, that is.
    expect(said(`${line(most + 1, '', 'unit')}${line(most + 1, '', 'A-101')}`)[0]).toMatch(
      /^SG1 "unit" 2 cells in 2 rows/,
    );
    // A workbook says the same.
    const wide = sheetOf(cell('SG'));
    expect(wide).toMatchObject({ beyond: { row: 1, column: most, found: '1', cells: 1, rows: 1 } });
  });

  reaches('mostSheets', (most) => {
    const of = (count: number): string =>
      why(readXlsx(workbook(Array.from({ length: count }, () => '<worksheet/>')), 'a.xlsx'));
    expect(of(most)).toBe('');
    expect(of(most + 1)).toBe('a.xlsx has 101 sheets, and 100 are taken on. Save the one with the survey by itself.');
  });

  reaches('mostCells', (most) => {
    const merged = (stretches: number): string =>
      `<worksheet><sheetData>${many(1000, (i) => `<row r="${i + 1}"/>`)}</sheetData><mergeCells>${'<mergeCell ref="A1:SF1000"/>'.repeat(stretches)}</mergeCells></worksheet>`;
    // Each is half a million cells.
    expect(why(sheetOf(merged(most / 500_000)))).toBe('');
    expect(why(sheetOf(merged(most / 500_000 + 1)))).toContain('more than 5,000,000 cells');
    const row = `${','.repeat(499)}\n`;
    expect(why(csv(row.repeat(most / 500 + 1)))).toContain('more than 5,000,000 cells');
  });

  reaches('mostProblems', (most) => {
    const refused = (rows: number) => {
      const made = importInto(projectOf(closets), `unit,back\n${'A-101,wide\n'.repeat(rows)}`);
      return made.kind === 'refused' ? [made.problems.length, made.problemCount] : [];
    };
    expect(refused(most)).toEqual([most, most]);
    expect(refused(most + 1)).toEqual([most, most + 1]);
  });

  const request = (length: number, quantity: number) => ({
    saw: { kerf: 0, keepOffcutsFrom: 0 },
    pieces: [{ id: 'a', material: 'b', length, quantity }],
    spares: [],
    stock: [{ id: 's', material: 'b', length }],
    sets: [],
    worth: [],
  });

  reaches('largestSum', (most) => {
    expect(flawsOf(request(most / 1024, 1024) as never)).toEqual([]);
    expect(flawsOf(request(most / 1024, 1025) as never)).toContain('more is asked for than can be added up exactly');
  });

  reaches('mostRuns', (most) => {
    const sets = (quantity: number) =>
      flawsOf({ ...request(10, quantity), sets: [{ id: 'm', quantity, runs: [{ piece: 'a', count: 1 }] }] } as never);
    expect(sets(most).join()).not.toContain('written down one by one');
    expect(sets(most + 1).join()).toContain('written down one by one');
  });

  reaches('mostLengths', (most) => {
    const file = join(folder, 'lengths.csv');
    const asked = (rows: number): unknown => {
      writeFileSync(file, `kind,material,length,quantity\n${'part,b,10in,1\n'.repeat(rows - 1)}`);
      try {
        return lengthsAsked(file, 'lengths.csv', {} as never);
      } catch (error) {
        return (error as Error).message;
      }
    };
    expect(String(asked(most + 1))).toBe(
      'lengths.csv has 200,001 rows; 200,000 are the most that are planned at once. Write equal lengths as one row with a count.',
    );
    expect(String(asked(most))).not.toContain('planned at once');
  });

  reaches('largestRevision', (most) => {
    // One text at many places is one object to git, and as many texts to us.
    const size = limits.largestFile.most;
    const run = (words: readonly string[], input = Buffer.alloc(0)): string =>
      execFileSync('git', ['-C', folder, '-c', 'user.name=a', '-c', 'user.email=a@example.org', ...words], {
        input,
        encoding: 'utf8',
      }).trim();
    run(['init', '-q']);
    const blob = run(['hash-object', '-w', '--stdin'], Buffer.alloc(size, 10));
    const commit = (files: number): string => {
      run(['read-tree', '--empty']);
      for (let i = 0; i < files; i++) run(['update-index', '--add', '--cacheinfo', `100644,${blob},f${i}.closet`]);
      return run(['commit-tree', run(['write-tree']), '-m', 'a']);
    };
    expect(revisionOf({ top: folder }, commit(most / size)).paths).toHaveLength(most / size);
    const tooMany = commit(most / size + 1);
    expect(() => revisionOf({ top: folder }, tooMany)).toThrow(
      'have 272 MB together; 256 MB are the most that is read of one revision.',
    );
  });

  reaches('largestReport', (most) => {
    const said = (size: number): void => void verifyFile(sparse('report.json', size), { format: 'text' } as never);
    // As large as may be it is read to its end, and found to be no JSON.
    expect(() => said(most)).toThrow(/report\.json is no JSON/);
    expect(() => said(most + 1)).toThrow(/has 256\.1 MB; 256 MB are the most/);
  });

  reaches('mostSheetRows', async (most) => {
    const rows = (count: number): never[][] =>
      new Proxy([], { get: (target, key) => (key === 'length' ? count : Reflect.get(target, key)) });
    // Two are its heading and its totals.
    expect(tooManyRows({ title: 'List', rows: rows(most - 2) })).toBeUndefined();
    expect(tooManyRows({ title: 'List', rows: rows(most - 1) })).toBe(
      'The list "List" has 1,048,575 rows; beside its heading and its totals a sheet holds 1,048,574.',
    );
    await expect(
      workbookOf([{ title: 'List', columns: [], rows: rows(most - 1) } as never], {} as never),
    ).rejects.toThrow(RangeError);
  });
  reaches('mostCellText', async (most) => {
    const columns = [{ id: 'a', title: 'a', type: 'text' }] as const;
    const written = async (length: number): Promise<string> => {
      const texts = { id: 'x', title: 'Texts', columns, rows: [['x'.repeat(length)]] };
      const book = read(await workbookOf([texts], { lengths: 'inches', currency: undefined } as never));
      return String(book.Sheets.Texts?.A2?.v);
    };
    expect(await written(most)).toBe('x'.repeat(most));
    expect(await written(most + 1)).toBe(`${'x'.repeat(most - 1)}…`);
  });

  reaches('longestComment', (most) => {
    const block = (length: number): string => 'x'.repeat(length);
    expect(fitting([block(most)])).toBe(`${block(most)}\n`);
    expect(fitting(['first', block(most)])).toBe(
      'first\n\nWhat comes after (1 more part) would make this report too long for a comment.\n',
    );
  });
});
