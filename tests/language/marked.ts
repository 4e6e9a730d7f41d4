/** Small texts with marks in them: `|` where the cursor is. */
import type { Snapshot, TextEdit } from '../../server/language/snapshot.ts';
import type { Project } from '../../server/model/project.ts';
import { prelude, projectOf, workspaceOf } from '../model/support.ts';

export const file = '/p/main.closet';

export interface Marked {
  readonly snapshot: Snapshot;
  readonly at: number;
  /** Without the mark. */
  readonly text: string;
  /** All that are open, where there are several files. */
  readonly projects?: readonly Project[];
}

export function snapshotOf(text: string): Snapshot {
  const project = projectOf(text);
  const source = project.sources.get(file);
  if (!source) throw new Error('the text was not read');
  return { project, source, path: file };
}

/** The text without its cursor `|`, and where that is. */
export function cursor(marked: string): Marked {
  const { text, at } = unmarked(marked);
  return { snapshot: snapshotOf(text), at, text };
}

/** Where a file stands: in the folder of the project, where its name says no other. */
export const pathOf = (name: string): string => (name.startsWith('/') ? name : `/p/${name}`);

/** The folder that all stand in, where some stand beside that of the project. */
export const foldersOf = (paths: readonly string[]): string[] =>
  paths.every((path) => path.startsWith('/p/')) ? [] : ['/'];

/** Several files by their names in one project, beside the prelude; the cursor is in one of them. */
export function cursorIn(texts: Readonly<Record<string, string>>): Marked {
  const files: Record<string, string> = { '/p/prelude.closet': prelude };
  let found: { path: string; text: string; at: number } | undefined;
  for (const [name, marked] of Object.entries(texts)) {
    const path = pathOf(name);
    if (marked.includes('|')) found = { path, ...unmarked(marked) };
    files[path] = found?.path === path ? found.text : marked;
  }
  if (!found) throw new Error('no cursor is marked');
  const workspace = workspaceOf(files, foldersOf(Object.keys(files)));
  const project = workspace.projectOf(found.path)?.project;
  const source = project?.sources.get(found.path);
  if (!project || !source) throw new Error('the text was not read');
  const projects = workspace.projects.map((loaded) => loaded.project);
  return { snapshot: { project, source, path: found.path }, at: found.at, text: found.text, projects };
}

function unmarked(marked: string): { readonly text: string; readonly at: number } {
  const at = marked.indexOf('|');
  if (at < 0) throw new Error('no cursor is marked');
  return { text: marked.slice(0, at) + marked.slice(at + 1), at };
}

/** The text without any of these marks, and where each of them was. */
export function marksIn(marked: string, marks: string): { text: string; marks: { mark: string; at: number }[] } {
  const found: { mark: string; at: number }[] = [];
  let text = '';
  for (const c of marked) {
    if (marks.includes(c)) found.push({ mark: c, at: text.length });
    else text += c;
  }
  return { text, marks: found };
}

/** The text of a file after some edits. */
export function edited(project: Project, file: string, edits: readonly TextEdit[]): string {
  let text = project.sources.get(file)?.text ?? '';
  for (const { start, end, text: put } of edits.filter((e) => e.file === file).toSorted((a, b) => b.start - a.start))
    text = text.slice(0, start) + put + text.slice(end);
  return text;
}
