/** Stock findings from the cutting plan, which comes after the keystrokes: made once it has been quiet for a while. */
import { planProject } from '../checks/analysis.ts';
import type { Finding } from '../model/finding.ts';
import type { Project } from '../model/project.ts';

export interface PlanFindings {
  /** Findings of the last plan, as long as nothing it rests on was computed anew. */
  readonly of: (project: Project) => readonly Finding[];
  /** Something changed: no plan is made until it is quiet again. */
  readonly wait: () => void;
  /** Projects are up to date: a plan is made soon for those that have none. */
  readonly soon: (projects: readonly Project[]) => void;
  readonly stop: () => void;
}

/** Milliseconds without an edit. */
const quiet = 300;
const none: readonly Finding[] = [];

export function createPlanFindings(onPlanned: () => void, onError: (error: unknown) => void): PlanFindings {
  const plans = new WeakMap<Project, { computations: number; findings: readonly Finding[] }>();
  let timer: NodeJS.Timeout | undefined;

  const current = (project: Project): boolean => plans.get(project)?.computations === project.computations;

  function plan(project: Project): void {
    const { computations } = project;
    try {
      const { findings } = planProject(project);
      plans.set(project, { computations, findings: findings.length > 0 ? findings : none });
    } catch (error) {
      // A fault of ours: said in the log, and not tried again for the same parts.
      plans.set(project, { computations, findings: none });
      onError(error);
    }
  }

  function next(projects: readonly Project[]): void {
    const project = projects.find((p) => p.isFresh && !current(p));
    if (!project) return;
    timer = setTimeout(() => {
      plan(project);
      onPlanned();
      next(projects);
    }, quiet);
  }

  return {
    of: (project) => (current(project) ? (plans.get(project)?.findings ?? none) : none),
    wait: () => clearTimeout(timer),
    soon(projects) {
      clearTimeout(timer);
      next(projects);
    },
    stop: () => clearTimeout(timer),
  };
}
