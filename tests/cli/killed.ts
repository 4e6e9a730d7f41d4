/**
 * Commands that are killed while they write. `node tests/cli/killed.ts 10` does so for ten minutes: each command at each of
 * its steps on the disk, and then at random moments; it prints how often, and ends with 1 where a file was ever half.
 */
import { spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { faultIn } from './faults.ts';

const root = resolve(import.meta.dirname, '../..');
const command = join(root, 'dist/storypole.cjs');
const above = existsSync('/dev/shm') ? '/dev/shm' : tmpdir();

type Files = Readonly<Record<string, string>>;

export interface Killed {
  readonly words: readonly string[];
  /** What is there before. */
  readonly files: Files;
}

const untidy = 'board white-12 {depth 12in;thickness 3/4in}\nstock white-12 {length 8ft}\n';
const template = `template t { parameter width: length = 60in from 50in to 70in
  board white-12; wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at 40in } } }
`;
const project = 'project "Quarry Lane" { show inches }\n';
const buildable: Files = {
  'project.closet': `${project}board white-12 { depth 12in; thickness 3/4in }\nstock white-12 { length 8ft }\n${template}`,
  'floors/one.closet': 'unit u t { width 60in }\n',
  'floors/two.closet': 'unit v t { width 61in }\n',
};

/** Sources that are rewritten, sources of which one is wrong, and files that are made of them, over older ones and new. */
export const killed: Readonly<Record<string, Killed>> = {
  format: {
    words: ['format'],
    files: {
      'a.closet': `${project}${untidy}`,
      'b.closet': 'unit   u t{floor 1}',
      'floors/c.closet': 'unit   v t{floor 2}',
    },
  },
  rename: { words: ['rename', 'project.closet:4:10', 'niche'], files: buildable },
  fix: {
    words: ['check', '--fix'],
    files: {
      ...buildable,
      'floors/one.closet': 'unit u t { width 60inx }\n',
      'floors/two.closet': 'unit v t { width 55inx }\n',
    },
  },
  export: {
    words: ['export', '--out', 'lists', '--csv', '--json', '--list', 'cut-list,parts', '--date', '2026-11-28'],
    files: buildable,
  },
  packet: { words: ['packet', '--out', 'sheets', '--each', '--date', '2026-11-28'], files: buildable },
};

export function folderOf({ files }: Killed): string {
  const folder = realpathSync(mkdtempSync(join(above, 'storypole-killed-')));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  return folder;
}

/** Bytes as letters, by name. */
export function contentsOf(folder: string): Record<string, string> {
  return Object.fromEntries(
    readdirSync(folder, { recursive: true, withFileTypes: true, encoding: 'utf8' })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => join(parentPath, name))
      .sort()
      .map((path) => [path.slice(folder.length + 1).replaceAll('\\', '/'), readFileSync(path, 'latin1')]),
  );
}

export const isTemporary = (name: string): boolean => /(^|\/)\.storypole-[^/]+\.tmp$/.test(name);

function run({ words }: Killed, folder: string, environment: Readonly<Record<string, string>> = {}) {
  return spawnSync(process.execPath, [command, ...words], {
    cwd: folder,
    env: { ...process.env, ...environment },
    encoding: 'utf8',
  });
}

/** The files as they are when nothing comes between, and the calls that lead there. */
export function leftAlone(one: Killed): { readonly after: Files; readonly calls: readonly string[] } {
  const folder = folderOf(one);
  const told = join(above, `storypole-calls-${process.pid}`);
  try {
    const { status, stderr } = run(one, folder, {
      ...faultIn({ folder, at: 1e9, answer: 'kill' }),
      TEST_FAULT_CALLS: told,
    });
    if (status !== 0) throw new Error(`${one.words.join(' ')} ended with ${status}: ${stderr}`);
    return { after: contentsOf(folder), calls: readFileSync(told, 'utf8').split('\n') };
  } finally {
    rmSync(told, { force: true });
    rmSync(folder, { recursive: true });
  }
}

/** What is wrong of a folder in which the command was cut off; then it is run again, and what is wrong after that. */
function wrongIn(one: Killed, folder: string, after: Files): string[] {
  const wrong: string[] = [];
  const found = contentsOf(folder);
  for (const name of Object.keys(one.files))
    if (found[name] !== one.files[name] && found[name] !== after[name]) wrong.push(`${name} is neither old nor new`);
  for (const name of Object.keys(found))
    if (!isTemporary(name) && !(name in one.files) && withoutIds(found[name]) !== withoutIds(after[name]))
      wrong.push(`${name} is not whole`);
  const isAlready = Object.keys(after).every((name) => name in found);
  const { status, stderr, signal } = run(one, folder);
  // A name that has been given cannot be given again.
  const isRenamed = one.words[0] === 'rename' && Object.keys(one.files).some((name) => found[name] !== one.files[name]);
  if (isRenamed) return wrong;
  if (status !== 0) wrong.push(`the next one ended with ${status ?? signal}: ${stderr}`);
  const again = contentsOf(folder);
  for (const name of Object.keys(again)) {
    if (isTemporary(name)) wrong.push(`${name} was left${isAlready ? ' though all was written' : ''}`);
    else if (withoutIds(again[name]) !== withoutIds(after[name])) wrong.push(`${name} is another after the next one`);
  }
  for (const name of Object.keys(after)) if (!(name in again)) wrong.push(`${name} is not there after the next one`);
  return wrong;
}

/** A PDF has an identity that is made of the moment, which is none of our business here. */
function withoutIds(text: string | undefined): string | undefined {
  return text?.replace(/\/ID \[[^\]]*\]/g, '');
}

/** Killed before its n-th step on the disk. Answers what is wrong. */
export function killedAt(one: Killed, at: number, after: Files): string[] {
  const folder = folderOf(one);
  try {
    const { signal, status, stderr } = run(one, folder, faultIn({ folder, at, answer: 'kill' }));
    if (signal !== 'SIGKILL') return [`it was not killed but ended with ${status}: ${stderr}`];
    return wrongIn(one, folder, after);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Killed after so many milliseconds, wherever it is then. */
async function killedAfter(one: Killed, time: number, after: Files): Promise<string[]> {
  const folder = folderOf(one);
  try {
    const child = spawn(process.execPath, [command, ...one.words], { cwd: folder, stdio: 'ignore' });
    const ended = new Promise((done) => child.once('exit', done));
    setTimeout(() => child.kill('SIGKILL'), time);
    await ended;
    return wrongIn(one, folder, after);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function main(minutes: number): Promise<number> {
  const end = Date.now() + minutes * 60_000;
  const [counts, wrong] = [new Map<string, number>(), [] as string[]];
  const note = (what: string, found: readonly string[]): void => {
    counts.set(what, (counts.get(what) ?? 0) + 1);
    wrong.push(...found.map((text) => `${what}: ${text}`));
  };
  const took = new Map<string, { after: Files; time: number }>();
  for (const [name, one] of Object.entries(killed)) {
    const { after, calls } = leftAlone(one);
    const start = performance.now();
    const folder = folderOf(one);
    run(one, folder);
    rmSync(folder, { recursive: true });
    took.set(name, { after, time: performance.now() - start });
    for (const [i, call] of calls.entries())
      note(
        `${name}, at each of its ${calls.length} steps`,
        killedAt(one, i + 1, after).map((text) => `step ${i + 1}, ${call}: ${text}`),
      );
  }
  while (Date.now() < end)
    for (const [name, one] of Object.entries(killed)) {
      const { after, time } = took.get(name) as { after: Files; time: number };
      const moment = Math.random() * time * 1.2;
      note(
        `${name}, at random moments`,
        (await killedAfter(one, moment, after)).map((text) => `${moment.toFixed(1)} ms: ${text}`),
      );
    }
  for (const [what, count] of counts) process.stdout.write(`${what}: killed ${count} times\n`);
  for (const text of wrong) process.stdout.write(`WRONG ${text}\n`);
  return wrong.length > 0 ? 1 : 0;
}

if (import.meta.main) process.exitCode = await main(Number(process.argv[2] ?? 5));
