/** Which unit a drawing at a place of the text is of. */
import { type Statement, topOf } from '../../../grammar/tree.ts';
import { type Finding, unique } from '../../model/finding.ts';
import type { Layout } from '../../model/layout.ts';
import type { PolicyInForce } from '../../model/materials.ts';
import { recentBy } from '../../model/memo.ts';
import type { Project, Unit } from '../../model/project.ts';
import { dotted, nameIn, pathIn, readingAt, says } from '../../model/reading.ts';
import type { Severity } from '../../model/rule.ts';
import { unreadIn } from '../../model/unread-units.ts';
import { openFindings } from '../../sheets/drawing/drawings.ts';
import type { Snapshot } from '../snapshot.ts';
import { standsFor } from '../stands.ts';
import { usersOf } from '../users.ts';

/** A unit, or a template by what stands for it. */
export interface DrawnUnit {
  readonly kind: 'unit' | 'template';
  readonly name: string;
  /** `As unit A-101-bedroom.` Empty where it stands for itself. */
  readonly where: string;
  /** The cursor is in it; false where it is only what was drawn before. */
  readonly isHere: boolean;
  /** The statement that declares it. */
  readonly statement: Statement;
  /** Undefined where nothing of it can be worked out. */
  readonly layout: Layout | undefined;
  readonly policy: PolicyInForce;
  /** In the order of their numbers: the worst first. The same list as long as nothing else is found. */
  readonly findings: readonly Finding[];
}

/** What was drawn before, which goes on being drawn while the cursor is elsewhere, and stands for its template. */
export interface DrawnBefore {
  readonly kind: 'unit' | 'template';
  readonly name: string;
}

/** Undefined where the cursor is in no unit, survey or template, and nothing was drawn before that is still there. */
export function drawnUnitAt(snapshot: Snapshot, offset: number, before?: DrawnBefore): DrawnUnit | undefined {
  const statement = snapshot.source.statementAt(offset);
  return (statement && drawnIn(snapshot, topOf(statement), before)) ?? stillThere(snapshot, before);
}

function drawnIn(snapshot: Snapshot, top: Statement, before: DrawnBefore | undefined): DrawnUnit | undefined {
  const { project } = snapshot;
  const reading = readingAt(top, 'file');
  switch (reading?.word) {
    case 'unit': {
      const unit = freshUnit(project, top);
      return unit && ofUnit(project, unit);
    }
    case 'survey': {
      const path = pathIn(reading, 'unit');
      const unit = path && unitNamed(project, dotted(path));
      return unit && ofUnit(project, unit);
    }
    case 'template':
      return ofTemplate(snapshot, top, nameIn(reading)?.text ?? '', before);
    default:
      return undefined;
  }
}

function stillThere(snapshot: Snapshot, before: DrawnBefore | undefined): DrawnUnit | undefined {
  if (!before) return undefined;
  const declared = snapshot.project.names.find(before.kind, before.name);
  const drawn = declared && drawnIn(snapshot, declared.statement, undefined);
  return drawn && { ...drawn, isHere: false };
}

function unitNamed(project: Project, name: string): Unit | undefined {
  const declared = project.names.find('unit', name);
  return declared && freshUnit(project, declared.statement);
}

/** Nothing but what is drawn has to be up to date. */
function freshUnit(project: Project, statement: Statement): Unit | undefined {
  project.refreshOne(statement);
  return project.unitAt(statement);
}

function ofUnit(project: Project, unit: Unit): DrawnUnit {
  const { name, declared, resolved, policy, findings, checked } = unit;
  return {
    kind: 'unit',
    name,
    where: '',
    isHere: true,
    statement: declared.statement,
    layout: resolved?.layout,
    policy,
    findings: numbered(
      [findings, checked, name, project.names, project.names.turnOf('accept'), ...unreadIn(project)(unit)],
      () => openFindings(project, unit),
    ),
  };
}

/**
 * A template is drawn as the unit of it that was drawn before; else by its defaults; else as the first unit that is
 * built on it, one that is not turned round where there is one; else as far as it is known.
 */
function ofTemplate(snapshot: Snapshot, top: Statement, name: string, before: DrawnBefore | undefined): DrawnUnit {
  const { project } = snapshot;
  const as = (unit: Unit): DrawnUnit => ({ ...ofUnit(project, unit), where: `As unit ${unit.name}.` });
  const known = before?.kind === 'unit' ? unitNamed(project, before.name) : undefined;
  if (known?.resolved && known.info?.blueprint.heads.some(({ statement }) => statement === top)) return as(known);
  project.refreshOne(top);
  const stands = standsFor(snapshot, top);
  const first = stands.all.length === 1 ? undefined : firstUnitOf(project, top, name);
  if (first) return as(first);
  const layout = stands.all[0]?.layout;
  const sample = project.samplesOf(top).find(({ resolved }) => resolved.layout === layout);
  return {
    kind: 'template',
    name,
    where: stands.where,
    isHere: true,
    statement: top,
    layout,
    policy: project.projectPolicy(),
    findings: numbered([sample?.findings], () => [...(sample?.findings ?? [])].sort(byRank)),
  };
}

/** Those that name the template before those that name one which extends it. */
function firstUnitOf(project: Project, top: Statement, name: string): Unit | undefined {
  let turned: Statement | undefined;
  for (const { reading, statement } of project.names.written('unit')) {
    const path = pathIn(reading, 'template');
    if (!path || dotted(path) !== name) continue;
    if (!says(reading, 'mirrored')) {
      const unit = freshUnit(project, statement);
      if (unit?.resolved) return unit;
    }
    turned ??= statement;
  }
  const direct = turned && freshUnit(project, turned);
  return direct?.resolved
    ? direct
    : usersOf(project)
        .get(top)
        ?.find(({ resolved }) => resolved);
}

const ranks: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };
const byRank = (a: Finding, b: Finding): number => ranks[a.severity] - ranks[b.severity];
const lists = recentBy<readonly Finding[]>(8);

function numbered(keys: readonly unknown[], make: () => readonly Finding[]): readonly Finding[] {
  return lists(keys, () => unique(make()));
}
