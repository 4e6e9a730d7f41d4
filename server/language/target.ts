/** What a name under the cursor means: the statement that declares it. */
import { type Statement, segmentOf, topOf } from '../../grammar/tree.ts';
import type { Declared } from '../model/names.ts';
import type { Located } from './locate.ts';
import { meantAt } from './meaning.ts';
import type { Snapshot } from './snapshot.ts';
import { lineageFrom } from './things.ts';

export { kindsOf, zonesAround } from './meaning.ts';

/** The declaration of what is named under the cursor. Undefined where nothing is, or it is not known. */
export function targetAt({ project }: Snapshot, located: Located): Statement | undefined {
  return meantAt(project.names, located)?.meanings[0]?.statement;
}

/** The templates whose things a statement can name, the nearest first. */
export function lineageAt({ project }: Snapshot, trail: readonly Statement[]): readonly Declared[] {
  return lineageFrom(project.names, trail[0]);
}

/** A statement's file belongs to the project: what ships with the tool or comes from a library does not. */
export function isWritten({ project }: Pick<Snapshot, 'project'>, statement: Statement): boolean {
  const { source } = segmentOf(topOf(statement));
  return project.sources.get(source.id) === source;
}
