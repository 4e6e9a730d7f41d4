/**
 * Packing lengths on boards, in bare numbers: first-fit decreasing, and after it the cheapest board for
 * each content. Equal lengths and equal boards are handled together, however many there are.
 */

/** Equal lengths to be packed: `size` is the length with a kerf. */
export interface Size {
  readonly size: number;
  readonly quantity: number;
}

/** A kind of board, in the order of `compareStock`. */
export interface Kind {
  readonly room: number;
  readonly length: number;
  readonly cost: number;
  /** Open from the start of packing. */
  readonly onRack: boolean;
  /** Infinity where there is no limit. */
  readonly count: number;
  /** What is worth something when so much of the room is left, in the terms of the cost; absent: nothing ever is. */
  readonly worth?: (left: number) => number;
}

/** What a board costs, less what is left of it is worth. */
export function netCost({ cost, worth }: Kind, left: number): number {
  return worth ? cost - worth(left) : cost;
}

/** Equal boards: `parts` are pairs of a size (by its place) and how many of it each board holds. */
export interface Boards {
  readonly kind: number;
  readonly times: number;
  readonly left: number;
  readonly parts: readonly (readonly [size: number, quantity: number])[];
}

export interface Packing {
  readonly boards: readonly Boards[];
  /** How many of each size found no board. */
  readonly over: readonly number[];
}

/**
 * Packs as much as there are boards for. Tries each kind of board as the one to open first, and keeps the
 * packing that leaves the least over, and of those the cheapest.
 */
export function bestPacking(sizes: readonly Size[], kinds: readonly Kind[]): readonly Boards[] {
  return firstFitPacking(sizes, kinds).boards;
}

/** The same, with what is left over. */
export function firstFitPacking(sizes: readonly Size[], kinds: readonly Kind[]): Packing {
  const places = kinds.map((_, kind) => kind);
  const byCost = [...places].sort((a, b) => {
    const [one, two] = [kinds[a] as Kind, kinds[b] as Kind];
    return one.cost / one.room - two.cost / two.room || two.room - one.room || a - b;
  });
  const bought = places.filter((kind) => !(kinds[kind] as Kind).onRack);
  let best: Packing | undefined;
  for (const main of bought.length > 0 ? bought : places.slice(0, 1)) {
    const order = [main, ...byCost.filter((kind) => kind !== main)];
    const packing = reduceBoards(pack(sizes, kinds, order), sizes, kinds);
    if (!best || comparePackings(packing, best, sizes, kinds) < 0) best = packing;
  }
  return best as Packing;
}

/** Compares by the weightiest first: length left over, cost, length taken, number of boards. */
export function comparePackings(a: Packing, b: Packing, sizes: readonly Size[], kinds: readonly Kind[]): number {
  const figuresOf = ({ boards, over }: Packing): number[] => {
    const overall = (figure: (kind: Kind) => number) =>
      boards.reduce((sum, { kind, times }) => sum + figure(kinds[kind] as Kind) * times, 0);
    return [
      over.reduce((sum, count, size) => sum + count * (sizes[size] as Size).size, 0),
      costOfBoards(boards, kinds),
      overall((kind) => kind.length),
      overall(() => 1),
    ];
  };
  const others = figuresOf(b);
  return figuresOf(a).reduce((difference, figure, index) => difference || figure - (others[index] as number), 0);
}

/** What all boards cost, less what is left of them is worth. */
export function costOfBoards(boards: readonly Boards[], kinds: readonly Kind[]): number {
  return boards.reduce((sum, { kind, left, times }) => sum + netCost(kinds[kind] as Kind, left) * times, 0);
}

/**
 * First-fit decreasing over sizes that stand longest first. The offcuts on the rack are open from the
 * start, smallest first; a further board is opened of the first kind in `order` that is long enough and
 * still to be had. Boards that come out alike stay together.
 */
function pack(sizes: readonly Size[], kinds: readonly Kind[], order: readonly number[]): Packing {
  const smallest = (sizes.at(-1) as Size).size;
  const available = kinds.map(({ onRack, count }) => (onRack ? 0 : count));
  const done: Boards[] = [];
  let open: Boards[] = kinds.flatMap(({ onRack, count, room }, kind) =>
    onRack && count > 0 ? [{ kind, times: count, left: room, parts: [] }] : [],
  );

  const over = sizes.map(({ size, quantity }, place) => {
    let wanted = quantity;
    /** Puts the size into equal boards, as first-fit would one by one, and returns the boards that come out. */
    const fill = (boards: Boards): Boards[] => {
      const each = Math.min(Math.floor(boards.left / size), wanted);
      if (each === 0) return [boards];
      const full = Math.min(boards.times, Math.floor(wanted / each));
      const rest = full < boards.times ? wanted - full * each : 0;
      wanted -= full * each + rest;
      const holding = (times: number, more: number): Boards => ({
        kind: boards.kind,
        times,
        left: boards.left - more * size,
        parts: [...boards.parts, [place, more]],
      });
      const filled = [holding(full, each)];
      if (rest > 0) filled.push(holding(1, rest));
      const untouched = boards.times - full - (rest > 0 ? 1 : 0);
      if (untouched > 0) filled.push({ ...boards, times: untouched });
      return filled;
    };

    for (let index = 0; index < open.length && wanted > 0; index++) {
      const boards = open[index] as Boards;
      if (boards.left < size) continue;
      const filled = fill(boards);
      open.splice(index, 1, ...filled);
      index += filled.length - 1;
    }
    for (const kind of order) {
      const { room } = kinds[kind] as Kind;
      if (wanted === 0) break;
      if (room < size) continue;
      const times = Math.min(available[kind] as number, Math.ceil(wanted / Math.floor(room / size)));
      if (times === 0) continue;
      available[kind] = (available[kind] as number) - times;
      open.push(...fill({ kind, times, left: room, parts: [] }));
    }
    // Boards with no room for anything are put aside.
    for (const boards of open) if (boards.left < smallest) done.push(boards);
    open = open.filter((boards) => boards.left >= smallest);
    return wanted;
  });
  return { boards: [...done, ...open].filter((boards) => boards.parts.length > 0), over };
}

/**
 * Gives every board's content the cheapest board that holds it. Fullest first: each later content can
 * use whatever an earlier one could, so no content is left without a board, and taking the cheapest each time
 * is the cheapest altogether; where what is left is worth something it need not be, and boards that were cheaper
 * as they were are left so. Nor is a board set free for a piece left over: every board long
 * enough for it holds one at least as long.
 */
export function reduceBoards({ boards, over }: Packing, sizes: readonly Size[], kinds: readonly Kind[]): Packing {
  const available = kinds.map((kind) => kind.count);
  const places = kinds.map((_, kind) => kind);
  const byCost = (costs: readonly number[]): number[] =>
    places.toSorted((a, b) => {
      const [one, two] = [kinds[a] as Kind, kinds[b] as Kind];
      return (costs[a] as number) - (costs[b] as number) || one.length - two.length || a - b;
    });
  const cheapest = byCost(kinds.map(({ cost }) => cost));
  const valued = kinds.some(({ worth }) => worth);
  const contents = boards.map((group) => ({
    group,
    content: group.parts.reduce((sum, [size, quantity]) => sum + (sizes[size] as Size).size * quantity, 0),
  }));
  contents.sort((a, b) => b.content - a.content);

  const reduced: Boards[] = [];
  for (const { group, content } of contents) {
    let times = group.times;
    const order = valued ? byCost(kinds.map((kind) => netCost(kind, kind.room - content))) : cheapest;
    for (const kind of order) {
      const { room } = kinds[kind] as Kind;
      const take = room >= content ? Math.min(times, available[kind] as number) : 0;
      if (take === 0) continue;
      available[kind] = (available[kind] as number) - take;
      times -= take;
      reduced.push({ ...group, kind, times: take, left: room - content });
    }
    if (times > 0) throw new Error('a board that held its content is gone');
  }
  if (valued && costOfBoards(boards, kinds) <= costOfBoards(reduced, kinds)) return { boards, over };
  return { boards: reduced, over };
}
