/** `storypole format` in folders of its own. */
import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
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
    expect(run.err).toMatch(/Left as it stands, because where its blocks end cannot be told: a\.closet:\d/);
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
