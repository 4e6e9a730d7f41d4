/** A workspace with every check in it, and what a project comes to with its cutting plan: what the editor and the terminal both show. */
import { type Demand, demandOf } from '../cutting/demand.ts';
import { flawsOf, withLimits } from '../cutting/request.ts';
import type { Plan, Planner, SawLimits } from '../cutting/types.ts';
import { stockPlan, verifiedPlan } from '../cutting/verified.ts';
import type { Files } from '../model/files.ts';
import type { Finding } from '../model/finding.ts';
import type { Project, ProjectOptions } from '../model/project.ts';
import { Workspace } from '../model/workspace.ts';
import { limitNames } from './defaults.ts';
import { stockFindings } from './stock.ts';
import { rules, runChecks, withSeverities } from './table.ts';

/** Every rule of the table, as a project wants them. */
export const ruleBook: Omit<ProjectOptions, 'openLibrary'> = {
  check: (layout, policy, show) => runChecks({ layout, policy, show }),
  treat: withSeverities,
  ruleIds: new Set(rules.map((r) => r.id)),
  limitNames,
};

export function createWorkspace(files: Files, folders: readonly string[]): Workspace {
  return new Workspace({ files, folders, project: ruleBook });
}

export interface Planned {
  readonly demand: Demand;
  /** Undefined where there is nothing to cut, or the request itself is flawed. */
  readonly plan: Plan | undefined;
  readonly findings: readonly Finding[];
}

/**
 * Plans the cuts of a project, which must be fresh; without a planner, as far as it takes to say what stock is short.
 * Limits go before those of the project. A plan that does not hold is a fault of the planner and is thrown.
 */
export function planProject(project: Project, planner?: Planner, limits?: SawLimits): Planned {
  const asked = demandOf(project);
  const demand = { ...asked, request: withLimits(asked.request, limits) };
  const plan = planner ? verifiedPlan(demand.request, planner) : stockPlan(demand.request);
  return { demand, plan, findings: findingsOfPlan(project, demand, plan) };
}

/** What a plan of what a project asks for shows of its stock. Without a plan, what can be said without one. */
export function findingsOfPlan(project: Project, demand: Demand, plan: Plan | undefined): readonly Finding[] {
  if (flawsOf(demand.request).length > 0) return [];
  const found = stockFindings({ ...demand, plan, show: project.settings.show });
  return withSeverities(found, project.projectPolicy());
}

const rank = { error: 0, warning: 1, note: 2 } as const;

/** In the order of files, then of places in them, then of severity. */
export function sortFindings<T extends { readonly file: string; readonly start: number; readonly finding: Finding }>(
  findings: readonly T[],
): T[] {
  return [...findings].sort(
    (a, b) =>
      (a.file < b.file ? -1 : a.file > b.file ? 1 : 0) ||
      a.start - b.start ||
      rank[a.finding.severity] - rank[b.finding.severity] ||
      (a.finding.rule.id < b.finding.rule.id ? -1 : a.finding.rule.id > b.finding.rule.id ? 1 : 0) ||
      (a.finding.message < b.finding.message ? -1 : a.finding.message > b.finding.message ? 1 : 0),
  );
}
