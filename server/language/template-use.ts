/** Who uses a template, and what a template or a unit rests on. */
import type { Source } from '../../grammar/source.ts';
import { offsetOf, type Path, type Range, type Statement, topOf } from '../../grammar/tree.ts';
import { type Declared, type Names, withLibraries } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { dotted, pathIn } from '../model/reading.ts';
import { sourceOf } from './diagnostics.ts';
import { locate, touches } from './locate.ts';
import { identityOf, type Meaning, meantAt } from './meaning.ts';
import { nameRangeOf } from './name-range.ts';
import type { Snapshot } from './snapshot.ts';

export interface TemplateOrUnit extends Range {
  readonly kind: 'template' | 'unit';
  readonly name: string;
  /** What stands behind the name: `extends reach-in`, `reach-in mirrored`. */
  readonly detail: string;
  readonly source: Source;
  readonly selection: Range;
}

export interface Use {
  readonly of: TemplateOrUnit;
  /** Where the one that uses names the one that is used. */
  readonly at: Range;
}

/** The template or unit that is named under the cursor, or in whose head the cursor is. */
export function templateOrUnitAt(snapshot: Snapshot, offset: number): TemplateOrUnit | undefined {
  const located = locate(snapshot, offset);
  if (!located) return undefined;
  const named = meantAt(snapshot.project.names, located)?.meanings.find(isTemplateOrUnit);
  const top = topOf(located.statement);
  const inHead = top === located.statement && touches(top.head, located.within);
  const statement = named?.statement ?? (inHead ? top : undefined);
  return statement && told(statement);
}

function isTemplateOrUnit({ sort }: Meaning): boolean {
  return sort === 'template' || sort === 'unit';
}

function told(statement: Statement): TemplateOrUnit | undefined {
  const kind = statement.word.text;
  if (kind !== 'template' && kind !== 'unit') return undefined;
  const source = sourceOf({ statement, start: 0, end: 0 });
  const base = offsetOf(statement);
  const selection = nameRangeOf(statement);
  const name = statement.text.slice(selection.start - base, selection.end - base);
  const detail = statement.text.slice(selection.end - base, statement.head.end).trim();
  return { kind, name, detail, source, selection, start: base, end: base + statement.text.length };
}

/** The units that use a template and the templates that extend it, in its project and in others that reach it. */
export function usersOf(snapshot: Snapshot, offset: number, projects: readonly Project[] = []): Use[] {
  const used = declarationAt(snapshot, offset);
  if (used?.word.text !== 'template') return [];
  const identity = identityOf({ sort: 'template', name: '', statement: used, root: used });
  return [...new Set([snapshot.project, ...projects])].flatMap((project) =>
    [...project.names.written('template'), ...project.names.written('unit')].flatMap((user) => {
      const found = usedBy(project.names, user);
      if (!found) return [];
      const { statement } = found.declared;
      if (identityOf({ sort: 'template', name: '', statement, root: statement }) !== identity) return [];
      return use(user.statement, user.statement, found.path);
    }),
  );
}

/** One that uses a template through others that extend it, the nearest to the template first. */
export interface Through extends Use {
  readonly through: readonly TemplateOrUnit[];
}

/** The same with those that use it through a template that extends it: each template before what is built on it. */
export function allUsersOf(snapshot: Snapshot, offset: number, projects: readonly Project[] = []): Through[] {
  const found: Through[] = [];
  const seen = new Set<string>();
  const visit = (source: Source, at: number, through: readonly TemplateOrUnit[]): void => {
    // Templates may extend each other in a ring, which is found elsewhere.
    const key = `${source.id}:${at}`;
    if (seen.has(key)) return;
    seen.add(key);
    const { project } = snapshot;
    for (const one of usersOf({ project, source, path: source.id }, at, projects)) {
      found.push({ ...one, through });
      if (one.of.kind === 'template') visit(one.of.source, one.of.selection.start, [...through, one.of]);
    }
  };
  const used = declarationAt(snapshot, offset);
  if (used) visit(snapshot.source, nameRangeOf(used).start, []);
  return found;
}

/** The template of a unit, or what a template extends. */
export function usedFrom(snapshot: Snapshot, offset: number): Use[] {
  const user = declarationAt(snapshot, offset);
  return user ? usedIn([snapshot.project.names], user) : [];
}

/** All that a unit or template is built on: its template or what it extends, then what that extends. */
export function allUsedFrom(snapshot: Snapshot, offset: number): Use[] {
  const everywhere = withLibraries(snapshot.project.names);
  const found: Use[] = [];
  const seen = new Set<Statement>();
  let user = declarationAt(snapshot, offset);
  while (user && !seen.has(user)) {
    seen.add(user);
    const [next] = usedIn(everywhere, user);
    if (!next) break;
    found.push(next);
    user = next.of.source.statementAt(next.of.selection.start);
  }
  return found;
}

function usedIn(everywhere: Iterable<Names>, user: Statement): Use[] {
  for (const names of everywhere) {
    const declared = [...names.all('template'), ...names.all('unit')].find((d) => d.statement === user);
    const found = declared && usedBy(names, declared);
    if (found) return use(found.declared.statement, user, found.path);
  }
  return [];
}

function declarationAt(snapshot: Snapshot, offset: number): Statement | undefined {
  const located = locate(snapshot, offset);
  return located && topOf(located.statement);
}

function usedBy(names: Names, { reading }: Declared): { readonly declared: Declared; readonly path: Path } | undefined {
  const path = pathIn(reading, reading.word === 'unit' ? 'template' : 'base');
  const declared = path && names.find('template', dotted(path));
  return path && declared && { declared, path };
}

function use(of: Statement, from: Statement, path: Path): Use[] {
  const one = told(of);
  const base = offsetOf(from);
  const last = path.words.at(-1) ?? path;
  return one ? [{ of: one, at: { start: base + last.start, end: base + last.end } }] : [];
}
