/**
 * What a plan leads to: the best plan of each material that is found in a stated number of turns, what to buy
 * where stock is short, and which dimension a little smaller would save a board. Plain data in and out, so that
 * it can be made on another thread; what is known of a material from before is taken as it is.
 */
import { joinedPlans, materialsAsked, planOf, requestOf } from './by-material.ts';
import { type Lever, type NearMiss, type NearMissOptions, nearMissSteps } from './near-miss.ts';
import { cheapest } from './optimal.ts';
import { type Shortfall, shortfallOf } from './purchase.ts';
import { flawsOf } from './request.ts';
import { withoutSpares } from './spares.ts';
import { finished, planSteps } from './turns.ts';
import type { Plan, PlanRequest } from './types.ts';

/** What is found of one material, whatever the others are. */
export interface MaterialAdvice {
  readonly material: string;
  /** The best one found. It has passed the verifier. */
  readonly plan: Plan;
  readonly shortfall: Shortfall | undefined;
}

export interface Advice {
  /** In the order of their names. */
  readonly materials: readonly MaterialAdvice[];
  readonly nearMisses: readonly NearMiss[];
}

export interface AdviceRequest {
  readonly request: PlanRequest;
  /** The plan as far as it is made, which is made better where `isBest` does not say that it cannot be. */
  readonly plan: Plan;
  readonly isBest: boolean;
  readonly known: readonly MaterialAdvice[];
  readonly levers: readonly Lever[];
  readonly shorten: NearMissOptions;
}

/** Turns of the planner for each material whose best plan is not known. */
const TURNS = 500;

/** Undefined where nothing is to be cut, or the request has flaws. */
export function adviceOf(asked: AdviceRequest): Advice | undefined {
  return finished(adviceSteps(asked));
}

/** The same in steps. */
export function* adviceSteps(asked: AdviceRequest): Generator<void, Advice | undefined> {
  const { request, levers, shorten } = asked;
  if (request.pieces.length === 0 || flawsOf(request).length > 0) return undefined;
  // Spares are cut from what is left over: nothing is bought for them, and no dimension is changed for them.
  const plan = withoutSpares(request, asked.plan);
  const materials: MaterialAdvice[] = [];
  for (const material of materialsAsked(request)) {
    const known = asked.known.find((one) => one.material === material);
    materials.push(known ?? (yield* adviceOn(material, { ...asked, plan })));
  }
  return { materials, nearMisses: yield* nearMissSteps(request, bestPlan(materials), levers, shorten) };
}

/** The plans of all materials as one. */
export function bestPlan(materials: readonly MaterialAdvice[]): Plan {
  return joinedPlans(new Map(materials.map(({ material, plan }) => [material, plan])));
}

function* adviceOn(material: string, asked: AdviceRequest): Generator<void, MaterialAdvice> {
  const request = requestOf(asked.request, material);
  const made = planOf(asked.plan, material);
  const isShort = made.uncut.some(({ reason }) => reason === 'stock used up');
  // Where stock is short the planner has looked already.
  const plan = asked.isBest || isShort ? made : ((yield* planSteps(request, cheapest, TURNS)).plan ?? made);
  yield;
  const shortfall = shortfallOf(request, plan, material);
  // Pieces that only an offcut is long enough for still wait.
  return shortfall?.instead && shortfall.unbuyable.length === 0
    ? { material, plan: withUncut(shortfall.instead, plan), shortfall: undefined }
    : { material, plan, shortfall };
}

/** A plan that cuts what was waiting, beside what no stock is long enough for. */
function withUncut(instead: Plan, { uncut }: Plan): Plan {
  return { ...instead, uncut: uncut.filter(({ reason }) => reason !== 'stock used up') };
}
