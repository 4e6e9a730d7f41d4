/** The linear programme solved to its optimum, or near it, with the best bound on the way. */
import type { Size } from '../pack.ts';
import { leastCost } from './certificate.ts';
import { createKnapsack, type Knapsack } from './knapsack.ts';
import { type Content, createMaster, lengthWeights, type Master } from './master.ts';
import { type Space, spaceOf } from './space.ts';

/** From so many sizes on, a programme with fewer sizes is solved first, for a guess of the duals. */
const MANY = 80;
/** Sizes that go together in it. */
const TOGETHER = 4;
/** How far duals stay with the best so far. */
const SMOOTHING = 0.7;
/** More rounds than are ever needed; a stop for what nobody has thought of. */
const ROUNDS = 2000;

/** So many pivots, then others may have their turn. */
const PIVOTS = 200;

/** A bound with the weights that prove it. */
export interface Proof {
  readonly cost: number;
  readonly weights: Float64Array;
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
export function openRoot(space: Space, contents: readonly Content[], start?: Float64Array): Root {
  const demand = space.sizes.map(({ quantity }) => quantity);
  const master = createMaster(space, demand);
  master.begin(contents);
  for (let kind = 0; kind < space.kinds.length; kind++) {
    for (let size = 0; size < demand.length; size++) {
      const fits = Math.floor((space.rooms[kind] as number) / (space.weights[size] as number));
      if (fits > 0) master.add({ kind, parts: [[size, Math.min(fits, demand[size] as number)]] });
    }
  }
  master.ask(
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
  const weigh = createWeigher(space, master, all);
  const keep = (cost: number): void => {
    if (cost < root.proof.cost) return;
    root.proof = { cost, weights: master.weights().slice() };
    master.keep(root.proof.weights);
  };
  for (const guess of root.guesses) {
    master.keep(guess);
    master.price(1, space.sizes.length);
    keep(weigh(true));
  }
  root.guesses = [];
  master.keep(root.proof.weights);

  let smoothed = true;
  let value = Infinity;
  for (let round = 0; round < ROUNDS; round++) {
    yield* optimised(master);
    value = Math.min(value, master.value() * space.dearest);
    if (value - root.proof.cost <= gap * value) return;
    const made = master.price(smoothed ? SMOOTHING : 0, perKind(space));
    const cost = weigh(made === 0 || round % 4 === 0);
    if (cost > root.proof.cost) keep(cost);
    if (made > 0) smoothed = true;
    else if (smoothed) smoothed = false;
    else {
      root.done = true;
      return;
    }
  }
}

/** Gives way between short runs of the simplex method. */
function* optimised(master: Master): Generator<undefined> {
  for (let left = 500 + 2 * master.space.sizes.length; left > 0; left -= PIVOTS) {
    if (master.optimise(PIVOTS)) break;
    yield undefined;
  }
  yield undefined;
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
}

/**
 * The bound by the weights of the last pricing. On a coarse grid it takes a table of its own, so there it
 * is only worked out when asked for (0 otherwise).
 */
function createWeigher(space: Space, master: Master, all: readonly Board[]): (wanted: boolean) => number {
  const { sizes, lightest, weights, grid } = space;
  const demand = sizes.map(({ quantity }) => quantity);
  const rooms = all.map(({ room }) => Math.floor(room / grid));
  const own: Knapsack | undefined =
    lightest === weights
      ? undefined
      : createKnapsack(
          lightest,
          rooms.reduce((most, room) => Math.max(most, room), 0),
        );
  return (wanted) => {
    if (own && !wanted) return 0;
    const table = own ? own.solve(master.weights(), demand) : master.table();
    const need = demand.reduce(
      (sum, quantity, size) => sum + BigInt(quantity) * BigInt(master.weights()[size] as number),
      0n,
    );
    return leastCost(
      all.map(({ cost, count }, kind) => ({ holds: table[rooms[kind] as number] as number, cost, count })),
      need,
    );
  };
}

/** Duals guessed from a programme in which neighbouring sizes are one. */
export function* guessWeights(space: Space): Generator<undefined, Float64Array | undefined> {
  if (space.sizes.length < MANY) return undefined;
  const rough: Size[] = [];
  for (let at = 0; at < space.sizes.length; at += TOGETHER) {
    const own = space.sizes.slice(at, at + TOGETHER);
    rough.push({ size: (own[0] as Size).size, quantity: own.reduce((sum, { quantity }) => sum + quantity, 0) });
  }
  const fewer = spaceOf(rough, space.kinds);
  const root = openRoot(fewer, [], yield* guessWeights(fewer));
  yield* solveRoot(root, fewer.kinds, 0.001);
  const known = root.proof.weights;
  return Float64Array.from(space.sizes, ({ size }, place) => {
    const at = Math.floor(place / TOGETHER);
    const [above, below] = [rough[at] as Size, rough[at + 1]];
    const high = known[at] as number;
    if (!below) return Math.floor((high * size) / above.size);
    const low = known[at + 1] as number;
    return Math.floor(low + ((high - low) * (size - below.size)) / (above.size - below.size));
  });
}
