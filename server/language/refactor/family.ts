/** Templates that are built on each other, by any number of steps: what is said in one is part of the others. */
import { offsetOf, type Statement, segmentOf } from '../../../grammar/tree.ts';
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

/** Of each template that a template is built on or that is built on it, and of each unit of these, the text. */
export function textsAround(projects: readonly Project[], top: Statement): readonly string[] {
  const key = keyOf(top);
  const isBuilt = ({ names }: Project, statement: Statement): boolean =>
    lineageFrom(names, statement).some((d) => keyOf(d.statement) === key);
  const found = new Set<Statement>([top]);
  for (const project of new Set(projects)) {
    const { names } = project;
    for (const { statement } of names.all('template')) if (isBuilt(project, statement)) found.add(statement);
    for (const [template, units] of usersOf(project))
      if (keyOf(template) === key) for (const { declared } of units) found.add(declared.statement);
  }
  for (const { statement } of projects[0] ? lineageFrom(projects[0].names, top) : []) found.add(statement);
  return [...found].map(({ text }) => text);
}

/** Where it stands: the same for a statement of a library however often that was read. */
function keyOf(statement: Statement): string {
  return `${segmentOf(statement).source.id}:${offsetOf(statement)}`;
}

/** Another project that is built on one of these templates, as on a library. */
export function reachedFrom(projects: readonly Project[], family: readonly Declared[]): Project | undefined {
  const wanted = new Set(family.map(({ statement }) => keyOf(statement)));
  return projects.find(({ names }) =>
    [...names.all('template'), ...names.all('unit')].some((user) => {
      const path = pathIn(user.reading, user.kind === 'unit' ? 'template' : 'base');
      const used = path && names.find('template', dotted(path));
      return used !== undefined && wanted.has(keyOf(used.statement));
    }),
  );
}
