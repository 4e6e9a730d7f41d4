/** Refactorings of small marked texts, and what is built before and after. */
import { expect } from 'vitest';
import { formattingOf } from '../../../grammar/format.ts';
import { Source } from '../../../grammar/source.ts';
import { builtText } from '../../../server/language/refactor/built.ts';
import { refactorings } from '../../../server/language/refactor/refactor.ts';
import type { Refactoring } from '../../../server/language/refactor/refactoring.ts';
import type { TextEdit } from '../../../server/language/snapshot.ts';
import type { Project } from '../../../server/model/project.ts';
import { topWords } from '../../../server/model/vocabulary.ts';
import { prelude, workspaceOf } from '../../model/support.ts';
import { cursorIn, foldersOf, type Marked, pathOf } from '../marked.ts';

export type Texts = Readonly<Record<string, string>>;

/** All that is offered at the cursor of one of several files. */
export function offers(texts: Texts): { readonly marked: Marked; readonly all: readonly Refactoring[] } {
  const marked = cursorIn(texts);
  return { marked, all: refactorings(marked.snapshot, { start: marked.at, end: marked.at }, marked.projects) };
}

/** The title of one, with the reason in brackets where it is disabled; undefined where it is not offered. */
export function titleOf(texts: Texts, id: string): string | undefined {
  const found = offers(texts).all.find((one) => one.id === id);
  return found && (found.disabled === undefined ? found.title : `${found.title} (${found.disabled})`);
}

export function applied(texts: Readonly<Record<string, string>>, edits: readonly TextEdit[]): Record<string, string> {
  const made = { ...texts };
  for (const { file, start, end, text } of edits.toSorted((a, b) => b.start - a.start))
    made[file] = `${made[file]?.slice(0, start)}${text}${made[file]?.slice(end)}`;
  return made;
}

export function projectFrom(texts: Readonly<Record<string, string>>): Project {
  const workspace = workspaceOf({ ...texts }, foldersOf(Object.keys(texts)));
  const found = (workspace.projectOf('/p/prelude.closet') ?? workspace.projects[0])?.project;
  if (!found) throw new Error('a project was expected');
  return found;
}

/** Every unit as it is built, and which errors there are. */
export function built(project: Project): Record<string, string> {
  const units = [...project.units()].map(({ name, resolved }) => [
    name,
    resolved ? builtText(resolved.layout) : 'nothing',
  ]);
  return Object.fromEntries(units) as Record<string, string>;
}

/** The rules that find errors: how a message tells it follows the text, and one mistake may sit in several templates. */
export function errors(project: Project): string[] {
  const found = project.findings().filter(({ severity }) => severity === 'error');
  return [...new Set(found.map(({ rule }) => rule.id))].sort();
}

/** What files that were in the one style are no longer in it in. */
export function outOfStyle(before: string, after: string): number {
  const edits = (text: string): number => formattingOf(new Source('', text, topWords)).edits.length;
  return edits(before) > 0 ? 0 : edits(after);
}

/** The files after a refactoring, by name, without the prelude. What is built stays; what was in style stays in it. */
export function made(texts: Texts, id: string, law: 'same' | 'other' = 'same'): Record<string, string> {
  const { marked, all } = offers(texts);
  const found = all.find((one) => one.id === id);
  if (!found) throw new Error(`${id} is not offered, but ${all.map((one) => one.id).join(', ')}`);
  if (found.disabled !== undefined) throw new Error(`${id} is disabled: ${found.disabled}`);
  const before: Record<string, string> = { '/p/prelude.closet': prelude };
  for (const [name, text] of Object.entries(texts)) before[pathOf(name)] = text.replace('|', '');
  const after = applied(before, found.edits);
  const [old, fresh] = [marked.snapshot.project, projectFrom(after)];
  if (law === 'same') {
    expect(built(fresh)).toEqual(built(old));
    expect(errors(fresh)).toEqual(errors(old));
  }
  for (const [path, text] of Object.entries(after)) expect(outOfStyle(before[path] ?? '', text), text).toBe(0);
  return Object.fromEntries(Object.keys(texts).map((name) => [name, after[pathOf(name)] ?? '']));
}
