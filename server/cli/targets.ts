/** Which projects a command is about, and which of their files. */
import { dirname, resolve } from 'node:path';
import { segmentOf } from '../../grammar/tree.ts';
import { createWorkspace } from '../checks/analysis.ts';
import type { Extra, Spare } from '../model/extras.ts';
import { isWithin } from '../model/files.ts';
import { nodeFiles } from '../model/node-files.ts';
import type { Unit } from '../model/project.ts';
import type { LoadedProject, Workspace } from '../model/workspace.ts';
import { Stop } from './stop.ts';

/** A project, loaded, and the files of it that were named. */
export interface Chosen extends LoadedProject {
  /** Undefined where the whole project was named. */
  readonly files: ReadonlySet<string> | undefined;
}

/**
 * The projects of the named files and folders, in the order of their folders. Without a name, the project that
 * the current folder lies in; where there is none, every .closet file in and under it.
 * Throws Stop where a path is not there, cannot be listed, or holds nothing to check.
 */
export function choose(paths: readonly string[], current: string): Chosen[] {
  const chosen = chooseUncomputed(paths, current);
  for (const { project } of chosen) project.refreshNow();
  return chosen;
}

/** The same for those who want nothing but the texts. */
export function chooseUncomputed(paths: readonly string[], current: string): Chosen[] {
  const workspace = createWorkspace(nodeFiles, []);
  const chosen = new Map<LoadedProject, Set<string> | 'whole'>();
  if (paths.length === 0) chooseHere(workspace, slashed(current), chosen);
  for (const path of paths) choosePath(workspace, path, slashed(resolve(current, path)), chosen);
  return [...chosen]
    .map(([loaded, files]): Chosen => ({ ...loaded, files: files === 'whole' ? undefined : files }))
    .sort((a, b) => (a.root < b.root ? -1 : 1));
}

/** The units that are declared in the chosen files, in the order of files and of statements in them. */
export function unitsOf({ project, files }: Chosen): Unit[] {
  const units = [...project.units()];
  return files ? units.filter(({ declared }) => files.has(segmentOf(declared.statement).source.id)) : units;
}

/** The loose parts that are declared in the chosen files. */
export function extrasOf(chosen: Chosen): Extra[] {
  return looseParts(chosen).flatMap((part) => (part.kind === 'extra' ? [part] : []));
}

/** Those of the chosen files that are only cut from what is left over. */
export function sparesOf(chosen: Chosen): Spare[] {
  return looseParts(chosen).flatMap((part) => (part.kind === 'spare' ? [part] : []));
}

function looseParts({ project, files }: Chosen): (Extra | Spare)[] {
  return [...project.computed('extra')].flatMap((made) =>
    made.kind === 'extra' && made.value && (!files || files.has(segmentOf(made.declared.statement).source.id))
      ? [made.value]
      : [],
  );
}

/** The folder of a project; of a file outside any, the one it lies in. */
export function folderOfProject({ root, alone }: LoadedProject): string {
  return alone ? dirname(root) : root;
}

/** The chosen files, sorted. */
export function filesOf({ project, files }: Chosen): string[] {
  return [...(files ?? project.sources.keys())].sort();
}

type Choice = Map<LoadedProject, Set<string> | 'whole'>;

function chooseHere(workspace: Workspace, folder: string, chosen: Choice): void {
  const files = listed(workspace, folder);
  const above = workspace.projects.filter(({ root, alone }) => !alone && isWithin(root, folder));
  const nearest = above.sort((a, b) => b.root.length - a.root.length)[0];
  if (nearest) chosen.set(nearest, 'whole');
  else if (files.length > 0) chooseFiles(workspace, folder, files, chosen);
  else
    throw new Stop(
      'There is nothing to check: no .closet file in or under this folder, and no project above it. Name a file or a folder.',
    );
}

function choosePath(workspace: Workspace, written: string, path: string, chosen: Choice): void {
  const kind = nodeFiles.kindOf(path);
  if (kind === undefined) throw new Stop(`${written} is not there.`);
  if (kind === 'folder') {
    const files = listed(workspace, path);
    if (files.length === 0) throw new Stop(`There is nothing to check: no .closet file in or under ${written}.`);
    chooseFiles(workspace, path, files, chosen);
  } else {
    if (!path.endsWith('.closet')) throw new Stop(`${written} is not a .closet file.`);
    const loaded = workspace.loadFile(path);
    if (chosen.get(loaded) !== 'whole') addTo(chosen, loaded, path);
  }
}

function listed(workspace: Workspace, folder: string): readonly string[] {
  const { files, problem } = workspace.loadFolder(folder);
  if (problem) throw new Stop(problem);
  return files;
}

function chooseFiles(workspace: Workspace, folder: string, files: readonly string[], chosen: Choice): void {
  for (const file of files) {
    const loaded = workspace.projectOf(file);
    if (!loaded || chosen.get(loaded) === 'whole') continue;
    if (isWithin(folder, loaded.root)) chosen.set(loaded, 'whole');
    else addTo(chosen, loaded, file);
  }
}

function addTo(chosen: Choice, loaded: LoadedProject, file: string): void {
  const known = chosen.get(loaded);
  if (known instanceof Set) known.add(file);
  else chosen.set(loaded, new Set([file]));
}

function slashed(path: string): string {
  return path.replaceAll('\\', '/');
}
