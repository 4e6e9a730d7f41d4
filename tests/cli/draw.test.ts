/** `storypole draw`, as a person would run it. */
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fileName, fileNames } from '../../server/cli/file-names.ts';
import { dateOf, revisionOf } from '../../server/cli/issue.ts';
import { every, parsed } from '../sheets/drawing/xml.ts';
import { readPdf } from '../sheets/pdf/read.ts';
import { command, folderWith, storypole } from './command.ts';
import { clean, wrong } from './texts.ts';

const dated = ['--date', '2026-11-28'];
const textsIn = (folder: string, name: string): string[] =>
  every(parsed(readFileSync(join(folder, name), 'utf8')), 'text').map(({ text }) => text);

describe('storypole draw', () => {
  it('draws all of each unit, a file each, named in words', () => {
    const folder = folderWith({ 'a.closet': clean });
    expect(storypole(['draw', '--out', 'sheets', ...dated], folder)).toEqual({
      status: 0,
      out: 'Made 3 drawings in sheets.\n',
      err: '',
    });
    expect(readdirSync(join(folder, 'sheets')).toSorted()).toEqual([
      'A-101-linen-plan.svg',
      'A-101-linen-section-main.svg',
      'A-101-linen-wall-back.svg',
    ]);
    const texts = textsIn(folder, 'sheets/A-101-linen-wall-back.svg');
    expect(texts).toEqual(
      expect.arrayContaining(['Quarry Lane', 'A-101-linen', 'linen', 'Back wall, elevation', '2026-11-28', '2 of 3']),
    );
  });

  it.each([
    [['--plan'], ['A-101-linen-plan.svg']],
    [['--wall', 'back'], ['A-101-linen-wall-back.svg']],
    [['--section', 'main'], ['A-101-linen-section-main.svg']],
    [
      ['--plan', '--wall', 'back', '--format', 'dxf'],
      ['A-101-linen-plan.dxf', 'A-101-linen-wall-back.dxf'],
    ],
  ])('draws what is asked for: %j', (words, names) => {
    const folder = folderWith({ 'a.closet': clean });
    expect(storypole(['draw', ...words, '--out', 'x'], folder).status).toBe(0);
    expect(readdirSync(join(folder, 'x')).toSorted()).toEqual(names);
  });

  it('writes PDF, a page each: in one file, or in one for each unit', async () => {
    const folder = folderWith({ 'a.closet': clean });
    expect(storypole(['draw', '--format', 'pdf', '--out', 'all.pdf', ...dated], folder).out).toBe(
      'Made 3 drawings in all.pdf.\n',
    );
    const { pages, fonts } = await readPdf(readFileSync(join(folder, 'all.pdf')));
    // A4 lies or stands, whichever draws larger: ISO 216.
    const millimetres = ({ box }: { box: readonly number[] }): number[] =>
      box
        .slice(2)
        .map((points) => Math.round((points * 25.4) / 72))
        .toSorted((a, b) => a - b);
    expect(pages.map(millimetres)).toEqual([
      [210, 297],
      [210, 297],
      [210, 297],
    ]);
    expect([...fonts.values()]).toEqual([true, true]);
    for (const [i, title] of ['Plan', 'Back wall, elevation', 'Section through main, back wall'].entries())
      expect(pages[i]?.texts.map(({ text }) => text)).toEqual(
        expect.arrayContaining(['A-101-linen', title, `${i + 1} of 3`]),
      );
    expect(storypole(['draw', '--format', 'pdf', '--out', 'each', ...dated], folder).status).toBe(0);
    expect(readdirSync(join(folder, 'each'))).toEqual(['A-101-linen.pdf']);
    // The same day makes the same bytes, and may take their place.
    expect(storypole(['draw', '--format', 'pdf', '--out', 'again.pdf', ...dated], folder).status).toBe(0);
    expect(readFileSync(join(folder, 'again.pdf')).equals(readFileSync(join(folder, 'all.pdf')))).toBe(true);
  });

  it('writes one drawing to the file that is named, and no more than one', () => {
    const folder = folderWith({ 'a.closet': clean });
    expect(storypole(['draw', '--plan', '--out', 'plan.svg'], folder).err).toBe('');
    expect(every(parsed(readFileSync(join(folder, 'plan.svg'), 'utf8')), 'svg')).not.toHaveLength(0);
    const { status, err } = storypole(['draw', '--out', 'all.svg'], folder);
    expect([status, err]).toEqual([
      2,
      'storypole: all.svg is one file, and there is more than one drawing. Name a folder, or ask for one drawing: --unit with --plan, --wall or --section.\n',
    ]);
    expect(existsSync(join(folder, 'all.svg'))).toBe(false);
  });

  it('makes the same files again, bit by bit, over those it made', () => {
    const folder = folderWith({ 'a.closet': clean });
    const run = () => {
      expect(storypole(['draw', '--out', 'x'], folder, { SOURCE_DATE_EPOCH: '1764288000' }).status).toBe(0);
      return readdirSync(join(folder, 'x')).map((name) => readFileSync(join(folder, 'x', name), 'utf8'));
    };
    const first = run();
    expect(run()).toEqual(first);
    expect(first.join()).toContain('2025-11-28');
  });

  it('leaves what somebody else has put there, and then writes nothing at all, unless told', () => {
    const folder = folderWith({
      'a.closet': clean,
      'x/A-101-linen-wall-back.svg': '<svg xmlns="http://www.w3.org/2000/svg"/>',
    });
    const { status, out, err } = storypole(['draw', '--out', 'x'], folder);
    expect({ status, out, err }).toEqual({
      status: 2,
      out: '',
      err: `storypole: ${join('x', 'A-101-linen-wall-back.svg')} is there and was not made by this command, so nothing was written. --replace writes over it; another --out leaves it.\n`,
    });
    expect(readdirSync(join(folder, 'x'))).toHaveLength(1);
    expect(storypole(['draw', '--out', 'x', '--replace'], folder).status).toBe(0);
    expect(readdirSync(join(folder, 'x'))).toHaveLength(3);
  });

  it('draws what can be drawn of a project with errors, says so on each sheet, and ends with 1', () => {
    const folder = folderWith({ 'a.closet': `${wrong}unit A-102-linen nowhere\n` });
    const { status, out, err } = storypole(['draw', '--out', 'x'], folder);
    // The one that is declared twice is drawn twice, each to a file of its own.
    expect([status, out]).toEqual([1, 'Made 6 drawings in x.\n']);
    expect(err).toBe(
      'storypole: Not drawn, as they lack what their layout needs: A-102-linen; storypole check tells what is missing. There are errors in Quarry Lane: do not cut by these drawings yet. Run storypole check.\n',
    );
    for (const name of readdirSync(join(folder, 'x')))
      expect(textsIn(folder, join('x', name))).toContain(
        'Errors in this project: look at them before you cut by this drawing',
      );
  });

  it('says lengths in the units that are asked for', () => {
    const folder = folderWith({ 'a.closet': clean });
    for (const [units, wanted] of [
      ['inches', '96"'],
      ['feet', '8\'-0"'],
      ['millimetres', '~2438.4'],
    ] as const) {
      const told = storypole(['draw', '--wall', 'back', '--units', units, '--out', `${units}.svg`], folder);
      expect(told.err).toBe('');
      expect(textsIn(folder, `${units}.svg`)).toContain(wanted.replace('~2438.4', '2438.4'));
    }
  });

  it.each([
    [['--unit', 'A-101-linnen'], 'There is no unit "A-101-linnen"; did you mean "A-101-linen"?'],
    [['--wall', 'bakc'], 'There is no wall "bakc"; did you mean "back"?'],
    [['--section', 'nothing-like-it'], 'There is no zone "nothing-like-it", only main.'],
    [['--date', '2026-02-30'], '"2026-02-30" is no date. Write year, month and day: 2026-11-28'],
  ])('tells what is not there: %j', (words, said) => {
    const folder = folderWith({ 'a.closet': clean });
    expect(storypole(['draw', ...words, '--out', 'x'], folder)).toEqual({
      status: 2,
      out: '',
      err: `storypole: ${said}\n`,
    });
    expect(readdirSync(folder)).toEqual(['a.closet']);
  });

  it('asks where to draw', () => {
    const { status, err } = storypole(['draw'], folderWith({ 'a.closet': clean }));
    expect([status, err]).toEqual([
      2,
      'storypole: draw needs --out <path>: the folder to draw into, or the file where it is one drawing.\n',
    ]);
  });

  it('never leaves its folder, whatever units are called', () => {
    const folder = folderWith({
      'in/a.closet': `${clean}unit "../../up" linen\nunit "/etc/x" linen\nunit con linen\nunit CON linen\nunit "C:\\\\x" linen\n`,
    });
    storypole(['draw', '--plan', '--out', 'out'], join(folder, 'in'));
    expect(readdirSync(folder)).toEqual(['in']);
    for (const name of readdirSync(join(folder, 'in/out'))) expect(basename(name)).toBe(name);
  });

  it.skipIf(process.getuid?.() === 0 && !existsSync('/dev/full'))(
    'writes nothing where the folder cannot be made',
    () => {
      const folder = folderWith({ 'a.closet': clean, taken: 'a file' });
      const { status, err } = storypole(['draw', '--out', 'taken'], folder);
      expect([status, err]).toEqual([
        2,
        `storypole: ${join('taken', 'A-101-linen-plan.svg')} cannot be written: a part of its path is not a folder. Nothing was written.\n`,
      ]);
      symlinkSync('/dev/full', join(folder, 'full.svg'));
      expect(storypole(['draw', '--plan', '--out', 'full.svg'], folder).err).toBe(
        'storypole: full.svg is not an ordinary file; give another --out.\n',
      );
    },
  );
});

describe('storypole draw --watch', () => {
  it('draws again after a change, goes on over errors, and ends with Ctrl-C', async () => {
    const folder = folderWith({ 'a.closet': clean });
    const child = spawn(process.execPath, [command, 'draw', '--plan', '--out', 'x', '--watch'], { cwd: folder });
    let said = '';
    child.stderr.on('data', (text) => {
      said += text;
    });
    const lines = async (count: number): Promise<string[]> => {
      const until = Date.now() + 60_000;
      while (said.split('\n').length <= count) {
        if (Date.now() > until) throw new Error(`only this was said: ${said}`);
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
      return said.split('\n');
    };
    try {
      expect((await lines(1))[0]).toMatch(/^storypole: \d\d:\d\d:\d\d Made 1 drawing in x\.$/);
      const plan = join(folder, 'x/A-101-linen-plan.svg');
      const before = readFileSync(plan, 'utf8');
      writeFileSync(join(folder, 'a.closet'), clean.replace('length 36in', 'length 40in'));
      expect((await lines(2))[1]).toContain('Made 1 drawing in x.');
      expect(readFileSync(plan, 'utf8')).not.toBe(before);
      writeFileSync(join(folder, 'a.closet'), 'unit { { "');
      expect((await lines(3))[2]).toContain('nothing to draw');
      expect(statSync(plan).size).toBeGreaterThan(0);
      writeFileSync(join(folder, 'a.closet'), clean);
      expect((await lines(4))[3]).toContain('Made 1 drawing in x.');
    } finally {
      child.kill('SIGINT');
    }
    expect(await new Promise((resolve) => child.on('exit', resolve))).toBe(0);
  });
});

describe('names of files', () => {
  it.each([
    ['A-101-bedroom', 'A-101-bedroom'],
    ['../../etc/passwd', 'etc-passwd'],
    ['..', 'unnamed'],
    ['', 'unnamed'],
    ['a/b\\c:d*e?f"g<h>i|j', 'a-b-c-d-e-f-g-h-i-j'],
    ['con', '_con'],
    ['COM1.txt', '_COM1.txt'],
    ['ends with dots...', 'ends-with-dots'],
    ['-rf', 'rf'],
    ['.hidden', 'hidden'],
    ['衣装部屋', '衣装部屋'],
    ['a\u0000b\u202ec', 'a-b-c'],
  ])('%j is written %j', (text, name) => {
    expect(fileName(text)).toBe(name);
  });

  it('are short enough for any disk, and never the same', () => {
    const names = fileNames(['衣'.repeat(300), '衣'.repeat(301), 'a', 'A', 'a-2', 'ａ'], '.svg');
    for (const name of names) expect(Buffer.byteLength(name)).toBeLessThanOrEqual(255);
    expect(new Set(names.map((name) => name.normalize('NFKC').toLowerCase())).size).toBe(names.length);
  });
});

describe('what sheets say of when they were made', () => {
  it('is the day asked for, or that of SOURCE_DATE_EPOCH, or today', () => {
    const now = new Date(2026, 10, 28, 23, 59);
    expect(dateOf('2026-01-02', { SOURCE_DATE_EPOCH: '0' }, now)).toBe('2026-01-02');
    expect(dateOf(undefined, { SOURCE_DATE_EPOCH: '0' }, now)).toBe('1970-01-01');
    expect(dateOf(undefined, {}, now)).toBe('2026-11-28');
    expect(() => dateOf(undefined, { SOURCE_DATE_EPOCH: 'soon' }, now)).toThrow('SOURCE_DATE_EPOCH is "soon"');
  });

  it('is the commit of the folder, with + where closets in it have changed since', () => {
    const folder = folderWith({ 'a.closet': clean });
    const git = (...words: string[]) =>
      execFileSync('git', ['-c', 'user.name=x', '-c', 'user.email=x@example.com', ...words], {
        cwd: folder,
        encoding: 'utf8',
      });
    git('init', '-q');
    git('add', '.');
    git('commit', '-qm', 'Begin');
    const commit = git('rev-parse', 'HEAD').trim();
    expect(commit.startsWith(revisionOf(folder) ?? 'none')).toBe(true);
    writeFileSync(join(folder, 'plan.svg'), '');
    expect(revisionOf(folder)).toHaveLength(10);
    writeFileSync(join(folder, 'b.closet'), clean);
    expect(revisionOf(folder)).toBe(`${commit.slice(0, 10)}+`);
  });

  it('has + where a library outside the folder has changed, and not for what lies beside that', () => {
    const root = folderWith({
      'flats/a.closet': clean,
      'trade/b.closet': clean,
      'trade/readme.md': '',
      'other/c.closet': clean,
      'node_modules/kit/d.closet': clean,
      '.gitignore': 'node_modules\n',
    });
    const git = (...words: string[]) =>
      execFileSync('git', ['-c', 'user.name=x', '-c', 'user.email=x@example.com', ...words], { cwd: root });
    git('init', '-q');
    git('add', '.');
    git('commit', '-qm', 'Begin');
    const flats = join(root, 'flats');
    const libraries = [join(root, 'trade/b.closet'), join(root, 'node_modules/kit/d.closet')];
    const isChanged = (): boolean | undefined => revisionOf(flats, libraries)?.endsWith('+');
    expect(isChanged()).toBe(false);
    writeFileSync(join(root, 'other/c.closet'), `${clean}// More.\n`);
    writeFileSync(join(root, 'trade/readme.md'), 'More.');
    expect(isChanged()).toBe(false);
    writeFileSync(join(root, 'trade/b.closet'), `${clean}// More.\n`);
    expect(isChanged()).toBe(true);
    writeFileSync(join(root, 'trade/b.closet'), clean);
    expect(isChanged()).toBe(false);
    rmSync(join(root, 'trade/b.closet'));
    expect(isChanged()).toBe(true);
  });

  it('is no commit where there is no git', () => {
    expect(revisionOf(folderWith({ 'a.closet': clean }))).toBeUndefined();
  });
});
