/** What the command ends with, and what it says on which stream. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, rmSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { command, folderWith, root, storypole } from './command.ts';
import { clean, noted, warned, wrong } from './texts.ts';

/** It could not run: one sentence on standard error, nothing on standard output. */
function couldNotRun(words: readonly string[], sentence: string, folder?: string): void {
  expect(storypole(words, folder)).toEqual({ status: 2, out: '', err: `storypole: ${sentence}\n` });
}

describe('exit status', () => {
  it.each([
    ['nothing found', clean, [], 0],
    ['notes', noted, [], 0],
    ['warnings', warned, [], 0],
    ['errors', wrong, [], 1],
    ['notes, where they are to fail', noted, ['--fail-on', 'note'], 1],
    ['warnings, where notes are to fail', warned, ['--fail-on', 'note'], 1],
    ['warnings, where they are to fail', warned, ['--fail-on', 'warning'], 1],
    ['notes, where warnings are to fail', noted, ['--fail-on', 'warning'], 0],
    ['warnings that fail and are not listed', warned, ['--fail-on', 'warning', '--severity', 'error'], 1],
  ])('%s', (_, text, options, status) => {
    const run = storypole(['check', ...options], folderWith({ 'a.closet': text }));
    expect({ status: run.status, err: run.err }).toEqual({ status, err: '' });
  });

  it('cuts and plan end with 1 where the project has errors, and say so', () => {
    const folder = folderWith({ 'a.closet': wrong });
    for (const what of ['cuts', 'plan']) {
      const sentence =
        'Do not cut by this yet: there is 1 error in the project, and what it concerns is missing or may be wrong. Run storypole check.';
      const text = storypole([what], folder);
      expect({ status: text.status, err: text.err }).toEqual({ status: 1, err: '' });
      expect(text.out).toContain(sentence);
      const json = storypole([what, '--format', 'json'], folder);
      expect({ status: json.status, err: json.err }).toEqual({ status: 1, err: `storypole: ${sentence}\n` });
      expect(JSON.parse(json.out).projects[0].counts.errors).toBe(1);
    }
  });
});

describe('files that are asked about', () => {
  const folder = folderWith({
    'project.closet':
      'project "Quarry Lane" { }\nboard white-12 { depth 12in; thickness 3/4in }\nstock white-12 { length 8ft }\n',
    'linen.closet':
      'template linen {\n  wall back { length 48; height 96in }\n  board white-12\n  zone a on back { width fill; shelf s { at 72in } }\n}\n',
    'units.closet': 'unit u linen\n',
  });
  const remark = (rest: string): string =>
    `storypole: There is 1 error in linen.closet, which you did not ask about. What is told here may rest on it: ${rest}\n`;

  it('fail where there are errors in others, which they may rest on', () => {
    expect(storypole(['check', 'units.closet'], folder)).toEqual({
      status: 1,
      out: 'No findings in 1 file, 1 unit.\n',
      err: remark('check the whole project.'),
    });
  });

  it('do not make a list of what is known of the whole project', () =>
    couldNotRun(
      ['check', '--baseline', 'known.json', '--update-baseline', 'units.closet'],
      '--update-baseline writes the list of a whole project anew: name its folder, and no files of it.',
      folder,
    ));

  it('do not fail for what is known there, and what is known of others is not taken to be gone', () => {
    storypole(['check', '--baseline', 'known.json', '--update-baseline'], folder);
    const run = storypole(['check', '--baseline', 'known.json', 'units.closet'], folder);
    expect({ status: run.status, err: run.err }).toEqual({ status: 0, err: '' });
  });
});

describe('could not run', () => {
  const project = folderWith({ 'a.closet': clean, 'notes.txt': 'not a closet' });

  it('a path that is not there', () => couldNotRun(['check', 'b.closet'], 'b.closet is not there.', project));
  it('a file of another kind', () => couldNotRun(['cuts', 'notes.txt'], 'notes.txt is not a .closet file.', project));
  it('a folder that holds nothing', () => {
    const folder = folderWith({ 'deep/er/notes.txt': '' });
    couldNotRun(['plan', 'deep'], 'There is nothing to check: no .closet file in or under deep.', folder);
  });
  it('nothing here', () =>
    couldNotRun(
      ['check'],
      'There is nothing to check: no .closet file in or under this folder, and no project above it. Name a file or a folder.',
    ));
  it('an unknown command', () => couldNotRun(['chekc'], 'There is no command "chekc"; did you mean check?'));
  it('a command that is like none', () =>
    couldNotRun(['xyzzy'], 'There is no command "xyzzy". storypole --help tells what there is.'));
  it('an unknown option', () =>
    couldNotRun(['check', '--frmat', 'json'], 'check has no option --frmat; did you mean --format?'));
  it('an option that is like none', () =>
    couldNotRun(['check', '--zzz'], 'check has no option --zzz. storypole check --help tells what there is.'));
  it('an unknown format', () =>
    couldNotRun(
      ['check', '--format', 'yaml'],
      '--format cannot be "yaml". It is text, json, sarif, junit, github or gitlab.',
    ));
  it('a mistyped format', () =>
    couldNotRun(['check', '--format', 'jsn'], '--format cannot be "jsn"; did you mean "json"?'));
  it('an option without its value', () =>
    couldNotRun(['check', '--fail-on'], '--fail-on needs a value. Write: --fail-on <severity> (error, warning, note)'));
  it('nothing to work on', () =>
    couldNotRun(['definition'], 'definition needs <place>. Write: storypole definition [options] <place>'));
  it('too much to work on', () =>
    couldNotRun(['definition', 'a', 'b'], 'definition takes <place>, and was given a, b.'));
  it('more than nothing', () => couldNotRun(['schema', 'a'], 'schema takes nothing, and was given a.'));
  it('no command', () =>
    couldNotRun(
      [],
      'Say what to do: new, check, cuts, plan, takeoff, draw, export, explain or language-server; storypole --help tells more.',
    ));
  it('an unknown rule, with the nearest one', () =>
    couldNotRun(['explain', 'rod-near-wal'], 'There is no rule "rod-near-wal"; did you mean "rod-near-wall"?'));
  it('an unknown rule that is like none', () =>
    couldNotRun(['explain', 'zzz'], 'There is no rule "zzz". storypole explain lists them all.'));
  it('an unknown unit, with the nearest one', () =>
    couldNotRun(
      ['cuts', '--unit', 'A-101-linnen'],
      'There is no unit "A-101-linnen"; did you mean "A-101-linen"?',
      project,
    ));
  it('an unknown unit that is like none', () =>
    couldNotRun(['cuts', '--unit', 'X'], 'There is no unit "X", only A-101-linen.', project));
  it('an option without what belongs to it', () =>
    couldNotRun(['cuts', '--unit'], '--unit needs a value. Write: --unit <name>'));
  it('a current folder that is gone', () => {
    // Node itself does not start in such a folder by way of spawn, so it goes while the shell stands in it.
    const folder = folderWith({});
    const gone = join(folder, 'gone');
    mkdirSync(gone);
    const run = spawnSync('sh', ['-c', `cd '${gone}' && rmdir '${gone}' && '${process.execPath}' '${command}' check`], {
      encoding: 'utf8',
    });
    expect({ status: run.status, out: run.stdout }).toEqual({ status: 2, out: '' });
    expect(run.stderr).toMatch(/^storypole: [^\n]+\n$/);
  });
});

describe('which files', () => {
  const files = {
    'project.closet': 'project "Quarry Lane" {}\nboard white-12 { depth 12in; thickness 3/4in }\n',
    'stock.closet': 'stock white-12 { length 8ft }\nstock nowhere { length 8ft }\n',
    'floors/one.closet': 'extra shelf { board white-12; length 20in }\nextra other { board white-21; length 20in }\n',
    'empty/notes.txt': '',
  };
  const found = (words: readonly string[], folder: string): string[] =>
    JSON.parse(storypole(['check', '--format', 'json', ...words], folder).out).projects.flatMap(
      (project: { findings: { rule: string; range: { file: string } }[] }) =>
        project.findings.map(({ rule, range }) => `${range.file} ${rule}`),
    );

  it('a file is looked at with its whole project, and what is in it is shown', () => {
    // white-12 stands in another file and is found; the other unknown name is in another file and is not shown.
    expect(found(['floors/one.closet'], folderWith(files))).toEqual(['floors/one.closet name-not-known']);
    expect(found(['floors'], folderWith(files))).toEqual(['floors/one.closet name-not-known']);
  });
  it('nothing named: the whole project that the folder lies in, from any folder of it', () => {
    const folder = folderWith(files);
    const whole = ['floors/one.closet name-not-known', 'stock.closet name-not-known'];
    expect(found([], folder)).toEqual(whole);
    expect(found([], join(folder, 'floors'))).toEqual(['one.closet name-not-known', '../stock.closet name-not-known']);
    expect(found([], join(folder, 'empty'))).toHaveLength(2);
  });
  it('nothing named and no project: every file in and under the folder, each by itself', () => {
    const extra = 'board b { depth 12in; thickness 3/4in }\n';
    expect(found([], folderWith({ 'a.closet': extra, 'b/c.closet': extra }))).toEqual([
      'a.closet no-project',
      'b/c.closet no-project',
    ]);
  });
  it('a file named twice is looked at once', () => {
    expect(found(['stock.closet', '.', 'stock.closet'], folderWith(files))).toHaveLength(2);
  });
  it('a file that cannot be read is an error in it, and the others are looked at', () => {
    const folder = folderWith(files);
    symlinkSync(join(folder, 'gone'), join(folder, 'away.closet'));
    expect(found([], folder)).toContain('away.closet file-unreadable');
    expect(storypole(['check', 'away.closet'], folder).status).toBe(1);
  });
  it('a folder named like a file is a folder', () => {
    const folder = folderWith({ 'a.closet/b.closet': clean });
    expect(storypole(['check', 'a.closet'], folder).out).toBe('No findings in 1 file, 1 unit.\n');
  });
});

describe('streams', () => {
  it('help and version are results', () => {
    expect(storypole(['--version'])).toEqual({ status: 0, out: expect.stringMatching(/^\d+\.\d+\.\d+\n$/), err: '' });
    const help = storypole(['--help']);
    expect({ status: help.status, err: help.err }).toEqual({ status: 0, err: '' });
    for (const word of ['check', 'cuts', 'plan', 'explain', 'language-server', 'Exit status'])
      expect(help.out).toContain(word);
    expect(storypole(['check', '--help']).out).toContain('--fail-on <severity>');
  });
  it('a reader that has seen enough ends it quietly', () => {
    // Far more than a pipe holds, so that the command is still writing when the reader goes.
    const pipe = `'${process.execPath}' '${command}' cuts examples/quarry-lane --format json`;
    const whole = spawnSync('sh', ['-c', `${pipe} | wc -c`], { cwd: root, encoding: 'utf8' });
    expect(Number(whole.stdout)).toBeGreaterThan(500_000);
    const run = spawnSync('sh', ['-c', `{ ${pipe}; echo "status $?" >&2; } | head -c 10`], {
      cwd: root,
      encoding: 'utf8',
    });
    expect({ out: run.stdout, err: run.stderr }).toEqual({ out: '{"version"', err: 'status 0\n' });
  });
  it('a reader that leaves early does not change what is found', () => {
    const folder = folderWith({ 'a.closet': `${wrong}${'unit A-101-linen linen\n'.repeat(500)}` });
    const run = spawnSync(
      'sh',
      ['-c', `{ '${process.execPath}' '${command}' check; echo "status $?" >&2; } | head -c 2`],
      {
        cwd: folder,
        encoding: 'utf8',
      },
    );
    expect({ out: run.stdout, err: run.stderr }).toEqual({ out: 'a.', err: 'status 1\n' });
  });
  it('a reader that takes its time gets everything', () => {
    const pipe = `'${process.execPath}' '${command}' cuts examples/quarry-lane --format json`;
    const slow = spawnSync('sh', ['-c', `${pipe} | { sleep 1; cat; }`], {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 64 * 1024 * 1024,
    });
    expect(slow.stdout).toBe(storypole(['cuts', 'examples/quarry-lane', '--format', 'json'], root).out);
    expect(JSON.parse(slow.stdout).command).toBe('cuts');
  });
  it.runIf(existsSync('/dev/full'))('a disk that is full is told', () => {
    const run = spawnSync('sh', ['-c', `'${process.execPath}' '${command}' cuts --format json > /dev/full`], {
      cwd: folderWith({ 'a.closet': clean }),
      encoding: 'utf8',
    });
    expect({ status: run.status, err: run.stderr }).toEqual({
      status: 2,
      err: expect.stringMatching(/^storypole: The output cannot be written: [^\n]+\n$/),
    });
  });
  it('an old Node is told what is needed', () => {
    const pretend = `Object.defineProperty(process, 'versions', { value: { node: '18.20.0' } }); require(${JSON.stringify(command)});`;
    const run = spawnSync(process.execPath, ['-e', pretend], { encoding: 'utf8' });
    expect({ status: run.status, out: run.stdout, err: run.stderr }).toEqual({
      status: 2,
      out: '',
      err: 'storypole needs Node 22 or newer; this is Node 18.20.0.\n',
    });
  });
  it('a mistake of the tool is one sentence, and the place of it on request', () => {
    // The current folder cannot be had, which nothing foresees.
    const folder = folderWith({});
    rmSync(folder, { recursive: true });
    const script = (debug: string): string =>
      `process.cwd = () => { throw new Error('no folder'); }; ${debug} process.argv.push('check'); require(${JSON.stringify(command)});`;
    const plain = spawnSync(process.execPath, ['-e', script('')], { encoding: 'utf8' });
    expect({ status: plain.status, out: plain.stdout, err: plain.stderr }).toEqual({
      status: 2,
      out: '',
      err: 'storypole: Something went wrong inside the tool: no folder. STORYPOLE_DEBUG=1 shows where.\n',
    });
    const debug = spawnSync(process.execPath, ['-e', script("process.env.STORYPOLE_DEBUG = '1';")], {
      encoding: 'utf8',
    });
    expect(debug.status).toBe(2);
    expect(debug.stderr).toMatch(/\n\s+at /);
  });
});
