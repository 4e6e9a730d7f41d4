/** How the extension writes files: all or none, each of them whole, on a disk and where only VS Code can reach. */
import { chmodSync, readdirSync, readFileSync, statSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Uri } from 'vscode';
import { URI } from 'vscode-uri';
import type { WriteFiles } from '../../client/writing.ts';
import { writeOnDisk } from '../../client/writing-on-disk.ts';
import { type FileSystem, writeThrough } from '../../client/writing-through.ts';
import { folderWith } from '../cli/command.ts';
import { withFault } from '../cli/faults.ts';

/** What is thrown, as people are told. */
const told = (act: Promise<unknown>): Promise<string> =>
  act.then(
    () => 'nothing',
    (error: Error) => error.message,
  );
const uriOf = (text: string): Uri => URI.parse(text) as Uri;

describe('on a disk', () => {
  const elsewhere: WriteFiles = async () => ['elsewhere'];
  const write = writeOnDisk(elsewhere);
  const inFolder = (folder: string, name: string) => URI.file(join(folder, name)) as Uri;

  it('a drawing takes the place of another, with its permissions, and nothing is left beside it', async () => {
    const folder = folderWith({ 'a.svg': 'old' });
    chmodSync(join(folder, 'a.svg'), 0o640);
    expect(await write([{ uri: inFolder(folder, 'a.svg'), text: 'new', over: 'anything' }])).toEqual([]);
    expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toBe('new');
    expect(statSync(join(folder, 'a.svg')).mode & 0o777).toBe(0o640);
    expect(readdirSync(folder)).toEqual(['a.svg']);
  });

  it.each(['writeFile', 'sync', 'fsyncSync', 'renameSync'])(
    'that fails at a %s leaves what was there, and says why',
    async (call) => {
      const folder = folderWith({ 'a.svg': 'old' });
      const file = { uri: inFolder(folder, 'a.svg'), text: 'new', over: 'anything' as const };
      const said = await told(withFault({ folder, at: 1, answer: 'ENOSPC', only: [call] }, () => write([file])));
      expect(said).toMatch(/a\.svg cannot be written: the disk is full.* Nothing was written\.$/);
      expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toBe('old');
      expect(readdirSync(folder)).toEqual(['a.svg']);
    },
  );

  it('a new project is there with all its files or with none, and writes nothing over', async () => {
    const folder = folderWith({ 'templates/b.closet': 'mine' });
    const files = ['a.closet', 'templates/b.closet'].map((name) => ({
      uri: inFolder(folder, name),
      text: 'new',
      over: 'nothing' as const,
    }));
    expect(await told(write(files))).toMatch(/b\.closet is there already, so nothing was written\.$/);
    expect(readdirSync(folder, { recursive: true }).sort()).toEqual(['templates', 'templates/b.closet']);
    expect(readFileSync(join(folder, 'templates/b.closet'), 'utf8')).toBe('mine');
  });

  it('makes folders that are missing', async () => {
    const folder = folderWith({});
    await write([{ uri: inFolder(folder, 'deep/er/a.closet'), text: 'new', over: 'nothing' }]);
    expect(readFileSync(join(folder, 'deep/er/a.closet'), 'utf8')).toBe('new');
  });

  it('what was read and has changed since is left', async () => {
    const folder = folderWith({ 'survey-columns.json': 'changed' });
    const uri = inFolder(folder, 'survey-columns.json');
    expect(await told(write([{ uri, text: 'new', over: Buffer.from('read') }]))).toMatch(/has changed meanwhile/);
    expect(await told(write([{ uri, text: 'new', over: Buffer.from('changed') }]))).toBe('nothing');
    expect(readFileSync(join(folder, 'survey-columns.json'), 'utf8')).toBe('new');
  });

  it('a link leads out of no folder that is to be kept to', async () => {
    const [folder, other] = [folderWith({ 'job/x': '' }), folderWith({ a: 'mine' })];
    symlinkSync(join(other, 'a'), join(folder, 'job/survey-columns.json'));
    const within = inFolder(folder, 'job');
    const file = { uri: inFolder(folder, 'job/survey-columns.json'), text: 'new', over: Buffer.from('mine'), within };
    expect(await told(write([file]))).toMatch(/outside of the project, so nothing was written/);
    expect(readFileSync(join(other, 'a'), 'utf8')).toBe('mine');
  });

  it('what is on no disk goes elsewhere', async () => {
    expect(await write([{ uri: uriOf('remote://x/a.svg'), text: 'new', over: 'anything' }])).toEqual(['elsewhere']);
  });
});

type Call = keyof FileSystem;

interface FakeOptions {
  /** The n-th call of all, from 1, fails; with `forGood` all after it, too. */
  readonly fails?: number;
  readonly forGood?: boolean;
  readonly links?: readonly string[];
  readonly readOnly?: readonly string[];
}

/** A file system such as VS Code offers: a rename takes away what is in its place, and may fail after that. */
function fakeFiles(files: Readonly<Record<string, string>>, { fails, forGood, links, readOnly }: FakeOptions = {}) {
  const all = new Map<string, Buffer>(Object.entries(files).map(([name, text]) => [name, Buffer.from(text)]));
  const calls: Call[] = [];
  const act = async (call: Call): Promise<boolean> => {
    calls.push(call);
    const isBroken = fails !== undefined && (calls.length === fails || (forGood === true && calls.length > fails));
    if (isBroken && call !== 'rename') throw new Error('Unknown (FileSystemError): the line is down.');
    return isBroken;
  };
  const get = (uri: Uri): Buffer => {
    const found = all.get(uri.path);
    if (!found) throw Object.assign(new Error('not there'), { code: 'FileNotFound' });
    return found;
  };
  const fs: FileSystem = {
    async stat(uri) {
      await act('stat');
      const isFolder = [...all.keys()].some((name) => name.startsWith(`${uri.path}/`));
      const size = isFolder ? 0 : get(uri).length;
      const type = (isFolder ? 2 : 1) | (links?.includes(uri.path) ? 64 : 0);
      return { type, size, ctime: 0, mtime: 0, ...(readOnly?.includes(uri.path) && { permissions: 1 as never }) };
    },
    async readFile(uri) {
      await act('readFile');
      return get(uri);
    },
    async writeFile(uri, bytes) {
      await act('writeFile');
      all.set(uri.path, Buffer.from(bytes));
    },
    async rename(from, to, { overwrite = false } = {}) {
      const isBroken = await act('rename');
      if (all.has(to.path) && !overwrite) throw new Error('FileExists (FileSystemError): it is there.');
      all.delete(to.path);
      if (isBroken) throw new Error('Unknown (FileSystemError): the line is down.');
      all.set(to.path, get(from));
      all.delete(from.path);
    },
    async delete(uri) {
      await act('delete');
      get(uri);
      all.delete(uri.path);
    },
  };
  const now = () => Object.fromEntries([...all].map(([name, bytes]) => [name, bytes.toString()]).sort());
  return { fs, calls, now, all };
}

describe('where only VS Code can reach', () => {
  const at = (path: string) => uriOf(`remote://there${path}`);
  const two = (over: 'anything' | 'nothing') => [
    { uri: at('/job/a.closet'), text: 'new a', over },
    { uri: at('/job/b.closet'), text: 'new b', over },
  ];
  const after = { '/job/a.closet': 'new a', '/job/b.closet': 'new b' };

  it('files take the places of others, and nothing is left beside them', async () => {
    const { fs, now } = fakeFiles({ '/job/a.closet': 'old' });
    await writeThrough(fs)(two('anything'));
    expect(now()).toEqual(after);
  });

  it('a file is whole before it has its name', async () => {
    const { fs, calls } = fakeFiles({});
    await writeThrough(fs)(two('nothing'));
    expect(calls).toEqual(['stat', 'writeFile', 'stat', 'writeFile', 'rename', 'rename']);
  });

  it.each([
    ['new ones', {}, 'nothing'],
    ['others', { '/job/a.closet': 'old a', '/job/b.closet': 'old b' }, 'anything'],
    ['one that is there and one that is not', { '/job/b.closet': 'old b' }, 'anything'],
  ] as const)('whichever step fails, all of %s are written or none', async (_, before, over) => {
    const all = fakeFiles(before);
    await writeThrough(all.fs)(two(over));
    for (let fails = 1; fails <= all.calls.length; fails++) {
      const { fs, calls, now } = fakeFiles(before, { fails });
      const said = await told(writeThrough(fs)(two(over)));
      // A place that cannot be looked at is taken for free, and nothing free is written over.
      const isWhole = said === 'nothing';
      expect(now(), `step ${fails}, ${calls[fails - 1]}: ${said}`).toEqual(isWhole ? after : before);
      if (!isWhole) expect(said).toMatch(/^[ab]\.closet cannot be written: .*[^.]\. Nothing was written\.$/);
    }
  });

  it('whichever step is the last that works, what was there or what was to be there is whole somewhere', async () => {
    const before = { '/job/a.closet': 'old a', '/job/b.closet': 'old b' };
    const all = fakeFiles(before);
    await writeThrough(all.fs)(two('anything'));
    for (let fails = 1; fails <= all.calls.length; fails++) {
      const { fs, now } = fakeFiles(before, { fails, forGood: true });
      const said = await told(writeThrough(fs)(two('anything')));
      const texts = Object.values(now());
      for (const which of ['a', 'b'])
        expect(
          texts.some((text) => text === `old ${which}` || text === `new ${which}`),
          `step ${fails}: ${said}`,
        ).toBe(true);
      for (const text of texts) expect(text).toMatch(/^(old|new) [ab]$/);
      if (!('/job/b.closet' in now()))
        expect(said).toMatch(/could not be put back: .*b\.closet \(what it was to be: \.storypole-/);
    }
  });

  it('what has come to stand there meanwhile stays', async () => {
    const { fs, now, all } = fakeFiles({});
    const writeFile = fs.writeFile.bind(fs);
    const busy: FileSystem = {
      ...fs,
      writeFile: async (uri, bytes) => {
        await writeFile(uri, bytes);
        all.set('/job/b.closet', Buffer.from('mine'));
      },
    };
    expect(await told(writeThrough(busy)(two('nothing').slice(1)))).toMatch(/Nothing was written\.$/);
    expect(now()).toEqual({ '/job/b.closet': 'mine' });
  });

  it.each([
    ['a folder', { '/job/a.closet/x': 'mine' }, 'anything', {}, /is a folder/],
    ['a link', { '/job/a.closet': 'mine' }, 'anything', { links: ['/job/a.closet'] }, /is a link/],
    ['read-only', { '/job/a.closet': 'mine' }, 'anything', { readOnly: ['/job/a.closet'] }, /is read-only/],
    ['there', { '/job/a.closet': 'mine' }, 'nothing', {}, /is there already/],
    ['another', { '/job/a.closet': 'mine' }, Buffer.from('yours'), {}, /has changed meanwhile/],
  ] as const)('what is %s is left', async (_, before, over, options, why) => {
    const { fs, now } = fakeFiles(before, options);
    const said = await told(writeThrough(fs)([{ uri: at('/job/a.closet'), text: 'new', over }]));
    expect(said).toMatch(why);
    expect(said).toMatch(/^a\.closet .*nothing was written/i);
    expect(now()).toEqual(before);
  });

  it('what holds what was read is written over', async () => {
    const { fs, now } = fakeFiles({ '/job/a.closet': 'mine' });
    await writeThrough(fs)([{ uri: at('/job/a.closet'), text: 'new', over: Buffer.from('mine') }]);
    expect(now()).toEqual({ '/job/a.closet': 'new' });
  });
});
