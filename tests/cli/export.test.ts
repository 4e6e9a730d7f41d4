/** `storypole export`, as a person runs it. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { read } from '@e965/xlsx';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { validator } from './closed-schema.ts';
import { folderWith, root, storypole } from './command.ts';
import { clean, wrong } from './texts.ts';

const lane = 'examples/quarry-lane';
const validate = validator(JSON.parse(storypole(['schema']).out));

interface Document {
  readonly projects: readonly {
    readonly part: string | null;
    readonly spare: number;
    readonly lists: readonly {
      readonly list: string;
      readonly rows: readonly Record<string, unknown>[];
      readonly totals: Record<string, { readonly hundredths: number }>;
    }[];
  }[];
}

function document(file: string): Document {
  const made = JSON.parse(readFileSync(file, 'utf8'));
  expect(validate(made) ? [] : validate.errors).toEqual([]);
  return made;
}

function list(made: Document, name: string): Document['projects'][number]['lists'][number] {
  const found = made.projects[0]?.lists.find((one) => one.list === name);
  if (!found) throw new Error(`no list ${name}`);
  return found;
}

describe('export', () => {
  it('writes each kind into a folder, and again over what it wrote', () => {
    const out = join(folderWith({}), 'out');
    const words = [
      'export',
      lane,
      '--out',
      out,
      '--xlsx',
      '--csv',
      '--json',
      '--html',
      '--spare',
      '5%',
      '--date',
      '2026-11-28',
    ];
    const first = storypole(words, root);
    expect([first.status, first.err]).toEqual([0, '']);
    expect(first.out).toMatch(/^Made 14 files: /);
    const names = readdirSync(out).sort();
    expect(names).toContain('Quarry-Lane-bill-of-materials.csv');
    expect(names.filter((name) => !name.endsWith('.csv'))).toEqual([
      'Quarry-Lane.html',
      'Quarry-Lane.json',
      'Quarry-Lane.xlsx',
    ]);
    const before = readFileSync(join(out, 'Quarry-Lane.json'), 'utf8');
    expect(storypole(words, root).status).toBe(0);
    expect(readFileSync(join(out, 'Quarry-Lane.json'), 'utf8')).toBe(before);
    expect(readdirSync(out).sort()).toEqual(names);

    // All of them say what the other commands say.
    const made = document(join(out, 'Quarry-Lane.json'));
    const plan = JSON.parse(storypole(['plan', lane, '--format', 'json'], root).out).projects[0];
    const price = plan.totals.reduce(
      (sum: number, one: { price: { hundredths: number } }) => sum + one.price.hundredths,
      0,
    );
    expect(list(made, 'boards').totals.price?.hundredths).toBe(price);
    const takeoff = JSON.parse(storypole(['takeoff', lane, '--format', 'json'], root).out).projects[0];
    const bill = list(made, 'bill-of-materials');
    for (const { name, quantity } of takeoff.hardware)
      expect(bill.rows.find((row) => row.name === name)?.needed).toBe(quantity);
    const rows: Record<string, string>[] = parse(readFileSync(join(out, 'Quarry-Lane-bill-of-materials.csv'), 'utf8'), {
      columns: true,
    });
    expect(rows.map((row) => row.together)).toEqual(bill.rows.map((row) => String(row.quantity)));
    const sheet = read(readFileSync(join(out, 'Quarry-Lane.xlsx'))).Sheets['Boards and rods'] ?? {};
    const priced = Object.entries(sheet)
      .filter(([at]) => /^H\d+$/.test(at))
      .map(([, cell]) => cell.v);
    expect(priced.at(-1)).toBe(price / 100);
  });

  it('knows by the name of a file what to write', () => {
    const folder = folderWith({ 'a.closet': clean });
    expect(storypole(['export', '--out', 'lists.json', '--list', 'units,cut-list'], folder).status).toBe(0);
    expect(document(join(folder, 'lists.json')).projects[0]?.lists.map((one) => one.list)).toEqual([
      'units',
      'cut-list',
    ]);
    expect(storypole(['export', '--out', 'units.csv', '--list', 'units', '--byte-order-mark'], folder).status).toBe(0);
    expect(readFileSync(join(folder, 'units.csv'), 'utf8')).toMatch(/^\ufeffdone,unit,template/);
    for (const name of ['a.xlsx', 'a.html']) expect(storypole(['export', '--out', name], folder).status).toBe(0);
  });

  it('takes a floor or a unit, without the boards that all share', () => {
    const folder = folderWith({});
    const out = join(folder, 'a.json');
    expect(storypole(['export', lane, '--floor', '2', '--out', out, '--units', 'millimetres'], root).status).toBe(0);
    const made = document(out);
    expect(made.projects[0]?.part).toBe('floor 2');
    expect(list(made, 'units').rows.every((row) => row.floor === '2')).toBe(true);
    expect(list(made, 'units').rows.length).toBe(24);
    expect(made.projects[0]?.lists.map((one) => one.list)).not.toContain('boards');
    expect(JSON.stringify(list(made, 'cut-list').rows[0])).toMatch(/"text":"~?\d+([.]\d)?mm"/);
  });

  it.each([
    [
      ['--out', 'out'],
      'Say what is to be written into out: --xlsx, --csv, --json or --html; or name a file that ends so.',
    ],
    [['--out', 'a.csv'], 'A CSV file holds one list, and there are 11. Name one with --list (about, units,'],
    [['--out', 'a.csv', '--list', 'unit'], 'There is no list "unit"; did you mean "units"?'],
    [['--out', 'a.csv', '--xlsx'], 'a.csv is one csv file, and --xlsx was asked for, too. Name a folder as --out.'],
    [['--out', 'a.xlsx', '--unit', 'A-101-linnen'], 'There is no unit "A-101-linnen"; did you mean "A-101-linen"?'],
    [['--out', 'a.xlsx', '--floor', '9'], 'There is no floor "9", only 1.'],
    [['--out', 'a.xlsx', '--spare', 'five'], '--spare: "five" is not a share from 0% to 100%, such as 5% or 7.5%.'],
    [['--out', 'a.xlsx', '--spare', '101%'], '--spare: "101%" is not a share'],
    [['--out', 'a.xlsx', '--date', '2026-02-30'], '"2026-02-30" is no date.'],
    [['--out', 'a.closet'], 'Say what is to be written into a.closet'],
  ])('says what is wrong with %j', (words, said) => {
    const folder = folderWith({ 'a.closet': clean });
    const run = storypole(['export', ...words], folder);
    expect([run.status, run.out]).toEqual([2, '']);
    expect(run.err).toContain(said);
    expect(readdirSync(folder)).toEqual(['a.closet']);
  });

  it('leaves what somebody else made, unless told', () => {
    const folder = folderWith({ 'a.closet': clean, 'a.xlsx': 'mine' });
    const run = storypole(['export', '--out', 'a.xlsx'], folder);
    expect(run.status).toBe(2);
    expect(run.err).toContain(
      'a.xlsx is there and was not made by this command, so nothing was written. --replace writes over it',
    );
    expect(readFileSync(join(folder, 'a.xlsx'), 'utf8')).toBe('mine');
    expect(storypole(['export', '--out', 'a.xlsx', '--replace'], folder).status).toBe(0);
    // What it made itself it makes again without being told.
    expect(storypole(['export', '--out', 'a.xlsx'], folder).status).toBe(0);
  });

  it('exports a project with errors, and says so everywhere', () => {
    const folder = folderWith({ 'a.closet': wrong });
    const run = storypole(['export', '--out', 'out', '--json', '--html', '--xlsx'], folder);
    expect(run.status).toBe(1);
    expect(run.err).toContain('Do not cut by this yet: there is 1 error in the project');
    expect(list(document(join(folder, 'out/Quarry-Lane.json')), 'about').rows[1]?.what).toBe('do not cut by this yet');
    expect(readFileSync(join(folder, 'out/Quarry-Lane.html'), 'utf8')).toContain('Do not cut by this yet');
    expect(read(readFileSync(join(folder, 'out/Quarry-Lane.xlsx'))).Sheets.About?.A3?.v).toBe('do not cut by this yet');
  });

  it('puts several projects beside each other', () => {
    const folder = folderWith({
      'a/project.closet': clean,
      'b/project.closet': clean.replace('Quarry Lane', '../Mill Row'),
    });
    expect(storypole(['export', '--out', 'all.xlsx', 'a', 'b'], folder).err).toContain('There are 2 projects there');
    expect(storypole(['export', '--out', 'out', '--xlsx', 'a', 'b'], folder).status).toBe(0);
    expect(readdirSync(join(folder, 'out')).sort()).toEqual(['Mill-Row.xlsx', 'Quarry-Lane.xlsx']);
    expect(existsSync(join(folder, 'Mill Row.xlsx'))).toBe(false);
  });
});
