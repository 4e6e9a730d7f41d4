/** A workspace with every check in it, and what a project comes to with its cutting plan: what the editor and the terminal both show. */
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import { type Advice, type AdviceRequest, adviceOf, bestPlan, type MaterialAdvice } from '../cutting/advice.ts';
import { type Demand, demandOf } from '../cutting/demand.ts';
import { type Levers, leversOf } from '../cutting/levers.ts';
import { flawsOf, withLimits } from '../cutting/request.ts';
import type { Plan, Planner, PlanRequest, SawLimits } from '../cutting/types.ts';
import { filled, stockPlan, verifiedPlan } from '../cutting/verified.ts';
import type { Files } from '../model/files.ts';
import type { Finding } from '../model/finding.ts';
import type { Project, ProjectOptions } from '../model/project.ts';
import { NONE } from '../model/ticks.ts';
import { Workspace } from '../model/workspace.ts';
import { limitNames, limitOf } from './defaults.ts';
import { stockNearlySaved } from './near-miss.ts';
import { stockFindings } from './stock.ts';
import { rules, runChecks, withSeverities } from './table.ts';

/** Every rule of the table, as a project wants them. */
export const ruleBook: Omit<ProjectOptions, 'openLibrary'> = {
  check: (layout, policy, show) => runChecks({ layout, policy, show }),
  treat: withSeverities,
  ruleIds: new Set(rules.map((r) => r.id)),
  limitNames,
};

export function createWorkspace(
  files: Files,
  folders: readonly string[],
  staysWithin: () => boolean = () => false,
): Workspace {
  return new Workspace({ files, folders, staysWithin, project: ruleBook });
}

export interface Planned {
  readonly demand: Demand;
  /** Undefined where there is nothing to cut, or the request itself is flawed. */
  readonly plan: Plan | undefined;
  readonly findings: readonly Finding[];
  /** What the plan leads to, where that was asked for. */
  readonly advice?: Advice | undefined;
  readonly levers?: Levers;
}

/**
 * Plans the cuts of a project, which must be fresh; without a planner, as far as it takes to say what stock is short.
 * Limits go before those of the project. A plan that does not hold is a fault of the planner and is thrown.
 */
export function planProject(project: Project, planner?: Planner, limits?: SawLimits): Planned {
  const asked = demandOf(project);
  const demand = { ...asked, request: withLimits(asked.request, limits) };
  const plan = planner ? verifiedPlan(demand.request, planner) : stockPlan(demand.request);
  return { demand, plan, findings: findingsOfPlan(project, { demand, plan }) };
}

/** The same where a plan takes too long to be waited for: yields what is to be planned and takes the plan. */
export function* planningOf(project: Project): Generator<PlanRequest, readonly Finding[], Plan | undefined> {
  const demand = demandOf(project);
  const plan = yield demand.request;
  return findingsOfPlan(project, { demand, plan });
}

/** The same with what to buy, and what nearly saves stock. The plan is then the best one that was found on the way. */
export function advisedPlan(project: Project, planner?: Planner, limits?: SawLimits): Planned {
  const made = planProject(project, planner, limits);
  const levers = leversOf(project);
  const advice = made.plan && adviceOf(adviceAsked(project, made.demand, made.plan, levers, planner !== undefined));
  if (!advice) return made;
  const advised = {
    demand: made.demand,
    plan: filled(made.demand.request, bestPlan(advice.materials)),
    advice,
    levers,
  };
  return { ...advised, findings: findingsOfPlan(project, advised) };
}

/** What the planner is asked beyond a plan. Plain data. */
export function adviceAsked(
  project: Project,
  { request }: Demand,
  plan: Plan,
  { levers }: Levers,
  isBest: boolean,
  known: readonly MaterialAdvice[] = [],
): AdviceRequest {
  const { most = NONE } = limitOf(project.projectPolicy(), 'worth-shortening');
  const isAsked = project.projectPolicy().severities.get(stockNearlySaved.id) !== 'off';
  const shorten = { most: isAsked ? most : 0, step: project.settings.sawStep };
  return { request, plan, isBest, known, levers, shorten };
}

/** What a plan of what a project asks for shows of its stock. Without a plan, what can be said without one. */
export function findingsOfPlan(
  project: Project,
  { demand, plan, advice, levers }: Omit<Planned, 'findings'>,
): readonly Finding[] {
  if (flawsOf(demand.request).length > 0) return [];
  const { show, currency } = project.settings;
  // Where something is wrong with the layout, nobody shortens its parts to save a board.
  const isWrong = (): boolean => project.findings().some(({ severity }) => severity === 'error');
  const told = advice && advice.nearMisses.length > 0 && isWrong() ? { ...advice, nearMisses: [] } : advice;
  const origins = levers && { levers: levers.origins };
  const ofSlips = (): ReadonlySet<string> => project.ofSlips();
  const found = stockFindings({ ...demand, plan, advice: told, ...origins, show, currency, ofSlips });
  // Whether there is enough of what cannot be read nobody knows: what is wrong with it is told.
  const isUnread = project.unreadStock();
  const known = found.filter(({ about }) => about === undefined || !isUnread(about));
  return withSeverities(known, project.projectPolicy());
}

/** As they are shown, in whatever order they were found: that of files, then of places in them, then of severity. */
export function inTextOrder(findings: readonly Finding[]): Finding[] {
  const located = findings.map((finding) => {
    const { place } = finding;
    return { finding, file: segmentOf(place.statement).source.id, start: spanOf(place).start };
  });
  return sortFindings(located).map(({ finding }) => finding);
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
