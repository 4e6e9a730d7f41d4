/** `storypole format` in folders of its own. */
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, lstatSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { command } from '../protocol/client.ts';
import { folderWith, storypole } from './command.ts';

const untidy = 'project "Quarry Lane" {show inches}\nunit   a t{width 36in;floor 1}   // first\n';
const tidy = 'project "Quarry Lane" { show inches }\nunit a t { width 36in; floor 1 } // first\n';
const read = (folder: string, name = 'a.closet'): string => readFileSync(join(folder, name), 'utf8');

describe('format', () => {
  it('brings files into order, and leaves those alone that are', () => {
    const folder = folderWith({ 'a.closet': untidy, 'b.closet': '// nothing\n' });
    expect(storypole(['format'], folder)).toEqual({
      status: 0,
      err: '',
      out: 'Brought 1 of 2 files into order:\n  a.closet\n',
    });
    expect(read(folder)).toBe(tidy);
    expect(storypole(['format'], folder).out).toBe('All 2 files are in order already.\n');
  });

  it('shows what would change, writes nothing and ends with 1 where it only checks', () => {
    const folder = folderWith({ 'a.closet': untidy });
    const run = storypole(['format', '--check'], folder);
    expect(run.status).toBe(1);
    expect(run.out).toContain('-unit   a t{width 36in;floor 1}   // first\n');
    expect(run.out).toContain('+unit a t { width 36in; floor 1 } // first\n');
    expect(run.out).toMatch(/1 of 1 file would change\.\n$/);
    expect(read(folder)).toBe(untidy);
    writeFileSync(join(folder, 'a.closet'), tidy);
    expect(storypole(['format', '--check'], folder)).toMatchObject({
      status: 0,
      out: 'The file is in order already.\n',
    });
  });

  it('keeps the mark of the byte order and the ends of lines', () => {
    const folder = folderWith({ 'a.closet': `\uFEFF${untidy.replaceAll('\n', '\r\n')}` });
    expect(storypole(['format', 'a.closet'], folder).status).toBe(0);
    expect(read(folder)).toBe(`\uFEFF${tidy.replaceAll('\n', '\r\n')}`);
  });

  it('leaves what it cannot read as it stands, and says where', () => {
    const broken = 'unit   a t\ntemplate b {\n   wall   back { height 96in\n';
    const folder = folderWith({ 'a.closet': broken });
    const run = storypole(['format'], folder);
    expect(run.err).toMatch(
      /Left as it stands, because where its blocks end cannot be told, or it holds both sides of a merge: a\.closet:\d/,
    );
    expect(read(folder)).toContain('   wall   back { height 96in\n');
  });

  it('changes nothing where one of the files is no text', () => {
    const folder = folderWith({ 'a.closet': untidy });
    writeFileSync(join(folder, 'z.closet'), Buffer.from([0x75, 0xff, 0x0a]));
    const run = storypole(['format'], folder);
    expect(run.status).toBe(2);
    expect(run.err).toMatch(/z\.closet: The file is not UTF-8/);
    expect(read(folder)).toBe(untidy);
  });

  it('changes nothing where one of the files cannot be read', () => {
    const folder = folderWith({ 'a.closet': untidy });
    symlinkSync('nowhere.closet', join(folder, 'z.closet'));
    expect(storypole(['format'], folder)).toEqual({
      status: 2,
      out: '',
      err: 'storypole: z.closet cannot be read: it is not there. Nothing was changed.\n',
    });
    expect(read(folder)).toBe(untidy);
  });

  it('follows a link, and keeps the permissions of what it leads to', () => {
    const folder = folderWith({ 'kept/a.txt': untidy });
    chmodSync(join(folder, 'kept/a.txt'), 0o640);
    symlinkSync('kept/a.txt', join(folder, 'a.closet'));
    expect(storypole(['format'], folder).status).toBe(0);
    expect(lstatSync(join(folder, 'a.closet')).isSymbolicLink()).toBe(true);
    expect(read(folder, 'kept/a.txt')).toBe(tidy);
    expect(statSync(join(folder, 'kept/a.txt')).mode & 0o777).toBe(0o640);
    expect(readdirSync(join(folder, 'kept'))).toEqual(['a.txt']);
  });

  it('leaves a library outside the project alone', () => {
    const folder = folderWith({
      '.git/HEAD': '',
      'house/project.closet': `${untidy}use "../lib" as l\n`,
      'lib/library.closet': untidy,
    });
    expect(storypole(['format'], join(folder, 'house')).out).toContain(
      'Brought 1 of 1 file into order:\n  project.closet\n',
    );
    expect(read(folder, 'lib/library.closet')).toBe(untidy);
  });

  it('shows of a long file what would change and three lines around it', () => {
    const lines = Array.from({ length: 20_000 }, (_, i) => `unit u${i} t { floor 1 }`);
    const folder = folderWith({ 'a.closet': lines.join('\r\n').replace('unit u7 ', 'unit  u7 ') });
    const run = storypole(['format', '--check'], folder);
    const unit = (i: number, mark = ' ', space = ' '): string =>
      `${mark}unit${space}u${i} t { floor 1 }${i === 19_999 && mark === '-' ? '' : '\r'}\n`;
    expect(run.out).toBe(
      `--- a.closet\n+++ a.closet\n@@ -5,7 +5,7 @@\n${[4, 5, 6].map((i) => unit(i)).join('')}${unit(7, '-', '  ')}${unit(7, '+')}${[8, 9, 10].map((i) => unit(i)).join('')}` +
        `@@ -19997,4 +19997,4 @@\n${[19_996, 19_997, 19_998].map((i) => unit(i)).join('')}${unit(19_999, '-')}\\ No newline at end of file\n${unit(19_999, '+')}` +
        '\n1 of 1 file would change.\n',
    );
  });

  it('takes a text from standard input and gives it back', () => {
    const run = (args: string[]) =>
      execFileSync(process.execPath, [command, 'format', ...args], { input: untidy, encoding: 'utf8' });
    expect(run(['-'])).toBe(tidy);
    const checked = spawnSync(process.execPath, [command, 'format', '--check', '-'], {
      input: untidy,
      encoding: 'utf8',
    });
    expect([checked.status, checked.stdout.includes('+unit a t {')]).toEqual([1, true]);
    expect(storypole(['format', '-', 'a.closet'], folderWith({ 'a.closet': tidy })).status).toBe(2);
  });
});
