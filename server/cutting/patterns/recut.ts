/**
 * Some boards cut anew in fewer ways: the same pieces from the same boards, so at the same cost. How often each
 * way is used is tried out, and for each such choice the pieces are dealt to the ways by backtracking.
 *
 * Source of the idea, there for one stock length and two to four ways: H. Foerster and G. Waescher, "Pattern
 * reduction in one-dimensional cutting stock problems", International Journal of Production Research 38, 2000.
 */
import type { Boards } from '../pack.ts';

/** What boards are cut on, in bare numbers. */
export interface Bench {
  /** By place, the longest first: each with a kerf. */
  readonly sizes: readonly { readonly size: number }[];
  readonly kinds: readonly { readonly room: number }[];
  /** How much of what is left of a board goes back to the rack. */
  readonly kept: (left: number) => number;
}

/** Steps that may still be taken; counted down to nothing. */
export interface Work {
  left: number;
}

/** One way to cut, before it is known what: how often it is used, and the room of its boards. */
interface Slot {
  readonly kind: number;
  readonly times: number;
}

/** Steps for one choice of times, and choices, at most. */
const STEPS = 400;
const CHOICES = 250;
/** While there are no more ways than this to share out boards, all are tried; past it, sums of the times there were. */
const FEW = 4000;

/**
 * The same pieces from the same boards in just so many ways, with at most so many lengths in all of them
 * together, and no less kept for the rack; undefined where none was found.
 */
export function recut(
  boards: readonly Boards[],
  bench: Bench,
  most: { readonly ways: number; readonly lengths: number },
  work: Work,
): Boards[] | undefined {
  const counts: { readonly kind: number; times: number }[] = [];
  let slack = 0;
  let kept = 0;
  for (const { kind, times, left } of boards) {
    const known = counts.find((each) => each.kind === kind);
    if (known) known.times += times;
    else counts.push({ kind, times });
    slack += times * left;
    kept += times * bench.kept(left);
  }
  const wanted = piecesOf(boards);
  const goal = { slack, kept, lengths: most.lengths };
  const slots: Slot[] = [];
  let choices = CHOICES;
  /** Shares out boards from this kind on, so many of which are left, among so many ways; the largest share first. */
  const share = (at: number, left: number, ways: number, largest: number): Boards[] | undefined => {
    const later = counts.length - at - 1;
    if (left === 0) {
      if (later > 0) return share(at + 1, (counts[at + 1] as { times: number }).times, ways, Infinity);
      return --choices < 0 ? undefined : deal(slots, wanted, bench, goal, work);
    }
    const own = ways - later;
    if (own < 1 || (later === 0 && left < own)) return undefined;
    const { kind } = counts[at] as { kind: number };
    for (const times of sharesOf(boards, kind, left, own, largest)) {
      if (choices <= 0 || work.left <= 0) return undefined;
      if (!mayFill({ kind, times }, wanted, bench, slack, work)) continue;
      slots.push({ kind, times });
      const found = share(at, left - times, ways - 1, times);
      if (found) return found;
      slots.pop();
    }
    return undefined;
  };
  return share(0, (counts[0] as { times: number }).times, most.ways, Infinity);
}

type Wanted = readonly (readonly [size: number, quantity: number])[];

/** All pieces of these boards, the longest first. */
function piecesOf(boards: readonly Boards[]): Wanted {
  // They are few, and this is done often: looking through them is sooner done than keeping a map.
  const wanted: [size: number, quantity: number][] = [];
  for (const { times, parts } of boards) {
    for (const [size, quantity] of parts) {
      const known = wanted.find((each) => each[0] === size);
      if (known) known[1] += quantity * times;
      else wanted.push([size, quantity * times]);
    }
  }
  return wanted.sort((a, b) => a[0] - b[0]);
}

/** What the largest of so many shares may be, the largest first. */
function sharesOf(
  boards: readonly Boards[],
  kind: number,
  left: number,
  ways: number,
  largest: number,
): readonly number[] {
  if (ways === 1) return left <= largest ? [left] : [];
  const least = Math.ceil(left / ways);
  const most = Math.min(largest, left);
  if (left ** (ways - 1) <= FEW) return Array.from({ length: Math.max(0, most - least + 1) }, (_, n) => most - n);
  const sums = new Set<number>([0]);
  for (const board of boards) {
    if (board.kind === kind) for (const sum of [...sums]) sums.add(sum + board.times);
  }
  return [...sums].filter((sum) => sum >= least && sum <= most).sort((a, b) => b - a);
}

/** Whether the pieces are many enough to fill so many boards alike, as far as they must be filled. */
function mayFill({ kind, times }: Slot, wanted: Wanted, { sizes, kinds }: Bench, slack: number, work: Work): boolean {
  work.left -= 1 + (wanted.length >> 3);
  let missing = (kinds[kind] as { room: number }).room - slack / times;
  for (const [size, quantity] of wanted) {
    if (missing <= 0) break;
    missing -= Math.floor(quantity / times) * (sizes[size] as { size: number }).size;
  }
  return missing <= 0;
}

interface Goal {
  /** What is left of all boards together. */
  readonly slack: number;
  readonly kept: number;
  readonly lengths: number;
}

/** Deals the pieces to the ways, the longest first. */
function deal(
  slots: readonly Slot[],
  wanted: Wanted,
  { sizes, kinds, kept }: Bench,
  goal: Goal,
  work: Work,
): Boards[] | undefined {
  const times = slots.map((slot) => slot.times);
  const last = slots.length - 1;
  // What divides the times from each place on divides what is dealt there.
  const divisors = times.map((_, at) => times.slice(at).reduce(commonDivisor, 0));
  const whole = divisors[0] as number;
  work.left -= wanted.length;
  if (wanted.some(([, quantity]) => quantity % whole !== 0)) return undefined;
  const weights = wanted.map(([size]) => (sizes[size] as { size: number }).size);
  /** The most that lengths from each place on put into one board of a way. */
  const filling = times.map((each) => {
    const sums = new Float64Array(wanted.length + 1);
    for (let at = wanted.length - 1; at >= 0; at--) {
      const [, quantity] = wanted[at] as (typeof wanted)[number];
      sums[at] = (sums[at + 1] as number) + Math.floor(quantity / each) * (weights[at] as number);
    }
    return sums;
  });
  const room = slots.map(({ kind }) => (kinds[kind] as { room: number }).room);
  const dealt = slots.map(() => new Int32Array(wanted.length));
  let steps = STEPS;

  const put = (at: number, slot: number, open: number, lengths: number): boolean => {
    if (at === wanted.length) {
      // A board without a piece is no way to cut one.
      if (dealt.some((own) => own.every((quantity) => quantity === 0))) return false;
      const back = slots.reduce((sum, each, index) => sum + each.times * kept(room[index] as number), 0);
      return back >= goal.kept;
    }
    if (--steps < 0 || --work.left < 0) return false;
    const weight = weights[at] as number;
    const each = times[slot] as number;
    const here = room[slot] as number;
    const own = dealt[slot] as Int32Array;
    let least = 0;
    if (slot === last) {
      if (open % each !== 0) return false;
      least = open / each;
    } else {
      let others = 0;
      for (let other = slot + 1; other <= last; other++) {
        others += (times[other] as number) * Math.floor((room[other] as number) / weight);
      }
      least = Math.max(0, Math.ceil((open - others) / each));
    }
    const rest = (filling[slot] as Float64Array)[at + 1] as number;
    const divisor = slot === last ? 1 : (divisors[slot + 1] as number);
    for (let quantity = Math.min(Math.floor(open / each), Math.floor(here / weight)); quantity >= least; quantity--) {
      const left = here - quantity * weight;
      // A way that cannot be filled any more leaves more than all boards together do.
      if (each * (left - rest) > goal.slack) break;
      if ((open - quantity * each) % divisor !== 0) continue;
      const used = lengths + (quantity > 0 ? 1 : 0);
      // Each later length takes one at least.
      const later = wanted.length - at - 1 + (slot < last && open > quantity * each ? 1 : 0);
      if (used + later > goal.lengths) continue;
      room[slot] = left;
      own[at] = quantity;
      const done =
        slot === last
          ? put(at + 1, 0, (wanted[at + 1] as (typeof wanted)[number] | undefined)?.[1] ?? 0, used)
          : put(at, slot + 1, open - quantity * each, used);
      if (done) return true;
      room[slot] = here;
    }
    own[at] = 0;
    return false;
  };
  if (!put(0, 0, (wanted[0] as (typeof wanted)[number])[1], 0)) return undefined;
  return slots.map(({ kind, times }, slot) => ({
    kind,
    times,
    left: room[slot] as number,
    parts: wanted.flatMap(([size], at) => {
      const quantity = (dealt[slot] as Int32Array)[at] as number;
      return quantity > 0 ? [[size, quantity] as const] : [];
    }),
  }));
}

function commonDivisor(a: number, b: number): number {
  while (b > 0) [a, b] = [b, a % b];
  return a;
}
