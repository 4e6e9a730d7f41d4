/**
 * Stock findings from the cutting plan, which comes after the keystrokes: made on a thread of its own
 * once it has been quiet for a while. A plan rests on what is to be cut and from what; an edit that
 * leaves that as it is keeps the plan and its findings, one that changes it ends the plan being made.
 */
import { findingsOfPlan } from '../checks/analysis.ts';
import { type Demand, demandOf } from '../cutting/demand.ts';
import type { Plan, PlanRequest } from '../cutting/types.ts';
import { carried } from '../language/carried.ts';
import type { Finding } from '../model/finding.ts';
import type { Project } from '../model/project.ts';
import { createPlanThread, type PlanThread } from './plan-thread.ts';

export interface PlanFindings {
  /** Findings of the last plan, as long as what is to be cut is not known to have changed. */
  readonly of: (project: Project) => readonly Finding[];
  /** Something changed: no plan is begun until it is quiet again. */
  readonly wait: () => void;
  /** Projects are up to date: what they ask for is looked at, and a plan made soon of what has none. */
  readonly soon: (projects: readonly Project[]) => void;
  readonly stop: () => void;
}

export interface PlanFindingsOptions {
  /** The findings of a project changed. */
  readonly onPlanned: () => void;
  readonly onError: (error: unknown) => void;
  readonly thread?: PlanThread;
  /** Milliseconds without an edit before a plan is begun. */
  readonly quiet?: number;
  /** What takes longer than this, in milliseconds, is not done between a keystroke and its diagnostics. */
  readonly briefly?: number;
}

/** What is known of one project. */
interface State {
  /** `computations` of the project when what it asks for was last looked at. */
  readonly looked: number;
  /** How long that took, in milliseconds. */
  readonly cost: number;
  readonly demand: Demand;
  /** The request in words, for comparing. */
  readonly key: string;
  /** Whether the plan of this request has come; `plan` is undefined where there is none to be had. */
  planned: boolean;
  plan: Plan | undefined;
  findings: readonly Finding[];
  /** `version` of the project whose text the places of the findings are in. */
  version: number;
}

const none: readonly Finding[] = [];

export function createPlanFindings(options: PlanFindingsOptions): PlanFindings {
  const { onPlanned, onError, thread = createPlanThread(), quiet = 300, briefly = 2 } = options;
  const states = new WeakMap<Project, State>();
  let projects: readonly Project[] = [];
  let timer: NodeJS.Timeout | undefined;
  /** The plan being made. */
  let making: { readonly project: Project; readonly key: string } | undefined;

  /** Looks at what a project asks for now. A plan of the same request holds on; its findings get places as of now. */
  function look(project: Project): void {
    const from = performance.now();
    const before = states.get(project);
    const demand = demandOf(project);
    const key = keyOf(demand.request);
    const planned = before?.key === key && before.planned;
    const plan = planned ? before.plan : undefined;
    const findings = shared(findingsOfPlan(project, demand, plan));
    const { computations: looked, version } = project;
    states.set(project, { looked, cost: performance.now() - from, demand, key, planned, plan, findings, version });
    if (making?.project === project && making.key !== key) cancel();
  }

  function isLookedAt(project: Project): boolean {
    return states.get(project)?.looked === project.computations;
  }

  function cancel(): void {
    thread.cancel();
    making = undefined;
  }

  /** It is quiet: looks at every project, and begins the next plan that is wanted. One is made at a time. */
  function next(): void {
    timer = undefined;
    for (const project of projects) {
      try {
        if (!project.isFresh) continue;
        if (!isLookedAt(project)) {
          look(project);
          onPlanned();
        }
        const state = states.get(project);
        if (state && !state.planned && !making) begin(project, state);
      } catch (error) {
        onError(error);
      }
    }
  }

  function begin(project: Project, { key, demand }: State): void {
    const asked = { project, key };
    making = asked;
    thread.plan(demand.request, (answer) => {
      making = undefined;
      const state = states.get(project);
      if (state?.key === key) {
        // A fault of ours is said in the log, and the same is not tried again.
        if (answer.kind === 'failed') onError(answer.why);
        state.planned = true;
        state.plan = answer.kind === 'planned' ? answer.plan : undefined;
        if (project.isFresh && isLookedAt(project)) {
          state.findings = shared(findingsOfPlan(project, state.demand, state.plan));
          state.version = project.version;
          onPlanned();
        }
      }
      if (!timer) next();
    });
  }

  return {
    of(project) {
      const state = states.get(project);
      if (!state) return none;
      if (state.version !== project.version) {
        const now = state.findings.flatMap((f) => carried(project, f) ?? []);
        if (now.length !== state.findings.length || now.some((f, i) => f !== state.findings[i])) state.findings = now;
        state.version = project.version;
      }
      return state.findings;
    },
    wait() {
      if (timer) timer = later(timer);
    },
    soon(now) {
      projects = now;
      if (making && !projects.includes(making.project)) cancel();
      for (const project of projects) {
        const state = states.get(project);
        if (!state || state.cost > briefly || !project.isFresh || isLookedAt(project)) continue;
        try {
          look(project);
        } catch (error) {
          onError(error);
        }
      }
      timer = later(timer);
    },
    stop() {
      projects = [];
      clearTimeout(timer);
      cancel();
    },
  };

  function later(before: NodeJS.Timeout | undefined): NodeJS.Timeout {
    clearTimeout(before);
    return setTimeout(next, quiet);
  }
}

/** One list for nothing found, so that it is the same as before. */
function shared(findings: readonly Finding[]): readonly Finding[] {
  return findings.length > 0 ? findings : none;
}

/** The order in which pieces and stock come makes no difference to a plan. */
function keyOf({ pieces, stock, saw, sets = [], worth = [] }: PlanRequest): string {
  const sorted = <T>(things: readonly T[]): string[] => things.map((t) => JSON.stringify(t)).sort();
  return JSON.stringify([sorted(pieces), sorted(stock), saw, sorted(sets), sorted(worth)]);
}
