/** What a workspace had loaded, to be taken over where files are shared out among projects anew. */
import type { Source } from '../../grammar/source.ts';
import type { Project } from './project.ts';

export interface Spare {
  /** Parsed files whose texts have not changed. */
  readonly sources: ReadonlyMap<string, Source>;
  /** Projects by the longest of their files. Whoever gets that file takes the project over, with what it has computed. */
  readonly projects: Map<string, Project>;
}

export const nothingSpare: Spare = { sources: new Map(), projects: new Map() };

/** `isCurrent` tells of a file whether what was parsed is its text. */
export function spareOf(projects: Iterable<Project>, isCurrent: (path: string) => boolean): Spare {
  const sources = new Map<string, Source>();
  const byLongest = new Map<string, Project>();
  for (const project of projects) {
    let longest: Source | undefined;
    for (const [path, source] of project.sources) {
      if (isCurrent(path)) sources.set(path, source);
      if (!longest || source.length > longest.length) longest = source;
    }
    if (longest) byLongest.set(longest.id, project);
  }
  return { sources, projects: byLongest };
}

/** A project that has most of these files already, with all others taken out of it. */
export function takeOver({ projects }: Spare, files: readonly string[]): Project | undefined {
  let found: { readonly path: string; readonly project: Project; readonly length: number } | undefined;
  for (const path of files) {
    const project = projects.get(path);
    const length = project?.sources.get(path)?.length ?? 0;
    if (project && (!found || length > found.length)) found = { path, project, length };
  }
  if (!found) return undefined;
  const { path, project } = found;
  projects.delete(path);
  const own = new Set(files);
  for (const other of [...project.sources.keys()]) if (!own.has(other)) project.removeFile(other);
  // Where its libraries lie may depend on where it lies.
  if (!project.names.all('use').next().done) project.reopenLibraries();
  return project;
}
