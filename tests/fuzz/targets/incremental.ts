/**
 * The strongest law: a project after any edits is the one that is read afresh, in all that anybody can see of it. Files
 * of several kinds are edited, come, go, move, open and close in every order, and looked at in between.
 */

import { createWorkspace } from '../../../server/checks/analysis.ts';
import type { Workspace } from '../../../server/model/workspace.ts';
import { filesOf, joined, type Part, partsOf } from '../case.ts';
import { anyBit, mutated, mutatedLines, mutatedParts } from '../mutate.ts';
import { donors } from '../pieces.ts';
import { diskOf, pathIn, putOn, root } from '../projects.ts';
import type { Random } from '../random.ts';
import { smallProjects } from '../seeds.ts';
import { differenceOf, stateOf } from '../state.ts';
import { Fault, type Target } from '../target.ts';

/** A step is a line: `edit PATH AT CUT "TEXT"`. Numbers past what is there are taken around, so that every line is a step. */
interface Step {
  readonly what: string;
  readonly path: string;
  readonly numbers: readonly number[];
  readonly texts: readonly string[];
}

function stepsOf(text: string): Step[] {
  return text.split('\n').flatMap((line) => {
    const [, what, path, rest = ''] = /^(\w+)(?: (\S+))?(.*)$/.exec(line) ?? [];
    if (what === undefined) return [];
    const quoted = rest.match(/"(?:[^"\\]|\\.)*"/g) ?? [];
    const numbers = rest.replace(/".*$/, '').match(/\d+/g) ?? [];
    return [
      { what, path: path ?? '', numbers: numbers.map(Number), texts: quoted.flatMap((own) => parsed(own) ?? []) },
    ];
  });
}

function parsed(text: string): string | undefined {
  try {
    return JSON.parse(text) as string;
  } catch {
    return undefined;
  }
}

export const incremental: Target = {
  name: 'incremental',
  seeds: () =>
    smallProjects().map((text) =>
      joined([
        ...partsOf(text),
        { name: 'steps', text: `edit ${partsOf(text)[0]?.name ?? '/p/a.closet'} 3 0 " "\ncheck` },
      ]),
    ),
  mutate: (text, random, others) =>
    mutatedParts(text, random, others, ({ name, text: own }, parts) =>
      name === 'steps' ? mutatedSteps(own, random, parts) : undefined,
    ),
  run(text) {
    const parts = partsOf(text);
    const files = new Map([...filesOf(parts)].map(([name, own]) => [pathIn(name), own]));
    play(
      files,
      stepsOf(
        parts
          .filter(({ name }) => name === 'steps')
          .map((part) => part.text)
          .join('\n'),
      ),
    );
  },
};

/** Plays steps on a project and compares it with one read afresh, at each `check` and at the end. */
function play(files: ReadonlyMap<string, string>, steps: readonly Step[]): void {
  const disk = diskOf(files);
  const onDisk = new Map([...files].map(([path, text]) => [path, saved(text)]));
  const open = new Map<string, string>();
  const workspace = createWorkspace(disk, [root]);
  workspace.loadFolder(root);
  refresh(workspace);
  const write = (path: string, text: string): void => {
    putOn(disk, path, text);
    onDisk.set(path, saved(text));
  };
  const remove = (path: string): void => {
    disk.remove(path);
    onDisk.delete(path);
  };
  const check = (at: number): void => {
    refresh(workspace);
    // The same disk, and what is open was opened before anything was read.
    const cold = createWorkspace(disk, [root]);
    for (const [path, text] of open) cold.openDocument(path, text);
    cold.loadFolder(root);
    refresh(cold);
    const difference = differenceOf(stateOf(workspace), stateOf(cold));
    if (difference)
      throw new Fault(
        `as read afresh: ${difference.what.replace(/ of \/.*/, '')}`,
        `${difference.what}, after step ${at}\n  edited: ${difference.left}\n  afresh: ${difference.right}`,
      );
  };
  for (const [i, { what, path: name, numbers, texts }] of steps.entries()) {
    const path = pathIn(name);
    const [a = 0, b = 0] = numbers;
    const [piece = ''] = texts;
    switch (what) {
      case 'edit': {
        // An editor edits what is open.
        const before = open.get(path) ?? onDisk.get(path);
        if (before === undefined) break;
        if (!open.has(path)) workspace.openDocument(path, before);
        const start = a % (before.length + 1);
        const end = Math.min(before.length, start + b);
        workspace.editDocument(path, [{ start, end, text: piece }]);
        open.set(path, before.slice(0, start) + piece + before.slice(end));
        break;
      }
      case 'open':
        if (!path.endsWith('.closet') || open.has(path) || isFolder(path, onDisk)) break;
        open.set(path, texts.length > 0 ? piece : (onDisk.get(path) ?? ''));
        workspace.openDocument(path, open.get(path) as string);
        break;
      case 'close':
        // What was never saved is not there any more.
        if (!open.delete(path)) break;
        workspace.closeDocument(path);
        break;
      case 'save':
        if (open.has(path)) write(path, open.get(path) as string);
        workspace.changedOnDisk(path);
        break;
      case 'write':
        if (
          !path.endsWith('.closet') ||
          isFolder(path, onDisk) ||
          isUnderFile(path, [...onDisk.keys(), ...open.keys()])
        )
          break;
        write(path, piece);
        workspace.changedOnDisk(path);
        break;
      case 'remove':
        if (!onDisk.has(path)) break;
        remove(path);
        workspace.wentAway(path);
        break;
      case 'move': {
        const to = pathIn(piece);
        const text = onDisk.get(path);
        if (
          text === undefined ||
          !to.endsWith('.closet') ||
          to === path ||
          isFolder(to, onDisk) ||
          isUnderFile(to, [...onDisk.keys(), ...open.keys()])
        )
          break;
        remove(path);
        write(to, text);
        workspace.wentAway(path);
        workspace.changedOnDisk(to);
        break;
      }
      case 'look':
        for (const { project } of workspace.projects) {
          const tops = [...(project.sources.get(path)?.statements() ?? [])];
          const top = tops[a % Math.max(1, tops.length)];
          if (top) project.refreshOne(top);
        }
        break;
      case 'part':
        // An edit interrupts what is being computed.
        for (const { project } of workspace.projects) {
          const work = project.refresh((file) => file === path);
          for (let n = 0; n < a % 12; n++) if (work.next().done) break;
        }
        break;
      case 'refresh':
        refresh(workspace);
        break;
      case 'show':
        // What is kept for showing it again is made now, and must not be shown when it holds no more.
        refresh(workspace);
        stateOf(workspace);
        break;
      case 'check':
        check(i + 1);
        break;
      default:
        break;
    }
  }
  check(steps.length);
}

/** As an editor reads what was written: half a letter is none in UTF-8. */
function saved(text: string): string {
  return text.toWellFormed();
}

function refresh({ projects }: Workspace): void {
  for (const { project } of projects) project.refreshNow();
}

const isFolder = (path: string, files: ReadonlyMap<string, string>): boolean =>
  [...files.keys()].some((file) => file.startsWith(`${path}/`));
const isUnderFile = (path: string, files: readonly string[]): boolean =>
  files.some((file) => path.startsWith(`${file}/`));

const names = [
  '/p/new.closet',
  '/p/units.closet',
  '/p/sub/project.closet',
  '/p/sub/units.closet',
  '/p/lib/lib.closet',
  '/p/a.closet',
];

function step(random: Random, parts: readonly Part[]): string {
  const files = parts.filter(({ name }) => name.startsWith('/'));
  const file = files.length > 0 && random.chance(0.85) ? random.pick(files) : { name: random.pick(names), text: '' };
  const beside = files.map((part) => part.text);
  const other = random.chance(0.5) && files.length > 0 ? random.pick(files).name : random.pick(names);
  switch (random.int(16)) {
    case 0:
      return `open ${file.name}`;
    case 1:
      return `close ${file.name}`;
    case 2:
      return `save ${file.name}`;
    case 3:
      return `write ${file.name} ${JSON.stringify(mutated(beside.length > 0 ? random.pick(beside) : '', random, beside))}`;
    case 4:
      return `remove ${file.name}`;
    case 5:
      return `move ${file.name} ${JSON.stringify(other)}`;
    case 6:
      return `look ${file.name} ${random.int(20)}`;
    case 7:
      return `part ${file.name} ${random.int(12)}`;
    case 8:
      return 'show';
    case 9:
      return `open ${other} ${JSON.stringify(random.pick(donors().top).text)}`;
    default: {
      const { text } = file;
      // An edit where something stands, mostly: at the start of a word.
      const starts = [...text.matchAll(/\b\w/g)].map(({ index }) => index);
      const at = starts.length > 0 && random.chance(0.6) ? random.pick(starts) : random.int(text.length + 1);
      const cut = random.chance(0.5)
        ? 0
        : random.chance(0.6)
          ? (/^[\w-]+/.exec(text.slice(at))?.[0].length ?? 1)
          : random.int(120);
      const piece = random.chance(0.2)
        ? random.pick([
            '{',
            '}',
            '/*',
            '*/',
            '"',
            '\n',
            '//',
            '///',
            ';',
            '\n}\n',
            'project "Other" {}\n',
            '<<<<<<< a\n',
            '\n=======\n',
            '\n>>>>>>> b\n',
            '',
          ])
        : random.chance(0.3)
          ? `\n${random.pick(donors().top).text}\n`
          : random.chance(0.3)
            ? `; ${random.pick(donors().nested).text}; `
            : anyBit(random, beside);
      return `edit ${file.name} ${at} ${cut} ${JSON.stringify(piece)}`;
    }
  }
}

function mutatedSteps(text: string, random: Random, parts: readonly Part[]): string {
  return mutatedLines(text, random, {
    changes: 4,
    kept: 12,
    ways: 6,
    other: (way, lines, at) => {
      lines.splice(at, 0, way === 2 ? random.pick(['check', 'show', 'show', 'refresh']) : step(random, parts));
    },
  });
}
