/** Materials have nothing to do with one another: each is planned for itself, and its plan kept for itself. */
import { compareText } from './board.ts';
import type { Plan, PlanRequest } from './types.ts';

/** What is asked of one material. */
export function requestOf(request: PlanRequest, material: string): PlanRequest {
  return requestFor(request, new Set([material]));
}

/** What is asked of some materials. */
export function requestFor(request: PlanRequest, materials: ReadonlySet<string>): PlanRequest {
  const own = <T extends { readonly material: string }>(things: readonly T[]): T[] =>
    things.filter(({ material }) => materials.has(material));
  const pieces = own(request.pieces);
  const ids = new Set(request.sets && pieces.map(({ id }) => id));
  const sets = request.sets?.filter(({ runs }) => runs.some(({ piece }) => ids.has(piece))) ?? [];
  const worth = own(request.worth ?? []);
  return {
    pieces,
    stock: own(request.stock),
    saw: request.saw,
    ...(sets.length > 0 && { sets }),
    ...(worth.length > 0 && { worth }),
    ...(request.limits && { limits: request.limits }),
  };
}

/** The materials of which pieces are asked for, in the order of their names. */
export function materialsAsked({ pieces }: PlanRequest): string[] {
  return [...new Set(pieces.map(({ material }) => material))].sort(compareText);
}

/** The part of a plan that is about one material. */
export function planOf({ version, patterns, uncut, totals }: Plan, material: string): Plan {
  const own = <T extends { readonly material: string }>(things: readonly T[]): T[] =>
    things.filter((thing) => thing.material === material);
  return { version, patterns: own(patterns), uncut: own(uncut), totals: own(totals) };
}

/** Plans of single materials as one. It holds where each of them does. */
export function joinedPlans(plans: ReadonlyMap<string, Plan>): Plan {
  const inOrder = [...plans].sort(([a], [b]) => compareText(a, b)).map(([, plan]) => plan);
  return {
    version: 1,
    patterns: inOrder.flatMap(({ patterns }) => patterns),
    uncut: inOrder.flatMap(({ uncut }) => uncut),
    totals: inOrder.flatMap(({ totals }) => totals),
  };
}

/** The same for equal requests, whatever the order of pieces and stock: a plan does not depend on it. */
export function keyOf({ pieces, stock, saw, sets = [], worth = [], limits }: PlanRequest): string {
  const sorted = <T>(things: readonly T[]): string[] => things.map((thing) => JSON.stringify(thing)).sort();
  return JSON.stringify([sorted(pieces), sorted(stock), saw, sorted(sets), sorted(worth), limits]);
}
