/** A place as it is typed, `FILE:LINE[:COLUMN]`, in the project that the file belongs to. */
import { resolve } from 'node:path';
import type { Position } from '../../grammar/source.ts';
import { createWorkspace } from '../checks/analysis.ts';
import { located } from '../language/locate.ts';
import { meantAt } from '../language/meaning.ts';
import type { Snapshot } from '../language/snapshot.ts';
import { isWithin } from '../model/files.ts';
import { nodeFiles } from '../model/node-files.ts';
import type { Project } from '../model/project.ts';
import type { Spot } from './located.ts';
import { Stop } from './stop.ts';

export interface AtPlace {
  readonly snapshot: Snapshot;
  readonly offset: number;
  /** Those in and under the current folder, which may use this one as a library; its own first. */
  readonly projects: readonly Project[];
}

/** Without a column, the first name of the line that means something. Throws Stop where there is no such place. */
export function atPlace(written: string, current: string): AtPlace {
  const match = /^(.+?):(\d+)(?::(\d+))?$/.exec(written);
  if (!match)
    throw new Stop(`"${written}" is no place. Write a file, a line and a column: templates/reach-in.closet:12:8`);
  const [, file = '', line = '', column] = match;
  const path = resolve(current, file).replaceAll('\\', '/');
  if (nodeFiles.kindOf(path) !== 'file') throw new Stop(`${file} is not there.`);
  if (!path.endsWith('.closet')) throw new Stop(`${file} is not a .closet file.`);
  const workspace = createWorkspace(nodeFiles, []);
  const here = current.replaceAll('\\', '/');
  if (isWithin(here, path)) workspace.loadFolder(here);
  const { project } = workspace.loadFile(path);
  const projects = [...new Set([project, ...workspace.projects.map((loaded) => loaded.project)])];
  // Names are known once libraries are open, which comes before all that is computed.
  for (const one of projects) one.refresh().next();
  const source = project.sources.get(path);
  if (!source) throw new Stop(`${file} cannot be read.`);
  const snapshot = { project, source, path };
  const at: Position = { line: Number(line) - 1, column: Number(column ?? 1) - 1 };
  const offset = source.offsetAt(at);
  const reached = source.positionAt(offset);
  if (reached.line !== at.line || (column !== undefined && reached.column !== at.column))
    throw new Stop(`${file} has no ${column === undefined ? `line ${line}` : `place ${line}:${column}`}.`);
  return { snapshot, offset: column === undefined ? firstName(snapshot, offset) : offset, projects };
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
