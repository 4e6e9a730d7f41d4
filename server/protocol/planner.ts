/**
 * Stock findings from the cutting plan, which comes after the keystrokes: made on a thread of its own
 * once it has been quiet for a while. A plan rests on what is to be cut and from what; an edit that
 * leaves that as it is keeps the plan and its findings, one that changes it ends the plan being made.
 * What was found by a plan of before is marked as such until the next one has come.
 */
import type { MaterialTotals, Plan } from '../cutting/types.ts';
import type { PlanFigures } from '../language/code-lens.ts';
import type { Made } from '../language/made-plan.ts';
import type { Finding } from '../model/finding.ts';
import { counted, money } from '../model/money.ts';
import type { Project } from '../model/project.ts';
import {
  answered,
  asStale,
  carryAlong,
  lookedAt,
  nextQuestion,
  type PlanState,
  planNow,
  tellAgain,
} from './plan-state.ts';
import type { PlanThread } from './planning.ts';

export interface PlanFindings {
  /** Findings of the last plan, marked where what is to be cut has changed since, or may have. */
  readonly of: (project: Project) => readonly Finding[];
  /** All that is known of the plan of a project, for features that show it. */
  readonly made: (project: Project) => Made;
  /** The figures of the last plan, by material; undefined where there has been none. Never waits for one. */
  readonly figures: (project: Project) => PlanFigures | undefined;
  /** How far the plan of a project is, for people. */
  readonly status: (project: Project) => PlanStatus;
  /** Something changed: no plan is begun until it is quiet again. */
  readonly wait: () => void;
  /** Projects are up to date: what they ask for is looked at, and a plan made soon of what has none. */
  readonly soon: (projects: readonly Project[]) => void;
  readonly stop: () => void;
}

export interface PlanStatus {
  /**
   * `planning` while what is shown of a plan is of the one before; `none` where there is nothing to cut; `failed` where
   * what is written now could not be planned, until something else is to be cut.
   */
  readonly state: 'planning' | 'current' | 'none' | 'failed';
  /** `186 boards and rods, 4,545.90 EUR`; of the plan before, while the next one is made. */
  readonly text: string;
  /** Of one that failed: a sentence. */
  readonly why?: string;
}

export interface PlanFindingsOptions {
  /** The findings of a project changed, or how far its plan is. */
  readonly onPlanned: () => void;
  readonly onError: (error: unknown) => void;
  readonly thread: PlanThread;
  /** Milliseconds without an edit before a plan is begun. */
  readonly quiet?: number;
  /** What takes longer than this, in milliseconds, is not done between a keystroke and its diagnostics. */
  readonly briefly?: number;
}

/** What is kept of one project. */
interface Kept {
  state: PlanState;
  /** How long looking took, in milliseconds. */
  cost: number;
  /** What was last told, and what it was made of, so that the same list is told again. */
  told: { readonly from: readonly unknown[]; readonly findings: readonly Finding[] } | undefined;
  /** Of the last plan of all materials. */
  summary: string;
  /** The plans of all materials as one, and what it was joined from. */
  joined?: { readonly from: readonly unknown[]; readonly plan: Plan };
  /** Of the last plan of each material. */
  readonly totals: Map<string, MaterialTotals>;
}

const none: readonly Finding[] = [];

export function createPlanFindings(options: PlanFindingsOptions): PlanFindings {
  const { onPlanned, onError, thread, quiet = 300, briefly = 2 } = options;
  const kept = new WeakMap<Project, Kept>();
  let projects: readonly Project[] = [];
  let timer: NodeJS.Timeout | undefined;
  /** What is being worked on. */
  let asking: { readonly project: Project; readonly key: string } | undefined;

  /** Looks at what a project asks for now. Findings get places as of now. */
  function look(project: Project): void {
    const from = performance.now();
    const before = kept.get(project);
    const state = lookedAt(project, before?.state);
    const cost = performance.now() - from;
    const totals = before?.totals ?? new Map<string, MaterialTotals>();
    kept.set(project, { state, cost, told: before?.told, summary: before?.summary ?? '', totals });
    if (asking?.project === project && asking.key !== state.missKey) cancel();
  }

  function isLookedAt(project: Project): boolean {
    return kept.get(project)?.state.looked === project.computations;
  }

  function cancel(): void {
    thread.cancel();
    asking = undefined;
  }

  /** It is quiet: looks at every project, and asks the next question that is open. One is asked at a time. */
  function next(): void {
    timer = undefined;
    for (const project of projects) {
      try {
        if (!project.isFresh) continue;
        if (!isLookedAt(project)) {
          look(project);
          onPlanned();
        }
        if (!asking) begin(project);
      } catch (error) {
        onError(error);
      }
    }
  }

  function begin(project: Project): void {
    const { state } = kept.get(project) as Kept;
    const question = nextQuestion(project, state);
    if (!question) return;
    const key = state.missKey;
    asking = { project, key };
    thread.ask(question, (answer) => {
      asking = undefined;
      const now = kept.get(project);
      if (now?.state.missKey === key) {
        // A fault of ours is said in the log, and the same is not tried again.
        if (answer.kind === 'failed') onError(answer.why);
        answered(now.state, question.kind === 'plan' ? question.request : undefined, answer);
        now.summary = summaryOf(project, now.state);
        for (const { plan } of now.state.known.values())
          for (const total of plan?.totals ?? []) now.totals.set(total.material, total);
        if (project.isFresh && isLookedAt(project)) {
          tellAgain(project, now.state);
          onPlanned();
        }
      }
      if (!timer) next();
    });
  }

  function of(project: Project): readonly Finding[] {
    const own = kept.get(project);
    if (!own) return none;
    carryAlong(project, own.state);
    const { findings, stale } = own.state;
    const isCurrent = project.isFresh && isLookedAt(project);
    const from = [findings, stale, isCurrent];
    if (own.told?.from.every((part, i) => part === from[i])) return own.told.findings;
    const all = isCurrent ? [...findings, ...stale.map(asStale)] : [...findings, ...stale].map(asStale);
    own.told = { from, findings: all.length > 0 ? all : none };
    return own.told.findings;
  }

  function status(project: Project): PlanStatus {
    const own = kept.get(project);
    if (!own) return { state: project.isFresh ? 'none' : 'planning', text: '' };
    const { keys, misses, failed } = own.state;
    if (isLookedAt(project) && keys.size === 0) return { state: 'none', text: '' };
    if (isLookedAt(project) && failed !== undefined) return { state: 'failed', text: own.summary, why: failed };
    const isCurrent = isLookedAt(project) && misses !== undefined;
    return { state: isCurrent ? 'current' : 'planning', text: own.summary };
  }

  return {
    of,
    status,
    made(project) {
      const own = kept.get(project);
      // What has not been looked at yet may have something to cut.
      const state = own ? status(project).state : 'planning';
      const why = own?.state.failed;
      if (!own || own.state.known.size === 0) return { findings: of(project), state, why };
      const from = [...own.state.known.values()];
      if (own.joined?.from.length !== from.length || own.joined.from.some((part, i) => part !== from[i]))
        own.joined = { from, plan: planNow(own.state.known) };
      return { findings: of(project), state, why, cutting: { demand: own.state.demand, plan: own.joined.plan } };
    },
    figures(project) {
      const own = kept.get(project);
      if (!own || (own.totals.size === 0 && own.state.keys.size > 0)) return undefined;
      const { keys, known } = own.state;
      const isCurrent = project.isFresh && isLookedAt(project) && [...keys.keys()].every((m) => known.has(m));
      return { totals: own.totals, isCurrent, findings: of(project) };
    },
    wait() {
      if (timer) timer = later(timer);
    },
    soon(now) {
      projects = now;
      if (asking && !projects.includes(asking.project)) cancel();
      for (const project of projects) {
        const own = kept.get(project);
        if (!own || own.cost > briefly || !project.isFresh || isLookedAt(project)) continue;
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

/** The figures of a whole plan in a few words; nothing where it is not whole. */
function summaryOf(project: Project, { keys, known }: PlanState): string {
  if ([...keys.keys()].some((material) => !known.get(material)?.plan)) return '';
  const { totals, uncut } = planNow(known);
  const lengths = totals.reduce((sum, { boardCount }) => sum + boardCount, 0);
  const isPriced = totals.every(({ price }) => price !== undefined);
  const price = totals.reduce((sum, total) => sum + (total.price ?? 0), 0);
  const waiting = uncut.reduce((sum, { quantity }) => sum + quantity, 0);
  return [
    counted(lengths, 'length'),
    ...(isPriced ? [money(price, project.settings.currency)] : []),
    ...(waiting > 0 ? [`${waiting} without stock`] : []),
  ].join(', ');
}
