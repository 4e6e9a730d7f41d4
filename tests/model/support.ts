/** Projects out of texts, for tests. */
import { expect } from 'vitest';
import type { Source } from '../../grammar/source.ts';
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import { createWorkspace, planProject } from '../../server/checks/analysis.ts';
import type { Entry, Files } from '../../server/model/files.ts';
import type { Finding } from '../../server/model/finding.ts';
import { stepText } from '../../server/model/parts.ts';
import type { Project } from '../../server/model/project.ts';
import { showInches, showLength } from '../../server/model/show.ts';
import type { Ticks } from '../../server/model/ticks.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { differences, expectedIn, type Told } from '../examples/expectations.ts';

/** Files that are in memory only: path to text. */
export function memoryFiles(texts: Record<string, string>): Files {
  const bytes = new TextEncoder();
  const isFolder = (path: string): boolean =>
    Object.keys(texts).some((p) => p.startsWith(path === '/' ? '/' : `${path}/`));
  return {
    read: (path) => {
      const text = texts[path];
      return text === undefined
        ? { kind: 'failed', why: 'it is not there' }
        : { kind: 'read', bytes: bytes.encode(text) };
    },
    list: (folder) => {
      if (!isFolder(folder)) return undefined;
      const names = new Map<string, Entry>();
      for (const path of Object.keys(texts)) {
        if (!path.startsWith(`${folder}/`)) continue;
        const [name = '', ...deeper] = path.slice(folder.length + 1).split('/');
        names.set(name, { name, kind: deeper.length > 0 ? 'folder' : 'file' });
      }
      return [...names.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
    },
    kindOf: (path) => (path in texts ? 'file' : isFolder(path) ? 'folder' : undefined),
    real: (path) => path,
  };
}

export function workspaceOf(texts: Record<string, string>, folders: readonly string[] = []): Workspace {
  const workspace = createWorkspace(memoryFiles(texts), folders);
  for (const path of Object.keys(texts)) workspace.loadFile(path);
  for (const { project } of workspace.projects) project.refreshNow();
  return workspace;
}

/** The project of a file, brought up to date. */
export function projectAt(workspace: Workspace, path: string): Project {
  const project = workspace.projectOf(path)?.project;
  if (!project) throw new Error(`there is no project of ${path}`);
  project.refreshNow();
  return project;
}

/** One project of one file. Materials and garments that most tests need are in it already. */
export function projectOf(text: string): Project {
  const workspace = workspaceOf({ '/p/prelude.closet': prelude, '/p/main.closet': text });
  return (workspace.projectOf('/p/main.closet') as { project: Project }).project;
}

export const prelude = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in; currency EUR }
board white-12 { depth 12in; thickness 3/4in; ripping allowed }
board white-16 { depth 16in; thickness 3/4in; ripping allowed }
rod chrome { diameter 1-1/4in; ends take 3/8in for "the cup" }
stock white-12 { length 8ft; length 6ft }
stock white-16 { length 8ft }
stock chrome { length 8ft }
`;

export function told(finding: Finding): Told {
  const source = segmentOf(finding.place.statement).source as Source;
  const span = spanOf(finding.place);
  const [start, end] = [source.positionAt(span.start), source.positionAt(span.end)];
  return {
    file: source.id,
    line: start.line + 1,
    from: start.column + 1,
    to: (end.line === start.line ? end.column : start.column + 1) + 1,
    severity: finding.severity,
    rule: finding.rule.id,
    text: [
      finding.message,
      finding.advice ?? '',
      finding.reach.length > 0 ? `reaches ${finding.reach.join(', ')}` : '',
    ].join(' '),
  };
}

export function allFindings(project: Project): Finding[] {
  return [...project.findings(), ...planProject(project).findings];
}

/**
 * The findings of a text are exactly those that it expects: `//   ^^^ error rule: part of the message`
 * on the line below the place.
 */
export function check(text: string): Project {
  const project = projectOf(text);
  const found = allFindings(project)
    .map(told)
    .filter((t) => t.file === '/p/main.closet');
  expect(differences(expectedIn('/p/main.closet', text), found)).toEqual({ missing: [], tooMany: [] });
  return project;
}

export const inch = (ticks: Ticks): string => showLength(ticks, showInches);

/** `path: length` of the parts of a unit. */
export function cuts(project: Project, unit: string): string[] {
  const found = [...project.units()].find((u) => u.name === unit);
  return (found?.resolved?.layout.parts ?? []).map((p) => `${p.path}: ${inch(p.length)}`);
}

/** How one part's length came about. */
export function steps(project: Project, unit: string, path: string): string[] {
  const found = [...project.units()].find((u) => u.name === unit);
  const part = found?.resolved?.layout.parts.find((p) => p.path === path);
  return (part?.steps ?? []).map((s) => {
    const { what, amount } = stepText(s, showInches);
    return `${what}: ${amount}`;
  });
}

/** `path: from, width` of the zones of a unit, by where they begin. */
export function zones(project: Project, unit: string): string[] {
  const found = [...project.units()].find((u) => u.name === unit);
  return [...(found?.resolved?.layout.zones ?? [])]
    .sort((a, b) => a.from.value - b.from.value)
    .map((z) => `${z.path}: ${inch(z.from.value)}, ${inch(z.width.value)}`);
}

/** `path: height` of the fittings of a unit. */
export function heights(project: Project, unit: string): string[] {
  const found = [...project.units()].find((u) => u.name === unit);
  return (found?.resolved?.layout.zones ?? []).flatMap((z) =>
    z.fittings.filter((f) => f.kind !== 'panel').map((f) => `${f.path}: ${inch(f.at.value)}`),
  );
}

/** Line and rule of what is found once a part of a sound text is written in another way. */
export const changedIn =
  (sound: string) =>
  (from: string, to: string): string[] => {
    if (sound.split(from).length !== 2) throw new Error(`this does not stand there once: ${from}`);
    return foundIn(sound.replace(from, to));
  };

/** Line and rule of all that is found in a project of one file. */
export function foundIn(text: string): string[] {
  const project = workspaceOf({ '/p/main.closet': text }).projects[0]?.project;
  return (project ? allFindings(project) : []).map((f) => `${told(f).line} ${f.rule.id}`).sort();
}
