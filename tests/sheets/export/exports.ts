/** Exports that several tests share: the example building, and small texts. */
import { join } from 'node:path';
import { type Planned, ruleBook } from '../../../server/checks/analysis.ts';
import { Project } from '../../../server/model/project.ts';
import { exceptionsOf } from '../../../server/sheets/exceptions.ts';
import type { Exported } from '../../../server/sheets/export/exported.ts';
import { lengthsAs } from '../../../server/sheets/export/table.ts';
import { examples, loadAll } from '../../examples/load.ts';

export interface Given {
  readonly project: Project;
  readonly exported: Exported;
  readonly planned: Planned;
}

/** Of Quarry Lane, with its plan. */
export function laneExported(more: Partial<Exported> = {}): Given {
  const [loaded] = loadAll(join(examples, 'quarry-lane'));
  if (!loaded) throw new Error('Quarry Lane is not there.');
  return { ...loaded, exported: exportedOf(loaded.project, { planned: loaded.planned, ...more }) };
}

export function exportedOf(project: Project, more: Partial<Exported> = {}): Exported {
  const { title, currency, show } = project.settings;
  const extras = [...project.computed('extra')].flatMap((c) => (c.kind === 'extra' && c.value ? [c.value] : []));
  return {
    title,
    revision: undefined,
    date: '2026-11-28',
    units: [...project.units()],
    part: undefined,
    extras: extras.flatMap((one) => (one.kind === 'extra' ? [one] : [])),
    spares: extras.flatMap((one) => (one.kind === 'spare' ? [one] : [])),
    planned: undefined,
    currency,
    lengths: lengthsAs(undefined, show),
    spare: 0,
    findings: [],
    exceptions: exceptionsOf(project),
    ...more,
  };
}

export function projectOf(text: string): Project {
  const project = new Project(ruleBook);
  project.setFile('a.closet', text);
  project.refreshNow();
  return project;
}

/** What spreadsheets take for a formula, or have taken for one, and what is near it. */
export const formulas = [
  '=1+1',
  '=HYPERLINK("http://localhost/","x")',
  "=cmd|' /C calc'!A0",
  '+1+1',
  '-1+1',
  '@SUM(1,1)',
  '\t=1+1',
  '\r=1+1',
  '＝1+1',
  '=1+1\n=2+2',
  '"=1+1"',
  '_x003D_1+1',
  ' leading space',
  "'=1+1",
  'a, "b"\r\nc',
  'عربى \u202e🚪',
] as const;
