/** Where to begin: a small project with something of everything in it, and the examples. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { closetFiles, examples } from '../examples/load.ts';
import { smallProject } from '../model/small-project.ts';
import { joined, type Part } from './case.ts';
import { root } from './projects.ts';

function read(file: string): string {
  return readFileSync(join(examples, file), 'utf8');
}

const files = closetFiles(examples).filter((file) => !file.endsWith('latin-1.closet'));

/** Single files of a few dozen lines. */
export function smallTexts(): string[] {
  return [...files.map(read), ...Object.values(smallProject)].filter((text) => text.length < 3_500);
}

const asParts = (texts: Readonly<Record<string, string>>): Part[] =>
  Object.entries(texts).map(([name, text]) => ({ name, text }));

/** Cases of one project each. */
export function smallProjects(): string[] {
  const mistakes = Map.groupBy(
    files.filter((file) => file.startsWith('mistakes/')),
    (file) => file.split('/').slice(0, 2).join('/'),
  );
  return [
    joined(asParts(smallProject)),
    ...[...mistakes].map(([folder, own]) =>
      joined(own.map((file) => ({ name: `${root}${file.slice(folder.length)}`, text: read(file) }))),
    ),
  ];
}

/** The whole example, for whoever can wait. */
export function wholeExample(): string {
  const own = files.filter((file) => file.startsWith('quarry-lane/'));
  if (own.length === 0 || !existsSync(join(examples, 'quarry-lane'))) throw new Error('no example');
  return joined(own.map((file) => ({ name: `${root}/${file.slice('quarry-lane/'.length)}`, text: read(file) })));
}
