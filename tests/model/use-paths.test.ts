/** What a `use` may reach: files in the workspace and installed packages, by no path, link or name out of them. */

import { spawnSync } from 'node:child_process';
import { mkdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { editsForMoves } from '../../server/language/moved-files.ts';
import { isWithin } from '../../server/model/files.ts';
import { nodeFiles } from '../../server/model/node-files.ts';
import { flawOf } from '../../server/model/use-path.ts';
import { folderWith } from '../cli/command.ts';
import { workspaceOf } from './support.ts';

const oak = 'board oak { depth 12in; thickness 3/4in }\n';
const using = (path: string): string => `project "Quarry Lane" { show inches }\nuse "${path}" as lib\n`;

/** What is found in a project of a repository on the disk, `p` in `r`, and all texts that were read. */
function foundIn(top: string): { readonly found: string[]; readonly read: string } {
  const read: string[] = [];
  const files: typeof nodeFiles = {
    ...nodeFiles,
    read: (path, largest, within) => {
      const answer = nodeFiles.read(path, largest, within);
      if (answer.kind === 'read') read.push(Buffer.from(answer.bytes).toString());
      return answer;
    },
  };
  const workspace = createWorkspace(files, []);
  workspace.loadFolder(join(top, 'r/p'));
  const found = workspace.projects.flatMap(({ project }) => {
    project.refreshNow();
    return project.findings().map(({ rule, message }) => `${rule.id}: ${message}`);
  });
  return { found, read: read.join('') };
}

const secret = 'board SECRET { depth 1in; thickness 1in }\n';
const repository = (path: string, more: Record<string, string> = {}): string =>
  folderWith({
    'r/.git/HEAD': '',
    'r/p/project.closet': using(path),
    'r/lib/a.closet': oak,
    'out/s.closet': secret,
    'out/passwd': secret,
    ...more,
  });

describe('a path', () => {
  it.each([
    ['/etc/passwd', 'begins at the top of the disk, which is another on each machine'],
    ['\\trade', 'begins at the top of the disk, which is another on each machine'],
    ['C:\\trade', 'begins with a drive, which is there on one machine alone'],
    ['c:trade', 'begins with a drive, which is there on one machine alone'],
    ['\\\\server\\share\\trade', 'leads to another machine'],
    ['//server/share/trade', 'leads to another machine'],
    ['\\\\?\\C:\\trade', 'leads to another machine'],
    ['\\\\.\\pipe\\x', 'leads to another machine'],
    ['file:///etc/passwd', 'is an address, and a path is wanted'],
    ['file:../lib', 'is an address, and a path is wanted'],
    ['https://example.org/trade.closet', 'is an address, and a path is wanted'],
    ['../lib/a.closet:stream', 'holds ":", which Windows lets be in no name'],
    ['../lib/a.closet::$DATA', 'holds ":", which Windows lets be in no name'],
    ['../*', 'holds "*", which Windows lets be in no name'],
    ['../CON', 'holds "CON", which is a device on Windows'],
    ['nul', 'holds "nul", which is a device on Windows'],
    ['com1.closet', 'holds "com1.closet", which is a device on Windows'],
    ['lpt³/x', 'holds "lpt³", which is a device on Windows'],
    ['../lib.', 'holds a name that ends in a dot, which Windows leaves out'],
    ['../lib /a', 'holds a name that ends in a space, which Windows leaves out'],
    ['.../lib', 'holds a name that ends in a dot, which Windows leaves out'],
    ['../lib\u0001/x', 'holds a character that is in no path'],
    ['../lib\u0085x', 'holds a character that is in no path'],
  ])('%j is refused: it %s', (path, why) => {
    expect(flawOf(path)).toBe(why);
    const workspace = workspaceOf({ '/r/.git/x': '', '/r/p/project.closet': using(path), '/r/lib/a.closet': oak });
    const found = workspace.projectOf('/r/p/project.closet')?.project.findings() ?? [];
    const told = found.filter(({ rule }) => rule.id === 'use-path-not-relative').map(({ message }) => message);
    expect(told).toEqual([`"${path.replaceAll(/\p{Cc}/gu, '\ufffd')}" ${why}.`]);
  });

  it('with a zero byte is in a file that is no text', () => {
    expect(flawOf('../lib\0/x')).toBe('holds a character that is in no path');
    expect(foundIn(repository('../lib\0/x')).found).toEqual([
      'file-not-text: The file is no text: it holds a zero byte in line 2.',
    ]);
  });

  it.each([
    '../lib',
    './lib',
    'lib',
    '..\\lib',
    'a/b.closet',
    '@trade/oak',
    'trade.v2',
    '.hidden',
    'Löwen/Äste',
    'console',
    'a b/c',
  ])('%j is one', (path) => expect(flawOf(path)).toBeUndefined());

  it.each(['../../out', '..\\..\\out', '../../out/s', '../lib/../../out', './../../out/s.closet'])(
    '%j leads out, and is told',
    (path) => {
      const { found, read } = foundIn(repository(path));
      expect(found).toEqual([
        `use-outside-workspace: "${path}" is outside the workspace, and a project has to be whole wherever it is checked out.`,
      ]);
      expect(read).not.toContain('SECRET');
    },
  );

  it.each(['%2e%2e/%2e%2e/out', '..%2f..%2fout', '%2e%2e%5cout'])('%j stands for itself', (path) => {
    expect(foundIn(repository(path)).found).toEqual([
      `use-not-found: There is no .closet file, folder or package at "${path}".`,
    ]);
  });

  it('of any letters reads nothing from outside', () => {
    const top = repository('../lib');
    const step = fc.constantFrom(
      '..',
      '.',
      'out',
      'r',
      'p',
      'lib',
      's.closet',
      'passwd',
      '',
      'C:',
      '\\',
      '%2e',
      '..\\..',
      '/',
      'OUT',
    );
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 7 }), (steps) => {
        writeFileSync(join(top, 'r/p/project.closet'), using(steps.join('/')));
        const { found, read } = foundIn(top);
        expect(read).not.toContain('SECRET');
        expect(found.every((text) => /^(use-|name-circle)/.test(text))).toBe(true);
      }),
      { numRuns: 150 },
    );
  });
});

describe('a link', () => {
  /** A repository in which something is a link, by name and what it leads to. */
  const linked = (path: string, links: Record<string, string>, more: Record<string, string> = {}): string => {
    const top = repository(path, more);
    for (const [name, to] of Object.entries(links)) {
      mkdirSync(dirname(join(top, name)), { recursive: true });
      symlinkSync(to, join(top, name));
    }
    return top;
  };

  it.each([
    ['to a folder', '../away', { 'r/away': '../out' }],
    ['to a file', '../away.closet', { 'r/away.closet': '../out/s.closet' }],
    ['to a file of another ending', '../away.closet', { 'r/away.closet': '../out/passwd' }],
    ['by way of others', '../one', { 'r/one': 'two', 'r/two': 'three', 'r/three': '../out' }],
    ['from the top', '../away', { 'r/away': '/etc' }],
    ['in the middle of the path', '../away/deep', { 'r/away': '../out' }],
  ])('%s out of the workspace is not followed', (_, path, links) => {
    const { found, read } = foundIn(linked(path, links, { 'out/deep/d.closet': secret }));
    expect(found.map((text) => text.replace(/:.*/, ''))).toEqual(['use-outside-workspace']);
    expect(read).not.toContain('SECRET');
  });

  it.each([
    ['in a circle', { 'r/away.closet': 'away.closet' }],
    ['to nothing', { 'r/away.closet': 'nowhere' }],
  ])('%s is told, and nothing hangs', (_, links) => {
    expect(foundIn(linked('../away', links)).found[0]).toMatch(
      /^(file-unreadable|use-outside-workspace|use-not-found): /,
    );
  });

  it('in a library, in the project, or in a package leads out of none', () => {
    for (const [path, name, to] of [
      ['../lib', 'r/lib/b.closet', '../../out/passwd'],
      ['../lib', 'r/p/b.closet', '../../out/passwd'],
      ['trade', 'r/node_modules/trade/b.closet', '../../../out/passwd'],
    ] as const) {
      const { found, read } = foundIn(linked(path, { [name]: to }, { 'r/node_modules/trade/a.closet': oak }));
      expect(found).toEqual([
        'file-unreadable: "b.closet" cannot be read: it is a link to a file outside of the workspace.',
      ]);
      expect(read).not.toContain('SECRET');
    }
  });

  it('of a file that declares a project leads out of no folder where there is no repository', () => {
    const top = folderWith({ 'out/project.closet': `project "SECRET" {}\n` });
    mkdirSync(join(top, 'r/p'), { recursive: true });
    symlinkSync('../../out/project.closet', join(top, 'r/p/project.closet'));
    const { found, read } = foundIn(top);
    expect(found.join()).toContain('it is a link to a file outside of the workspace');
    expect(read).not.toContain('SECRET');
  });

  it('within the workspace is followed', () => {
    expect(foundIn(linked('../away', { 'r/away': 'lib', 'r/p/more.closet': '../lib/a.closet' })).found).toEqual([]);
  });

  it('that takes the place of a file between looking and reading is not followed', () => {
    const top = repository('../lib');
    const path = join(top, 'r/lib/a.closet');
    // Looked at while it was a file, read once it has become a link.
    renameSync(path, `${path}.was`);
    symlinkSync('../../out/passwd', path);
    expect(nodeFiles.read(path, 1e6, () => join(top, 'r'))).toEqual({
      kind: 'failed',
      why: 'it is a link to a file outside of the workspace',
    });
    expect(nodeFiles.read(path, 1e6).kind).toBe('read');
  });

  it('and a pipe do not keep anybody waiting', () => {
    const top = repository('../lib');
    rmSync(join(top, 'r/lib/a.closet'));
    if (spawnSync('mkfifo', [join(top, 'r/lib/a.closet')]).status !== 0) return;
    expect(foundIn(top).found).toEqual(['file-unreadable: "a.closet" cannot be read: it is not a file.']);
  });
});

describe('a package', () => {
  it('gives its .closet files and nothing else that lies in it', () => {
    const more = {
      'r/node_modules/trade/package.json': '{"SECRET": 1}',
      'r/node_modules/trade/oak.closet': oak,
      'r/node_modules/trade/x.txt': secret,
    };
    for (const path of ['trade', 'trade/oak', 'trade/oak.closet'])
      expect(foundIn(repository(path, more)).found).toEqual([]);
    for (const path of ['trade/package.json', 'trade/x.txt', 'trade/../../../out/passwd', 'trade/./../x']) {
      const { found, read } = foundIn(repository(path, more));
      expect(found.map((text) => text.replace(/:.*/, ''))).toEqual(['use-not-found']);
      expect(read).not.toContain('SECRET');
    }
  });
});

it('a file that is moved gets no path written to it that would be refused', () => {
  const { projects } = workspaceOf({ '/r/.git/x': '', '/r/p/project.closet': using('../lib'), '/r/lib/a.closet': oak });
  const moved = (to: string) =>
    editsForMoves(
      projects.map(({ project }) => project),
      [{ from: '/r/lib', to }],
    ).map(({ text }) => text);
  expect(moved('/r/trade')).toEqual(['../trade']);
  for (const to of ['/r/CON', '/r/a:b', '/r/trade.', '/r/a\nb', '/r/a"b', '/r/nul.closet'])
    expect(moved(to)).toEqual([]);
});

it('what stays within a folder is told by whole names', () => {
  expect([isWithin('/r/p', '/r/p2'), isWithin('/r/p', '/r/p/x'), isWithin('/r/p', '/r/P/x')]).toEqual([
    false,
    true,
    false,
  ]);
});
