/** The linear programme solved to its optimum, or near it, with the best bound on the way. */
import type { Size } from '../pack.ts';
import { leastCost } from './certificate.ts';
import { createKnapsack, type Knapsack } from './knapsack.ts';
import { type Content, createMaster, lengthWeights, type Master, SCALE } from './master.ts';
import { netOfWeights, valuesLeft } from './net.ts';
import { type Space, spaceOf } from './space.ts';

/** From so many sizes on, a programme with fewer sizes is solved first, for a guess of the duals. */
const MANY = 80;
/** Sizes that go together in it. */
const TOGETHER = 4;
/** How far duals stay with the best so far. */
const SMOOTHING = 0.7;
/** More rounds than are ever needed; a stop for what nobody has thought of. */
const ROUNDS = 2000;

/** A bound with the weights that prove it. */
export interface Proof extends Weighed {
  readonly weights: Float64Array;
}

/** What weights prove. */
export interface Weighed {
  readonly cost: number;
  /** What a minor unit of the value of offcuts weighs, where they have one. */
  readonly worth?: number | undefined;
}

export interface Root {
  readonly master: Master;
  /** Weights to begin with. */
  guesses: Float64Array[];
  /** The best bound so far; what is proven holds for exactly the demand of the space. */
  proof: Proof;
  /** Whether no pattern can lower the cost any more. */
  done: boolean;
}

/** Opens the programme with these contents for a first basis, as far as they go. */
export function* openRoot(
  space: Space,
  contents: readonly Content[],
  start?: Float64Array,
): Generator<undefined, Root> {
  const demand = space.sizes.map(({ quantity }) => quantity);
  const master = createMaster(space, demand);
  master.begin(contents);
  for (let kind = 0; kind < space.kinds.length; kind++) {
    for (let size = 0; size < demand.length; size++) {
      const fits = Math.floor((space.rooms[kind] as number) / (space.weights[size] as number));
      if (fits > 0) master.add({ kind, parts: [[size, Math.min(fits, demand[size] as number)]] });
    }
  }
  yield* master.ask(
    demand,
    space.kinds.map(({ count }) => count),
  );
  const guesses = [lengthWeights(space), ...(start ? [start] : [])];
  return { master, guesses, proof: { cost: 0, weights: new Float64Array(demand.length) }, done: false };
}

/**
 * Makes columns until none can lower the cost, or the gap between bound and programme is at most `gap` of
 * the cost, or can no longer change the rounded bound. Gives way after each round.
 */
export function* solveRoot(root: Root, all: readonly Board[], gap: number): Generator<undefined> {
  const { master } = root;
  const { space } = master;
  const weigher = createWeigher(space, all);
  // On a coarse grid it takes a table of its own, so there the bound is only worked out now and then.
  // So it does where the table counts what is left.
  const exact = space.lightest === space.weights && !space.worth;
  let value = Infinity;
  // Whole boards come to one more than a part of one: that is looked at when nothing else stands between.
  const weigh = (wanted: boolean, last = false): Weighed => {
    if (!exact && !wanted) return { cost: 0 };
    return weigher(master.weights(), exact ? master.table() : undefined, last ? 0 : value - space.dearest);
  };
  const keep = (weighed: Weighed): void => {
    if (weighed.cost < root.proof.cost) return;
    root.proof = { ...weighed, weights: master.weights().slice() };
    master.keep(root.proof.weights);
  };
  for (const guess of root.guesses) {
    master.keep(guess);
    master.price(1, space.sizes.length);
    keep(weigh(true, true));
  }
  root.guesses = [];
  master.keep(root.proof.weights);

  let smoothed = true;
  for (let round = 0; round < ROUNDS; round++) {
    yield* master.optimise(500 + 2 * space.sizes.length);
    yield undefined;
    value = Math.min(value, master.value() * space.dearest);
    if (value - root.proof.cost <= gap * value) return;
    const made = master.price(smoothed ? SMOOTHING : 0, perKind(space));
    const weighed = weigh(made === 0 || round % 4 === 0, made === 0);
    if (weighed.cost > root.proof.cost) keep(weighed);
    if (made > 0) smoothed = true;
    else if (smoothed) smoothed = false;
    else {
      root.done = true;
      return;
    }
  }
}

/** How many columns a round of pricing makes for each kind, at most. */
function perKind({ sizes, kinds }: Space): number {
  return Math.max(8, Math.ceil(Math.min(60, sizes.length / 6) / Math.min(kinds.length, 3)));
}

/** A kind of board, by all that a bound needs to know. */
export interface Board {
  readonly room: number;
  readonly cost: number;
  readonly count: number;
  readonly worth?: (left: number) => number;
}

/** Weighs boards: the bound that weights prove, with a knapsack of its own unless it is given the table. */
export function createWeigher(
  { sizes, lightest, grid, dearest }: Space,
  all: readonly Board[],
): (weights: Float64Array, known?: Float64Array, from?: number) => Weighed {
  const demand = sizes.map(({ quantity }) => quantity);
  const rooms = all.map(({ room }) => Math.floor(room / grid));
  const longest = rooms.reduce((most, room) => Math.max(most, room), 0);
  let knapsack: Knapsack | undefined;
  const values = valuesLeft(all, rooms, grid);
  return (weights, known, from) => {
    if (!known) knapsack ??= createKnapsack(lightest, longest);
    const table = known ?? (knapsack as Knapsack).solve(weights, demand);
    const need = demand.reduce((sum, quantity, size) => sum + BigInt(quantity) * BigInt(weights[size] as number), 0n);
    const boards = all.map(({ cost, count }, kind) => ({ holds: table[rooms[kind] as number] as number, cost, count }));
    return values
      ? netOfWeights(boards, values, table, need, SCALE / dearest)
      : { cost: leastCost(boards, need, from) };
  };
}

/** A space in which neighbouring sizes are one, as long as the longest of them: every plan for it fits. */
export interface Rough {
  readonly space: Space;
  /** The place of the longest of each group in the finer space. */
  readonly longest: readonly number[];
  /** Weights for the finer space, between those of the groups. */
  lift(weights: ArrayLike<number>): Float64Array;
}

export function roughly(space: Space, together: number): Rough {
  const groups: Size[] = [];
  const longest: number[] = [];
  for (let at = 0; at < space.sizes.length; at += together) {
    const own = space.sizes.slice(at, at + together);
    groups.push({ size: (own[0] as Size).size, quantity: own.reduce((sum, { quantity }) => sum + quantity, 0) });
    longest.push(at);
  }
  return {
    space: spaceOf(groups, space.kinds),
    longest,
    lift: (weights) =>
      Float64Array.from(space.sizes, ({ size }, place) => {
        const at = Math.floor(place / together);
        const [above, below] = [groups[at] as Size, groups[at + 1]];
        const high = weights[at] as number;
        if (!below) return Math.floor((high * size) / above.size);
        const low = weights[at + 1] as number;
        return Math.floor(low + ((high - low) * (size - below.size)) / (above.size - below.size));
      }),
  };
}

/** Duals guessed from a rough space. */
export function* guessWeights(space: Space): Generator<undefined, Float64Array | undefined> {
  if (space.sizes.length < MANY) return undefined;
  const rough = roughly(space, TOGETHER);
  const root = yield* openRoot(rough.space, [], yield* guessWeights(rough.space));
  yield* solveRoot(root, rough.space.kinds, 0.001);
  return rough.lift(root.proof.weights);
}
