/** That nobody is to cut by what is told: there are errors in what it is made from. */
import type { Statement } from '../../grammar/tree.ts';
import { topOf } from '../../grammar/tree.ts';
import { counted } from '../model/money.ts';
import type { Project, Unit } from '../model/project.ts';
import { unreadIn } from '../model/unread-units.ts';
import { openFindings } from '../sheets/drawing/drawings.ts';
import { usersOf } from './users.ts';

/** A paragraph that goes before the cut list of a unit; none where nothing is against it. */
export function unitCaution(project: Project, unit: Unit): string[] {
  if (unreadIn(project)(unit).length > 0) return [caution('not all of what it is built of can be read')];
  const errors = openFindings(project, unit).filter(({ severity }) => severity === 'error').length;
  if (errors === 0) return [];
  return [caution(`there ${errors === 1 ? 'is' : 'are'} ${counted(errors, 'error')} in this unit`)];
}

/** A paragraph that goes before what is told of a statement of a template, in all units built on it or in one. */
export function partCaution(project: Project, statement: Statement, one?: Unit): string[] {
  const units = one ? [one] : (usersOf(project).get(topOf(statement)) ?? []);
  const isUnread = unreadIn(project);
  const unread = units.filter((unit) => isUnread(unit).length > 0);
  const [first] = unread;
  if (!first) return [];
  const which =
    unread.length === 1
      ? `unit ${first.name} is`
      : `${unread.length === units.length ? 'the' : `${unread.length} of the`} ${counted(units.length, 'unit')} are`;
  return [caution(`not all of what ${which} built of can be read`)];
}

function caution(why: string): string {
  return `**Do not cut by this yet:** ${why}.`;
}
