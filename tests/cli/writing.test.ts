/** Files are written all or none, whatever the disk answers at any step; and never through what leads elsewhere. */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  existsSync,
  linkSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Stop } from '../../server/cli/stop.ts';
import type { FileToWrite } from '../../server/writing/file-to-write.ts';
import { rewriting } from '../../server/writing/sources.ts';
import { temporaryIn, tidy } from '../../server/writing/temporary.ts';
import { writeFiles } from '../../server/writing/write-files.ts';
import { folderWith, quickly } from './command.ts';
import { withFault } from './faults.ts';

const isRoot = process.getuid?.() === 0;
const before = { 'a.closet': '// a, old\n', 'b.closet': '// b, old\n' };
const after = { 'a.closet': '// a, new\n', 'b.closet': '// b, new\n', 'deep/er/c.closet': '// c\n' };

/** Two that are rewritten and one that is made, with its folders. */
function some(folder: string): FileToWrite[] {
  const rewritten = Object.entries(before).map(([shown, old]) => {
    const path = join(folder, shown);
    return rewriting({ path, shown, within: folder, before: old, after: after[shown as keyof typeof before] });
  });
  const shown = 'deep/er/c.closet';
  return [...rewritten, { path: join(folder, shown), shown, pieces: [after[shown]], makesFolder: true }];
}

/** Names and contents of all files. */
function all(folder: string): Record<string, string> {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
    statSync(join(folder, name)).isFile(),
  );
  return Object.fromEntries(
    names.sort().map((name) => [name.replaceAll('\\', '/'), readFileSync(join(folder, name), 'utf8')]),
  );
}

const isTemporary = (name: string): boolean => /(^|\/)\.storypole-[^/]+\.tmp$/.test(name);
const seen = (folder: string): Record<string, string> =>
  Object.fromEntries(Object.entries(all(folder)).filter(([name]) => !isTemporary(name)));

const asStop = async (act: Promise<unknown>): Promise<string | undefined> => {
  try {
    await act;
    return undefined;
  } catch (error) {
    if (error instanceof Stop) return error.message;
    throw error;
  }
};

describe('several files', () => {
  it('are written with their folders, and nothing stays beside them', async () => {
    const folder = folderWith(before);
    expect(await writeFiles(some(folder))).toEqual({ count: 3, notes: [] });
    expect(all(folder)).toEqual(after);
  });

  it.each(['ENOSPC', 'EIO', 'EROFS', 'EACCES', 'EMFILE', 'EXDEV', 'EDQUOT'])(
    'are all old or all new where one call answers %s, whichever it is, and it is told',
    async (answer) => {
      let isThrough = false;
      const met = new Set<string>();
      for (let at = 1; !isThrough; at++) {
        const folder = folderWith(before, quickly);
        const files = some(folder);
        let said: string | undefined;
        const calls = await withFault({ folder, at, answer }, async () => {
          said = await asStop(writeFiles(files));
        });
        isThrough = calls.length < at;
        const called = calls[at - 1] ?? '';
        const found = seen(folder);
        const isNew = found['a.closet'] === after['a.closet'];
        expect({ at, called, found }).toEqual({ at, called, found: isNew ? after : before });
        // Where it is told that it failed nothing has changed, and where nothing is told all has.
        expect({ at, called, isNew }).toEqual({ at, called, isNew: said === undefined });
        if (said !== undefined) {
          met.add(called);
          expect(said).toMatch(
            /^\S+\.closet (cannot be (written|read): .+\. Nothing was written|is read-only, so nothing was written\. .+)\.$/,
          );
          expect(readdirSync(folder).filter((name) => !name.endsWith('.closet'))).toEqual([]);
        }
        // What could not be taken away is taken away by the next one.
        if (called !== 'unlinkSync')
          expect({ called, names: Object.keys(all(folder)).filter(isTemporary) }).toEqual({ called, names: [] });
      }
      for (const call of [
        'open',
        'writeFile',
        'writeFile half',
        'sync',
        'close',
        'linkSync',
        'renameSync',
        'mkdirSync',
      ])
        if (!(call === 'linkSync' && answer === 'EPERM')) expect([...met]).toContain(call);
    },
  );

  it('where nothing can be put back any more, what is new is told by name, with where the old is', async () => {
    let partly = 0;
    for (let at = 1; at < 80; at++) {
      const folder = folderWith(before, quickly);
      const files = some(folder);
      let said: string | undefined;
      await withFault(
        { folder, at, answer: 'EIO', forGood: true, only: ['renameSync', 'unlinkSync', 'fsyncSync'] },
        async () => {
          said = await asStop(writeFiles(files));
        },
      );
      const found = all(folder);
      const changed = Object.keys(after).filter((name) => found[name] === after[name as keyof typeof after]);
      if (said === undefined) {
        expect(changed).toEqual(Object.keys(after));
        continue;
      }
      if (changed.length === 0) {
        expect(said).toContain('Nothing was written.');
        continue;
      }
      partly++;
      expect(said).not.toContain('Nothing was written');
      const told = /could not be put back: (.+)\. All others are as they were\.$/.exec(said)?.[1] ?? '';
      expect(Object.keys(after).filter((name) => told.includes(name))).toEqual(changed);
      for (const name of changed.filter((one) => one in before)) {
        expect(told).toContain(`${name} (as it was: ${join(folder, name)}.before)`);
        expect(readFileSync(join(folder, `${name}.before`), 'utf8')).toBe(before[name as keyof typeof before]);
      }
    }
    expect(partly).toBeGreaterThan(0);
  });

  it('on a disk that knows no second names are written all the same', async () => {
    const folder = folderWith(before);
    const calls = await withFault({ folder, at: 1, answer: 'EPERM', forGood: true, only: ['linkSync'] }, () =>
      writeFiles(some(folder)),
    );
    expect(calls).toHaveLength(3);
    expect(all(folder)).toEqual(after);
    const listening = (): number =>
      ['exit', 'SIGINT', 'SIGTERM'].reduce((sum, name) => sum + process.listenerCount(name), 0);
    const were = listening();
    await writeFiles([{ path: join(folder, 'd.closet'), shown: 'd.closet', pieces: [''] }]);
    expect(listening()).toBe(were);
  });

  it('are put back where a later one finds its place taken, also on such a disk', async () => {
    for (const only of [['linkSync'], []]) {
      const folder = folderWith(before);
      const files = some(folder);
      async function* late(): AsyncGenerator<string> {
        yield 'mine';
        writeFileSync(join(folder, 'deep/er/c.closet'), '// somebody else\n');
      }
      files[2] = { ...(files[2] as FileToWrite), pieces: late() };
      let said: string | undefined;
      await withFault({ folder, at: 1, answer: 'EPERM', forGood: true, only }, async () => {
        said = await asStop(writeFiles(files));
      });
      expect(said).toBe('deep/er/c.closet has changed meanwhile, so nothing was written.');
      expect(all(folder)).toEqual({ ...before, 'deep/er/c.closet': '// somebody else\n' });
    }
  });

  it('are put back where one of them was written by another program meanwhile', async () => {
    for (const meanwhile of [
      (path: string) => writeFileSync(path, '// b, OLD\n'),
      (path: string) => {
        writeFileSync(`${path}.new`, '// b, old\n');
        renameSync(`${path}.new`, path);
      },
      (path: string) => {
        rmSync(path);
        symlinkSync('a.closet', path);
      },
      (path: string) => rmSync(path),
    ]) {
      const folder = folderWith(before);
      const [a, b, c] = some(folder) as [FileToWrite, FileToWrite, FileToWrite];
      async function* late(): AsyncGenerator<string> {
        yield '// c\n';
        meanwhile(join(folder, 'b.closet'));
      }
      expect(await asStop(writeFiles([a, b, { ...c, pieces: late() }]))).toMatch(
        /^b\.closet (has changed meanwhile, so nothing was written|cannot be written: .* Nothing was written)\.$/,
      );
      expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(before['a.closet']);
      expect(readdirSync(folder).filter((name) => !name.endsWith('.closet'))).toEqual([]);
    }
  });

  it('are not written into a folder that has become another one', async () => {
    const folder = folderWith({ 'in/a.closet': '// old\n', 'out/a.closet': '// theirs\n' });
    const path = join(folder, 'in/a.closet');
    const file = rewriting({
      path,
      shown: 'in/a.closet',
      within: join(folder, 'in'),
      before: '// old\n',
      after: '// new\n',
    });
    async function* late(): AsyncGenerator<string> {
      yield '// new\n';
      renameSync(join(folder, 'in'), join(folder, 'was'));
      symlinkSync('out', join(folder, 'in'));
    }
    expect(await asStop(writeFiles([{ ...file, pieces: late() }]))).toBe(
      'in/a.closet has changed meanwhile, so nothing was written.',
    );
    expect(readFileSync(join(folder, 'out/a.closet'), 'utf8')).toBe('// theirs\n');
    expect(readFileSync(join(folder, 'was/a.closet'), 'utf8')).toBe('// old\n');
  });
});

describe('a file that is rewritten', () => {
  const only = (folder: string, shown = 'a.closet'): FileToWrite =>
    rewriting({ path: join(folder, shown), shown, within: folder, before: 'old\n', after: 'new\n' });

  it.each([0o600, 0o640, 0o644, 0o664, 0o666, 0o755, 0o777])('keeps its permissions: %o', async (mode) => {
    const folder = folderWith({ 'a.closet': 'old\n' });
    chmodSync(join(folder, 'a.closet'), mode);
    const mask = process.umask(0o077);
    try {
      await writeFiles([only(folder)]);
    } finally {
      process.umask(mask);
    }
    expect(statSync(join(folder, 'a.closet')).mode & 0o777).toBe(mode);
  });

  it.runIf(isRoot)('keeps its owner and its group', async () => {
    const folder = folderWith({ 'a.closet': 'old\n' });
    chmodSync(join(folder, 'a.closet'), 0o660);
    chownSync(join(folder, 'a.closet'), 12_345, 23_456);
    await writeFiles([only(folder)]);
    const { uid, gid, mode } = statSync(join(folder, 'a.closet'));
    expect([uid, gid, mode & 0o777]).toEqual([12_345, 23_456, 0o660]);
  });

  it.runIf(isRoot)('lets another group do no more than anybody, where its own cannot be kept', async () => {
    const folder = folderWith({ 'a.closet': 'old\n' });
    chmodSync(join(folder, 'a.closet'), 0o664);
    chownSync(join(folder, 'a.closet'), 12_345, 23_456);
    const file = only(folder);
    await withFault({ folder, at: 1, answer: 'EPERM', forGood: true, only: ['chown'] }, () => writeFiles([file]));
    const { gid, mode } = statSync(join(folder, 'a.closet'));
    expect([gid, mode & 0o777]).toEqual([process.getgid?.(), 0o644]);
  });

  it('is left where it is read-only, though its folder is not', async () => {
    const folder = folderWith({ 'a.closet': 'old\n' });
    chmodSync(join(folder, 'a.closet'), 0o444);
    expect(await asStop(writeFiles([only(folder)]))).toBe(
      'a.closet is read-only, so nothing was written. Let it be written to, if it is to be changed.',
    );
    expect(all(folder)).toEqual({ 'a.closet': 'old\n' });
  });

  it('keeps a mark in front of it', async () => {
    const folder = folderWith({ 'a.closet': '\ufeffold\n' });
    await writeFiles([only(folder)]);
    expect(all(folder)).toEqual({ 'a.closet': '\ufeffnew\n' });
  });

  it('is what was read to the byte, or is left', () => {
    // Bytes that are no letter are read as this one, and are not this one.
    const folder = folderWith({ 'a.closet': Uint8Array.of(0xe9, 10) });
    const file = () =>
      rewriting({ path: join(folder, 'a.closet'), shown: 'a.closet', within: folder, before: '\ufffd\n', after: '' });
    expect(file).toThrow('a.closet has changed meanwhile, so nothing was written.');
  });

  it('is reached through a link within its project, which is said', async () => {
    const folder = folderWith({ 'kept/real.txt': 'old\n' });
    symlinkSync('kept/real.txt', join(folder, 'b.closet'));
    symlinkSync('b.closet', join(folder, 'a.closet'));
    expect(await writeFiles([only(folder)])).toEqual({
      count: 1,
      notes: ['a.closet is a link: kept/real.txt was written.'],
    });
    expect(lstatSync(join(folder, 'a.closet')).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(folder, 'kept/real.txt'), 'utf8')).toBe('new\n');
    expect(readdirSync(join(folder, 'kept'))).toEqual(['real.txt']);
  });

  it('is not reached through a link that leads out of it, by a file or a folder, in one step or in more', async () => {
    const folder = folderWith({ 'out/real.txt': 'old\n', 'out/b.closet': 'old\n', 'job/.keep': '' });
    const job = join(folder, 'job');
    symlinkSync('../out/real.txt', join(job, 'a.closet'));
    symlinkSync('a.closet', join(job, 'chain.closet'));
    symlinkSync('../out', join(job, 'sub'));
    for (const name of ['a.closet', 'chain.closet', 'sub/b.closet'])
      expect(await asStop(writeFiles([only(job, name)]))).toMatch(/outside of the project, so nothing was written/);
    expect(
      await asStop(
        writeFiles([{ path: join(job, 'sub/new.closet'), shown: 'sub/new.closet', pieces: [''], within: job }]),
      ),
    ).toBe('the folder of sub/new.closet is a link to a place outside of the project, so nothing was written.');
    expect(all(join(folder, 'out'))).toEqual({ 'b.closet': 'old\n', 'real.txt': 'old\n' });
  });

  it('of two names by a link is written once, and not in two ways', async () => {
    const folder = folderWith({ 'a.closet': 'old\n' });
    symlinkSync('a.closet', join(folder, 'b.closet'));
    const [a, b] = [only(folder), only(folder, 'b.closet')];
    expect(await asStop(writeFiles([a, { ...b, pieces: ['other\n'] }]))).toBe(
      'a.closet and b.closet are one file by two names, and it would be written in two ways. Nothing was written.',
    );
    expect(all(folder)).toEqual({ 'a.closet': 'old\n', 'b.closet': 'old\n' });
    expect((await writeFiles([a, b])).count).toBe(1);
    expect(all(folder)).toEqual({ 'a.closet': 'new\n', 'b.closet': 'new\n' });
  });

  it('that has another name on the disk leaves what it was under that one, which is said', async () => {
    const folder = folderWith({ 'a.closet': 'old\n' });
    linkSync(join(folder, 'a.closet'), join(folder, 'backup.txt'));
    expect((await writeFiles([only(folder)])).notes).toEqual([
      'a.closet had another name on the disk (a hard link), under which what it was is still there.',
    ]);
    expect(all(folder)).toEqual({ 'a.closet': 'new\n', 'backup.txt': 'old\n' });
  });
});

describe('what is no file', () => {
  const to = (path: string): Promise<string | undefined> =>
    asStop(writeFiles([{ path, shown: 'out', pieces: ['x'], over: () => undefined }]));

  it('is left as it is: folders, pipes, devices, links to nothing and in a circle', async () => {
    const folder = folderWith({ 'sub/x': '' });
    symlinkSync('nowhere', join(folder, 'loose'));
    symlinkSync('loop', join(folder, 'loop'));
    symlinkSync('/dev/null', join(folder, 'null'));
    symlinkSync('/proc/self/fd/1', join(folder, 'stdout'));
    spawnSync('mkfifo', [join(folder, 'pipe')]);
    expect(await to(join(folder, 'sub'))).toBe('out is a folder.');
    expect(await to(join(folder, 'loose'))).toBe('out is a link that leads nowhere, so nothing was written.');
    expect(await to(join(folder, 'loop'))).toBe('out is a link that leads back to itself, so nothing was written.');
    expect(await to(join(folder, 'null'))).toBe('out is not an ordinary file.');
    if (existsSync(join(folder, 'pipe'))) expect(await to(join(folder, 'pipe'))).toBe('out is not an ordinary file.');
    for (const device of ['/dev/stdout', '/dev/full', '/dev/fd/1', '/proc/self/fd/1', '/dev/nothing-of-this-name'])
      expect(await to(device)).toBe('out is not an ordinary file.');
    expect(await to(join(folder, 'sub/x/y'))).toBe(
      'out cannot be written: a part of its path is not a folder. Nothing was written.',
    );
    expect(await to(join(folder, 'a\0b'))).toMatch(/^out cannot be written: .+ Nothing was written\.$/);
    expect(readdirSync(folder).filter(isTemporary)).toEqual([]);
  });

  it('is never what a temporary file is opened through', () => {
    const folder = folderWith({});
    const names = new Set(Array.from({ length: 100 }, () => temporaryIn(folder)));
    // Of another name each time, so that nobody can have put something there before.
    expect(names.size).toBe(100);
    for (const name of names) expect(isTemporary(name)).toBe(true);
  });
});

describe('what a killed command leaves', () => {
  /** A number that no process has any more. */
  const gone = (): number => spawnSync(process.execPath, ['-e', '']).pid;

  it('is taken away by the next, unless whoever writes it is running, or may be elsewhere', async () => {
    const folder = folderWith({});
    const mine = temporaryIn(folder).replace(`${folder}/`, '');
    const left = mine.replace(`-${process.pid}-`, `-${gone()}-`);
    const elsewhere = left.replace(/^\.storypole-[0-9a-f]{12}-/, '.storypole-0123456789ab-');
    const old = elsewhere.replace(/.\.tmp$/, '0.tmp').replace('-0123456789ab-', '-ba9876543210-');
    const theirs = ['.storypole.tmp', '.storypole-notes.tmp', 'a.tmp', `x${left}`];
    for (const name of [mine, left, elsewhere, old, ...theirs]) writeFileSync(join(folder, name), hostname());
    utimesSync(join(folder, old), new Date(0), new Date(0));
    const folderOfThatName = left.replace(/.\.tmp$/, 'f.tmp');
    mkdirSync(join(folder, folderOfThatName));
    tidy([folder, join(folder, 'nowhere')]);
    expect(readdirSync(folder).sort()).toEqual([mine, elsewhere, folderOfThatName, ...theirs].sort());
  });
});
