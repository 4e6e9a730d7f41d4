/** The cut list of what the cursor stands in: a unit, the survey of one, or all units of a template. */
import { type Statement, topOf } from '../../grammar/tree.ts';
import type { Unit } from '../model/project.ts';
import { dotted, pathIn, readingAt } from '../model/reading.ts';
import { cutListText } from '../sheets/cut-list.ts';
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
    return unit && { title: `Cut list of ${unit.name}`, text: cutListText([unit], project.settings) };
  }
  if (reading.word === 'survey') {
    const path = pathIn(reading, 'unit');
    const declared = path && project.names.find('unit', dotted(path));
    const unit = declared && project.unitAt(declared.statement);
    return unit && { title: `Cut list of ${unit.name}`, text: cutListText([unit], project.settings) };
  }
  if (reading.word !== 'template') return undefined;
  const units: Unit[] = [...project.units()].filter((u) => isBuiltOn(u, top));
  const name = pathIn(reading, 'name');
  const title = `Cut list of template ${name ? dotted(name) : ''}`.trimEnd();
  if (units.length === 0) return { title, text: 'No unit is built from this template.\n' };
  return { title, text: cutListText(units, project.settings, { group: 'together' }) };
}

/** From a template itself, or from one that extends it. */
function isBuiltOn({ info }: Unit, template: Statement): boolean {
  return info?.blueprint.heads.some(({ statement }) => statement === template) ?? false;
}
