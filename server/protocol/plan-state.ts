/**
 * What is known of the cutting plan of one project. Materials are planned for themselves: one of which neither
 * pieces nor stock have changed keeps its plan and what came of it. What was found by a plan that no longer holds
 * is kept until the next one comes, and says so.
 */
import { adviceAsked, findingsOfPlan } from '../checks/analysis.ts';
import { stockNearlySaved } from '../checks/near-miss.ts';
import { stockPlanDoesNotFit, stockShort } from '../checks/stock.ts';
import type { Advice, AdviceRequest, MaterialAdvice } from '../cutting/advice.ts';
import { joinedPlans, keyOf, materialsAsked, planOf, requestFor, requestOf } from '../cutting/by-material.ts';
import { type Demand, demandOf } from '../cutting/demand.ts';
import { type Levers, leversOf } from '../cutting/levers.ts';
import { flawsOf } from '../cutting/request.ts';
import { provenShort } from '../cutting/shortage.ts';
import type { Plan, PlanRequest } from '../cutting/types.ts';
import { carried } from '../language/carried.ts';
import type { Finding } from '../model/finding.ts';
import type { Project } from '../model/project.ts';
import type { PlanAnswer, PlanQuestion } from './planning.ts';

/** One material as it was planned last. */
interface Known {
  readonly key: string;
  /** Undefined where there is none to be had. */
  readonly plan: Plan | undefined;
  /** Undefined while it has not been asked for. */
  readonly advice: MaterialAdvice | undefined;
}

export interface PlanState {
  /** `computations` of the project when what it asks for was last looked at. */
  readonly looked: number;
  readonly demand: Demand;
  readonly levers: Levers;
  /** The materials that are asked for, with the request of each in words for comparing. */
  readonly keys: ReadonlyMap<string, string>;
  readonly known: Map<string, Known>;
  /** What near misses rest on, in words. */
  readonly missKey: string;
  /** Near misses of just these; undefined while they have not been asked for. */
  misses: Advice['nearMisses'] | undefined;
  /** Why what is asked for now could not be planned, or only in part. */
  failed: string | undefined;
  findings: readonly Finding[];
  /** What a plan of before found of what has changed since, as it was said then. */
  stale: readonly Finding[];
  /** `version` of the project whose text the places of the findings are in. */
  version: number;
}

/** Looks at what a project asks for now, and takes over what still holds. The project must be fresh. */
export function lookedAt(project: Project, before: PlanState | undefined): PlanState {
  const demand = demandOf(project);
  const levers = leversOf(project);
  const isFlawed = flawsOf(demand.request).length > 0;
  const materials = isFlawed ? [] : materialsAsked(demand.request);
  const keys = new Map(materials.map((material) => [material, keyOf(requestOf(demand.request, material))]));
  const { shorten } = adviceAsked(project, demand, joinedPlans(new Map()), levers, false);
  const missKey = JSON.stringify([[...keys], levers.levers, shorten]);
  const isSame = before?.missKey === missKey;
  // What could not be planned is tried again when anything has changed, and not before.
  const holds = ([material, { key, plan }]: readonly [string, Known]): boolean =>
    keys.get(material) === key && (isSame || plan !== undefined || before?.failed === undefined);
  const known = new Map([...(before?.known ?? [])].filter(holds));
  const failed = isSame ? before.failed : undefined;
  const { computations: looked, version } = project;
  const misses = keys.size === 0 ? [] : isSame ? before.misses : undefined;
  const found = { findings: [], stale: [], version };
  const state: PlanState = { looked, demand, levers, keys, known, missKey, misses, failed, ...found };
  state.findings = findingsNow(project, state);
  if (before) state.stale = outdated(project, before, state);
  return state;
}

/** What is to be asked next: plans of materials that have none, then what they lead to. Undefined where all is known. */
export function nextQuestion(project: Project, state: PlanState): PlanQuestion | undefined {
  const { demand, levers, keys, known, misses } = state;
  const missing = new Set([...keys.keys()].filter((material) => !known.has(material)));
  if (missing.size > 0) {
    return { kind: 'plan', request: requestFor(demand.request, missing) };
  }
  if (misses !== undefined) return undefined;
  return { kind: 'advise', asked: adviceRequest(project, demand, levers, known) };
}

function adviceRequest(
  project: Project,
  demand: Demand,
  levers: Levers,
  known: ReadonlyMap<string, Known>,
): AdviceRequest {
  const advised = [...known.values()].flatMap(({ advice }) => advice ?? []);
  return adviceAsked(project, demand, planNow(known), levers, false, advised);
}

/** Takes in what was answered to the question that the state last gave. */
export function answered(state: PlanState, request: PlanRequest | undefined, answer: PlanAnswer): void {
  const { keys, known } = state;
  if (answer.kind === 'failed') state.failed = answer.why;
  if (request) {
    const plan = answer.kind === 'planned' ? answer.plan : undefined;
    for (const material of materialsAsked(request)) {
      const key = keys.get(material) as string;
      known.set(material, { key, plan: plan && planOf(plan, material), advice: undefined });
    }
    // What could not be planned is not tried again for advice.
    if (!plan) state.misses = [];
    return;
  }
  const advice = answer.kind === 'advised' ? answer.advice : undefined;
  state.misses = advice?.nearMisses ?? [];
  for (const one of advice?.materials ?? []) {
    const key = keys.get(one.material) as string;
    known.set(one.material, { key, plan: one.plan, advice: one });
  }
}

/** Findings as of what is known; what has been found anew is no longer told of the plan before. */
export function tellAgain(project: Project, state: PlanState): void {
  state.findings = findingsNow(project, state);
  state.stale = state.stale.filter((finding) => isOpen(finding, state));
  state.version = project.version;
}

export function planNow(known: ReadonlyMap<string, Known>): Plan {
  return joinedPlans(new Map([...known].flatMap(([material, { plan }]) => (plan ? [[material, plan] as const] : []))));
}

function findingsNow(project: Project, { demand, levers, known, misses }: PlanState): readonly Finding[] {
  const materials = [...known.values()].flatMap(({ advice }) => advice ?? []);
  const advice: Advice = { materials, nearMisses: misses ?? [] };
  return findingsOfPlan(project, { demand, plan: planNow(known), advice, levers });
}

/** What of the findings of before rests on a plan that is not there any more, and on nothing that is known now. */
function outdated(project: Project, before: PlanState, state: PlanState): Finding[] {
  const addedUp = new Set(provenShort(before.demand.request).map(({ material }) => material));
  const isPlanned = ({ rule, about }: Finding): boolean =>
    rule === stockNearlySaved || rule === stockPlanDoesNotFit || (rule === stockShort && !addedUp.has(about ?? ''));
  const told = new Set(state.findings.map(({ about }) => about));
  return [...before.stale, ...before.findings.filter(isPlanned)]
    .filter((finding) => isOpen(finding, state) && !(finding.rule !== stockNearlySaved && told.has(finding.about)))
    .flatMap((finding) => carried(project, finding) ?? []);
}

/** Whether what a finding is about still waits for its plan. */
function isOpen({ rule, about = '' }: Finding, { keys, known, misses }: PlanState): boolean {
  return rule === stockNearlySaved ? misses === undefined : keys.has(about) && !known.has(about);
}

/** Brings the places of findings to the text as it is now. */
export function carryAlong(project: Project, state: PlanState): void {
  if (state.version === project.version) return;
  for (const list of ['findings', 'stale'] as const) {
    const now = state[list].flatMap((finding) => carried(project, finding) ?? []);
    if (now.length !== state[list].length || now.some((finding, i) => finding !== state[list][i])) state[list] = now;
  }
  state.version = project.version;
}

/** What is put before a finding whose plan is being made anew. */
export const ofPlanBefore = 'Of the plan before the last edit, a new one is being made: ';

export function asStale(finding: Finding): Finding {
  return { ...finding, message: `${ofPlanBefore}${finding.message}` };
}
