/** `storypole packet`, `boards` and `labels`: files that are whole or not there, and sentences where they cannot be made. */
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { building } from '../bench/building.ts';
import { readPdf, textOf } from '../sheets/pdf/read.ts';
import { command, folderWith, storypole } from './command.ts';
import { clean, wrong } from './texts.ts';

const sentence = (text: string): object => ({ status: 2, out: '', err: `storypole: ${text}\n` });
const flats = `project "Quarry Lane" { kerf 1/8in }
board b { depth 12in; thickness 3/4in }
stock b { length 8ft unlimited }
template t { wall back { length 60in; height 96in } zone z on back { width fill; board b; shelf s { at 60in }; shelf u { at 30in } } }
unit one t { floor 1; flat A }
unit two t { floor 1; flat B }
unit three t { floor 2; flat C; count 3 }
`;

const loose = `project "Quarry Lane" { kerf 1/8in }
board b { depth 12in; thickness 3/4in }
stock b { length 8ft unlimited }
extra spare { board b; length 40in; count 3 }
`;

const readAt = (folder: string, name: string) => readPdf(readFileSync(join(folder, name)));

describe('storypole packet', () => {
  it('writes one file of all units, and the same bytes again', async () => {
    const folder = folderWith({ 'a.closet': flats });
    const words = ['packet', '--out', 'all.pdf', '--date', '2026-03-14'];
    expect(storypole(words, folder)).toEqual({ status: 0, out: 'Made 3 install packets in all.pdf.\n', err: '' });
    const first = readFileSync(join(folder, 'all.pdf'));
    expect(storypole(words, folder).status).toBe(0);
    expect(Buffer.compare(first, readFileSync(join(folder, 'all.pdf')))).toBe(0);
    const { outline, info, pages } = await readAt(folder, 'all.pdf');
    expect(outline.map(({ title }) => title)).toEqual([
      'Unit one (t): floor 1, flat A',
      'Unit two (t): floor 1, flat B',
      'Unit three (t): floor 2, flat C, 3 alike, all counted below',
    ]);
    expect(info).toMatchObject({ Title: 'Install packets, Quarry Lane', Producer: 'Storypole' });
    expect(textOf(pages[0] as (typeof pages)[number])).toContain('2026-03-14');
    expect(readdirSync(folder).sort()).toEqual(['a.closet', 'all.pdf']);
  });

  it('takes its day from SOURCE_DATE_EPOCH (reproducible-builds.org), and refuses what is none', async () => {
    const folder = folderWith({ 'a.closet': flats });
    const words = ['packet', '--unit', 'one', '--out', 'one.pdf'];
    expect(storypole(words, folder, { SOURCE_DATE_EPOCH: '1000000000' }).status).toBe(0);
    expect((await readAt(folder, 'one.pdf')).info).toMatchObject({ CreationDate: 'D:20010909000000Z' });
    expect(storypole([...words, '--date', '2026-02-30'], folder).status).toBe(2);
  });

  it('writes a file for each unit of a floor', async () => {
    const folder = folderWith({ 'a.closet': flats });
    const run = storypole(['packet', '--floor', '1', '--each', '--out', 'packets', '--paper', 'letter'], folder);
    expect(run).toEqual({ status: 0, out: 'Made 2 install packets in packets.\n', err: '' });
    expect(readdirSync(join(folder, 'packets')).sort()).toEqual(['one.pdf', 'two.pdf']);
    const { pages } = await readAt(folder, 'packets/one.pdf');
    expect(pages[0]?.box.slice(2)).toEqual([612, 792]);
    expect(textOf(pages[0] as (typeof pages)[number])).not.toContain('of the file');
  });

  it('counts what there are several of, and says which boards each comes from', async () => {
    const folder = folderWith({ 'a.closet': flats });
    storypole(['packet', '--unit', 'three', '--out', 'three.pdf'], folder);
    const { pages } = await readAt(folder, 'three.pdf');
    const all = pages.map(textOf).join(' ').replaceAll(/\s+/g, ' ');
    expect(all).toContain('There are 3 of this unit');
    expect(all).toMatch(/z\.s boards \d+ \(piece 1\), \d+ \(piece 1\), \d+ \(piece 1\)/);
  });

  it('says plainly that there is no stock', async () => {
    const folder = folderWith({ 'a.closet': flats.replace(/stock.*\n/, '') });
    storypole(['packet', '--unit', 'one', '--out', 'one.pdf'], folder);
    const all = (await readAt(folder, 'one.pdf')).pages.map(textOf).join(' ');
    expect(all).toContain('No stock is declared of b, so nothing says which boards these parts come from.');
  });

  it('is made of a project with errors, tells so on every page and ends with 1', async () => {
    const folder = folderWith({ 'a.closet': wrong });
    const run = storypole(['packet', '--out', 'all.pdf'], folder);
    expect([run.status, run.err]).toEqual([1, expect.stringContaining('Do not cut by this yet')]);
    const { pages } = await readAt(folder, 'all.pdf');
    for (const page of pages) expect(textOf(page)).toMatch(/DO NOT CUT BY THIS SHEET|ERRORS ELSEWHERE IN THIS PROJECT/);
  });

  it('writes over what it made itself, and over nothing else unless told to', () => {
    const folder = folderWith({ 'a.closet': clean, 'mine.pdf': '%PDF-1.4 mine' });
    const words = ['packet', '--out', 'mine.pdf'];
    const run = storypole(words, folder);
    expect([run.status, run.out, run.err]).toEqual([
      2,
      '',
      expect.stringContaining('mine.pdf is there and was not made by'),
    ]);
    expect(readFileSync(join(folder, 'mine.pdf'), 'utf8')).toBe('%PDF-1.4 mine');
    expect(storypole([...words, '--replace'], folder).status).toBe(0);
    expect(storypole(words, folder).status).toBe(0);
    writeFileSync(join(folder, 'two.closet'), clean);
    expect(storypole(['packet', '--out', 'a.closet', '--replace'], folder).status).toBe(2);
  });

  it('says in one sentence what cannot be', () => {
    const folder = folderWith({ 'a.closet': flats, 'b/b.closet': 'project "Other" {}' });
    expect(storypole(['packet', 'a.closet', '--unit', 'onee', '--out', 'x.pdf'], folder)).toEqual(
      sentence('There is no unit "onee"; did you mean "one"?'),
    );
    expect(storypole(['packet', 'a.closet', '--floor', '7', '--out', 'x.pdf'], folder)).toEqual(
      sentence('There is no floor "7", only 1, 2.'),
    );
    expect(storypole(['packet', 'a.closet', '--unit', 'one', '--floor', '2', '--out', 'x.pdf'], folder)).toEqual(
      sentence('Unit "one" is not on floor 2. It is on floor 1.'),
    );
    expect(storypole(['packet', 'b', '--out', 'x.pdf'], folder)).toEqual(
      sentence('No unit is declared there, so there is nothing to print.'),
    );
    expect(storypole(['packet', 'a.closet', '--each', '--out', 'x.pdf'], folder).err).toContain('--out takes a folder');
    expect(storypole(['packet', 'a.closet'], folder).err).toContain('packet needs --out <path>: ');
    expect(existsSync(join(folder, 'x.pdf'))).toBe(false);
  });

  it.skipIf(process.getuid?.() === 0)('leaves nothing where a folder may not be written to', () => {
    const folder = folderWith({ 'a.closet': flats, 'locked/keep': '' });
    chmodSync(join(folder, 'locked'), 0o555);
    expect(storypole(['packet', '--out', 'locked/all.pdf'], folder).err).toContain('there is no permission to');
    expect(readdirSync(join(folder, 'locked'))).toEqual(['keep']);
  });

  it('leaves nothing half written where it is told to end', async () => {
    const folder = folderWith({ 'a.closet': building(120, 120) });
    const child = spawn(process.execPath, [command, 'packet', '--out', 'all.pdf'], { cwd: folder, stdio: 'ignore' });
    const ended = new Promise<NodeJS.Signals | null>((resolve) => child.on('exit', (_, signal) => resolve(signal)));
    // Ends it as soon as it has begun to write.
    while (!readdirSync(folder).some((name) => name.endsWith('.tmp')) && child.exitCode === null)
      await new Promise((resolve) => setTimeout(resolve, 5));
    child.kill('SIGINT');
    expect(await ended).toBe('SIGINT');
    expect(readdirSync(folder)).toEqual(['a.closet']);
  });

  it('shows how far it is on a terminal only', () => {
    const folder = folderWith({ 'a.closet': flats });
    expect(storypole(['packet', '--out', 'all.pdf'], folder).err).toBe('');
    // `script` gives it a terminal, where there is one.
    const line = `${process.execPath} ${command} packet --out all.pdf`;
    const { stdout, error } = spawnSync('script', ['-qec', line, '/dev/null'], { cwd: folder, encoding: 'utf8' });
    if (!error) expect(stdout).toContain('] 3 of 3 units');
  });
});

describe('storypole boards', () => {
  it('draws every board of the project', async () => {
    const folder = folderWith({ 'a.closet': flats });
    const run = storypole(['boards', '--out', 'boards.pdf'], folder);
    expect(run).toEqual({ status: 0, out: 'Drew 10 boards in boards.pdf.\n', err: '' });
    const { pages } = await readAt(folder, 'boards.pdf');
    const all = pages.map(textOf).join(' ').replaceAll(/\s+/g, ' ');
    // Ten shelves of 60 in, from a board of 8 ft each: 96 less 60 less a cut of 1/8 in is left.
    expect(all).toContain('Boards 1 to 10, 10 times: 96"');
    expect(all).toContain('What is left, 35-7/8", goes back to the rack');
    expect(all).toContain('three, 2 of 3');
  });

  it('draws those of a project of loose parts alone', async () => {
    const folder = folderWith({ 'a.closet': loose });
    expect(storypole(['boards', '--out', 'boards.pdf'], folder)).toEqual({
      status: 0,
      out: 'Drew 2 boards in boards.pdf.\n',
      err: '',
    });
    const { pages } = await readAt(folder, 'boards.pdf');
    expect(pages.map(textOf).join(' ')).toContain('loose part 3 of 3');
  });

  it('says that there is nothing where neither a unit nor a loose part is', () => {
    const folder = folderWith({ 'a.closet': loose.replace(/extra.*\n/, '') });
    const nothing = sentence('No unit and no loose part is declared there, so there is nothing to print.');
    expect(storypole(['boards', '--out', 'boards.pdf'], folder)).toEqual(nothing);
    expect(storypole(['labels', '--out', 'labels.pdf'], folder)).toEqual(nothing);
    expect(storypole(['packet', '--out', 'packet.pdf'], folder)).toEqual(
      sentence('No unit is declared there, so there is nothing to print.'),
    );
  });
});

describe('storypole labels', () => {
  const folder = (): string => folderWith({ 'a.closet': flats });

  it('makes one for each part, from the first free label on', async () => {
    const at = folder();
    const words = ['labels', '--label', '70x37mm', '--sheet', 'a4', '--start', '20', '--out', 'labels.pdf'];
    expect(storypole(words, at)).toEqual({ status: 0, out: 'Made 10 labels on 2 sheets in labels.pdf.\n', err: '' });
    const { pages } = await readAt(at, 'labels.pdf');
    expect(pages.map(({ texts }) => texts.filter(({ text }) => text.includes('piece')).length)).toEqual([5, 5]);
  });

  it('takes inches, margins and gaps, and says what does not fit', () => {
    const at = folder();
    const run = (...words: string[]) => storypole(['labels', '--out', 'l.pdf', ...words], at);
    expect(
      run('--label', '2-5/8in x 1in', '--sheet', 'letter', '--margin', '3/16in x 1/2in', '--gap', '1/8in x 0').out,
    ).toBe('Made 10 labels on 1 sheet in l.pdf.\n');
    expect(run('--label', '250x37mm')).toEqual(
      sentence('A label of 250mm x 37mm has no room on a sheet of 210mm x 297mm: it is 40mm too wide.'),
    );
    expect(run('--label', '70mm').err).toContain('--label takes a width and a height, as 70x37mm');
    expect(run('--label', '70x37').status).toBe(2);
    expect(run('--start', '25').err).toContain('from 1 to 24 here');
    expect(run('--sheet', 'a9').status).toBe(2);
    expect(run('--label', '26x10mm').err).toContain('have no QR code');
  });

  it('makes those of loose parts, with units or without', () => {
    const at = folderWith({
      'loose/a.closet': loose,
      'both/a.closet': flats,
      'both/b.closet': 'extra e { board b; length 40in; count 3 }\n',
    });
    const made = (...words: string[]): string => storypole(['labels', '--out', 'l.pdf', '--replace', ...words], at).out;
    expect(made('loose')).toBe('Made 3 labels on 1 sheet in l.pdf.\n');
    expect(made('both')).toBe('Made 13 labels on 1 sheet in l.pdf.\n');
    expect(made('both/b.closet')).toBe('Made 3 labels on 1 sheet in l.pdf.\n');
    expect(made('both/a.closet')).toBe('Made 10 labels on 1 sheet in l.pdf.\n');
    expect(made('both', '--unit', 'one')).toBe('Made 2 labels on 1 sheet in l.pdf.\n');
  });

  it('makes one for each part that stock does not reach, loose or of a unit', async () => {
    const text = (count: number): string => `${loose.replace('unlimited', `count ${count}`)}
template t { wall back { length 48in; height 96in } zone z on back { width fill; board b; shelf s { at 60in } } }
unit one t
`;
    const at = folderWith({ 'one/a.closet': text(1), 'none/a.closet': text(0) });
    for (const name of ['one', 'none'])
      expect(storypole(['labels', '--out', `${name}.pdf`, name], at).out).toBe(
        `Made 4 labels on 1 sheet in ${name}.pdf.\n`,
      );
    const all = (await readAt(at, 'none.pdf')).pages.map(textOf).join(' ');
    for (const copy of [1, 2, 3]) expect(all).toContain(`loose part ${copy} of 3`);
    expect(all.split('not planned').length - 1).toBe(4);
  });
});
