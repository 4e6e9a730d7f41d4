/**
 * The planner: the cheapest plan it can find, and a bound that says how far from the cheapest possible it is
 * at most. First the plan of first-fit, at once; then column generation, dives and an exact search make
 * plans and bounds better until they meet or the budget is used up; last, the cheapest plan is cut in fewer ways. Budgets are counted in work, never in
 * time: the same request gives the same plans in the same order on any machine.
 *
 * Source of the method: P. C. Gilmore and R. E. Gomory, Operations Research 9, 1961, and 11, 1963.
 */

import { ticks } from '../model/ticks.ts';
import { keptOf, measureOf } from './board.ts';
import { lengthBound } from './bound.ts';
import { leastCost } from './columns/certificate.ts';
import { createKnapsack } from './columns/knapsack.ts';
import { emptyMemory, type Memory } from './columns/memory.ts';
import { type Progress, solve } from './columns/solve.ts';
import { costOfBoards } from './pack.ts';
import { fewerPatterns } from './patterns/fewer.ts';
import { sawFigures } from './patterns/figures.ts';
import { type MaterialPlan, type MaterialTask, materialPlan, tasksOf, wholePlan } from './prepare.ts';
import type { Certificate, Plan, PlanBound, Planner, PlanRequest } from './types.ts';
import { worthOf } from './worth.ts';

export const optimal: Planner = {
  name: 'column generation',
  plan: (request) => plans(request, new Map(), true),
};

/** The same without looking for fewer ways to cut: for what asks only what a plan costs, or cannot cut. */
export const cheapest: Planner = {
  name: 'column generation, cost alone',
  plan: (request) => plans(request, new Map(), false),
};

/**
 * A planner that remembers its last request: one that differs a little is planned in a fraction of the time.
 * What it gives depends on the requests before, so whoever wants plans that can be repeated takes `optimal`. Unless
 * told not to, it looks for fewer ways to cut as well.
 */
export function rememberingPlanner(fewer = true): Planner {
  const memories = new Map<string, Memory>();
  return { name: 'column generation, remembering', plan: (request) => plans(request, memories, fewer) };
}

function* plans(request: PlanRequest, memories: Map<string, Memory>, fewer: boolean): Generator<Plan> {
  const { saw } = request;
  const tasks = tasksOf(request);
  const current = tasks.map((task): MaterialPlan => materialPlan(task, [], saw));
  const running = tasks.flatMap((task, index) => {
    if (task.sizes.length === 0) return [];
    const memory = memories.get(task.material) ?? emptyMemory();
    memories.set(task.material, memory);
    return [{ task, index, steps: cutting(task, request, memory, fewer) }];
  });
  const follow = ({ task, index }: (typeof running)[number], { progress, again }: Step): void => {
    const { patterns, ...known } = current[index] as MaterialPlan;
    const { bound, before } = again
      ? { bound: known.bound, before: known.before ?? sawFigures(patterns) }
      : { bound: boundOf(request, task, progress), before: undefined };
    current[index] = materialPlan(task, progress.boards, saw, { bound, before });
  };
  // The first packing of every material makes the first plan.
  for (const each of running) {
    const { value } = each.steps.next();
    if (value) follow(each, value);
  }
  let plan = wholePlan(request, current);
  yield plan;
  try {
    // Then the materials take turns.
    for (let open = running; open.length > 0; ) {
      const going: typeof running = [];
      for (const each of open) {
        const { done, value } = stepOf(each.steps);
        if (done) continue;
        going.push(each);
        if (value) {
          follow(each, value);
          plan = wholePlan(request, current);
        }
        yield plan;
      }
      open = going;
    }
  } finally {
    for (const { steps } of running) steps.return(undefined);
  }
}

interface Step {
  readonly progress: Progress;
  /** The same pieces from the same boards as before, in fewer ways. */
  readonly again?: true;
}

/** The cheapest plan first, then the same in fewer ways. */
function* cutting(
  { material, sizes, kinds }: MaterialTask,
  request: PlanRequest,
  memory: Memory,
  fewer: boolean,
): Generator<Step | undefined> {
  let last: Progress | undefined;
  for (const progress of solve(sizes, kinds, memory)) {
    last = progress ?? last;
    yield progress && { progress };
  }
  if (!last || !fewer) return;
  const worth = worthOf(request, material);
  // What is kept is judged as the plan is: by what it is worth, where it is worth something.
  const kept = (left: number): number => {
    const offcut = keptOf(left, request.saw);
    return worth ? worth.offcut(offcut) : offcut;
  };
  for (const boards of fewerPatterns(last.boards, { sizes, kinds, kept }, request.limits)) {
    yield boards && { progress: { ...last, boards }, again: true };
  }
}

/**
 * One step. Where memory runs out, or numbers in the linear programme run away, that material keeps its last
 * plan and bound: both hold whatever came after.
 */
function stepOf(steps: Generator<Step | undefined>): IteratorResult<Step | undefined> {
  try {
    return steps.next();
  } catch (error) {
    if (error instanceof RangeError) return { done: true, value: undefined };
    throw error;
  }
}

/** The best bound there is for the pieces that the boards hold. */
function boundOf(
  request: PlanRequest,
  { material, sizes, kinds }: MaterialTask,
  { boards, proof, searched }: Progress,
): PlanBound {
  const { saw } = request;
  const stock = request.stock.filter((board) => board.material === material);
  const cut = sizes.map(() => 0);
  const cost = costOfBoards(boards, kinds);
  for (const { parts, times } of boards) {
    for (const [size, quantity] of parts) cut[size] = (cut[size] as number) + quantity * times;
  }
  const pieces = sizes.flatMap(({ size }, place) => {
    const quantity = cut[place] as number;
    return quantity > 0 ? [{ length: size - saw.kerf, quantity, weight: proof?.weights[place] ?? 0 }] : [];
  });
  const byLength = lengthBound(request, material, pieces);
  if (!proof) return byLength;

  const certificate: Certificate = {
    grid: proof.grid,
    weights: pieces.map(({ length, weight }) => [ticks(length), weight]),
    ...(proof.worth !== undefined && { worth: proof.worth }),
  };
  // The grid was laid over the boards that there are; the others hold nothing.
  const there = kinds.filter(({ count }) => count > 0);
  const rooms = there.map(({ room }) => Math.floor(room / proof.grid));
  const knapsack = createKnapsack(
    pieces.map(({ length }) => Math.floor((length + saw.kerf) / proof.grid)),
    Math.max(...rooms),
  );
  const table = knapsack.solve(
    pieces.map(({ weight }) => weight),
    pieces.map(({ quantity }) => quantity),
  );
  const need = pieces.reduce((sum, { quantity, weight }) => sum + BigInt(quantity) * BigInt(weight), 0n);
  const count = leastCost(
    there.map(({ count }, place) => ({ holds: table[rooms[place] as number] as number, cost: 1, count })),
    need,
  );
  const figures = { cost: Math.max(proof.cost, byLength.cost), boards: Math.max(count, byLength.boards) };
  if (searched && cost > figures.cost) {
    return {
      proof: 'search',
      measure: measureOf(stock),
      cost,
      boards: figures.boards,
      certified: { ...figures, certificate },
    };
  }
  return { proof: 'dual', measure: measureOf(stock), ...figures, certificate };
}
