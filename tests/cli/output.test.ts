/** `--output` writes a file whole or not at all, and never what it should not. */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  lstatSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeOutput } from '../../server/cli/output.ts';
import { folderWith, root, storypole } from './command.ts';
import { clean, wrong } from './texts.ts';

const sentence = (text: string): object => ({ status: 2, out: '', err: `storypole: ${text}\n` });

describe('--output', () => {
  it('writes what would be on standard output, and nothing there', () => {
    const folder = folderWith({ 'a.closet': clean });
    for (const words of [
      ['cuts', '--format', 'json'],
      ['cuts', '--format', 'csv'],
      ['plan', '--format', 'csv'],
      ['check', '--color'],
    ]) {
      const plain = storypole(
        words.filter((word) => word !== '--color'),
        folder,
      );
      expect(storypole([...words, '--output', 'list.out'], folder)).toEqual({ status: 0, out: '', err: '' });
      expect(readFileSync(join(folder, 'list.out'), 'utf8')).toBe(plain.out);
      expect(readdirSync(folder).sort()).toEqual(['a.closet', 'list.out']);
    }
  });

  it('is written where there are errors too, with the status that tells so', () => {
    const folder = folderWith({ 'a.closet': wrong });
    expect(storypole(['check', '--format', 'json', '--output', 'out.json'], folder).status).toBe(1);
    expect(JSON.parse(readFileSync(join(folder, 'out.json'), 'utf8')).projects[0].counts.errors).toBe(1);
  });

  it('replaces an older file with its permissions kept, and follows a link to it', () => {
    const folder = folderWith({ 'a.closet': clean, 'real.json': 'older' });
    chmodSync(join(folder, 'real.json'), 0o640);
    symlinkSync('real.json', join(folder, 'link.json'));
    expect(storypole(['cuts', '--format', 'json', '--output', 'link.json'], folder).status).toBe(0);
    expect(lstatSync(join(folder, 'link.json')).isSymbolicLink()).toBe(true);
    expect(JSON.parse(readFileSync(join(folder, 'real.json'), 'utf8')).command).toBe('cuts');
    expect(statSync(join(folder, 'real.json')).mode & 0o777).toBe(0o640);
  });

  it('leaves an older file as it is where the command could not run', () => {
    const folder = folderWith({ 'a.closet': clean, 'list.json': 'older' });
    expect(storypole(['cuts', '--unit', 'nobody', '--output', 'list.json'], folder).status).toBe(2);
    expect(readFileSync(join(folder, 'list.json'), 'utf8')).toBe('older');
  });

  it('refuses a folder, a .closet file, a device and a folder that is not there', () => {
    const folder = folderWith({ 'a.closet': clean, 'sub/notes.txt': '' });
    const to = (target: string): object => storypole(['cuts', '--format', 'csv', '--output', target], folder);
    expect(to('sub')).toEqual(sentence('sub is a folder; name a file to write to.'));
    expect(to('a.closet')).toEqual(
      sentence('a.closet is a .closet file, and the output would take its place. Give another --output.'),
    );
    expect(to('/dev/null')).toEqual(
      sentence('/dev/null is not an ordinary file; leave --output out and redirect instead.'),
    );
    expect(to('nowhere/list.csv')).toEqual(
      sentence('nowhere/list.csv cannot be written: its folder is not there. Nothing was written.'),
    );
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(clean);
    expect(readdirSync(folder).sort()).toEqual(['a.closet', 'sub']);
  });

  it('refuses a link that leads to a .closet file', () => {
    const folder = folderWith({ 'a.closet': clean });
    symlinkSync('a.closet', join(folder, 'list.csv'));
    expect(storypole(['cuts', '--format', 'csv', '--output', 'list.csv'], folder).status).toBe(2);
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(clean);
  });

  it('leaves nothing behind where the file cannot take its place', () => {
    const folder = folderWith({ 'a.closet': clean });
    // Longer than any file system lets a name be.
    const name = `${'x'.repeat(300)}.json`;
    expect(storypole(['cuts', '--output', name], folder)).toEqual(
      sentence(`${name} cannot be written: its name is too long. Nothing was written.`),
    );
    expect(readdirSync(folder)).toEqual(['a.closet']);
  });

  it('is not taken from a file that stands beside it', () => {
    const folder = folderWith({ 'a.closet': clean });
    writeFileSync(join(folder, '.list.json.tmp'), 'mine');
    storypole(['cuts', '--format', 'json', '--output', 'list.json'], folder);
    expect(readFileSync(join(folder, '.list.json.tmp'), 'utf8')).toBe('mine');
    expect(existsSync(join(folder, 'list.json'))).toBe(true);
  });

  it('leaves no part of a file where it is cut off half way', () => {
    // Written without end, and told to end once the first part is on the disk.
    const script = (signal: string): string => `
      import { readdirSync } from 'node:fs';
      import { writeOutput } from ${JSON.stringify(join(root, 'server/cli/output.ts'))};
      const parts = function* () {
        yield 'a part';
        process.stdout.write(String(readdirSync('.').filter((name) => name.endsWith('.tmp')).length));
        process.kill(process.pid, '${signal}');
        for (;;) yield ' ';
      };
      await writeOutput('list.json', process.cwd(), parts());`;
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
      const folder = folderWith({ 'list.json': 'older' });
      const run = spawnSync(process.execPath, ['--input-type=module', '-e', script(signal)], {
        cwd: folder,
        encoding: 'utf8',
      });
      expect({ signal: run.signal, out: run.stdout, err: run.stderr }).toEqual({ signal, out: '1', err: '' });
      expect(readdirSync(folder)).toEqual(['list.json']);
      expect(readFileSync(join(folder, 'list.json'), 'utf8')).toBe('older');
    }
  });

  it('leaves no part of a file where something goes wrong half way', async () => {
    const folder = folderWith({ 'list.json': 'older' });
    const parts = function* (): Generator<string> {
      yield 'a part';
      throw new Error('no more');
    };
    await expect(writeOutput('list.json', folder, parts())).rejects.toThrow('no more');
    expect(readdirSync(folder)).toEqual(['list.json']);
    expect(readFileSync(join(folder, 'list.json'), 'utf8')).toBe('older');
  });
});
