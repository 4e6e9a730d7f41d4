/** Texts in a file that lead to another file: the path of a `use`. */
import { offsetOf, type Range, type Statement, segmentOf, type Text } from '../../grammar/tree.ts';
import { isWithin, join, parentOf } from '../model/files.ts';
import { type Names, withLibraries } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { nameIn, readingAt, textIn } from '../model/reading.ts';
import type { Snapshot } from './snapshot.ts';

export interface Link extends Range {
  /** The file it opens: of a folder, the one that declares a project or else the first. */
  readonly file: string;
  readonly tooltip: string;
}

/** Only what has been found and may be reached has a link. */
export function linksOf(snapshot: Snapshot): Link[] {
  return librariesOf(snapshot).map(({ start, end, written, files, main }) => {
    const tooltip = files.length === 1 ? `Library ${written}` : `Library ${written}, ${files.length} files`;
    return { start, end, file: main, tooltip };
  });
}

/** A library where a file uses it: `start` and `end` are those of its path, between the quotation marks. */
export interface Library extends Range, Pick<Used, 'written' | 'files' | 'main'> {
  readonly alias: string;
}

/** The libraries that a file has opened, in the order of the text. */
export function librariesOf({ project, source }: Snapshot): Library[] {
  return [...source.statements()].flatMap((statement) => {
    const used = usedBy(project, statement);
    if (!used) return [];
    const { path, alias, written, files, main } = used;
    const start = offsetOf(statement) + path.start + 1;
    return [{ start, end: start + path.value.length, alias, written, files, main }];
  });
}

export interface Used {
  readonly path: Text;
  readonly alias: string;
  readonly written: string;
  /** The files of the library, sorted. */
  readonly files: readonly string[];
  readonly main: string;
  /** The file or folder that the path leads to; undefined for an installed package. */
  readonly target: string | undefined;
}

/** The library that a `use` of a project has opened. */
export function usedBy({ names }: Pick<Project, 'names'>, statement: Statement): Used | undefined {
  const reading = readingAt(statement, 'file');
  if (reading?.word !== 'use') return undefined;
  const path = reading.slots.path?.[0];
  const written = textIn(reading, 'path');
  const alias = nameIn(reading)?.text;
  // Of two under one name, the first is the one that was opened.
  if (path?.kind !== 'text' || written === undefined || alias === undefined) return undefined;
  const library = names.find('use', alias)?.statement === statement ? names.libraries.get(alias) : undefined;
  const files = library ? filesOf(library) : [];
  const [first] = files;
  if (!library || first === undefined) return undefined;
  const direct = join(parentOf(segmentOf(statement).source.id), written.replaceAll('\\', '/'));
  const target = [direct, `${direct}.closet`].find((at) => files.some((file) => isWithin(at, file)));
  const [project] = library.declarations('project', 'project');
  return { path, alias, written, files, main: project ? segmentOf(project.statement).source.id : first, target };
}

/** The files of all libraries that a project rests on, those that a library uses included. */
export function libraryFiles({ names }: Pick<Project, 'names'>): readonly string[] {
  const libraries = [...withLibraries(names)].filter((one) => one !== names);
  return [...new Set(libraries.flatMap(filesOf))].sort();
}

function filesOf(library: Names): string[] {
  return [...new Set([...library.everything()].map(({ statement }) => segmentOf(statement).source.id))].sort();
}
