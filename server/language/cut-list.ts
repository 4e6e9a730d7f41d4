/** The cut list of what the cursor stands in: a unit, the survey of one, or all units of a template. */
import { type Statement, topOf } from '../../grammar/tree.ts';
import type { Project, Unit } from '../model/project.ts';
import { dotted, pathIn, readingAt } from '../model/reading.ts';
import { type CutListOptions, cutListText } from '../sheets/cut-list.ts';
import { listCaution } from './caution.ts';
import type { Snapshot } from './snapshot.ts';

export interface CutList {
  readonly title: string;
  readonly text: string;
}

export function cutListAt({ project, source }: Snapshot, offset: number): CutList | undefined {
  const statement = source.statementAt(offset);
  const reading = statement && readingAt(topOf(statement), 'file');
  if (!reading) return undefined;
  const top = reading.statement;
  if (reading.word === 'unit') {
    const unit = project.unitAt(top);
    return unit && ofUnit(project, unit);
  }
  if (reading.word === 'survey') {
    const path = pathIn(reading, 'unit');
    const declared = path && project.names.find('unit', dotted(path));
    const unit = declared && project.unitAt(declared.statement);
    return unit && ofUnit(project, unit);
  }
  if (reading.word !== 'template') return undefined;
  const units: Unit[] = [...project.units()].filter((u) => isBuiltOn(u, top));
  const name = pathIn(reading, 'name');
  const title = `Cut list of template ${name ? dotted(name) : ''}`.trimEnd();
  if (units.length === 0) return { title, text: 'No unit is built from this template.\n' };
  return { title, text: listed(project, units, 'together') };
}

function ofUnit(project: Project, unit: Unit): CutList {
  return { title: `Cut list of ${unit.name}`, text: listed(project, [unit], 'unit') };
}

function listed(project: Project, units: readonly Unit[], group: CutListOptions['group']): string {
  const caution = listCaution(project, units);
  const text = cutListText(units, project.settings, { group, hasErrors: caution !== undefined });
  return caution === undefined ? text : `${caution}\n\n${text}`;
}

/** From a template itself, or from one that extends it. */
function isBuiltOn({ info }: Unit, template: Statement): boolean {
  return info?.blueprint.heads.some(({ statement }) => statement === template) ?? false;
}
