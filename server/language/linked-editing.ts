/** A name that is typed anew in all its places at once: where all of them stand in the file that is typed in. */
import type { Range } from '../../grammar/tree.ts';
import { atOnce, type Steps } from '../checks/steps.ts';
import type { Project } from '../model/project.ts';
import { namedTogether } from './rename.ts';
import type { Snapshot } from './snapshot.ts';

/** Places in the order of the text, two at least; none where a rename would change other files as well, or is refused. */
export function linkedAt(snapshot: Snapshot, offset: number, projects: readonly Project[] = []): readonly Range[] {
  return atOnce(linking(snapshot, offset, projects));
}

/** The same, a place at a time. */
export function* linking(
  snapshot: Snapshot,
  offset: number,
  projects: readonly Project[] = [],
): Steps<readonly Range[]> {
  const found = yield* namedTogether(snapshot, offset, projects);
  if (found.some(({ source }) => source !== snapshot.source)) return [];
  const places = new Map(found.map(({ start, end }) => [start, { start, end }]));
  return places.size < 2 ? [] : [...places.values()].sort((a, b) => a.start - b.start);
}

/** What a name may be while it is typed, as an expression without flags: none of the signs that end one. */
export const nameWhileTyped = '[^\\s{}();,:.=+*/"]*';
