/** `storypole compare`: what differs in what is built between two folders or two git revisions. */
import { statSync } from 'node:fs';
import { resolve } from 'node:path';
import { createWorkspace, planProject, ruleBook } from '../checks/analysis.ts';
import { optimal } from '../cutting/optimal.ts';
import type { Planner } from '../cutting/types.ts';
import { type Files, isWithin } from '../model/files.ts';
import { nodeFiles } from '../model/node-files.ts';
import { Project } from '../model/project.ts';
import { showInches } from '../model/show.ts';
import type { LoadedProject } from '../model/workspace.ts';
import { compare, type Side } from '../sheets/compare/compare.ts';
import { type ComparedProject, comparePage } from '../sheets/compare/page.ts';
import { compareMarkdown, compareText, type Titles } from '../sheets/compare/text.ts';
import type { Answer } from './answer.ts';
import { documentOf } from './json.ts';
import { comparisonJson } from './json-compare.ts';
import { withFolder, withPackages } from './layered-files.ts';
import { type Revision, repositoryOf, revisionOf } from './revisions.ts';
import { type Common, sessionFor } from './session.ts';
import { Stop } from './stop.ts';

export interface CompareOptions extends Omit<Common, 'format'> {
  readonly format: 'text' | 'json' | 'markdown' | 'html';
  /** The folder of the project, where several are in the repository. */
  readonly project?: string | undefined;
  /** `FOLDER=VERSION`: what HEAD uses in place of what is in the folder. */
  readonly library?: readonly string[] | undefined;
  /** End with 1 where what is built differs. */
  readonly exitCode?: boolean | undefined;
}

interface State {
  readonly title: string;
  readonly files: Files;
  /** Where its projects are looked for, absolute. */
  readonly folder: string;
}

/** Throws Stop where one of the two is not there or holds no project. */
export function compareStates(base: string, head: string | undefined, options: CompareOptions): Answer {
  const session = sessionFor(options);
  const current = session.current.replaceAll('\\', '/');
  const before = stateOf(base, current, options);
  let after = stateOf(head ?? '.', current, options);
  for (const library of options.library ?? []) after = withLibrary(after, library, current);
  const pairs = projectPairs(before, after);
  const results = pairs.map(([a, b]) => {
    const { settings } = (b ?? a)?.project ?? {};
    const [old, now] = [sideOf(a), sideOf(b)];
    const comparison = compare(old, now);
    const titles: Titles = { project: settings?.title || 'Project', before: before.title, after: after.title };
    return {
      comparison,
      titles,
      show: settings?.show ?? showInches,
      currency: settings?.currency,
      before: old.project,
      after: now.project,
    };
  });
  const differs = results.some(({ comparison }) => !comparison.isBuiltAlike);
  return { status: options.exitCode && differs ? 1 : 0, result: written(results, options.format) };
}

function written(results: readonly ComparedProject[], format: CompareOptions['format']): Iterable<string> {
  switch (format) {
    case 'json':
      return documentOf('compare', {
        projects: results.map(({ comparison, titles, show, currency }) =>
          comparisonJson(comparison, titles, show, currency),
        ),
      });
    case 'markdown':
      return [results.map(({ comparison, titles, ...rest }) => compareMarkdown(comparison, titles, rest)).join('\n')];
    case 'html':
      return comparePage(results);
    case 'text':
      return [results.map(({ comparison, titles, ...rest }) => compareText(comparison, titles, rest)).join('\n')];
  }
}

/** A folder where there is one of the name, a revision otherwise. */
function stateOf(name: string, current: string, { project }: CompareOptions): State {
  const path = resolve(current, name).replaceAll('\\', '/');
  if (isFolder(path)) {
    const folder = project === undefined || name !== '.' ? path : resolve(current, project).replaceAll('\\', '/');
    return { title: name === '.' ? 'the work tree' : name, files: nodeFiles, folder };
  }
  const folder = nodeFiles.real(project === undefined ? current : resolve(current, project).replaceAll('\\', '/'));
  const { revision, top } = revisionIn(name, current);
  if (!isWithin(top, folder))
    throw new Stop(
      `${project ?? '.'} is not in the repository of this folder, of which ${name} is to be a revision. Begin in that repository, or name two folders.`,
    );
  if (!revision.paths.some((file) => isWithin(folder, file)))
    throw new Stop(
      `There is no .closet file in ${name} in this folder. Name the folder that the project had there: --project FOLDER.`,
    );
  return { title: titleOf(revision), files: withPackages(revision.files, nodeFiles), folder };
}

function revisionIn(name: string, folder: string): { readonly revision: Revision; readonly top: string } {
  const repository = repositoryOf(folder);
  if (!repository) throw new Stop(`There is no folder "${name}", and this folder is in no git repository.`);
  return { revision: revisionOf(repository, name), top: repository.top };
}

function titleOf({ name, commit }: Revision): string {
  return commit.startsWith(name) ? name.slice(0, 12) : `${name} (${commit.slice(0, 12)})`;
}

/** `FOLDER=STATE`: the second of two states with a library as it is there, a folder or a revision of its own repository. */
function withLibrary(state: State, written: string, current: string): State {
  const at = written.indexOf('=');
  const [folder, version] = [written.slice(0, at), written.slice(at + 1)];
  if (at < 1 || version === '')
    throw new Stop(`--library takes FOLDER=VERSION, a folder and what it is to be; "${written}" is not that.`);
  const path = nodeFiles.real(resolve(current, folder).replaceAll('\\', '/'));
  if (!isFolder(path)) throw new Stop(`There is no folder "${folder}" to take another version of.`);
  const other = resolve(current, version).replaceAll('\\', '/');
  if (isFolder(other))
    return {
      ...state,
      title: `${state.title}, ${folder} as in ${version}`,
      files: withFolder(state.files, path, nodeFiles, other),
    };
  const { revision } = revisionIn(version, path);
  return {
    ...state,
    title: `${state.title}, ${folder} at ${titleOf(revision)}`,
    files: withFolder(state.files, path, revision.files, path),
  };
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
}

/** Projects of both states that lie at the same place below their folders; one that is on one side only goes with none. */
function projectPairs(
  before: State,
  after: State,
): (readonly [LoadedProject | undefined, LoadedProject | undefined])[] {
  const [old, now] = [projectsIn(before), projectsIn(after)];
  const [a] = old.values();
  const [b] = now.values();
  // One project each is compared wherever it lies.
  if (a && b && old.size === 1 && now.size === 1) return [[a, b]];
  const places = [...new Set([...old.keys(), ...now.keys()])].sort();
  if (places.length === 0) throw new Stop(`Neither ${before.title} nor ${after.title} holds a .closet file.`);
  return places.map((place) => [old.get(place), now.get(place)]);
}

function projectsIn({ files, folder }: State): Map<string, LoadedProject> {
  const workspace = createWorkspace(files, []);
  const { problem } = workspace.loadFolder(folder);
  if (problem) throw new Stop(problem);
  const projects = new Map<string, LoadedProject>();
  for (const loaded of workspace.projects) {
    loaded.project.refreshNow();
    projects.set(isWithin(folder, loaded.root) ? loaded.root.slice(folder.length) : loaded.root, loaded);
  }
  return projects;
}

/** As good a plan as there is time for, the same for both sides. */
function sideOf(loaded: LoadedProject | undefined): Side {
  const project = loaded?.project ?? emptyProject();
  return { project, planned: planProject(project, soon) };
}

function emptyProject(): Side['project'] {
  const project = new Project(ruleBook);
  project.refreshNow();
  return project;
}

/** Milliseconds for a plan: boards and waste are told of both sides, and a comment on a pull request is waited for. */
const patience = 20_000;

const soon: Planner = {
  name: optimal.name,
  *plan(request) {
    const until = performance.now() + patience;
    for (const plan of optimal.plan(request)) {
      yield plan;
      if (performance.now() > until) return;
    }
  },
};
