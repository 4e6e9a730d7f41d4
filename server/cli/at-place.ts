/** A place or a stretch as it is typed, `FILE:LINE[:COLUMN]` or `FILE[:FROM[-TO]]`, in the project that the file belongs to. */
import { dirname, resolve } from 'node:path';
import type { Position } from '../../grammar/source.ts';
import type { Range } from '../../grammar/tree.ts';
import { createWorkspace } from '../checks/analysis.ts';
import { located } from '../language/locate.ts';
import { meantAt } from '../language/meaning.ts';
import type { Snapshot } from '../language/snapshot.ts';
import { isWithin } from '../model/files.ts';
import { nodeFiles } from '../model/node-files.ts';
import type { Project } from '../model/project.ts';
import type { Spot } from './located.ts';
import { Stop } from './stop.ts';
import { folderOfProject } from './targets.ts';

export interface AtPlace {
  readonly snapshot: Snapshot;
  readonly offset: number;
  /** Those in and under the current folder, which may use this one as a library; its own first. */
  readonly projects: readonly Project[];
  /** The folder of the project that a file of them belongs to. */
  readonly folderOf: (file: string) => string;
}

/** Without a column, the first name of the line that means something. Throws Stop where there is no such place. */
export function atPlace(written: string, current: string): AtPlace {
  const match = /^(.+?):(\d+)(?::(\d+))?$/.exec(written);
  if (!match)
    throw new Stop(`"${written}" is no place. Write a file, a line and a column: templates/reach-in.closet:12:8`);
  const [, file = '', line = '', column] = match;
  const { snapshot, projects, folderOf } = opened(file, current);
  const { source } = snapshot;
  const offset = offsetIn(source, file, line, column);
  return { snapshot, offset: column === undefined ? firstName(snapshot, offset) : offset, projects, folderOf };
}

/** Of a line and a column as they were typed, the beginning of the line without a column. Throws Stop where they are not there. */
function offsetIn(source: Spot['source'], file: string, line: string, column = '1'): number {
  checkLine(source, file, line);
  const at: Position = { line: Number(line) - 1, column: Number(column) - 1 };
  const offset = source.offsetAt(at);
  const last = source.positionAt(offset).column;
  if (last === at.column) return offset;
  const why = at.column < 0 ? 'columns are counted from 1' : `the last one there is ${last + 1}`;
  throw new Stop(`${file} has no column ${column} in line ${line}: ${why}.`);
}

export interface Stretch {
  readonly snapshot: Snapshot;
  readonly range: Range;
}

/** A file, `FILE:LINE`, or `FILE:FROM-TO` in lines; a place stands for its line. Throws Stop where there is no such file or line. */
export function stretchOf(written: string, current: string): Stretch {
  const [, file = '', from, to = from, column] = /^(.+?)(?::(\d+)(?:-(\d+)|:(\d+))?)?$/s.exec(written) ?? [];
  const { snapshot } = opened(file, current);
  const { source } = snapshot;
  if (from === undefined || to === undefined) return { snapshot, range: { start: 0, end: source.text.length } };
  const [first, last] = [Number(from) - 1, Number(to) - 1];
  if (last < first) throw new Stop(`"${written}" ends before it begins. Write ${file}:${to}-${from}.`);
  offsetIn(source, file, from, column);
  const start = source.offsetAt({ line: first, column: 0 });
  // Lines that are not there hold nothing: a range may reach past the end.
  return { snapshot, range: { start, end: source.offsetAt({ line: last, column: Number.MAX_SAFE_INTEGER }) } };
}

/** Throws Stop where a file, as it was typed, has no such line, counted from 1. */
export function checkLine(source: Spot['source'], file: string, line: string): void {
  const last = source.positionAt(source.text.length).line + 1;
  if (Number(line) >= 1 && Number(line) <= last) return;
  const has = last === 1 ? 'it has one line' : `its last line is ${last}`;
  throw new Stop(`${file} has no line ${line}: ${Number(line) < 1 ? 'lines are counted from 1' : has}.`);
}

/** The path of a file as it was typed. Throws Stop where it is not there, or is nothing that is written in the language. */
export function closetFile(file: string, current: string): string {
  const path = resolve(current, file).replaceAll('\\', '/');
  const kind = nodeFiles.kindOf(path);
  if (kind === 'folder') throw new Stop(`${file} is a folder; name a file in it.`);
  if (kind !== 'file') throw new Stop(`${file} is not there.`);
  if (!path.endsWith('.closet')) throw new Stop(`${file} is not a .closet file.`);
  return path;
}

/** The file in its project, whose names are known; with what else is in and under the current folder. */
function opened(file: string, current: string): Pick<AtPlace, 'snapshot' | 'projects' | 'folderOf'> {
  const path = closetFile(file, current);
  const workspace = createWorkspace(nodeFiles, []);
  const here = current.replaceAll('\\', '/');
  if (isWithin(here, path)) workspace.loadFolder(here);
  const { project } = workspace.loadFile(path);
  const projects = [...new Set([project, ...workspace.projects.map((loaded) => loaded.project)])];
  // Names are known once libraries are open, which comes before all that is computed.
  for (const one of projects) one.refresh().next();
  const source = project.sources.get(path);
  if (!source) throw new Stop(`${file} cannot be read.`);
  const folderOf = (of: string): string => {
    const loaded = workspace.projectOf(of);
    return loaded ? folderOfProject(loaded) : dirname(of);
  };
  return { snapshot: { project, source, path }, projects, folderOf };
}

/** The first name on a line that means something, else the first word there. */
function firstName({ project, source }: Snapshot, start: number): number {
  const line = /^[^\r\n]*/.exec(source.text.slice(start))?.[0] ?? '';
  const words = [...line.matchAll(/[\p{L}_][\p{L}\p{N}_-]*/gu)].map(({ index, 0: word }) => ({
    from: start + index,
    to: start + index + word.length,
  }));
  const named = words.find(({ to }) => {
    const statement = source.statementAt(to);
    return statement && (meantAt(project.names, located(statement, to))?.meanings.length ?? 0) > 0;
  });
  return (named ?? words[0])?.from ?? start;
}

/** A stretch of a source as commands show it. */
export function spotIn(source: Spot['source'], { start, end }: { readonly start: number; readonly end: number }): Spot {
  return { file: source.id, source, start, end, from: source.positionAt(start), to: source.positionAt(end) };
}
