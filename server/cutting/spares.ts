/**
 * Spares: pieces that may take any length in a range and that nothing is bought for. They are cut from what the plan
 * leaves of its boards: as many as can be, of those ways the one with the most length, and of those the one that
 * leaves the most to be kept. So a spare is worth more than an offcut, kept or not, and waste is used before what
 * would go back to the rack. Boards that the plan does not cut are not begun.
 */
import { ticks } from '../model/ticks.ts';
import { isKept, patternOf } from './board.ts';
import { totalsOf } from './totals.ts';
import type { Cut, Pattern, Plan, PlanRequest, Saw, Spare } from './types.ts';

/** One kind of spare, its lengths in whole steps of the saw. */
interface Kind {
  readonly id: string;
  readonly least: number;
  readonly most: number;
  readonly wanted: number;
}

/** How many of each kind one board gives. */
type Taken = readonly number[];

/** A way to cut what is left of a board: what it gives, the length of that, and what is kept of the rest. */
interface Way {
  readonly taken: Taken;
  readonly length: number;
  readonly kept: number;
}

/** Numbers that the exact way may visit, and keep. Jobs of a thousand boards and a hundred spares are far below. */
const WORK = 3e7;
const KEPT = 8e6;
/** Ways to cut one remainder, at most. */
const WAYS = 5000;

/** The same plan with as many spares as find room; the plan itself where there is nothing to do. */
export function withSpares(request: PlanRequest, plan: Plan): Plan {
  const spares = (request.spares ?? []).filter(({ quantity }) => quantity > 0);
  if (spares.length === 0) return plan;
  const stock = new Map(request.stock.map((board) => [board.id, board]));
  const found = new Map<Pattern, readonly Taken[]>();
  for (const [material, own] of Map.groupBy(spares, (spare) => spare.material)) {
    const patterns = plan.patterns.filter((pattern) => pattern.material === material);
    for (const [pattern, taken] of fitted(
      patterns,
      own.map((spare) => kindOf(spare, request.saw)),
      request.saw,
    ))
      found.set(pattern, taken);
  }
  const patterns = plan.patterns.flatMap((pattern) => {
    const board = stock.get(pattern.stock);
    const boards = found.get(pattern);
    if (!board || !boards) return [pattern];
    const own = spares.filter(({ material }) => material === pattern.material);
    const kinds = own.map((spare) => kindOf(spare, request.saw));
    const alike = Map.groupBy(boards, (taken) => taken.join(' '));
    return [...alike.values()].map((group) =>
      patternOf(board, request.saw, pattern.cuts, group.length, cutsOf(group[0] as Taken, kinds, pattern, request.saw)),
    );
  });
  return { ...plan, patterns, totals: totalsOf(request, patterns, knownOf(plan)) };
}

/** The plan as it was before spares were cut from what it leaves. */
export function withoutSpares(request: PlanRequest, plan: Plan): Plan {
  if (!plan.patterns.some(({ spares = [] }) => spares.length > 0)) return plan;
  const stock = new Map(request.stock.map((board) => [board.id, board]));
  const joined = new Map<string, Pattern>();
  for (const { stock: id, cuts, times } of plan.patterns) {
    const board = stock.get(id);
    const key = JSON.stringify([id, cuts]);
    if (board) joined.set(key, patternOf(board, request.saw, cuts, times + (joined.get(key)?.times ?? 0)));
  }
  const patterns = [...joined.values()];
  return { ...plan, patterns, totals: totalsOf(request, patterns, knownOf(plan)) };
}

/** How many of each spare a plan cuts, by id. */
export function sparesCut({ patterns }: Plan): Map<string, number> {
  const cut = new Map<string, number>();
  for (const { spares = [], times } of patterns)
    for (const { piece, quantity } of spares) cut.set(piece, (cut.get(piece) ?? 0) + quantity * times);
  return cut;
}

/** Spares are no reason for another bound: it is about the pieces that boards are bought for. */
function knownOf({ totals }: Plan) {
  return new Map(totals.map(({ material, bound, before }) => [material, { bound, before }]));
}

function kindOf({ id, least, most, quantity }: Spare, { step = ticks(1) }: Saw): Kind {
  return {
    id,
    least: Math.ceil(least / step) * step,
    most: Math.floor(most / step) * step,
    wanted: quantity,
  };
}

/** What each board of each pattern gives; boards in the order of the pattern's times. */
function fitted(patterns: readonly Pattern[], kinds: readonly Kind[], saw: Saw): Map<Pattern, Taken[]> {
  const shortest = Math.min(...kinds.map(({ least }) => least));
  const used = patterns.filter(({ offcut }) => offcut >= shortest);
  // The shortest remainders first: in the rough way they are used up before the longer ones.
  const boards = used
    .flatMap((pattern) => Array.from({ length: pattern.times }, () => pattern))
    .sort((a, b) => a.offcut - b.offcut);
  const rooms = boards.map(({ offcut }) => offcut);
  const taken = exactly(rooms, kinds, saw) ?? roughly(rooms, kinds, saw);
  return new Map(
    [...Map.groupBy(taken.keys(), (at) => boards[at] as Pattern)].map(([pattern, places]) => [
      pattern,
      places.map((at) => taken[at] as Taken),
    ]),
  );
}

/**
 * The best of all ways, board by board: for every number of each kind that the boards so far can give, the most
 * length. Undefined where that is too much work.
 */
function exactly(rooms: readonly number[], kinds: readonly Kind[], saw: Saw): Taken[] | undefined {
  const most = kinds.map(({ least, wanted }) =>
    Math.min(
      wanted,
      rooms.reduce((sum, room) => sum + Math.floor((room + saw.kerf) / (least + saw.kerf)), 0),
    ),
  );
  const states = most.reduce((product, count) => product * (count + 1), 1);
  if (states * rooms.length > KEPT || most.some((count) => count >= 2 ** 16)) return undefined;
  const waysOf = new Map<number, Way[]>();
  let work = 0;
  for (const room of rooms) {
    const ways = waysOf.get(room) ?? waysToCut(room, kinds, most, saw);
    if (!ways) return undefined;
    waysOf.set(room, ways);
    work += states * ways.length;
  }
  if (work > WORK) return undefined;

  // A state is the number of each kind, written as one number.
  const factors = most.map((_, at) => most.slice(0, at).reduce((product, count) => product * (count + 1), 1));
  const indexOf = (taken: Taken): number => taken.reduce((sum, count, at) => sum + count * (factors[at] as number), 0);
  const counts = most.map((count, at) =>
    Uint16Array.from({ length: states }, (_, state) => Math.floor(state / (factors[at] as number)) % (count + 1)),
  );
  const countAt = (state: number, at: number): number => counts[at]?.[state] as number;
  let length = new Float64Array(states).fill(-1);
  let kept = new Float64Array(states);
  length[0] = 0;
  const chosen: Uint16Array[] = [];
  for (const room of rooms) {
    const ways = waysOf.get(room) as Way[];
    const [nextLength, nextKept, choice] = [
      new Float64Array(states).fill(-1),
      new Float64Array(states),
      new Uint16Array(states),
    ];
    ways.forEach((way, index) => {
      const by = indexOf(way.taken);
      for (let state = 0; state + by < states; state++) {
        if ((length[state] as number) < 0) continue;
        if (way.taken.some((count, at) => count > 0 && countAt(state, at) + count > (most[at] as number))) continue;
        const to = state + by;
        const [long, keep] = [(length[state] as number) + way.length, (kept[state] as number) + way.kept];
        const known = nextLength[to] as number;
        if (long < known || (long === known && keep <= (nextKept[to] as number))) continue;
        [nextLength[to], nextKept[to], choice[to]] = [long, keep, index];
      }
    });
    [length, kept] = [nextLength, nextKept];
    chosen.push(choice);
  }

  let best = 0;
  const pieces = (state: number): number => most.reduce((sum, _, at) => sum + countAt(state, at), 0);
  for (let state = 1; state < states; state++) {
    if ((length[state] as number) < 0) continue;
    const better =
      pieces(state) - pieces(best) ||
      (length[state] as number) - (length[best] as number) ||
      (kept[state] as number) - (kept[best] as number);
    if (better > 0) best = state;
  }
  const taken: Taken[] = [];
  for (let at = rooms.length - 1; at >= 0; at--) {
    const way = (waysOf.get(rooms[at] as number) as Way[])[chosen[at]?.[best] as number] as Way;
    taken.unshift(way.taken);
    best -= indexOf(way.taken);
  }
  return taken;
}

/** Every number of each kind that a remainder has room for, none of any among them. Undefined where they are too many. */
function waysToCut(room: number, kinds: readonly Kind[], most: readonly number[], saw: Saw): Way[] | undefined {
  const ways: Way[] = [];
  const taken = kinds.map(() => 0);
  const list = (at: number, left: number): boolean => {
    if (at === kinds.length) {
      ways.push(wayOf([...taken], room, kinds, saw));
      return ways.length <= WAYS;
    }
    const each = (kinds[at] as Kind).least + saw.kerf;
    for (let count = 0; count <= (most[at] as number) && count * each <= left; count++) {
      taken[at] = count;
      if (!list(at + 1, left - count * each)) return false;
    }
    taken[at] = 0;
    return true;
  };
  return list(0, room + saw.kerf) ? ways : undefined;
}

function wayOf(taken: Taken, room: number, kinds: readonly Kind[], saw: Saw): Way {
  const lengths = lengthsOf(taken, room, kinds, saw);
  const length = lengths.reduce((sum, own) => sum + own.length * own.quantity, 0);
  const pieces = lengths.reduce((sum, { quantity }) => sum + quantity, 0);
  const left = Math.max(0, room - length - pieces * saw.kerf);
  return { taken, length, kept: isKept(left, saw) ? left : 0 };
}

/**
 * How long the spares of one board are: as long together as there is room for, and one after the other as long as
 * it may be, so that at most one of a board is neither its longest nor its shortest.
 */
function lengthsOf(taken: Taken, room: number, kinds: readonly Kind[], { kerf, step = ticks(1) }: Saw) {
  const pieces = taken.reduce((sum, count) => sum + count, 0);
  const least = taken.reduce((sum, count, at) => sum + count * (kinds[at] as Kind).least, 0);
  let more = Math.floor((room - least - Math.max(0, pieces - 1) * kerf) / step) * step;
  return taken.flatMap((count, at) => {
    const { least, most } = kinds[at] as Kind;
    const whole = most > least ? Math.min(count, Math.floor(more / (most - least))) : count;
    more -= whole * (most - least);
    const between = whole < count ? least + more : least;
    if (whole < count) more = 0;
    const lengths: [length: number, quantity: number][] = [
      [most, whole],
      [between, whole < count ? 1 : 0],
      [least, Math.max(0, count - whole - 1)],
    ];
    const together = new Map<number, number>();
    for (const [length, quantity] of lengths)
      if (quantity > 0) together.set(length, (together.get(length) ?? 0) + quantity);
    return [...together].map(([length, quantity]) => ({ kind: at, length, quantity }));
  });
}

function cutsOf(taken: Taken, kinds: readonly Kind[], { offcut }: Pattern, saw: Saw): Cut[] {
  return lengthsOf(taken, offcut, kinds, saw)
    .map(({ kind, length, quantity }) => ({ piece: (kinds[kind] as Kind).id, length: ticks(length), quantity }))
    .sort((a, b) => b.length - a.length);
}

/**
 * Where all ways are too many: one kind after the other, the shortest first; each first where it can be as long as
 * it may be, then wherever it fits.
 */
function roughly(rooms: readonly number[], kinds: readonly Kind[], { kerf }: Saw): Taken[] {
  const taken = rooms.map(() => kinds.map(() => 0));
  const left = rooms.map((room) => room + kerf);
  const order = [...kinds.keys()].sort((a, b) => (kinds[a] as Kind).least - (kinds[b] as Kind).least || a - b);
  for (const at of order) {
    const { least, most, wanted } = kinds[at] as Kind;
    let open = wanted;
    // What is taken at its longest gives way to more of its kind, so it is counted by its shortest.
    const own = rooms.map(() => 0);
    for (const length of [most, least]) {
      rooms.forEach((_, board) => {
        const fits = Math.floor((left[board] as number) / (length + kerf));
        const count = Math.min(open, Math.max(0, fits - (own[board] as number)));
        own[board] = (own[board] as number) + count;
        open -= count;
      });
    }
    own.forEach((count, board) => {
      (taken[board] as number[])[at] = count;
      left[board] = (left[board] as number) - count * (least + kerf);
    });
  }
  return taken;
}
