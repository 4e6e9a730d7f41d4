/** Cases that are kept: in the repository those that people read, elsewhere those that a machine found to go on from. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { escaped, unescaped } from './case.ts';

export const corpusFolder = resolve(import.meta.dirname, 'corpus');
/** Not in the repository, so that a long run goes on where the one before ended. */
export const grownFolder = resolve(import.meta.dirname, '../../node_modules/.cache/storypole-fuzz');

export interface Kept {
  readonly name: string;
  readonly text: string;
}

export function corpusOf(target: string, folder = corpusFolder): Kept[] {
  const at = join(folder, target);
  if (!existsSync(at)) return [];
  return readdirSync(at)
    .filter((name) => name.endsWith('.txt'))
    .sort()
    .map((name) => ({ name, text: unescaped(readFileSync(join(at, name), 'utf8').replace(/\n$/, '')) }));
}

/** Writes a case; its name follows from what it is. The path is answered. */
export function keep(target: string, text: string, folder: string, called = 'case'): string {
  const at = join(folder, target);
  mkdirSync(at, { recursive: true });
  const path = join(at, `${called}-${createHash('sha256').update(text).digest('hex').slice(0, 10)}.txt`);
  writeFileSync(path, `${escaped(text)}\n`);
  return path;
}
