/** Projects out of the files of a case, as an editor has them: files on a disk, and documents that are open before them. */
import { createWorkspace, planProject } from '../../server/checks/analysis.ts';
import type { Finding } from '../../server/model/finding.ts';
import { createMemoryFiles, type MemoryFiles } from '../../server/model/memory-files.ts';
import type { LoadedProject, Workspace } from '../../server/model/workspace.ts';

const bytes = new TextEncoder();

export const root = '/p';

export function diskOf(files: ReadonlyMap<string, string>): MemoryFiles {
  const disk = createMemoryFiles();
  disk.putFolder(root);
  for (const [path, text] of files) putOn(disk, path, text);
  return disk;
}

export function putOn(disk: MemoryFiles, path: string, text: string): void {
  disk.put(path, { kind: 'read', bytes: bytes.encode(text) });
}

/** All projects of the folder, brought up to date. */
export function loadedFrom(disk: MemoryFiles): Workspace {
  const workspace = createWorkspace(disk, [root]);
  workspace.loadFolder(root);
  for (const { project } of workspace.projects) project.refreshNow();
  return workspace;
}

export function byRoot({ projects }: Workspace): LoadedProject[] {
  return [...projects].sort((a, b) => (a.root < b.root ? -1 : a.root > b.root ? 1 : 0));
}

export function findingsOf({ project }: LoadedProject): Finding[] {
  return [...project.findings(), ...planProject(project).findings];
}

/** Of a name in a case: a path in the folder, whatever it is. */
export function pathIn(name: string): string {
  const parts = name.split('/').filter((part) => part !== '' && part !== '.' && part !== '..');
  return `${root}/${(parts[0] === 'p' ? parts.slice(1) : parts).join('/') || 'a.closet'}`;
}
