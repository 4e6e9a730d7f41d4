/** Where the thing under the cursor is named, and which of those places are in the file that is looked at. */
import type { Source } from '../../grammar/source.ts';
import type { Range } from '../../grammar/tree.ts';
import { atOnce, type Steps } from '../checks/steps.ts';
import type { Project } from '../model/project.ts';
import { sourceOf } from './diagnostics.ts';
import { locate } from './locate.ts';
import { type Meaning, meantAt } from './meaning.ts';
import { nameRangeOf } from './name-range.ts';
import { inOrder, means, type Occurrence, occurrencesOf, occurrencesWithin } from './occurrences.ts';
import type { Snapshot } from './snapshot.ts';

export interface Reference extends Range {
  readonly source: Source;
  /** It declares the thing, or says more of it in a template that extends another. */
  readonly isDeclaration: boolean;
}

export interface Highlight extends Range {
  /** The thing is declared or changed here; elsewhere it is only named. */
  readonly kind: 'write' | 'read';
}

/** The meanings of the name under the cursor; the first is what is meant. */
export function meaningsAt(snapshot: Snapshot, offset: number): readonly Meaning[] {
  const located = locate(snapshot, offset);
  return (located && meantAt(snapshot.project.names, located)?.meanings) ?? [];
}

/** Where the thing under the cursor is named in its project, and in others that reach it through a library. */
export function referencesAt(
  snapshot: Snapshot,
  offset: number,
  projects: readonly Project[] = [],
): readonly Reference[] {
  return atOnce(searching(snapshot, offset, projects));
}

/** The same, a declaration at a time: one name may stand in all units of a building. */
export function* searching(
  snapshot: Snapshot,
  offset: number,
  projects: readonly Project[] = [],
): Steps<readonly Reference[]> {
  const [meaning] = meaningsAt(snapshot, offset);
  if (!meaning) return [];
  const found: Reference[] = [];
  for (const { sources, names } of new Set([snapshot.project, ...projects])) {
    for (const source of inOrder(sources)) {
      for (const segment of source.segments) {
        // What is none of it is asked for its meaning as well, and may stand in each of them.
        yield;
        for (const one of occurrencesWithin(segment, source, names, meaning.name)) {
          if (means(one, meaning)) found.push(referenceOf(one));
          yield;
        }
      }
    }
  }
  // What is declared in a library or with the tool, or has no name of its own, stands in no text that was searched.
  const declared = meaning.root ?? meaning.statement;
  const source = sourceOf({ statement: declared, start: 0, end: 0 });
  const { start, end } = nameRangeOf(declared);
  if (meaning.sort !== 'set' && !found.some((f) => f.source.id === source.id && f.start === start))
    found.unshift({ source, start, end, isDeclaration: true });
  return found;
}

function referenceOf({ source, start, end, role }: Occurrence): Reference {
  return { source, start, end, isDeclaration: role === 'declares' };
}

export function highlightsAt(snapshot: Snapshot, offset: number): readonly Highlight[] {
  const [meaning] = meaningsAt(snapshot, offset);
  if (!meaning) return [];
  const kindOf = ({ role }: Occurrence): Highlight['kind'] => (role === 'names' ? 'read' : 'write');
  return [...occurrencesOf(snapshot.source, snapshot.project.names, meaning.name)]
    .filter((one) => means(one, meaning))
    .map((one) => ({ start: one.start, end: one.end, kind: kindOf(one) }));
}
