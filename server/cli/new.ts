/** `storypole new`: begins a project with the files that an editor's "New closet project…" would write. */
import { readdirSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { type Measure, newProject } from '../language/new-project.ts';
import { writeFiles } from '../writing/write-files.ts';
import type { Answer } from './answer.ts';
import { type Common, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { printable } from './words.ts';

export interface NewOptions extends Common {
  /** What the project is called; without it, as its folder is. */
  readonly name?: string;
  readonly measure: Measure;
}

/** All of the files or none. Throws Stop where something is in the way: nothing is ever written over. */
export async function begin(folder: string, options: NewOptions): Promise<Answer> {
  const { current } = sessionFor(options);
  const root = resolve(current, folder);
  const name = options.name ?? basename(root).replaceAll(/[-_]+/g, ' ');
  if (name.trim() === '') throw new Stop('A project needs a name. Say it with --name.');
  const { files, main } = newProject({ name, measure: options.measure });
  const closet = namesIn(root).find((found) => found.endsWith('.closet'));
  if (closet !== undefined)
    throw new Stop(
      `${closet} is in that folder already, so nothing was written. Choose a folder without .closet files.`,
    );
  await writeFiles(
    files.map(({ path, text }) => {
      const shown = join(folder, path);
      const taken = () => new Stop(`${printable(shown)} is there already, so nothing was written.`);
      return { path: join(root, path), shown, pieces: [text], makesFolder: true, taken };
    }),
  );
  const made = files.map(({ path }) => `  ${printable(join(folder, path))}\n`).join('');
  const next = `Look at ${main} first. To see what follows from it, run storypole check, cuts and plan in that folder.\n`;
  return { status: 0, result: [`Made a project of ${files.length} files:\n${made}\n${next}`], remark: undefined };
}

/** What the folder holds; nothing where there is none yet. */
function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}
