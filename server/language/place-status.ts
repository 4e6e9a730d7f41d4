/** What the cursor stands in, for a status line: the unit or the template, what was found there, what it takes. */
import { headPlace, type Place, type Statement, topOf } from '../../grammar/tree.ts';
import { counted, money } from '../model/money.ts';
import { calledInProject } from '../model/names.ts';
import type { Project, Unit } from '../model/project.ts';
import { dotted, nameIn, pathIn, readingAt } from '../model/reading.ts';
import type { Severity } from '../model/rule.ts';
import type { Made } from './made-plan.ts';
import { indexOf, told, worstOf } from './project-index.ts';
import type { Snapshot } from './snapshot.ts';
import { stockShare } from './stock-share.ts';
import { shownPlace } from './units-view.ts';

export interface PlaceStatus {
  readonly kind: 'unit' | 'template';
  readonly name: string;
  /** For one line: `A-101-bedroom · reach-in, mirrored`. */
  readonly text: string;
  /** All of it, in lines. */
  readonly detail: readonly string[];
  readonly severity: Severity | undefined;
  /** Of a unit: its template, and what was measured. */
  readonly template?: Place | undefined;
  readonly survey?: Place | undefined;
}

/** Undefined outside of units, surveys and templates. */
export function placeStatusAt({ project, source }: Snapshot, offset: number, made: Made): PlaceStatus | undefined {
  const statement = source.statementAt(offset);
  const top = statement && topOf(statement);
  const reading = top && readingAt(top, 'file');
  if (!reading) return undefined;
  if (reading.word === 'template') return templateStatus(project, top, nameIn(reading)?.text ?? '', made);
  const unit = reading.word === 'unit' ? project.unitAt(top) : surveyed(project, reading);
  return unit && unitStatus(project, unit, made);
}

function surveyed(project: Project, reading: Parameters<typeof pathIn>[0]): Unit | undefined {
  const path = reading.word === 'survey' ? pathIn(reading, 'unit') : undefined;
  const declared = path && project.names.find('unit', dotted(path));
  return declared && project.unitAt(declared.statement);
}

function unitStatus(project: Project, unit: Unit, made: Made): PlaceStatus {
  const { name, info, mirrored, survey, count, resolved } = unit;
  const tally = indexOf(project, made.findings).ofUnit(name);
  const built = [
    info ? calledInProject(info.declared) : 'template not known',
    ...(mirrored ? ['mirrored'] : []),
    ...(survey ? ['measured'] : []),
  ].join(', ');
  const parts = resolved?.layout.parts ?? [];
  const byMaterial = [...Map.groupBy(parts, ({ material }) => material)].map(
    ([material, own]) => `${own.length} of ${material}`,
  );
  const cost = costOf(project, unit, made);
  return {
    kind: 'unit',
    name,
    text: [`${name} · ${built}`, ...told(tally)].join(' · '),
    detail: [
      `Unit ${name}: ${built}`,
      told(tally).join(', ') || 'Nothing found.',
      ...(byMaterial.length > 0 ? [`Parts to cut: ${byMaterial.join(', ')}`] : []),
      ...(cost === undefined ? [] : [`Its share of the stock: ${cost}${count > 1 ? ' each' : ''}`]),
    ],
    severity: worstOf(tally),
    template: info && shownPlace(info.declared),
    survey: survey && headPlace(survey.statement),
  };
}

function templateStatus(project: Project, top: Statement, name: string, made: Made): PlaceStatus {
  const index = indexOf(project, made.findings);
  const tally = index.ofTemplate(top);
  const users = index.usersOf(top).reduce((sum, { count }) => sum + count, 0);
  const used = users === 0 ? 'no unit' : counted(users, 'unit');
  return {
    kind: 'template',
    name,
    text: [`${name} · ${used}`, ...told(tally)].join(' · '),
    detail: [
      `Template ${name}: ${users === 0 ? 'no unit is built from it' : `${used} ${users === 1 ? 'is' : 'are'} built from it`}`,
      told(tally).join(', ') || 'Nothing found.',
    ],
    severity: worstOf(tally),
  };
}

/** What of the stock's price falls to a unit; undefined where the plan is not of what is written now. */
function costOf(project: Project, { resolved }: Unit, { state, cutting }: Made): string | undefined {
  const parts = resolved?.layout.parts ?? [];
  if (state !== 'current' || !cutting || parts.length === 0) return undefined;
  const { price } = stockShare(parts, (name) => cutting.plan.totals.find(({ material }) => material === name));
  return price === undefined ? undefined : money(Math.round(price), project.settings.currency);
}
