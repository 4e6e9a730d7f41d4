/** Layouts in daily use with git, which is run itself: what a diff shows, what a merge does, what conflicts are told as. */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { command, folderWith, storypole } from './command.ts';

const project = `project "Quarry Lane" { currency EUR }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft }
`;
const template = (name: string, at = '84in'): string => `
/// ${name}.
template ${name} {
  board white-12
  wall back { length 48in; height 96in }
  zone a on back {
    width fill
    shelf high { at ${at} }
    shelf low { at 42in }
  }
}
`;
const units = (count: number): string =>
  Array.from({ length: count }, (_, i) => `unit u-${i} one {\n  floor ${i % 3}\n}\n`).join('');

function git(folder: string, ...args: string[]): { readonly status: number | null; readonly out: string } {
  const run = spawnSync(
    'git',
    ['-c', 'user.name=somebody', '-c', 'user.email=somebody@quarry.test', '-c', 'init.defaultBranch=main', ...args],
    {
      cwd: folder,
      encoding: 'utf8',
    },
  );
  return { status: run.status, out: run.stdout + run.stderr };
}

function repository(files: Record<string, string>): string {
  const folder = folderWith(files);
  git(folder, 'init', '-q');
  git(folder, 'add', '-A');
  git(folder, 'commit', '-qm', 'first');
  return folder;
}

/** Two branches from one beginning, each with its edit, merged. */
function merged(
  text: string,
  ours: (text: string) => string,
  theirs: (text: string) => string,
): { status: number | null; text: string; folder: string } {
  const folder = repository({ 'a.closet': text });
  const path = join(folder, 'a.closet');
  git(folder, 'checkout', '-qb', 'theirs');
  writeFileSync(path, theirs(text));
  git(folder, 'commit', '-qam', 'theirs');
  git(folder, 'checkout', '-q', 'main');
  writeFileSync(path, ours(text));
  git(folder, 'commit', '-qam', 'ours');
  const { status } = git(folder, 'merge', '-q', 'theirs');
  return { status, text: readFileSync(path, 'utf8'), folder };
}

const whole = `${project}${template('one')}${template('two')}${units(6)}`;

describe('git diff with the driver', () => {
  it('shows each statement with what it stands in, and nothing for layout, comments and units of measure', () => {
    const folder = repository({ 'a.closet': whole, '.gitattributes': '*.closet diff=closet\n' });
    git(folder, 'config', 'diff.closet.textconv', `"${process.execPath}" "${command}" flatten`);
    writeFileSync(
      join(folder, 'a.closet'),
      whole
        .replace('at 84in', 'at 7ft')
        .replace('/// two.', '/// Two of them.')
        .replaceAll('    ', '\t')
        .replace('floor 2', 'floor 3'),
    );
    const changed = git(folder, 'diff')
      .out.split('\n')
      .filter((line) => /^[-+][^-+]/.test(line));
    expect(changed).toEqual(['-unit u-2 one > floor 2', '+unit u-2 one > floor 3']);
  });

  it('keeps texts as they are, and says what cannot be read', () => {
    const folder = folderWith({
      'a.closet':
        'board oak { finish "two  spaces" /* why */ }\nunit u t { width 6ft 3-1/2in }\nextra e { length 1000.1mm }\n',
    });
    expect(storypole(['flatten', 'a.closet'], folder).out).toBe(
      'board oak\nboard oak > finish "two  spaces"\nunit u t\nunit u t > width 75-1/2in\nextra e\nextra e > length 1000.1mm\n',
    );
    expect(storypole(['flatten', 'b.closet'], folder)).toMatchObject({ status: 2, out: '' });
  });
});

describe('git merge', () => {
  it.each([
    [
      'two units',
      (t: string) => t.replace('unit u-1 one {\n  floor 1', 'unit u-1 one {\n  floor 7'),
      (t: string) => t.replace('unit u-2 one {\n  floor 2', 'unit u-2 one {\n  floor 8'),
    ],
    [
      'two templates',
      (t: string) => t.replace(template('one'), template('one', '85in')),
      (t: string) => t.replace(template('two'), template('two', '86in')),
    ],
    [
      'a template and a unit',
      (t: string) => t.replace('at 84in', 'at 85in'),
      (t: string) => t.replace('unit u-5 one', 'unit u-5 two'),
    ],
    [
      'two shelves of a zone',
      (t: string) => t.replace('shelf high { at 84in }', 'shelf high { at 85in }'),
      (t: string) => t.replace('wall back { length 48in', 'wall back { length 50in'),
    ],
    [
      'a unit that goes and one that is changed',
      (t: string) => t.replace('unit u-1 one {\n  floor 1\n}\n', ''),
      (t: string) => t.replace('unit u-3 one {\n  floor 0', 'unit u-3 one {\n  floor 9'),
    ],
  ])('puts parallel edits of %s together without a conflict', (_, ours, theirs) => {
    const { status, text, folder } = merged(whole, ours, theirs);
    expect(status).toBe(0);
    expect(text).toBe(theirs(ours(whole)));
    expect(storypole(['check'], folder).out).not.toContain('merge-conflict');
  });
});

describe('a file with a conflict', () => {
  const { text, folder } = merged(
    whole,
    (t) => t.replace('at 84in', 'at 85in'),
    (t) => t.replace('at 84in', 'at 86in'),
  );

  it('is told of once, and nothing else is said of it', () => {
    const { out, status } = storypole(['check'], folder);
    expect(status).toBe(1);
    expect(out).toContain('error merge-conflict\n  This file holds both sides of a merge, in 1 place (line 11).\n');
    expect(out).toContain('1 error in 1 file');
  });

  it('is left alone by the formatter', () => {
    const { err } = storypole(['format'], folder);
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(text);
    expect(err).toContain('a.closet:1');
  });

  it('can be mended to either side', () => {
    const json = JSON.parse(storypole(['check', '--format', 'json'], folder).out);
    const { fixes } = json.projects[0].findings[0];
    const applied = fixes.map(
      ({ edits }: { edits: { range: { start: { offset: number }; end: { offset: number } }; text: string }[] }) =>
        edits.reduceRight(
          (t, { range, text: instead }) => t.slice(0, range.start.offset) + instead + t.slice(range.end.offset),
          text,
        ),
    );
    expect(applied).toEqual([whole.replace('at 84in', 'at 85in'), whole.replace('at 84in', 'at 86in')]);
  });

  it('is one with the text between three-way markers too, and with line ends of two characters', () => {
    const three = text
      .replace('=======\n', '||||||| base\n    shelf high { at 84in }\n=======\n')
      .replaceAll('\n', '\r\n');
    const { out } = storypole(['check'], folderWith({ 'a.closet': three }));
    expect(out).toContain('merge-conflict');
    expect(out).toContain('1 error in 1 file');
  });

  it('is none where the markers do not pair up, or stand in a text', () => {
    const { out } = storypole(['check'], folderWith({ 'a.closet': `${whole}// <<<<<<< not one\n` }));
    expect(out).not.toContain('merge-conflict');
  });
});
