/** Packets of projects, as the command makes them. */
import { advisedPlan, createWorkspace, type Planned } from '../../../server/checks/analysis.ts';
import { optimal } from '../../../server/cutting/optimal.ts';
import { nodeFiles } from '../../../server/model/node-files.ts';
import type { Project, Unit } from '../../../server/model/project.ts';
import type { LengthStyle } from '../../../server/sheets/drawing/drawable.ts';
import { shownAs } from '../../../server/sheets/drawing/drawings.ts';
import type { Job } from '../../../server/sheets/packet/job.ts';
import type { PaperName } from '../../../server/sheets/pdf/page.ts';
import { boardsOf } from '../../../server/sheets/shop/boards.ts';
import { closetFiles, examples } from '../../examples/load.ts';

export interface Example {
  readonly project: Project;
  readonly units: readonly Unit[];
  readonly planned: Planned;
}

/** The projects of a folder in examples/, those without units left out. */
export function projectsIn(folder: string): Example[] {
  const workspace = createWorkspace(nodeFiles, [examples]);
  const { problem } = workspace.loadFolder(`${examples}/${folder}`);
  if (problem) throw new Error(problem);
  return workspace.projects.map(({ project }) => prepared(project)).filter(({ units }) => units.length > 0);
}

export function prepared(project: Project): Example {
  project.refreshNow();
  return { project, units: [...project.units()], planned: advisedPlan(project, optimal) };
}

let lane: Example | undefined;

/** Quarry Lane, computed once. */
export function quarryLane(): Example {
  lane ??= projectsIn('quarry-lane')[0];
  if (!lane) throw new Error('Quarry Lane has no units');
  return lane;
}

export const mistakes = [...new Set(closetFiles(`${examples}/mistakes`).map((path) => path.split('/')[0] as string))];

export function jobFor({ project, units, planned }: Example, style: LengthStyle, paper: PaperName): Job {
  return {
    title: project.settings.title || 'project',
    show: shownAs(project.settings.show, style),
    style,
    paper,
    revision: '0123456789',
    day: '2026-03-14',
    date: new Date(Date.UTC(2026, 2, 14)),
    creator: 'Storypole test',
    boards: boardsOf(planned, units),
    hasErrors: project.findings().some(({ severity }) => severity === 'error'),
  };
}
