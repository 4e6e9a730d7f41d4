/**
 * Units that rest on something that cannot be read. What their layout lacks for it nobody sees in the layout, so whoever
 * shows or judges one says so.
 */
import { type Statement, topOf } from '../../grammar/tree.ts';
import { isOfUnreadFile } from './consequences.ts';
import type { Finding } from './finding.ts';
import { lineage } from './lineage.ts';
import { memo } from './memo.ts';
import type { Declared } from './names.ts';
import type { Project, Unit } from './project.ts';
import { unitsReached } from './reached.ts';
import type { RuleFamily } from './rule.ts';
import { libraryHasErrors, nameTaken } from './rules.ts';

/** About what is written rather than about what is built. */
const ofReading: ReadonlySet<RuleFamily> = new Set<RuleFamily>(['text', 'words', 'names', 'quantities']);

const none: readonly Finding[] = [];

/**
 * By unit, the errors for which something of it cannot be read: in its own statements and its survey, in its template and
 * those that extends, in the boards and rods that its parts are cut from, in a library that one of these is of.
 * `findings` are those that people are told.
 */
export function unreadBy(project: Project, findings: readonly Finding[]): (unit: Unit) => readonly Finding[] {
  const errors = findings.filter(({ severity }) => severity === 'error');
  // Of two of one name both are read.
  const unread = errors.filter(({ rule }) => ofReading.has(rule.family) && rule !== nameTaken);
  const ofLibraries = errors.filter(({ rule }) => rule === libraryHasErrors);
  if (unread.length === 0 && ofLibraries.length === 0) return () => none;
  const everywhere = unread.filter(({ rule }) => isOfUnreadFile(rule));
  const byTop = Map.groupBy(unread, ({ place }) => topOf(place.statement));
  const byUnit = new Map<string, Finding[]>();
  for (const found of unread) for (const name of unitsReached(found)) memo(byUnit, name, () => []).push(found);
  const at = ({ statement, home }: Declared): readonly Finding[] =>
    home === project.names ? (byTop.get(statement) ?? none) : ofLibraries;
  const byTemplate = new Map<Statement, readonly Finding[]>();
  const ofMaterials = new Map<string, readonly Finding[]>();
  const materialOf = (name: string): readonly Finding[] =>
    memo(ofMaterials, name, () =>
      (['board', 'rod'] as const).flatMap((kind) => {
        const declared = project.names.find(kind, name);
        return declared ? at(declared) : none;
      }),
    );
  return ({ name, info, resolved }) => {
    const template = info && memo(byTemplate, info.declared.statement, () => [...lineage(info.declared)].flatMap(at));
    const materials = new Set(resolved?.layout.parts.map(({ material }) => material));
    const all = [...everywhere, ...(byUnit.get(name) ?? none), ...(template ?? none)];
    for (const material of materials) all.push(...materialOf(material));
    return all.length === 0 ? none : [...new Set(all)];
  };
}

const kept = new WeakMap<Project['moment'], (unit: Unit) => readonly Finding[]>();

/** The same of all that is told of a project that is up to date. Worked out once until something in it changes. */
export function unreadIn(project: Project): (unit: Unit) => readonly Finding[] {
  return memo(kept, project.moment, () => unreadBy(project, project.findings()));
}
