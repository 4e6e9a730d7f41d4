/** That nobody is to cut by what is told: there are errors in what it is made from. */
import type { Statement } from '../../grammar/tree.ts';
import { topOf } from '../../grammar/tree.ts';
import { counted } from '../model/money.ts';
import type { Project, Unit } from '../model/project.ts';
import { unreadIn } from '../model/unread-units.ts';
import { openFindings } from '../sheets/drawing/drawings.ts';
import { usersOf } from './users.ts';

const notYet = 'Do not cut by this yet:';

/** A paragraph that goes before the cut list of a unit; none where nothing is against it. */
export function unitCaution(project: Project, unit: Unit): string[] {
  return inBold(doubtOf(project, unit));
}

/** A paragraph that goes before what is told of a statement of a template, in all units built on it or in one. */
export function partCaution(project: Project, statement: Statement, one?: Unit): string[] {
  return inBold(doubtOfReading(project, one ? [one] : (usersOf(project).get(topOf(statement)) ?? [])));
}

/** The first line of a text that lists what is cut for some units; undefined where nothing is against it. */
export function listCaution(project: Project, units: readonly Unit[]): string | undefined {
  const [only] = units;
  const why = units.length === 1 && only ? doubtOf(project, only) : doubtOfAll(project, units);
  return why && `${notYet} ${why}.`;
}

function inBold(why: string | undefined): string[] {
  return why === undefined ? [] : [`**${notYet}** ${why}.`];
}

function doubtOf(project: Project, unit: Unit): string | undefined {
  if (unreadIn(project)(unit).length > 0) return 'not all of what it is built of can be read';
  const errors = errorsIn(project, unit);
  return errors === 0 ? undefined : `there ${errors === 1 ? 'is' : 'are'} ${counted(errors, 'error')} in this unit`;
}

function doubtOfAll(project: Project, units: readonly Unit[]): string | undefined {
  const unread = doubtOfReading(project, units);
  if (unread !== undefined) return unread;
  const wrong = units.filter((unit) => errorsIn(project, unit) > 0);
  return wrong.length === 0 ? undefined : `there are errors in ${named(wrong, units)}`;
}

function doubtOfReading(project: Project, units: readonly Unit[]): string | undefined {
  const isUnread = unreadIn(project);
  const unread = units.filter((unit) => isUnread(unit).length > 0);
  if (unread.length === 0) return undefined;
  return `not all of what ${named(unread, units)} ${unread.length === 1 ? 'is' : 'are'} built of can be read`;
}

function errorsIn(project: Project, unit: Unit): number {
  return openFindings(project, unit).filter(({ severity }) => severity === 'error').length;
}

/** Some of all: the one by its name, more of them by their number. */
function named(some: readonly Unit[], all: readonly Unit[]): string {
  if (some.length === 1) return `unit ${some[0]?.name}`;
  return `${some.length === all.length ? 'the' : `${some.length} of the`} ${counted(all.length, 'unit')}`;
}
