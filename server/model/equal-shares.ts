/**
 * Equal shares in a system of difference constraints: groups of stretches, those of a group all the same multiple of one
 * unknown length of its own. The first unknown is to be as great as it can be, then the second, and so on. Shares are
 * tried at lengths; the statements that forbid those say, as a line in the unknowns, how much less or more they have to
 * be (for one unknown the method of Newton, as for ratios along cycles: it comes down from above and never goes below
 * the answer). What two such lines say of an unknown together, whatever it is, is a line in those before it (the
 * elimination of Fourier and Motzkin). All of it in whole numbers that grow as they have to.
 *
 * It ends, since no lengths are tried twice: what forbids them is a line from then on, which they do not satisfy, and
 * lines are what rounds of statements say, of which there are so many. How many that are in the worst case nobody has
 * bounded by less than all rounds; so the trials are counted, and none is made beyond `mostTrials`.
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

/** A fraction of ticks, not below 0; `per` above 0. */
export interface Length {
  readonly ticks: bigint;
  readonly per: bigint;
}

export type Greatest<L> =
  | {
      readonly kind: 'greatest';
      /** For each group. */
      readonly each: readonly {
        readonly length: Length;
        /** Whether anything says that it can be no greater. */
        readonly isLimited: boolean;
      }[];
    }
  /** No lengths of the shares go with the rest: these do not hold together, by so much where one counts once. */
  | { readonly kind: 'impossible'; readonly labels: readonly L[]; readonly excess: Ticks }
  /** Neither is known after as many trials as are made. */
  | { readonly kind: 'undecided' };

/**
 * How many lengths are tried at the most. One unknown took ten trials in the worst of some ten thousand random systems,
 * however many shares it has, and several of them six times the square of their number; as many as there can be are
 * settled in one trial each where they are all centred (tests/model/equal-shares.test.ts).
 */
export function mostTrials(groups: number): number {
  return Math.min(50 * (groups + 1) ** 2, 10_000);
}

/** So much of it, in whole ticks, rounded down. */
export function timesDown({ ticks: amount, per }: Length, weight: number): Ticks {
  return ticks(Number((amount * BigInt(weight)) / per));
}

function timesUp({ ticks: amount, per }: Length, weight: number): Ticks {
  return ticks(Number((amount * BigInt(weight) + per - 1n) / per));
}

/** The shares of a group at a length, to the tick above or below. */
export function sharesAt<L>(shares: readonly Share<L>[], each: Length): Bound<L>[] {
  return shares.map(({ from, to, weight, label }) => ({
    from,
    to,
    least: timesDown(each, weight),
    most: timesUp(each, weight),
    label,
  }));
}

/** What a system is made of besides its shares; `longest` is more than any stretch has room for. */
export interface Stretches<L> {
  readonly nodeCount: number;
  readonly bounds: readonly Bound<L>[];
  readonly longest: Ticks;
}

/** Told how many trials a search took; `most` of them, where that is not what is made otherwise. */
export interface Meter {
  trials: number;
  readonly most?: number;
}

/** The greatest lengths of the groups' shares, the first group's first; where there are none, why, in few statements. */
export function greatestShares<L>(
  system: Stretches<L>,
  groups: readonly (readonly Share<L>[])[],
  meter?: Meter,
): Greatest<L> {
  const found = new Search(system, groups, meter).run();
  return found.kind === 'impossible' ? fewest(system, groups, found) : found;
}

/** The same of those statements alone that these labels are of; undefined where they hold together. */
export function fewestOf<L>(
  system: Stretches<L>,
  groups: readonly (readonly Share<L>[])[],
  labels: readonly L[],
): Extract<Greatest<L>, { kind: 'impossible' }> | undefined {
  const found = searchAmong(system, groups, labels);
  return found.kind === 'impossible' ? fewest(system, groups, found) : undefined;
}

function searchAmong<L>(
  system: Stretches<L>,
  groups: readonly (readonly Share<L>[])[],
  labels: readonly L[],
): Greatest<L> {
  const kept = new Set(labels);
  const speaks = (one: { readonly label: L }): boolean => kept.has(one.label);
  const own = { ...system, bounds: system.bounds.filter(speaks) };
  return new Search(
    own,
    groups.map((shares) => shares.filter(speaks)),
  ).run();
}

/** Rounds of statements together can hold some that none of them needs once the others are there. */
function fewest<L>(
  system: Stretches<L>,
  groups: readonly (readonly Share<L>[])[],
  found: Extract<Greatest<L>, { kind: 'impossible' }>,
): Extract<Greatest<L>, { kind: 'impossible' }> {
  let { labels, excess } = found;
  for (const label of found.labels) {
    const without = searchAmong(
      system,
      groups,
      labels.filter((one) => one !== label),
    );
    if (without.kind === 'impossible') ({ labels, excess } = without);
  }
  const kept = new Set(labels);
  const order = [...new Set([...system.bounds, ...groups.flat()].map(({ label }) => label))];
  return { kind: 'impossible', labels: order.filter((label) => kept.has(label)), excess };
}

/** What some statements say of the unknowns: excess + slopes x unknowns is not above 0. */
interface Line<L> {
  readonly excess: bigint;
  /** One for each group; 0 for those after the last unknown that it is about. */
  readonly slopes: readonly bigint[];
  /** How often the statement counts that counts least often. */
  readonly scale: bigint;
  readonly labels: readonly L[];
}

type Found<L> =
  | { readonly kind: 'solved'; readonly each: Extract<Greatest<L>, { kind: 'greatest' }>['each'] }
  | { readonly kind: 'refused'; readonly line: Line<L> }
  | { readonly kind: 'undecided' };

class Search<L> {
  private readonly system: Stretches<L>;
  private readonly groups: readonly (readonly Share<L>[])[];
  /** Lines by the last unknown that they are about. They hold whatever is tried. */
  private readonly lines: readonly Line<L>[][];

  private readonly meter: Meter;

  constructor(system: Stretches<L>, groups: readonly (readonly Share<L>[])[], meter: Meter = { trials: 0 }) {
    this.system = system;
    this.groups = groups;
    this.meter = meter;
    this.lines = groups.map(() => []);
  }

  run(): Greatest<L> {
    this.meter.trials = 0;
    const found = this.from([]);
    if (found.kind === 'solved') return { kind: 'greatest', each: found.each };
    if (found.kind === 'undecided') return found;
    const { excess, scale, labels } = found.line;
    return { kind: 'impossible', labels, excess: ticks(Math.max(1, Number((excess + scale - 1n) / scale))) };
  }

  /** The greatest lengths of the groups that are left, where those before are as long as this. */
  private from(lengths: readonly Length[]): Found<L> {
    const at = lengths.length;
    const shares = this.groups[at];
    const lines = this.lines[at];
    if (!shares || !lines) return this.tried(lengths);
    for (;;) {
      if (this.meter.trials >= (this.meter.most ?? mostTrials(this.groups.length))) return { kind: 'undecided' };
      this.meter.trials++;
      const most = extreme(lines, lengths, (slope) => slope > 0n);
      const least = extreme(lines, lengths, (slope) => slope < 0n);
      // Not even shares of nothing are short enough.
      if (most && most.length.ticks < 0n) return { kind: 'refused', line: without(most.line, at) };
      if (most && least && isLess(most.length, least.length))
        return { kind: 'refused', line: together(most.line, least.line, at) };
      const length = most?.length ?? this.longest(shares, least?.length);
      const inner = this.from([...lengths, length]);
      if (inner.kind === 'solved')
        return { kind: 'solved', each: [{ length, isLimited: most !== undefined }, ...inner.each] };
      if (inner.kind === 'undecided' || inner.line.slopes[at] === 0n) return inner;
      lines.push(inner.line);
    }
  }

  /** Where nothing says how long the whole is, `longest` is no limit. */
  private longest(shares: readonly Share<L>[], least: Length | undefined): Length {
    const longest = {
      ticks: BigInt(this.system.longest),
      per: BigInt(Math.max(1, ...shares.map(({ weight }) => weight))),
    };
    return least && isLess(longest, least) ? least : longest;
  }

  private tried(lengths: readonly Length[]): Found<L> {
    const { nodeCount, bounds } = this.system;
    const all = this.groups.flatMap((shares, i) => sharesAt(shares, lengths[i] as Length));
    const solution = solve(nodeCount, [...bounds, ...all]);
    return solution.kind === 'solved' ? { kind: 'solved', each: [] } : { kind: 'refused', line: this.lineOf(solution) };
  }

  private lineOf({ conflict }: Impossible<L>): Line<L> {
    const own = this.system.bounds.length;
    const groupOf = this.groups.flatMap((shares, group) => shares.map(({ weight }) => ({ group, weight })));
    const slopes = this.groups.map(() => 0n);
    let excess = 0n;
    for (const { bound, side, length } of conflict.parts) {
      const sign = side === 'least' ? 1n : -1n;
      const share = groupOf[bound - own];
      if (share) slopes[share.group] = (slopes[share.group] as bigint) + sign * BigInt(share.weight);
      else excess += sign * BigInt(length);
    }
    return { excess, slopes, scale: 1n, labels: conflict.labels };
  }
}

/** Of the lines whose slope in the next unknown is such, the one that leaves it the least room, and how long it may be by it. */
function extreme<L>(
  lines: readonly Line<L>[],
  lengths: readonly Length[],
  isSuch: (slope: bigint) => boolean,
): { readonly line: Line<L>; readonly length: Length } | undefined {
  let found: { readonly line: Line<L>; readonly length: Length } | undefined;
  for (const line of lines) {
    const slope = line.slopes[lengths.length] as bigint;
    if (!isSuch(slope)) continue;
    // excess + the slopes before x their lengths, over one denominator.
    let [amount, per] = [line.excess, 1n];
    lengths.forEach((length, i) => {
      const own = line.slopes[i] as bigint;
      if (own !== 0n) [amount, per] = [amount * length.per + own * length.ticks * per, per * length.per];
    });
    const length = slope > 0n ? { ticks: -amount, per: per * slope } : { ticks: amount, per: per * -slope };
    const isNearer = !found || (slope > 0n ? isLess(length, found.length) : isLess(found.length, length));
    if (isNearer) found = { line, length };
  }
  return found;
}

function isLess(a: Length, b: Length): boolean {
  return a.ticks * b.per < b.ticks * a.per;
}

/** A line that limits an unknown, for one that is nothing. */
function without<L>(line: Line<L>, at: number): Line<L> {
  return { ...line, slopes: line.slopes.map((slope, i) => (i === at ? 0n : slope)) };
}

/** What two lines, one of which limits an unknown from above and one from below, say whatever it is. */
function together<L>(above: Line<L>, below: Line<L>, at: number): Line<L> {
  const [up, down] = [above.slopes[at] as bigint, -(below.slopes[at] as bigint)];
  const [a, b] = [down * above.scale, up * below.scale];
  return {
    excess: down * above.excess + up * below.excess,
    slopes: above.slopes.map((slope, i) => down * slope + up * (below.slopes[i] as bigint)),
    scale: least(a, b),
    labels: [...new Set([...above.labels, ...below.labels])],
  };
}

function least(a: bigint, b: bigint): bigint {
  if (a < b) return a;
  return b;
}
