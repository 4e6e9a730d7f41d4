/** Loads examples the way the terminal and the editor do, and hands out what is found as plain lines. */
import { globSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Source } from '../../grammar/source.ts';
import { type Place, segmentOf, spanOf } from '../../grammar/tree.ts';
import { advisedPlan, createWorkspace, type Planned } from '../../server/checks/analysis.ts';
import type { Finding } from '../../server/model/finding.ts';
import { nodeFiles } from '../../server/model/node-files.ts';
import type { Project } from '../../server/model/project.ts';
import type { Told } from './expectations.ts';

export const examples = fileURLToPath(new URL('../../examples', import.meta.url)).replaceAll('\\', '/');

export interface Loaded {
  readonly root: string;
  readonly project: Project;
  readonly planned: Planned;
  readonly findings: readonly Finding[];
}

/** Every project in and under a folder, computed, checked and planned. `top` is as far up as projects and libraries are looked for. */
export function loadAll(folder: string, top = folder): Loaded[] {
  const workspace = createWorkspace(nodeFiles, [top]);
  const { problem } = workspace.loadFolder(folder);
  if (problem) throw new Error(problem);
  return workspace.projects.map(({ root, project }) => {
    project.refreshNow();
    const planned = advisedPlan(project);
    return { root, project, planned, findings: [...project.findings(), ...planned.findings] };
  });
}

/** A finding with its file relative to `folder`. A place that runs on over lines ends with its first one. */
export function toldOf(finding: Finding, folder: string): Told {
  const { source, start, end } = standing(finding.place);
  const from = source.positionAt(start);
  const to = source.positionAt(end);
  const lineEnd = source.text.slice(start).search(/\r|\n|$/) + from.column;
  return {
    file: relative(folder, source.id).split(sep).join('/'),
    line: from.line + 1,
    from: from.column + 1,
    to: (to.line === from.line ? to.column : lineEnd) + 1,
    severity: finding.severity,
    rule: finding.rule.id,
    text: finding.message,
  };
}

function standing(place: Place): { readonly source: Source; readonly start: number; readonly end: number } {
  const { source } = segmentOf(place.statement);
  return { source: source as Source, ...spanOf(place) };
}

/** The .closet files in and under a folder, by their paths relative to it. */
export function closetFiles(folder: string): string[] {
  return globSync('**/*.closet', { cwd: folder })
    .map((path) => path.split(sep).join('/'))
    .sort();
}

/** The files that were read for these projects, by their paths relative to a folder. */
export function filesRead(loaded: readonly Loaded[], folder: string): string[] {
  const paths = loaded.flatMap(({ project }) => [...project.sources.keys()]);
  return paths.map((path) => relative(folder, path).split(sep).join('/')).sort();
}

/** The texts of an example by their paths in a project at `/p`. */
export function exampleTexts(name: string): Record<string, string> {
  const folder = join(examples, name);
  return Object.fromEntries(
    closetFiles(folder).map((path) => [`/p/${path}`, readFileSync(join(folder, path), 'utf8')]),
  );
}
