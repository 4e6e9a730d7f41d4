/** Files made for people: all or none, and nothing of anybody else's written over. */
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
import { deliverFiles, isOurs, type MadeFile } from '../../server/cli/made.ts';
import { withZipMark } from '../../server/sheets/mark.ts';
import { folderWith } from './command.ts';

const ours: Readonly<Record<string, string>> = {
  'a.svg': '<!-- Made by Storypole -->\n<svg/>',
  'a.dxf': '999\nMade by Storypole\n0\nEOF\n',
  'a.html': '<!doctype html><meta charset="utf-8"><meta name="generator" content="Storypole 1"><title>x</title>',
  'a.pdf': `%PDF-1.7\n${'x'.repeat((1 << 20) - 14)}/Producer (Storypole 1)\n%%EOF`,
  'a.json': '{"version":1,"tool":{"name":"storypole","version":"1"}}',
  'a.csv': 'unit,part\nA,b\n',
};

const read = (folder: string, name: string): string => readFileSync(join(folder, name), 'utf8');

describe('files that are delivered', () => {
  it('are written with their folders, and told how many', async () => {
    const folder = folderWith({});
    async function* later(): AsyncGenerator<string | Uint8Array> {
      yield 'one ';
      yield new TextEncoder().encode('two');
    }
    const files: MadeFile[] = [
      { path: join(folder, 'x/y/a.svg'), bytes: 'a' },
      { path: join(folder, 'x/b.pdf'), stream: later() },
    ];
    expect(await deliverFiles(files, {})).toBe(2);
    expect([read(folder, 'x/y/a.svg'), read(folder, 'x/b.pdf')]).toEqual(['a', 'one two']);
    expect(readdirSync(folder, { recursive: true }).toSorted()).toEqual(['x', 'x/b.pdf', 'x/y', 'x/y/a.svg']);
  });

  it.each(Object.keys(ours))('take the place of what was made before: %s', async (name) => {
    const folder = folderWith(ours);
    chmodSync(join(folder, name), 0o640);
    const text = name === 'a.csv' ? 'unit,part\nC,d\n' : 'new';
    await deliverFiles([{ path: join(folder, name), bytes: text }], {});
    expect(read(folder, name)).toBe(text);
    expect(statSync(join(folder, name)).mode & 0o777).toBe(0o640);
    expect(readdirSync(folder).toSorted()).toEqual(Object.keys(ours).toSorted());
  });

  it.each(['a.svg', 'a.dxf', 'a.html', 'a.pdf', 'a.json', 'a.csv', 'a.xlsx', 'a.txt'])(
    'never take the place of what somebody else made, unless told: %s',
    async (name) => {
      const folder = folderWith({ [name]: "somebody's work" });
      const files = [
        { path: join(folder, 'first.svg'), bytes: 'new' },
        { path: join(folder, name), bytes: 'new' },
      ];
      await expect(deliverFiles(files, {})).rejects.toThrow(
        `${join(folder, name)} is there and was not made by this command, so nothing was written. --replace writes over it; another --out leaves it.`,
      );
      expect(readdirSync(folder)).toEqual([name]);
      expect(read(folder, name)).toBe("somebody's work");
      await deliverFiles(files, { replace: true });
      expect(read(folder, name)).toBe('new');
    },
  );

  it('never take the place of a .closet file or a folder, told or not', async () => {
    const folder = folderWith({ 'a.closet': 'project "x"', 'b.svg/x': '' });
    symlinkSync('a.closet', join(folder, 'a.svg'));
    for (const [name, why] of [
      ['a.closet', 'is a .closet file'],
      ['a.svg', 'is a .closet file'],
      ['b.svg', 'is a folder'],
    ] as const)
      await expect(deliverFiles([{ path: join(folder, name), bytes: 'x' }], { replace: true })).rejects.toThrow(why);
    expect(read(folder, 'a.closet')).toBe('project "x"');
  });

  it('leave nothing behind where one cannot be made', async () => {
    const folder = folderWith({ 'b.svg': ours['a.svg'] ?? '' });
    async function* failing(): AsyncGenerator<string> {
      yield 'half';
      throw Object.assign(new Error('no space'), { code: 'ENOSPC' });
    }
    const files: MadeFile[] = [
      { path: join(folder, 'new/a.svg'), bytes: 'a' },
      { path: join(folder, 'b.svg'), bytes: 'b' },
      { path: join(folder, 'new/c.svg'), stream: failing() },
    ];
    await expect(deliverFiles(files, {})).rejects.toThrow(
      `${join(folder, 'new/c.svg')} cannot be written: the disk is full. Make room on it and try again. Nothing was written.`,
    );
    expect(readdirSync(folder, { recursive: true })).toEqual(['b.svg']);
    expect(read(folder, 'b.svg')).toBe(ours['a.svg']);
  });

  it('put back what was replaced where a later one finds its place taken meanwhile', async () => {
    const folder = folderWith({ 'a.svg': ours['a.svg'] ?? '' });
    async function* late(): AsyncGenerator<string> {
      yield 'mine';
      writeFileSync(join(folder, 'c.svg'), 'taken');
    }
    const files: MadeFile[] = [
      { path: join(folder, 'a.svg'), bytes: 'new' },
      { path: join(folder, 'b.svg'), bytes: 'new' },
      { path: join(folder, 'c.svg'), stream: late() },
    ];
    await expect(deliverFiles(files, {})).rejects.toThrow('c.svg is there and was not made by this command');
    expect(readdirSync(folder).toSorted()).toEqual(['a.svg', 'c.svg']);
    expect([read(folder, 'a.svg'), read(folder, 'c.svg')]).toEqual([ours['a.svg'], 'taken']);
  });

  it('follow a link to what we made, and leave one that leads nowhere', async () => {
    const folder = folderWith({ 'real.svg': ours['a.svg'] ?? '' });
    symlinkSync('real.svg', join(folder, 'link.svg'));
    symlinkSync('nowhere.svg', join(folder, 'loose.svg'));
    await deliverFiles([{ path: join(folder, 'link.svg'), bytes: 'new' }], {});
    expect(read(folder, 'real.svg')).toBe('new');
    expect(lstatSync(join(folder, 'link.svg')).isSymbolicLink()).toBe(true);
    await expect(deliverFiles([{ path: join(folder, 'loose.svg'), bytes: 'new' }], {})).rejects.toThrow(
      'loose.svg is a link that leads nowhere, so nothing was written.',
    );
    expect(existsSync(join(folder, 'nowhere.svg'))).toBe(false);
  });

  it('say what is in the way of a folder', async () => {
    const folder = folderWith({ plans: 'a file' });
    await expect(deliverFiles([{ path: join(folder, 'plans/a.svg'), bytes: 'x' }], {})).rejects.toThrow(
      'plans/a.svg cannot be written',
    );
    expect(readdirSync(folder)).toEqual(['plans']);
  });
});

it('a ZIP with our mark is still one, and ours', async () => {
  // An empty one: the end of its central directory alone.
  const empty = new Uint8Array(22);
  new DataView(empty.buffer).setUint32(0, 0x06054b50, true);
  const folder = folderWith({ 'a.xlsx': withZipMark(empty), 'b.xlsx': empty });
  expect(isOurs(join(folder, 'a.xlsx'))).toBe(true);
  expect(isOurs(join(folder, 'b.xlsx'))).toBe(false);
  expect(withZipMark(withZipMark(empty))).toEqual(withZipMark(empty));
  const marked = withZipMark(empty);
  expect(new DataView(marked.buffer).getUint16(20, true)).toBe(marked.length - 22);
});
