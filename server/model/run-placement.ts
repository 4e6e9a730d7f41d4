/**
 * Zones placed along a run. The statements become difference constraints between the ends of the zones; what they leave
 * open is settled here, in the order ranges (their least), shares (equal, in saw steps), and the one zone that takes
 * what is left.
 */
import { type Chain, takesRest } from './chains.ts';
import { weightsOf } from './closing.ts';
import {
  type Bound,
  greatestAssignment,
  holdTogether,
  leastAssignment,
  range,
  type Solved,
  solve,
} from './constraints.ts';
import type { Conflict } from './constraints-conflict.ts';
import { fewestOf, greatestShares, type Share, type Stretches, timesDown } from './equal-shares.ts';
import {
  type Conflicting,
  type Inside,
  type Labels,
  type Placed,
  type PlacedResult,
  type Run,
  type RunResult,
  type Stretch,
  unsaid,
} from './run.ts';
import type { Label } from './run-labels.ts';
import { type Refused, shareOut, take } from './run-shares.ts';
import type { ZoneSpec } from './spec.ts';
import { LONGEST, NONE, type Ticks, ticks } from './ticks.ts';

const START = 0;
const END = 1;

/** `regardless` of what is inside the zones: for a layout to be drawn where something inside does not fit. */
export function placeRun(run: Run, stretch: Stretch, sawStep: Ticks, regardless = false): RunResult {
  return 'kind' in run.chains ? run.chains : new Placement(run, run.chains, regardless).place(stretch, sawStep);
}

/** Between what lengths a run can be placed on; a conflict where on none, undefined where on none that a wall can have. */
export function lengthsOf(run: Run): ReturnType<Placement['lengths']> {
  return 'kind' in run.chains ? undefined : new Placement(run, run.chains).lengths();
}

/** What is inside a zone, as one bound of its width. */
interface Need {
  readonly zone: ZoneSpec;
  readonly inside: Inside;
  readonly side: 'least' | 'most';
  readonly width: Ticks;
}

class Placement {
  private readonly index: ReadonlyMap<ZoneSpec, number>;
  private readonly run: Run;
  private readonly chains: readonly Chain[];
  private readonly bounds: Bound<Label>[] = [];
  private readonly needs = new Map<Label, Need>();
  private stretch: Stretch = { length: NONE, inset: { left: NONE, right: NONE }, label: unsaid };
  private sawStep = NONE;

  constructor(run: Run, chains: readonly Chain[], regardless = false) {
    this.run = run;
    this.chains = chains;
    this.index = new Map(run.zones.map((z, i) => [z, i]));
    if (regardless) return;
    for (const [zone, inside] of run.inside) {
      const { needs } = inside;
      if (!needs || !zone.width) continue;
      const { least, most, labels } = needs;
      if (least > zone.width.least) this.needs.set(labels.least, { zone, inside, side: 'least', width: least });
      if (most !== undefined && (zone.width.most === undefined || most < zone.width.most))
        this.needs.set(labels.most, { zone, inside, side: 'most', width: most });
    }
  }

  place(stretch: Stretch, sawStep: Ticks): RunResult {
    this.stretch = stretch;
    this.sawStep = sawStep;
    const result = this.placed();
    return result.kind === 'conflict' && this.needs.size > 0 ? this.inWords(result) : result;
  }

  /**
   * Between what lengths the run can be placed on: the length is one more that is not known, as small or as great as the
   * statements let it be, in whole ticks. A conflict where there is no such length; undefined where it is none that a
   * wall can have.
   */
  lengths(): { readonly least: Ticks; readonly most: Ticks | undefined } | Conflicting | undefined {
    this.state();
    const groups = this.groups();
    if (groups.length === 0) {
      const solution = this.solve();
      if (solution.kind === 'impossible') return this.inWords(this.conflict(solution.conflict));
      const { least, most } = range(solution, START, END);
      return { least: least ?? NONE, most };
    }
    const between = { from: START, to: END, label: unsaid };
    const most = this.greatestOf(this.bounds, groups, between, LONGEST);
    if (!most) {
      const found = greatestShares(this.system(this.bounds, LONGEST), groups);
      return found.kind === 'impossible' ? this.inWords(refused(found)) : undefined;
    }
    const least = this.leastOf(this.bounds, groups, between, LONGEST);
    return least === undefined ? undefined : { least, most: most.length };
  }

  /** How long a stretch can be; `length` undefined where nothing limits it, all of it where the bounds do not hold. */
  private greatestOf(
    bounds: readonly Bound<Label>[],
    groups: readonly Share<Label>[][],
    between: Omit<Share<Label>, 'weight'>,
    longest: Ticks,
  ): { readonly length: Ticks | undefined } | undefined {
    const found = greatestShares(this.system(bounds, longest), [[{ ...between, weight: 1 }], ...groups]);
    if (found.kind !== 'greatest') return undefined;
    const [each] = found.each;
    return { length: each?.isLimited ? timesDown(each.length, 1) : undefined };
  }

  /** How short a stretch can be, up to `longest`: what it leaves of a longer one is as great as it can be. */
  private leastOf(
    bounds: readonly Bound<Label>[],
    groups: readonly Share<Label>[][],
    { from, to, label }: Omit<Share<Label>, 'weight'>,
    longest: Ticks,
  ): Ticks | undefined {
    const beyond = this.nodeCount;
    const system = {
      nodeCount: beyond + 1,
      bounds: [...bounds, { from, to: beyond, least: longest, most: longest, label: unsaid }],
      longest,
    };
    const found = greatestShares(system, [[{ from: to, to: beyond, weight: 1, label }], ...groups]);
    if (found.kind !== 'greatest') return undefined;
    const [each] = found.each;
    return each && ticks(longest - timesDown(each.length, 1));
  }

  /** What is said besides how long the run is. */
  private state(): void {
    for (const zone of this.run.zones) {
      const { width } = zone;
      this.bound(this.left(zone), this.right(zone), width?.least ?? NONE, width?.most, this.widthLabel(zone));
      const labels = this.run.inside.get(zone)?.needs?.labels;
      for (const label of labels ? [labels.least, labels.most] : []) {
        const need = this.needs.get(label);
        if (need) this.bounds.push({ from: this.left(zone), to: this.right(zone), [need.side]: need.width, label });
      }
    }
    for (const [i, chain] of this.chains.entries()) this.link(chain, i);
  }

  private placed(): RunResult {
    this.bound(START, END, this.stretch.length, this.stretch.length, this.stretch.label);
    this.state();
    const first = this.solve();
    if (first.kind === 'impossible') return this.withFewer(first.conflict);
    const settled = this.settle(first);
    if ('kind' in settled) return settled;
    const { final, loose } = settled;
    const at = this.run.mirrored ? greatestAssignment(final) : leastAssignment(final);
    const zones = new Map<ZoneSpec, Placed>();
    for (const zone of this.run.zones) {
      const [a, b] = [this.left(zone), this.right(zone)];
      const [from, to] = [at[a] as Ticks, at[b] as Ticks];
      const width = range(loose, a, b);
      zones.set(zone, {
        from: { value: from, least: loose.low[a] ?? from, most: loose.high[a] },
        width: { value: ticks(to - from), least: width.least ?? ticks(to - from), most: width.most },
      });
    }
    return { kind: 'placed', zones, left: holes(zones, this.stretch.length, this.stretch.inset) };
  }

  /** Chains are tied to their anchor, their zones to each other, and each chain to the one before. */
  private link({ zones, root, anchor }: Chain, i: number): void {
    const { start } = root;
    const { inset } = this.stretch;
    const rootLabel = this.startLabel(root);
    if (start.kind === 'end') {
      if (start.side === 'left') this.bound(START, this.left(root), inset.left, inset.left, rootLabel);
      else this.bound(this.right(root), END, inset.right, inset.right, rootLabel);
    } else if (start.kind === 'from') {
      const offset = start.offset.value;
      if (start.side === 'left') this.bound(START, this.left(root), offset, offset, rootLabel);
      else this.bound(this.right(root), END, offset, offset, rootLabel);
    }
    for (let k = 1; k < zones.length; k++) {
      const [a, b] = [zones[k - 1] as ZoneSpec, zones[k] as ZoneSpec];
      const beside = b.start.kind === 'next' && b.start.zone === a.name ? b : a;
      const by = beside.start.kind === 'next' ? beside.start.by : NONE;
      this.bound(this.right(a), this.left(b), by, by, this.startLabel(beside));
    }
    const previous = this.chains[i - 1];
    const next = this.chains[i + 1];
    const first = zones[0] as ZoneSpec;
    const final = zones.at(-1) as ZoneSpec;
    const rest = zones.find(takesRest);
    // Nothing reaches over the ends of the run, or into the chain before.
    const ownEnd = previous ? NONE : inset.left;
    const [before, after] = [
      previous ? this.right(previous.zones.at(-1) as ZoneSpec) : START,
      next ? this.left(next.zones[0] as ZoneSpec) : END,
    ];
    // What begins too far to one side, and what would leave room beside what takes the rest, are two statements.
    this.bound(before, this.left(first), ownEnd, undefined, previous ? rootLabel : this.stretch.label);
    if (!next) this.bound(this.right(final), END, inset.right, undefined, this.stretch.label);
    if (!rest) return;
    const label = this.widthLabel(rest);
    if (anchor !== 'left') this.bound(before, this.left(first), undefined, ownEnd, label);
    if (anchor !== 'right') this.bound(this.right(final), after, undefined, next ? NONE : inset.right, label);
  }

  /**
   * Fixes what the statements leave open: the greatest equal sides of what is centred, the greatest shares, and then
   * ranges, of which each takes its least.
   */
  private settle(first: Solved): { final: Solved; loose: Solved } | RunResult {
    const groups = this.groups();
    const shared = shareOut({ ...this.system(this.bounds), bounds: this.bounds, sawStep: this.sawStep }, groups);
    if (shared === 'undecided') return { kind: 'unsettled', zones: this.sharing() };
    if (shared && 'labels' in shared) return refused(shared);
    const final = this.leastRanges(shared ?? first);
    return { final, loose: shared ?? first };
  }

  /**
   * Ranges take their least, the first one first. As many as can be at their least together are taken at once: one by one
   * they would come to the same. Where one of them cannot, those after it have another least from then on.
   */
  private leastRanges(first: Solved): Solved {
    let solution = first;
    let left = this.run.zones.filter(({ width }) => width?.kind === 'range');
    while (left.length > 0) {
      const own = left.map((zone): Bound<Label> => {
        const [from, to] = [this.left(zone), this.right(zone)];
        const least = range(solution, from, to).least ?? NONE;
        return { from, to, least, most: least, label: this.widthLabel(zone) };
      });
      const many = mostThat(own.length, (count) =>
        holdTogether(this.nodeCount, [...this.bounds, ...own.slice(0, count)]),
      );
      const taken = take({ nodeCount: this.nodeCount, bounds: this.bounds }, own.slice(0, many));
      if (!taken) throw new Error('a width that can be taken cannot be taken');
      solution = taken;
      left = left.slice(many);
    }
    return solution;
  }

  /** The same conflict, or another one, in fewer statements where shares are equal too. */
  private withFewer(found: Conflict<Label>): RunResult {
    const groups = this.groups();
    if (groups.length === 0) return this.conflict(found);
    const system = this.system(this.bounds);
    const all = greatestShares(system, groups);
    const best = [fewestOf(system, groups, found.labels), all.kind === 'impossible' ? all : undefined]
      .filter((one) => one !== undefined)
      .reduce<Refused>((a, b) => (b.labels.length < a.labels.length ? b : a), found);
    return best === found ? this.conflict(found) : refused(best);
  }

  /**
   * A conflict in which the insides of zones take part, said by what they are made of: each inside fails on the width
   * that the others leave it, by statements none of which is superfluous there.
   */
  private inWords(found: Conflicting): Conflicting {
    let { labels, weights, excess } = found;
    const isRound = weights.size > 0;
    // What is at least too much: of an inside with shares how much exactly is not known, and one tick is.
    let over = excess;
    const inside = new Set<ZoneSpec>();
    const said: Bound<Label>[] = [];
    for (const label of found.labels) {
      const need = this.needs.get(label);
      if (!need) continue;
      const { zone } = need;
      inside.add(zone);
      const width = isRound ? withExcess(need, over) : this.roomFor(need, labels, said);
      const own = width === undefined ? undefined : this.failing(need, width);
      if (!own || width === undefined) continue;
      for (const one of own.inside) inside.add(one);
      const sign = need.side === 'least' ? 1 : -1;
      const at = { from: this.left(zone), to: this.right(zone), label };
      said.push({ ...at, [need.side]: ticks(width + sign * own.excess) });
      const counted = weights.size > 0 && own.weights.size > 0;
      weights = counted ? new Map([...weights, ...own.weights].filter(([one]) => one !== label)) : new Map();
      labels = labels.flatMap((one) => (one === label ? own.labels : [one]));
      excess = own.excess;
      over = own.weights.size > 0 ? own.excess : ticks(1);
    }
    return { kind: 'conflict', labels: [...new Set(labels)], weights, excess, inside };
  }

  /** How wide the other statements of a conflict let a zone be at most, or at least, where it cannot be so wide. */
  private roomFor({ zone, side }: Need, labels: readonly Label[], said: readonly Bound<Label>[]): Ticks | undefined {
    const kept = new Set(labels);
    const need = this.run.inside.get(zone)?.needs?.labels[side];
    if (need) kept.delete(need);
    const speaks = ({ label }: { readonly label: Label }): boolean => kept.has(label);
    const bounds = [...this.bounds.filter(speaks), ...said];
    const groups = this.groups().map((shares) => shares.filter(speaks));
    const between = { from: this.left(zone), to: this.right(zone), label: unsaid };
    return side === 'least'
      ? this.greatestOf(bounds, groups, between, this.longest)?.length
      : this.leastOf(bounds, groups, between, this.longest);
  }

  /** Why what is inside a zone does not go with a width of it; undefined where it does. */
  private failing({ zone, inside: { run, edges } }: Need, width: Ticks): Omit<Conflicting, 'kind'> | undefined {
    const none = new Set<ZoneSpec>();
    const lacking = (label: Label, excess: number): Omit<Conflicting, 'kind'> => ({
      labels: [label],
      weights: new Map([[label, 1]]),
      excess: ticks(excess),
      inside: none,
    });
    if (width < 0) return lacking(this.widthLabel(zone), -width);
    const length = ticks(width - edges.left - edges.right);
    if (length < 0 && edges.label) return lacking(edges.label, -length);
    const inset = { left: NONE, right: NONE };
    const found = placeRun(run, { length, inset, label: unsaid }, this.sawStep);
    if (found.kind !== 'conflict') return undefined;
    const labels = found.labels.flatMap((one) => (one !== unsaid ? [one] : edges.label ? [edges.label] : []));
    const weights = new Map([...found.weights].filter(([one]) => one !== unsaid));
    return { labels, weights, excess: found.excess, inside: found.inside };
  }

  /** No share is so long. */
  private get longest(): Ticks {
    return ticks(this.stretch.length + 1);
  }

  /** The zones that shares hang on. */
  private sharing(): ZoneSpec[] {
    const centred = this.chains.flatMap(({ root, anchor }) => (anchor === 'centred' ? [root] : []));
    return [...new Set([...centred, ...this.run.zones.filter(({ width }) => width?.kind === 'share')])];
  }

  /**
   * What is equal to each other: the room on both sides of a centred chain, and the shares of a chain. In the order in
   * which they stand as drawn, so that what is left of a saw step goes to the same one in the mirror.
   */
  private groups(): Share<Label>[][] {
    const { inset } = this.stretch;
    const asDrawn = <T>(all: readonly T[]): T[] => (this.run.mirrored ? all.toReversed() : [...all]);
    const centred = asDrawn(this.chains).flatMap(({ zones, root, anchor }): Share<Label>[][] => {
      if (anchor !== 'centred') return [];
      const side = { weight: 1, label: this.startLabel(root) };
      const [first, last] = [this.left(zones[0] as ZoneSpec), this.right(zones.at(-1) as ZoneSpec)];
      if (inset.left === 0 && inset.right === 0)
        return [
          asDrawn([
            { from: START, to: first, ...side },
            { from: last, to: END, ...side },
          ]),
        ];
      const [from, to] = [this.run.zones.length * 2 + 2, this.run.zones.length * 2 + 3];
      this.bound(START, from, inset.left, inset.left, this.stretch.label);
      this.bound(to, END, inset.right, inset.right, this.stretch.label);
      return [
        asDrawn([
          { from, to: first, ...side },
          { from: last, to, ...side },
        ]),
      ];
    });
    const shared = asDrawn(this.chains).map(({ zones }) =>
      asDrawn(zones).flatMap((zone): Share<Label>[] =>
        zone.width?.kind === 'share'
          ? [{ from: this.left(zone), to: this.right(zone), weight: zone.width.weight, label: this.widthLabel(zone) }]
          : [],
      ),
    );
    return [...centred, ...shared.filter((shares) => shares.length > 0)];
  }

  /** How long the run is counts as a length; that nothing reaches over its ends is said by the same statement, and is none. */
  private conflict(found: Conflict<Label>): Conflicting {
    const { label } = this.stretch;
    const own = found.parts.filter((part) => part.label !== label);
    const whole = found.parts.filter((part) => {
      const stated = this.bounds[part.bound];
      return part.label === label && stated?.from === START && stated.to === END;
    });
    return { ...refused(found), weights: weightsOf({ parts: [...own, ...whole] }) };
  }

  private system(bounds: readonly Bound<Label>[], longest = this.longest): Stretches<Label> {
    return { nodeCount: this.nodeCount, bounds, longest };
  }

  private solve(): ReturnType<typeof solve<Label>> {
    return solve(this.nodeCount, this.bounds);
  }

  /** The ends of the run and of its zones, and two for the ends between the insets. */
  private get nodeCount(): number {
    return 4 + 2 * this.run.zones.length;
  }

  private left(zone: ZoneSpec): number {
    return 2 + 2 * (this.index.get(zone) as number);
  }

  private right(zone: ZoneSpec): number {
    return this.left(zone) + 1;
  }

  private widthLabel(zone: ZoneSpec): Label {
    return (this.run.labels.get(zone) as Labels).width;
  }

  private startLabel(zone: ZoneSpec): Label {
    return (this.run.labels.get(zone) as Labels).start;
  }

  private bound(from: number, to: number, least: Ticks | undefined, most: Ticks | undefined, label: Label): void {
    this.bounds.push({ from, to, least, most, label });
  }
}

/** The greatest count up to `all` that holds, where one does and less holds if more does. */
function mostThat(all: number, holds: (count: number) => boolean): number {
  if (holds(all)) return all;
  let [low, high] = [1, all];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** Once round, all that there is too much of is too much of each. */
function withExcess({ side, width }: Need, excess: Ticks): Ticks {
  return ticks(side === 'least' ? width - excess : width + excess);
}

/** What no zone takes. */
export function holes(
  zones: ReadonlyMap<ZoneSpec, Placed>,
  length: Ticks,
  inset: Stretch['inset'],
): PlacedResult['left'] {
  const found: { from: Ticks; width: Ticks }[] = [];
  let reached: number = inset.left;
  let before: ZoneSpec | undefined;
  for (const [zone, { from, width }] of [...zones].sort(([, a], [, b]) => a.from.value - b.from.value)) {
    if (from.value > reached && !isStated(zone, before, from.value - reached)) {
      found.push({ from: ticks(reached), width: ticks(from.value - reached) });
    }
    reached = Math.max(reached, from.value + width.value);
    before = zone;
  }
  const end = length - inset.right;
  if (zones.size > 0 && end > reached) found.push({ from: ticks(reached), width: ticks(end - reached) });
  return found;
}

/** The room between two zones is what `after X by` or `before X by` says. */
function isStated(zone: ZoneSpec, before: ZoneSpec | undefined, room: number): boolean {
  const says = (z: ZoneSpec | undefined, other: ZoneSpec | undefined): boolean =>
    z?.start.kind === 'next' && z.start.zone === other?.name && z.start.by === room;
  return says(zone, before) || says(before, zone);
}

function refused({ labels, excess }: Refused): Conflicting {
  return { kind: 'conflict', labels, weights: new Map(), excess, inside: new Set() };
}
