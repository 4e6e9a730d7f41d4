/** The units that are built on each template. */
import type { Statement } from '../../grammar/tree.ts';
import { memo } from '../model/memo.ts';
import type { Project, Unit } from '../model/project.ts';

type Users = ReadonlyMap<Statement, readonly Unit[]>;

/** By what was computed. */
const kept = new WeakMap<Project['outcome'], Users>();

/** By template, those built on one that extends it included, in the order of the files. */
export function usersOf(project: Project): Users {
  return memo(kept, project.outcome, () => {
    const units = new Map<Statement, Unit[]>();
    for (const unit of project.units())
      for (const { statement } of unit.info?.blueprint.heads ?? []) memo(units, statement, (): Unit[] => []).push(unit);
    return units;
  });
}
