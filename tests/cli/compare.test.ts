/** `storypole compare` between folders and between revisions of a repository, with git itself. */
import { spawnSync } from 'node:child_process';
import { chmodSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, root, storypole } from './command.ts';

const closet = `project "Quarry Lane" { currency EUR }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 20 EUR }
template t { board white-12; wall back { length 48in; height 96in }; zone a on back { width fill; shelf s { at 84in } } }
unit u-1 t
unit u-2 t
`;

function git(folder: string, ...args: string[]): string {
  const run = spawnSync(
    'git',
    ['-c', 'user.name=somebody', '-c', 'user.email=somebody@quarry.test', '-c', 'init.defaultBranch=main', ...args],
    {
      cwd: folder,
      encoding: 'utf8',
    },
  );
  if (run.status !== 0) throw new Error(run.stderr);
  return run.stdout;
}

function repository(files: Record<string, string | Uint8Array>): string {
  const folder = folderWith(files);
  git(folder, 'init', '-q');
  git(folder, 'add', '-A');
  git(folder, 'commit', '-qm', 'first');
  return folder;
}

describe('compare', () => {
  it('of two folders tells what differs, once', () => {
    const folder = folderWith({ 'old/a.closet': closet, 'new/a.closet': closet.replace('84in', '85in') });
    const { out, err, status } = storypole(['compare', 'old', 'new'], folder);
    expect([status, err]).toEqual([0, '']);
    expect(out).toContain('Quarry Lane: old -> new\n\nChanges what is built in 2 units of 2.\n');
    expect(out).toContain(
      'Template t, 2 units\n  u-1 and u-2\n  ~ a.s  underside above the floor: 84in -> 85in (1in higher)\n',
    );
  });

  it('of a revision reads the object store, and leaves the work tree alone', () => {
    const folder = repository({ 'a.closet': closet });
    writeFileSync(join(folder, 'a.closet'), closet.replace('48in', '50in'));
    const { out } = storypole(['compare', 'HEAD'], folder);
    expect(out).toContain('-> the work tree\n');
    expect(out).toContain('~ a.s   cut length: 48in -> 50in (2in more)');
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toContain('50in');
    git(folder, 'commit', '-qam', 'second');
    rmSync(join(folder, 'a.closet'));
    expect(storypole(['compare', 'HEAD~1', 'HEAD'], folder).out).toContain('48in -> 50in');
    expect(git(folder, 'status', '--porcelain')).toBe(' D a.closet\n');
  });

  it('says where nothing that is built differs, and ends with 1 for --exit-code only where it does', () => {
    const folder = repository({ 'a.closet': closet });
    writeFileSync(join(folder, 'a.closet'), closet.replaceAll('u-2', 'u-9').replaceAll('; ', ';\n  '));
    const same = storypole(['compare', 'HEAD', '--exit-code'], folder);
    expect([same.status, same.out.split('\n')[2]]).toEqual([
      0,
      'No change in what is built. But 1 unit has another name.',
    ]);
    writeFileSync(join(folder, 'a.closet'), closet.replace('unit u-2 t\n', ''));
    const other = storypole(['compare', 'HEAD', '--exit-code'], folder);
    expect([other.status, other.out.split('\n')[2]]).toEqual([1, 'Takes away 1 unit.']);
  });

  it('takes what has another name for what it was, with its findings', () => {
    const hung = closet
      .replace(
        'shelf s { at 84in }',
        'shelf s { at 84in }; pole p; rod r { under s by 3in; for tunic }; rod q { at 40in }',
      )
      .concat('rod p { diameter 1-1/4in }\nstock p { length 8ft }\ngarment tunic { hang 30in; hanger 17in }\n');
    const renamed = hung.replaceAll('tunic', 'blouse').replaceAll(/\ba\b/g, 'z').replaceAll(/\bs\b/g, 'top');
    const folder = folderWith({ 'old/a.closet': hung, 'new/a.closet': renamed.replaceAll(/\bq\b/g, 'low') });
    const { out, status } = storypole(['compare', 'old', 'new', '--exit-code'], folder);
    expect([status, out.split('\n\n')[1]]).toEqual([0, 'No change in what is built.']);
    expect(out).not.toMatch(/^ *[+-] /m);
    expect(out).toMatch(/^notes +[1-9]/m);
  });

  it('takes a file that is there on one side only for what it is', () => {
    const folder = repository({ 'project.closet': closet, 'more.closet': 'unit v t\n' });
    rmSync(join(folder, 'more.closet'));
    expect(storypole(['compare', 'HEAD'], folder).out).toContain('Units that are gone: v\n');
  });

  it('writes Markdown and JSON', () => {
    const folder = folderWith({ 'old/a.closet': closet, 'new/a.closet': closet.replace('84in', '85in') });
    const markdown = storypole(['compare', 'old', 'new', '--format', 'markdown'], folder).out;
    expect(markdown).toMatch(/^### Quarry Lane: `old` → `new`\n/);
    const json = JSON.parse(storypole(['compare', 'old', 'new', '--format', 'json'], folder).out);
    expect(json.projects[0].groups[0].units).toEqual(['u-1', 'u-2']);
    expect(json.projects[0].totals.after.materials[0]).toMatchObject({
      material: 'white-12',
      boards: 2,
      price: { text: '40.00 EUR' },
    });
  });

  it('finds the project in a folder of the repository', () => {
    const folder = repository({ 'flats/a.closet': closet, 'readme.md': 'x' });
    expect(storypole(['compare', 'HEAD', 'HEAD', '--project', 'flats'], folder).out).toContain(
      'No change in what is built.',
    );
    expect(storypole(['compare', 'HEAD', '.'], join(folder, 'flats')).out).toContain('No change in what is built.');
  });

  it('reports what another version of a library would change, a submodule or a package', () => {
    const trade = (at: string): string =>
      `board white-12 { depth 12in; thickness 3/4in }\ntemplate t { board white-12; wall back { length 48in; height 96in }; zone a on back { width fill; shelf s { at ${at} } } }\n`;
    const library = repository({ 'all.closet': trade('84in') });
    git(library, 'tag', 'v1');
    writeFileSync(join(library, 'all.closet'), trade('85in'));
    git(library, 'commit', '-qam', 'second');
    git(library, 'tag', 'v2');
    const folder = repository({
      'p/project.closet':
        'project "Quarry Lane" {}\nuse "../trade" as trade\nunit u-1 trade.t\nstock trade.white-12 { length 8ft }\n',
    });
    git(folder, '-c', 'protocol.file.allow=always', 'submodule', 'add', '-q', library, 'trade');
    git(join(folder, 'trade'), 'checkout', '-q', 'v1');
    git(folder, 'add', '-A');
    git(folder, 'commit', '-qm', 'with the library');
    const upgrade = storypole(['compare', 'p', 'p', '--library', 'trade=v2'], folder);
    expect([upgrade.status, upgrade.err]).toEqual([0, '']);
    expect(upgrade.out).toContain(', trade at v2 (');
    expect(upgrade.out).toContain('~ a.s  underside above the floor: 84in -> 85in (1in higher)');
    // Revisions know the commit of the library that each of them was made with.
    git(join(folder, 'trade'), 'checkout', '-q', 'v2');
    git(folder, 'commit', '-qam', 'upgrade');
    const { out } = storypole(['compare', 'HEAD~1', 'HEAD', '--project', 'p'], folder);
    expect(out).toContain('~ a.s  underside above the floor: 84in -> 85in (1in higher)');

    const installed = folderWith({
      'node_modules/@quarry/trade/all.closet': trade('84in'),
      'next/all.closet': trade('86in'),
      'p/project.closet':
        'project "Quarry Lane" {}\nuse "@quarry/trade" as trade\nunit u-1 trade.t\nstock trade.white-12 { length 8ft }\n',
    });
    const next = storypole(['compare', 'p', 'p', '--library', 'node_modules/@quarry/trade=next'], installed);
    expect([next.status, next.err]).toEqual([0, '']);
    expect(next.out).toContain('84in -> 86in (2in higher)');
    expect(storypole(['compare', 'p', 'p', '--library', 'next'], installed).err).toContain(
      '--library takes FOLDER=VERSION',
    );
    expect(storypole(['compare', 'p', 'p', '--library', 'no=next'], installed).err).toContain(
      'There is no folder "no"',
    );
  });

  it.each([
    ['a revision that is not there', ['compare', 'no-such'], 'There is no folder and no git revision "no-such".'],
    [
      'what looks like an option',
      ['compare', '--', '--output=x'],
      '"--output=x" is not the name of a revision: none begins with a dash.',
    ],
    ['an empty folder', ['compare', 'HEAD', 'empty'], 'Neither'],
  ])('refuses %s', (_, words, why) => {
    const folder = repository({ 'readme.md': 'x', 'empty/x': '' });
    const { status, out, err } = storypole(words, folder);
    expect([status, out]).toEqual([2, '']);
    if (why !== 'Neither') expect(err).toBe(`storypole: ${why}\n`);
  });

  it('says of a shallow clone that its history is missing', () => {
    const folder = repository({ 'a.closet': closet });
    git(folder, 'commit', '-q', '--allow-empty', '-m', 'second');
    const clone = folderWith({});
    git(clone, 'clone', '-q', '--depth', '1', `file://${folder}`, 'shallow');
    const { status, err } = storypole(['compare', 'HEAD~1'], join(clone, 'shallow'));
    expect(status).toBe(2);
    expect(err).toContain('which is a shallow clone: fetch more of its history (git fetch --unshallow');
  });

  it('outside a repository says so', () => {
    const { status, err } = storypole(['compare', 'HEAD'], folderWith({ 'a.closet': closet }));
    expect([status, err]).toEqual([
      2,
      'storypole: There is no folder "HEAD", and this folder is in no git repository.\n',
    ]);
  });

  it('reads a binary file of the name as the check does, and runs nothing of the repository', () => {
    const folder = repository({ 'a.closet': closet, 'b.closet': new Uint8Array([0, 255, 254, 0, 1, 2]) });
    const ran = join(folder, 'ran');
    writeFileSync(join(folder, '.git/hooks/post-checkout'), `#!/bin/sh\ntouch ${ran}\n`);
    writeFileSync(join(folder, 'monitor'), `#!/bin/sh\ntouch ${ran}\n`);
    for (const name of ['.git/hooks/post-checkout', 'monitor']) chmodSync(join(folder, name), 0o755);
    git(folder, 'config', 'core.fsmonitor', join(folder, 'monitor'));
    git(folder, 'config', 'diff.external', join(folder, 'monitor'));
    const { status, out } = storypole(['compare', 'HEAD'], folder);
    expect([status, out.split('\n')[2]]).toEqual([0, 'No change in what is built.']);
    expect(spawnSync('ls', [ran]).status).not.toBe(0);
  });

  it('of the example with a template edited reads as one change', () => {
    const folder = folderWith({});
    spawnSync('cp', ['-r', join(root, 'examples/quarry-lane'), join(folder, 'new')]);
    const template = join(folder, 'new/templates/linen.closet');
    writeFileSync(template, readFileSync(template, 'utf8').replace('shelf top { at 78in }', 'shelf top { at 77in }'));
    const { out } = storypole(['compare', join(root, 'examples/quarry-lane'), 'new'], folder);
    expect(out).toMatch(/^Template linen, 23 units$/m);
    // In one flat the wall is narrower at one of the new heights.
    expect(out).toContain(
      'Template linen, 1 unit\n  A-206-linen\n  ~ main.middle.2  cut length: 35-5/16in -> 35-1/4in (1/16in less)\n',
    );
    expect(out.match(/^Template /gm)).toHaveLength(2);
    expect(out).toContain('~ main.top       underside above the floor: 78in -> 77in (1in lower)');
  });
});
