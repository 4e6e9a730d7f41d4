/**
 * Where fixings stand along a part: as few as its hardware allows, evenly, and then moved so that as many
 * as can be had meet a stud. Places are ticks along a wall from its left end.
 */
import { limits } from '../../model/limits.ts';
import { add, inches, type Ticks, ticks } from '../../model/ticks.ts';

/**
 * A screw this far from the centre of a stud still meets it: a stud is 1-1/2 in thick (dressed size of a nominal
 * 2 in, PS 20), which leaves 1/4 in to its edge. Common practice, no source.
 */
export const NEAR_STUD = inches(1 / 2);

/** Finer steps than this are taken several at a time. */
const finestStep = inches(1 / 32);

export interface Spread {
  readonly from: Ticks;
  readonly to: Ticks;
  /** From the ends to the outermost. */
  readonly inset: Ticks;
  /** Greatest distance between two; undefined where nothing limits it. */
  readonly spacing: Ticks | undefined;
  readonly least: number;
}

/** The least number whose even distances are within the spacing. */
export function countOf({ from, to, inset, spacing, least }: Spread): number {
  const span = to - from - 2 * inset;
  const asked = Math.max(1, least);
  if (spacing === undefined || spacing <= 0 || span <= 0) return Math.min(asked, limits.mostOnPart.most);
  return Math.min(Math.max(asked, Math.ceil(span / spacing) + 1), limits.mostOnPart.most);
}

/**
 * So many, evenly: the outermost `inset` from the ends, one alone in the middle. On a part too short for its
 * insets each stands in the middle of its share. Seen in a mirror they stand alike, but for half a tick.
 */
export function evenPlaces(spread: Spread, count: number): Ticks[] {
  const { from, to, inset } = spread;
  const length = to - from;
  const span = length - 2 * inset;
  const fromLeft = (i: number): number => {
    if (count === 1) return Math.floor(length / 2);
    if (span <= 0) return Math.round((length * (2 * i + 1)) / (2 * count));
    return inset + Math.round((span * i) / (count - 1));
  };
  return Array.from({ length: count }, (_, i) => {
    const isRight = 2 * i > count - 1;
    return ticks(isRight ? to - fromLeft(count - 1 - i) : from + fromLeft(i));
  });
}

export interface Moving {
  /** The part, which nothing leaves. */
  readonly from: Ticks;
  readonly to: Ticks;
  readonly spacing: Ticks | undefined;
  /** How far one may be moved, by whole steps where there is a step. */
  readonly shift: { readonly most: Ticks; readonly step: Ticks | undefined };
  /** Centres of studs, from left to right. */
  readonly studs: readonly Ticks[];
}

export interface Stand {
  readonly at: Ticks;
  /** From its even place to the right; negative to the left. */
  readonly shift: Ticks;
  /** The stud that it meets. */
  readonly stud: Ticks | undefined;
}

/** Fewest without a stud, then least moved in all, then the least greatest distance between two. */
type Cost = readonly [missed: number, moved: number, widest: number];

interface Chain {
  readonly cost: Cost;
  readonly stand: Stand;
  readonly before: Chain | undefined;
}

/**
 * The best of all ways to leave each where it is or to move it to a stud, with distances within the spacing
 * and no stud shared by two of which one was moved. The search is exact: what comes after depends on the
 * last one alone, so only the best way to each place is kept. Of equal ways it takes the first from the left.
 */
export function standsOf(even: readonly Ticks[], moving: Moving): Stand[] {
  let chains: Chain[] = [];
  even.forEach((at, i) => {
    const stands = candidates(at, moving);
    chains = stands.flatMap((stand): Chain[] => {
      const own: Cost = [stand.stud === undefined ? 1 : 0, Math.abs(stand.shift), 0];
      if (i === 0) return [{ cost: own, stand, before: undefined }];
      let best: Chain | undefined;
      for (const before of chains) {
        const gap = stand.at - before.stand.at;
        if (!follows(before.stand, stand, gap, moving.spacing)) continue;
        const [missed, moved, widest] = before.cost;
        const cost: Cost = [missed + own[0], moved + own[1], Math.max(widest, gap)];
        if (!best || isLess(cost, best.cost)) best = { cost, stand, before };
      }
      return best ? [best] : [];
    });
  });
  let last = chains.reduce<Chain | undefined>((a, b) => (a && !isLess(b.cost, a.cost) ? a : b), undefined);
  const found: Stand[] = [];
  for (; last; last = last.before) found.push(last.stand);
  return found.reverse();
}

function follows(before: Stand, stand: Stand, gap: number, spacing: Ticks | undefined): boolean {
  // What nobody moved stands as it was spread.
  if (before.shift === 0 && stand.shift === 0) return true;
  if (gap <= 0 || (spacing !== undefined && gap > spacing)) return false;
  return stand.stud === undefined || stand.stud !== before.stud;
}

function isLess(a: Cost, b: Cost): boolean {
  return a[0] - b[0] < 0 || (a[0] === b[0] && (a[1] < b[1] || (a[1] === b[1] && a[2] < b[2])));
}

/** Its even place first, then each place at a stud within reach, from the left. */
export function candidates(at: Ticks, { from, to, shift, studs }: Moving): Stand[] {
  const near = studsWithin(studs, at - shift.most - NEAR_STUD, at + shift.most + NEAR_STUD);
  const here = near.find((stud) => Math.abs(stud - at) <= NEAR_STUD);
  const found: Stand[] = [{ at, shift: ticks(0), stud: here }];
  if (shift.most <= 0) return found;
  for (const stud of near) {
    for (const by of shift.step === undefined ? toCentre(stud - at, shift.most) : bySteps(stud - at, shift)) {
      const there = at + by;
      if (by !== 0 && there >= from && there <= to) found.push({ at: ticks(there), shift: ticks(by), stud });
    }
  }
  return found;
}

/** Those of a rising list that lie between two places, these included. */
export function studsWithin(studs: readonly Ticks[], from: number, to: number): readonly Ticks[] {
  let [low, high] = [0, studs.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((studs[middle] as Ticks) < from) low = middle + 1;
    else high = middle;
  }
  let end = low;
  while (end < studs.length && (studs[end] as Ticks) <= to) end++;
  return studs.slice(low, end);
}

/** Without steps it goes to the centre of the stud, or as near to it as it may. */
function toCentre(distance: number, most: Ticks): number[] {
  const by = Math.max(-most, Math.min(most, distance));
  return Math.abs(distance - by) <= NEAR_STUD ? [by] : [];
}

/** Every whole step that ends at the stud. */
function bySteps(distance: number, { most, step }: Moving['shift']): number[] {
  if (step === undefined || step <= 0) return [];
  const each = step * Math.max(1, Math.ceil(finestStep / step));
  const first = Math.ceil(Math.max(distance - NEAR_STUD, -most) / each);
  const last = Math.floor(Math.min(distance + NEAR_STUD, most) / each);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * each);
}

/** The greatest distance between two that stand next to each other; undefined for fewer than two. */
export function widestGap(places: readonly Ticks[]): Ticks | undefined {
  let widest: Ticks | undefined;
  for (let i = 1; i < places.length; i++) {
    const gap = add(places[i] as Ticks, ticks(-(places[i - 1] as number)));
    if (widest === undefined || gap > widest) widest = gap;
  }
  return widest;
}
