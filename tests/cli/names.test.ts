/** Names in the terminal: what an editor tells, and a rename that is written whole or not at all. */
import { chmodSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';
import { clean } from './texts.ts';

const second = '// A second file.\r\nunit A-102-linen linen mirrored { override main.top { at 70in } }\r\n';
const project = (): string => folderWith({ 'a.closet': clean, 'more/b.closet': `\ufeff${second}` });

describe('a place in the terminal', () => {
  it('leads to the declaration, with or without a column', () => {
    const folder = project();
    const found = { status: 0, out: 'a.closet:4:10: template linen {\n', err: '' };
    expect(storypole(['definition', 'a.closet:9:21'], folder)).toEqual(found);
    expect(storypole(['definition', 'more/b.closet:2:18'], folder)).toEqual(found);
    // The first name of the line that means something is the unit itself.
    expect(storypole(['definition', 'more/b.closet:2'], folder).out).toMatch(/^more\/b\.closet:2:6: unit A-102-linen/);
  });

  it('tells all places that name a thing', () => {
    const folder = project();
    expect(storypole(['references', 'a.closet:7:8'], folder).out).toBe(
      `a.closet:7:8: ${clean.split('\n')[6]?.trim()}\nmore/b.closet:2:44: ${second.split('\r\n')[1]}\n`,
    );
    expect(storypole(['references', 'a.closet:7:8', '--no-declaration'], folder).out).toMatch(
      /^more\/b\.closet:2:44: /,
    );
  });

  it('tells what an editor tells on hover', () => {
    expect(storypole(['hover', 'a.closet:7:36'], project()).out).toContain('Cut **36in** of `white-12` in 2 units.');
  });

  it('lists what is declared by its name', () => {
    const { out } = storypole(['symbols', '--named', 'linen'], project());
    expect(out.split('\n')[0]).toBe('a.closet:4:10 template linen');
    expect(out).toContain('more/b.closet:2:6 unit A-102-linen');
    expect(storypole(['symbols', '--named', 'top'], project()).out).toBe('a.closet:7:41 shelf top in linen.main\n');
    expect(storypole(['symbols', '--named', 'xyz'], project()).err).toBe(
      'storypole: Nothing here is called like "xyz".\n',
    );
  });

  it.each([
    ['nowhere', '"nowhere" is no place. Write a file, a line and a column: templates/reach-in.closet:12:8'],
    ['b.closet:1:1', 'b.closet is not there.'],
    ['a.closet:99', 'a.closet has no line 99: its last line is 10.'],
    ['a.closet:1:999', 'a.closet has no column 999 in line 1: the last one there is 68.'],
    ['a.closet:2:17', 'No name that means anything stands at a.closet:2:17. Ask where one is declared or used.'],
  ])('that is none is told: %s', (place, why) => {
    for (const command of ['definition', 'references'])
      expect(storypole([command, place], project())).toEqual({ status: 2, out: '', err: `storypole: ${why}\n` });
  });
});

describe('a rename in the terminal', () => {
  it('changes all files, bytes around the names left as they are', () => {
    const folder = project();
    expect(storypole(['rename', 'a.closet:7:8', 'niche'], folder)).toEqual({
      status: 0,
      out: '"main" is "niche" now, in 2 places of 2 files:\n  a.closet: 1\n  more/b.closet: 1\n',
      err: '',
    });
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(clean.replace('zone main', 'zone niche'));
    expect(readFileSync(join(folder, 'more/b.closet'), 'utf8')).toBe(`\ufeff${second.replace('main', 'niche')}`);
    expect(readdirSync(folder).sort()).toEqual(['a.closet', 'more']);
    storypole(['rename', 'a.closet:7:8', 'main'], folder);
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(clean);
  });

  it('shows a diff and writes nothing when asked to', () => {
    const folder = project();
    const { out } = storypole(['rename', 'more/b.closet:2:6', 'A-102', '--dry-run'], folder);
    expect(out.split('\n').slice(0, 6)).toEqual([
      '--- more/b.closet',
      '+++ more/b.closet',
      '@@ -1,2 +1,2 @@',
      ' // A second file.\r',
      '-unit A-102-linen linen mirrored { override main.top { at 70in } }\r',
      '+unit A-102 linen mirrored { override main.top { at 70in } }\r',
    ]);
    expect(readFileSync(join(folder, 'more/b.closet'), 'utf8')).toBe(`\ufeff${second}`);
  });

  it('is refused as in the editor, and nothing is written', () => {
    const folder = project();
    expect(storypole(['rename', 'a.closet:9:6', 'A-102-linen'], folder)).toEqual({
      status: 2,
      out: '',
      err: 'storypole: There is a unit "A-102-linen" already, in b.closet, line 2; choose another name, or give that one another first.\n',
    });
    expect(storypole(['rename', 'a.closet:9:6', '1st'], folder).err).toContain('"1st" cannot be a name');
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(clean);
  });

  it.skipIf(process.getuid?.() === 0)('leaves all files as they are where one cannot be written', () => {
    const folder = project();
    chmodSync(join(folder, 'more'), 0o555);
    const run = storypole(['rename', 'a.closet:7:8', 'niche'], folder);
    chmodSync(join(folder, 'more'), 0o755);
    expect([run.status, run.err]).toEqual([
      2,
      'storypole: more/b.closet cannot be written: there is no permission to. Nothing was written.\n',
    ]);
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(clean);
    expect(readdirSync(folder).sort()).toEqual(['a.closet', 'more']);
  });

  it('gives the thing another name where a project in the current folder uses it as a library', () => {
    const folder = folderWith({
      // A repository: a `use` may reach as far as that.
      '.git/HEAD': '',
      'job/a.closet':
        'project "Quarry Lane" { show inches }\nuse "../shared" as trade\nextra spare { board trade.oak; length 10in }\n',
      'shared/b.closet': 'board oak { depth 12in; thickness 3/4in }\n',
    });
    storypole(['rename', 'shared/b.closet:1:7', 'ash'], folder);
    expect(readFileSync(join(folder, 'job/a.closet'), 'utf8')).toContain('board trade.ash;');
    expect(storypole(['rename', 'job/a.closet:3:27', 'oak'], folder).err).toBe(
      'storypole: Board "ash" comes from a library outside this project (b.closet); give it another name there.\n',
    );
  });
});
