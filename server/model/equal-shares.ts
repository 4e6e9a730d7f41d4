/**
 * Equal shares in a system of difference constraints: stretches that are all the same multiple of one unknown length,
 * which is to be as great as it can be. Shares are tried at a length; the statements that forbid it say, as a line in
 * that length, how much less or more it has to be (the method of Newton, as for ratios along cycles: it comes down
 * from above and never goes below the answer).
 */
import { type Bound, type Impossible, solve } from './constraints.ts';
import { type Ticks, ticks } from './ticks.ts';

/** `weight` times the unknown from one node to the other. */
export interface Share<L> {
  readonly from: number;
  readonly to: number;
  readonly weight: number;
  readonly label: L;
}

/** A fraction of ticks; both whole, `per` above 0. */
interface Length {
  readonly ticks: number;
  readonly per: number;
}

export type Greatest<L> =
  | {
      readonly kind: 'greatest';
      readonly each: Length;
      /** Whether anything says that it can be no greater. */
      readonly isLimited: boolean;
    }
  /** No length of a share goes with the rest: these do not hold together, by so much where one counts once. */
  | { readonly kind: 'impossible'; readonly labels: readonly L[]; readonly excess: Ticks };

/** So much of it, in whole ticks, rounded down. */
export function timesDown({ ticks: amount, per }: Length, weight: number): Ticks {
  return ticks(Math.floor((amount * weight) / per));
}

function timesUp({ ticks: amount, per }: Length, weight: number): Ticks {
  return ticks(Math.ceil((amount * weight) / per));
}

/** The shares at a length, to the tick above or below. */
export function sharesAt<L>(shares: readonly Share<L>[], each: Length): Bound<L>[] {
  return shares.map(({ from, to, weight, label }) => ({
    from,
    to,
    least: timesDown(each, weight),
    most: timesUp(each, weight),
    label,
  }));
}

/** `longest` is more than any stretch has room for. */
export function greatestShare<L>(
  nodeCount: number,
  bounds: readonly Bound<L>[],
  shares: readonly Share<L>[],
  longest: Ticks,
): Greatest<L> {
  const found = search(nodeCount, bounds, shares, longest);
  if (found.kind === 'greatest') return found;
  // Two rounds of statements together can hold one that neither needs once the other is there.
  let { labels, excess } = found;
  for (const label of found.labels) {
    const kept = labels.filter((one) => one !== label);
    const speaks = (one: { readonly label: L }): boolean => kept.includes(one.label);
    const without = search(nodeCount, bounds.filter(speaks), shares.filter(speaks), longest);
    if (without.kind === 'impossible') ({ labels, excess } = without);
  }
  const order = [...new Set([...bounds, ...shares].map(({ label }) => label))];
  return { kind: 'impossible', labels: order.filter((label) => labels.includes(label)), excess };
}

/** What some statements say of a share: excess + slope x share is not above 0. */
interface Line<L> {
  readonly excess: number;
  readonly slope: number;
  readonly labels: readonly L[];
}

function search<L>(
  nodeCount: number,
  bounds: readonly Bound<L>[],
  shares: readonly Share<L>[],
  longest: Ticks,
): Greatest<L> {
  let each: Length = { ticks: longest, per: Math.max(1, ...shares.map(({ weight }) => weight)) };
  let above: Line<L> | undefined;
  for (;;) {
    const solution = solve(nodeCount, [...bounds, ...sharesAt(shares, each)]);
    if (solution.kind === 'solved') return { kind: 'greatest', each, isLimited: above !== undefined };
    const line = lineOf(solution, bounds.length, shares);
    if (line.slope > 0) {
      const next = { ticks: -line.excess, per: line.slope };
      if (next.ticks >= 0) {
        above = line;
        each = next;
        continue;
      }
      // Not even shares of nothing are short enough.
      return { kind: 'impossible', labels: line.labels, excess: ticks(line.excess) };
    }
    if (line.slope === 0) return { kind: 'impossible', labels: line.labels, excess: ticks(line.excess) };
    if (!above) {
      // Where nothing says how long the whole is, `longest` is no limit.
      each = { ticks: line.excess, per: -line.slope };
      continue;
    }
    const [up, down] = [above.slope, -line.slope];
    const together = (down * above.excess + up * line.excess) / Math.min(up, down);
    return {
      kind: 'impossible',
      labels: [...new Set([...above.labels, ...line.labels])],
      excess: ticks(Math.max(1, Math.ceil(together))),
    };
  }
}

function lineOf<L>({ conflict }: Impossible<L>, own: number, shares: readonly Share<L>[]): Line<L> {
  let [excess, slope] = [0, 0];
  for (const { bound, side, length } of conflict.parts) {
    const sign = side === 'least' ? 1 : -1;
    const share = shares[bound - own];
    if (share) slope += sign * share.weight;
    else excess += sign * length;
  }
  return { excess, slope, labels: conflict.labels };
}
