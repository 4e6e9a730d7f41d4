/** The units that are built on each template. */
import type { Statement } from '../../grammar/tree.ts';
import { memo } from '../model/memo.ts';
import type { Project, Unit } from '../model/project.ts';

interface Users {
  readonly computations: number;
  readonly units: ReadonlyMap<Statement, readonly Unit[]>;
}

const kept = new WeakMap<Project, Users>();

/** By template, those built on one that extends it included, in the order of the files. */
export function usersOf(project: Project): Users['units'] {
  const known = kept.get(project);
  if (known?.computations === project.computations) return known.units;
  const units = new Map<Statement, Unit[]>();
  for (const unit of project.units())
    for (const { statement } of unit.info?.blueprint.heads ?? []) memo(units, statement, (): Unit[] => []).push(unit);
  kept.set(project, { computations: project.computations, units });
  return units;
}
