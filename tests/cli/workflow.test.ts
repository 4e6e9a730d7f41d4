/**
 * What others put into their CI: the reusable workflow, the hooks and the problem matcher. Their commands are run here
 * as a runner would, in a repository made for it, with the built command on the path.
 */
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { command, folderWith, root, storypole } from './command.ts';

const closet = `project "Quarry Lane" { currency EUR }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft }
template t {
  board white-12
  wall back { length 48in; height 96in }
  zone a on back {
    width 50in
    shelf s { at 84in }
  }
}
unit u-1 t
`;
const good = closet.replace('50in', '48in');

/** A folder for the path, with `storypole` in it. */
function bin(): string {
  const folder = folderWith({ storypole: `#!/bin/sh\nexec "${process.execPath}" "${command}" "$@"\n` });
  chmodSync(join(folder, 'storypole'), 0o755);
  return folder;
}

interface Ran {
  readonly status: number | null;
  readonly out: string;
}

function shell(run: string, folder: string, env: Record<string, string> = {}): Ran {
  const made = spawnSync('bash', ['-e', '-o', 'pipefail', '-c', run], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1', PATH: `${bin()}:${process.env.PATH}`, ...env },
  });
  return { status: made.status, out: made.stdout + made.stderr };
}

function repository(files: Record<string, string>): string {
  const folder = folderWith(files);
  const git = 'git -c user.name=somebody -c user.email=somebody@quarry.test -c init.defaultBranch=main';
  expect(shell(`${git} init -q && ${git} add -A && ${git} commit -qm first`, folder).status).toBe(0);
  return folder;
}

interface Step {
  readonly name?: string;
  readonly run?: string;
  readonly uses?: string;
}

describe('the workflow', () => {
  const workflow = parse(readFileSync(join(root, '.github/workflows/check-closets.yml'), 'utf8'));
  const steps: Step[] = workflow.jobs.check.steps;
  const run = (name: string): string => steps.find((step) => step.name === name)?.run ?? '';

  it('can be called, and may only read, and hand in what was found', () => {
    expect(Object.keys(workflow.on)).toEqual(['workflow_call']);
    expect(workflow.permissions).toEqual({});
    expect(workflow.jobs.check.permissions).toEqual({ contents: 'read', 'security-events': 'write' });
  });

  it('annotates what is found, writes SARIF of it, and fails', () => {
    const folder = repository({ 'a.closet': closet });
    const env = { FOLDER: '.', BASELINE: '' };
    const annotated = shell(run('Annotate'), folder, env);
    expect(annotated.status).toBe(1);
    expect(annotated.out).toMatch(/^::error file=a\.closet,line=8,/);
    expect(shell(run('Write SARIF'), folder, env).status).toBe(0);
    expect(JSON.parse(readFileSync(join(folder, 'storypole.sarif'), 'utf8')).version).toBe('2.1.0');
  });

  it('passes what is known', () => {
    const folder = repository({ 'a.closet': closet });
    shell('storypole check . --baseline known.json --update-baseline', folder);
    expect(shell(run('Annotate'), folder, { FOLDER: '.', BASELINE: 'known.json' }).status).toBe(0);
  });

  it('says what differs from the base of a pull request', () => {
    const folder = repository({ 'flats/a.closet': good });
    const base = shell('git rev-parse HEAD', folder).out.trim();
    writeFileSync(join(folder, 'flats/a.closet'), good.replace('84in', '85in'));
    shell('git -c user.name=a -c user.email=a@quarry.test commit -qam second', folder);
    const summary = join(folder, 'summary.md');
    expect(
      shell(run('Say what differs in what is built'), folder, {
        FOLDER: 'flats',
        BASE: base,
        GITHUB_STEP_SUMMARY: summary,
      }).status,
    ).toBe(0);
    expect(readFileSync(summary, 'utf8')).toContain('84in -&gt; 85in');
  });
});

describe('the hooks', () => {
  const hooks: { id: string; entry: string; pass_filenames?: boolean; files: string }[] = parse(
    readFileSync(join(root, '.pre-commit-hooks.yaml'), 'utf8'),
  );
  const entry = (id: string): string => hooks.find((hook) => hook.id === id)?.entry ?? '';

  it('check the project that is committed to', () => {
    expect(shell(entry('storypole-check'), repository({ 'a.closet': closet })).status).toBe(1);
    expect(shell(entry('storypole-check'), repository({ 'a.closet': good })).status).toBe(0);
  });

  it('lay out the files that are committed', () => {
    const folder = repository({ 'a.closet': good.replace('    shelf', ' shelf') });
    mkdirSync(join(folder, 'sub'));
    expect(shell(`${entry('storypole-format')} a.closet`, folder).status).toBe(0);
    expect(readFileSync(join(folder, 'a.closet'), 'utf8')).toBe(good);
  });

  it('look at .closet files alone', () => {
    for (const { files } of hooks)
      expect(['a.closet', 'a.closet.txt'].map((name) => new RegExp(files).test(name))).toEqual([true, false]);
  });
});

it('the problem matcher reads what check prints', () => {
  const { problemMatchers } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).contributes;
  const [first, second] = problemMatchers[0].pattern.map(({ regexp }: { regexp: string }) => new RegExp(regexp));
  const lines = storypole(['check'], folderWith({ 'a.closet': closet })).out.split('\n');
  expect(first.exec(lines[0])?.slice(1)).toEqual(['a.closet', '8', '5', 'error', 'widths-do-not-close']);
  expect(second.exec(lines[1])?.[1]).toMatch(/^These cannot all hold: /);
  expect(lines.filter((line) => first.test(line))).toHaveLength(1);
});
