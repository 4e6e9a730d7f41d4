/** One material from the first packing to the proof: plans and bounds as they get better. */
import {
  type Boards,
  comparePackings,
  costOfBoards,
  firstFitPacking,
  type Kind,
  type Packing,
  reduceBoards,
  type Size,
} from '../pack.ts';
import { costBelow } from './certificate.ts';
import { dive } from './dive.ts';
import { type Content, lengthWeights } from './master.ts';
import { type Memory, recall, remember } from './memory.ts';
import { createWeigher, guessWeights, openRoot, type Proof, type Root, roughly, solveRoot } from './root.ts';
import { searchWithin } from './search.ts';
import { type Chosen, settle } from './settle.ts';
import { commonDivisor, spaceOf } from './space.ts';
import { correctedValues } from './values.ts';
import { contentsWithin, dualsOf, type Scratch } from './within.ts';

/** What is known so far. Places of sizes and kinds are those of the task that was given. */
export interface Progress {
  readonly boards: readonly Boards[];
  /** The best bound for just the pieces that the boards hold, when there is one yet. */
  readonly proof?: (Proof & { readonly grid: number }) | undefined;
  /** A search has ruled out anything cheaper. */
  readonly searched: boolean;
}

/** Dives from the optimum of the programme, at most. */
const DIVES = 24;
/** Numbers that the first search may visit; the last one may go through five times as many. */
const EFFORT = 1e9;
/** Numbers that a task may visit before its last search; less than a minute. */
const WORK = 1.5e10;
/** Gaps at which the programme of a large task is rounded before it is solved to its end. */
const STAGES = [0.005, 0.00032];
const LARGE = 80;
/** From so many sizes on, the programme is made for about so many groups of them. */
const CROWD = 1500;
const GROUPS = 750;
/** Rounds of value correction over all boards, where a round visits fewer cells of knapsack tables than this. */
const CORRECTIONS = 3;
const CELLS = 1e8;
/** So many pieces of each length on average, at most, are many different ones. */
const VARIED = 30;
/** From so many columns on, those that cost this much more than their pieces are worth are forgotten before a dive. */
const MANY = 2000;
const DEAR = 0.008;

/**
 * Gives way often: with the progress when there is any, with nothing otherwise. Sizes are longest first, not
 * none, and each fits one of the kinds. What the memory holds of a task that was much the same is used;
 * what may help the next one is left in it.
 */
export function* solve(
  sizes: readonly Size[],
  kinds: readonly Kind[],
  memory: Memory,
): Generator<Progress | undefined> {
  const first = firstFitPacking(sizes, kinds);
  yield { boards: first.boards, searched: false };
  const longest = kinds.reduce((most, { room, count }) => (count > 0 ? Math.max(most, room) : most), 0);
  const fitting = sizes.map(({ size, quantity }) => ({ size, quantity: size <= longest ? quantity : 0 }));
  const over = leftOver(fitting, first.boards);
  if (over.every((count) => count === 0)) {
    yield* improve(fitting, kinds, { boards: first.boards, over }, memory, true);
    return;
  }
  // Stock is short, or first-fit wastes it: that as much as possible is cut comes before what it costs.
  let most: readonly Boards[] = first.boards;
  for (const progress of improve(fitting, kinds, { boards: first.boards, over }, memory, false)) {
    if (progress) most = progress.boards;
    // A bound for all pieces says nothing of a plan that cuts fewer.
    yield progress && { boards: progress.boards, searched: false };
  }
  const left = leftOver(fitting, most);
  const cut = fitting.map(({ size, quantity }, place) => ({ size, quantity: quantity - (left[place] as number) }));
  yield* improve(cut, kinds, { boards: most, over: cut.map(() => 0) }, memory, true);
}

function leftOver(sizes: readonly Size[], boards: readonly Boards[]): number[] {
  const over = sizes.map(({ quantity }) => quantity);
  for (const { parts, times } of boards) {
    for (const [size, quantity] of parts) over[size] = (over[size] as number) - quantity * times;
  }
  return over;
}

function* improve(
  sizes: readonly Size[],
  kinds: readonly Kind[],
  start: Packing,
  memory: Memory,
  thorough: boolean,
): Generator<Progress | undefined> {
  const places = [...sizes.keys()].filter((place) => (sizes[place] as Size).quantity > 0);
  const prices = kinds.reduce((common, { cost }) => commonDivisor(common, cost), 0);
  // What offcuts are worth comes in any number of minor units.
  const step = prices > 0 && kinds.some(({ worth }) => worth) ? 1 : prices;
  if (places.length === 0 || (step === 0 && start.over.every((count) => count === 0))) return;
  const space = spaceOf(
    places.map((place) => sizes[place] as Size),
    kinds,
  );
  let best = start;
  // Too many sizes for the programme: it is made for groups of them, and the plan is fitted to the sizes after.
  const rough = places.length > CROWD ? roughly(space, Math.ceil(places.length / GROUPS)) : undefined;
  const weigh = createWeigher(space, kinds);
  let proof: Proof = { cost: 0, weights: new Float64Array(places.length) };
  let searched = false;
  let shown: readonly unknown[] = [start.boards, 0, false];

  const cost = () => costOfBoards(best.boards, kinds);
  const complete = () => best.over.every((count) => count === 0);
  const isProven = () => searched || (complete() && cost() <= proof.cost);
  const offer = (chosen: readonly Chosen[]): void => {
    const fitted = rough
      ? chosen.map(({ kind, parts, times }) => ({
          kind,
          times,
          parts: parts.map(([group, quantity]) => [rough.longest[group] as number, quantity] as const),
        }))
      : chosen;
    const { boards: settled, over } = settle(space, fitted);
    const boards = space.worth ? onKinds(settled, space.kinds, kinds) : settled;
    const whole = sizes.map(() => 0);
    over.forEach((count, place) => {
      whole[places[place] as number] = count;
    });
    const named = boards.map(
      (board): Boards => ({
        ...board,
        parts: board.parts.map(([place, quantity]) => [places[place] as number, quantity]),
      }),
    );
    const packing = joined(reduceBoards({ boards: named, over: whole }, sizes, kinds));
    const better = comparePackings(packing, best, sizes, kinds) || packing.boards.length - best.boards.length;
    if (better < 0) best = packing;
  };
  const progress = (): Progress | undefined => {
    const now = [best.boards, proof.cost, searched];
    if (now.every((value, index) => value === shown[index])) return undefined;
    shown = now;
    if (proof.cost === 0) return { boards: best.boards, searched };
    const weights = new Float64Array(sizes.length);
    proof.weights.forEach((weight, place) => {
      weights[places[place] as number] = weight;
    });
    return { boards: best.boards, proof: { ...proof, weights, grid: space.grid }, searched };
  };

  const known = rough ? undefined : recall(memory, space);
  if (known) {
    offer(known.plan);
    yield progress();
  }
  const main = rough?.space ?? space;
  const guess = known?.weights ?? (yield* guessWeights(main));
  const root: Root = yield* openRoot(main, known?.columns ?? [], guess);
  const { master } = root;
  const demand = main.sizes.map(({ quantity }) => quantity);
  const counts = main.kinds.map(({ count }) => count);
  /** What is proven of the programme is proven of the sizes, unless it was made for groups. */
  const certify = (): void => {
    if (!rough) {
      proof = root.proof;
      return;
    }
    for (const weights of [lengthWeights(space), rough.lift(root.proof.weights)]) {
      const weighed = weigh(weights);
      if (weighed.cost > proof.cost) proof = { ...weighed, weights };
    }
  };
  const leave = () => {
    if (!rough) remember(memory, space, master, best.boards, places, root);
  };
  const roundFrom = function* (turn: number, depths?: number): Generator<Progress | undefined> {
    if (master.simplex.columns() > MANY) master.simplex.forget(DEAR);
    for (const chosen of dive(master, turn, depths)) {
      if (chosen) offer(chosen);
      yield progress();
      if (isProven()) return;
    }
    yield* master.ask(demand, counts);
  };

  const dives = thorough ? DIVES : 3;
  let turn = 0;
  try {
    for (const gap of main.sizes.length > LARGE ? [...STAGES, 0] : [0]) {
      yield* solveRoot(root, rough ? main.kinds : kinds, gap);
      certify();
      yield progress();
      leave();
      if (gap > 0 && !isProven()) yield* roundFrom(0, gap === STAGES[0] ? 2 : 8);
      if (isProven() || master.work() > WORK) return;
    }
    for (; turn < dives && !isProven() && master.work() < WORK; turn++) {
      if (turn === 1 && isVaried()) yield* correct();
      if (isProven()) return;
      yield* roundFrom(turn);
      // Small gaps are closed sooner by the search than by luck.
      if (turn === 3 && !isProven() && complete() && !rough) yield* finish(EFFORT);
    }
    if (thorough && !isProven() && complete() && !rough) yield* finish(5 * EFFORT);
  } finally {
    leave();
  }

  /** Many different pieces: what a dive rounds is then a small part of each, and of what it leaves much is waste. */
  function isVaried(): boolean {
    const pieces = demand.reduce((sum, count) => sum + count, 0);
    const cells = best.boards.length * main.sizes.length * (main.rooms[0] as number);
    return !rough && cells <= CELLS && pieces <= VARIED * main.sizes.length;
  }

  /** Long pieces first leave short ones to fill up with. */
  function* correct(): Generator<Progress | undefined> {
    for (const chosen of correctedValues(master, demand, counts, CORRECTIONS)) {
      offer(chosen);
      yield progress();
      if (isProven()) return;
    }
  }

  function* finish(effort: number): Generator<Progress | undefined> {
    let [above, below] = [Infinity, 0];
    const target = () => {
      if (cost() !== above) [above, below] = [cost(), space.worth ? cost() - step : costBelow(space.kinds, cost())];
      return below;
    };
    // Duals inside the optimal face leave fewer contents than those of a basis.
    const [basic, proven, plain] = [master.wholeDuals(), root.proof.weights, lengthWeights(space)];
    const inside = basic.map((weight, size) =>
      Math.floor((weight + (proven[size] as number) + (plain[size] as number)) / 3),
    );
    const between = basic.map((weight, size) => Math.floor((weight + (proven[size] as number)) / 2));
    const scratch: Scratch = {};
    let contents: Content[] | undefined;
    let whole = true;
    // Where all that matter are too many, the most promising may still do, though not as a proof.
    for (const part of [1, 1 / 16]) {
      for (const weights of [between, inside, basic, proven, plain]) {
        const duals = dualsOf(master, weights);
        // What is left is worth something: on a coarse grid that is known only roughly.
        whole = part === 1 && (!space.worth || space.weights === space.lightest);
        contents = contentsWithin(space, duals, part * (target() / space.dearest - duals.bound), scratch);
        yield undefined;
        if (contents) break;
      }
      if (contents) break;
    }
    if (!contents) return;
    const search = searchWithin(space, contents, target, effort);
    for (;;) {
      const { done, value } = search.next();
      if (done) {
        searched = value && whole;
        break;
      }
      offer(value);
      yield progress();
      if (isProven()) return;
    }
    yield progress();
  }
}

/** The kinds of a space are some of the task's together: says of which of those each board is. */
function onKinds(boards: readonly Boards[], own: readonly Kind[], all: readonly Kind[]): Boards[] {
  const left = all.map(({ count }) => count);
  return boards.flatMap((board) => {
    const { room, cost } = own[board.kind] as Kind;
    let { times } = board;
    return all.flatMap((kind, place): Boards[] => {
      const take = kind.room === room && kind.cost === cost ? Math.min(times, left[place] as number) : 0;
      if (take === 0) return [];
      left[place] = (left[place] as number) - take;
      times -= take;
      return [{ ...board, kind: place, times: take }];
    });
  });
}

/** Boards that are cut alike together. */
function joined({ boards, over }: Packing): Packing {
  const alike = new Map<string, Boards>();
  for (const board of boards) {
    const key = `${board.kind} ${board.parts.join(' ')}`;
    const known = alike.get(key);
    alike.set(key, known ? { ...known, times: known.times + board.times } : board);
  }
  return { boards: [...alike.values()], over };
}
