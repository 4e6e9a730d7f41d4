/**
 * Texts that make rules speak. A file for each family, and in it
 *
 *     === RULE-ID
 *     the text of main.closet, beside the boards, the rod and the stock that most tests have
 *
 * or, where it takes several files or a project of its own, each of them under its path:
 *
 *     === RULE-ID
 *     --- /p/main.closet
 *     the text of it
 *     --- /p/latin.closet bytes 63 61 66 e9
 *     --- /p/huge.closet too-large 20000000
 *     --- /p/locked.closet failed it may not be read
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createWorkspace } from '../../server/checks/analysis.ts';
import type { Files, Read } from '../../server/model/files.ts';
import type { Project } from '../../server/model/project.ts';
import { memoryFiles, prelude } from '../model/support.ts';

export interface Case {
  readonly rule: string;
  /** By their paths. */
  readonly texts: Readonly<Record<string, string>>;
  /** What becomes of files that are no text. */
  readonly others: Readonly<Record<string, Read>>;
}

export const folder = import.meta.dirname;

/** All cases, by the name of their file. Throws where a file does not begin with a case. */
export function casesByFamily(): Map<string, Case[]> {
  const names = readdirSync(folder).filter((name) => name.endsWith('.txt'));
  return new Map(names.map((name) => [name.replace(/\.txt$/, ''), casesIn(readFileSync(join(folder, name), 'utf8'))]));
}

/** The projects that the files of a case make, up to date. */
export function projectsOf({ texts, others }: Case): Project[] {
  const known = memoryFiles({ ...texts, ...Object.fromEntries(Object.keys(others).map((path) => [path, ''])) });
  const files: Files = { ...known, read: (path, most) => others[path] ?? known.read(path, most) };
  const workspace = createWorkspace(files, []);
  for (const path of [...Object.keys(texts), ...Object.keys(others)]) workspace.loadFile(path);
  return workspace.projects.map(({ project }) => {
    project.refreshNow();
    return project;
  });
}

function casesIn(text: string): Case[] {
  const [before, ...cases] = text.split(/^=== /m);
  if (before?.trim()) throw new Error(`no case begins at: ${before.slice(0, 40)}`);
  return cases.map((one) => {
    const { head, rest } = split(one);
    return { rule: head, ...filesIn(rest) };
  });
}

function filesIn(text: string): Omit<Case, 'rule'> {
  if (!text.startsWith('--- ')) return { texts: { '/p/prelude.closet': prelude, '/p/main.closet': text }, others: {} };
  const texts: Record<string, string> = {};
  const others: Record<string, Read> = {};
  for (const { head, rest } of text.split(/^--- /m).slice(1).map(split)) {
    const [path = '', kind, ...words] = head.split(' ');
    if (kind === 'failed') others[path] = { kind: 'failed', why: words.join(' ') };
    else if (kind === 'too-large') others[path] = { kind: 'too-large', size: Number(words[0]) };
    else if (kind === 'bytes')
      others[path] = { kind: 'read', bytes: Uint8Array.from(words, (byte) => Number.parseInt(byte, 16)) };
    else texts[path] = rest;
  }
  return { texts, others };
}

function split(text: string): { readonly head: string; readonly rest: string } {
  const end = text.indexOf('\n');
  return { head: text.slice(0, end).trim(), rest: text.slice(end + 1) };
}
