/** Templates that are built on each other, by any number of steps: what is said in one is part of the others. */
import { type Statement, segmentOf } from '../../../grammar/tree.ts';
import type { Declared } from '../../model/names.ts';
import type { Project, Unit } from '../../model/project.ts';
import { dotted, pathIn } from '../../model/reading.ts';
import { lineageFrom } from '../things.ts';
import { usersOf } from '../users.ts';

/** The templates in the order of the files; undefined where one of them lies outside the project. */
export function familyOf(project: Project, top: Statement): readonly Declared[] | undefined {
  const own = project.names.written('template').filter((d) => project.sources.has(segmentOf(d.statement).source.id));
  const lineages = new Map(own.map((d) => [d.statement, lineageFrom(project.names, d.statement)]));
  const family = new Set<Statement>([top]);
  for (let size = 0; size !== family.size; ) {
    size = family.size;
    for (const [statement, lineage] of lineages) {
      if (!family.has(statement) && !lineage.some((d) => family.has(d.statement))) continue;
      family.add(statement);
      for (const d of lineage) family.add(d.statement);
    }
  }
  const found = own.filter((d) => family.has(d.statement));
  return found.length === family.size ? found : undefined;
}

/** The units of any of them. */
export function unitsOf(project: Project, family: readonly Declared[]): Unit[] {
  const users = usersOf(project);
  return [...new Set(family.flatMap(({ statement }) => users.get(statement) ?? []))];
}

/** Another project that is built on one of these templates, as on a library. */
export function reachedFrom(projects: readonly Project[], family: readonly Declared[]): Project | undefined {
  const key = (statement: Statement): string => {
    const segment = segmentOf(statement);
    return `${segment.source.id}:${segment.offset + statement.offset}`;
  };
  const wanted = new Set(family.map(({ statement }) => key(statement)));
  return projects.find(({ names }) =>
    [...names.all('template'), ...names.all('unit')].some((user) => {
      const path = pathIn(user.reading, user.kind === 'unit' ? 'template' : 'base');
      const used = path && names.find('template', dotted(path));
      return used !== undefined && wanted.has(key(used.statement));
    }),
  );
}
