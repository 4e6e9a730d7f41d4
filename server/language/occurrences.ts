/**
 * Where a name stands: the text is searched for the word, and each place it is found at is asked what it means
 * there. Definition and its inverse can so never disagree.
 */
import type { Source } from '../../grammar/source.ts';
import { type Range, type Segment, type SourceRef, type Statement, statementIn } from '../../grammar/tree.ts';
import type { Declared, Names } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { located } from './locate.ts';
import { isSame, type Meaning, meantAt, type Role } from './meaning.ts';

/** A place where a word stands as a name, whether it means anything known or not. */
export interface Occurrence<From extends SourceRef = Source> extends Range {
  readonly source: From;
  readonly statement: Statement;
  readonly role: Role;
  readonly meanings: readonly Meaning[];
}

/** Where a word stands as a name in the files of a project, in the order of the files and of the text. */
export function* occurrencesIn(
  { sources, names }: Pick<Project, 'sources' | 'names'>,
  word: string,
): Generator<Occurrence> {
  for (const source of inOrder(sources)) yield* occurrencesOf(source, names, word);
}

/** The files of a project by their paths. */
export function inOrder(sources: Project['sources']): readonly Source[] {
  return [...sources.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}

export function* occurrencesOf(source: Source, names: Names, word: string): Generator<Occurrence> {
  for (const segment of source.segments) yield* occurrencesWithin(segment, source, names, word);
}

/** `source` is the file that the segment belongs to; `lineage` that of a template that inherits what stands in it. */
export function* occurrencesWithin<From extends SourceRef>(
  segment: Segment,
  source: From,
  names: Names,
  word: string,
  lineage?: readonly Declared[],
): Generator<Occurrence<From>> {
  const { text, offset } = segment;
  if (word === '') return;
  for (let at = text.indexOf(word); at >= 0; at = text.indexOf(word, at + word.length)) {
    if (goesOn(text, at - 1) || goesOn(text, at + word.length)) continue;
    const end = offset + at + word.length;
    const statement = statementIn(segment, at + word.length);
    // Asked at its end: what begins there belongs to something else.
    const meant = statement && meantAt(names, located(statement, end), lineage);
    if (!meant || meant.word.text !== word) continue;
    yield { source, statement, start: end - word.length, end, role: meant.role, meanings: meant.meanings };
  }
}

/** A letter or digit of ASCII right there makes it another word; of others the parser has the last word. */
function goesOn(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return (code >= 48 && code <= 57) || (code >= 65 && code <= 90) || (code >= 97 && code <= 122) || code === 95;
}

export function means({ meanings }: Pick<Occurrence, 'meanings'>, meaning: Meaning): boolean {
  return meanings.some((one) => isSame(one, meaning));
}
