/**
 * Shares: what is equal to each other, such as the zones of a chain that share what is left, or the room on both sides of what
 * is centred. Each group takes the greatest that the statements leave it, in steps of the saw as far as they hold.
 */
import { type Bound, range, type Solved, solve } from './constraints.ts';
import { greatestShares, type Length, type Share, type Stretches, sharesAt, timesDown } from './equal-shares.ts';
import type { Label } from './run-labels.ts';
import { add, divide, NONE, type Ticks } from './ticks.ts';

/** What shares are settled among: what is said, to which what is settled is added. */
export interface Settling extends Stretches<Label> {
  readonly bounds: Bound<Label>[];
  readonly sawStep: Ticks;
}

/** Statements that do not hold together, and by how much. */
export interface Refused {
  readonly labels: readonly Label[];
  readonly excess: Ticks;
}

/** The shares settled, if there are any; or what stands against them. */
export type Shared = Solved | Refused | 'undecided' | undefined;

/** Gives each group its greatest shares, added to `bounds`; undefined where there is nothing to share. */
export function shareOut(at: Settling, groups: readonly Share<Label>[][]): Shared {
  const before = at.bounds.length;
  const shared = oneByOne(at, groups);
  if (groups.length < 2 || !shared || shared === 'undecided' || !('labels' in shared)) return shared;
  // As much as one group can have may be more than the next one leaves it.
  at.bounds.length = before;
  return together(at, groups);
}

function oneByOne(at: Settling, groups: readonly Share<Label>[][]): Shared {
  let solution: Solved | undefined;
  for (const shares of groups) {
    const found = greatestShares(at, [shares]);
    if (found.kind === 'undecided') return 'undecided';
    if (found.kind === 'impossible') return found;
    const [each] = found.each;
    if (!each?.isLimited) continue;
    solution = take(at, inSteps(shares, each.length, at.sawStep)) ?? toTheTick(at, [{ shares, each: each.length }]);
  }
  return solution;
}

/** The greatest of the first group that all others go with, then of the second: in steps as far as they all hold. */
function together(at: Settling, groups: readonly Share<Label>[][]): Shared {
  let found = greatestShares(at, groups);
  if (found.kind === 'undecided') return 'undecided';
  if (found.kind === 'impossible') return found;
  let solution: Solved | undefined;
  for (const [i, shares] of groups.entries()) {
    const [each] = found.each;
    if (each?.isLimited) {
      const before = at.bounds.length;
      const taken = take(at, inSteps(shares, each.length, at.sawStep));
      const next = greatestShares(at, groups.slice(i + 1));
      if (!taken || next.kind !== 'greatest') {
        at.bounds.length = before;
        const { each: lengths } = found;
        const rest = groups.slice(i).flatMap((own, k) => {
          const length = lengths[k];
          return length?.isLimited ? [{ shares: own, each: length.length }] : [];
        });
        return toTheTick(at, rest);
      }
      solution = taken;
      found = next;
    } else found = { ...found, each: found.each.slice(1) };
  }
  return solution;
}

/** Shares of a length in steps of the saw, which add up to the same. */
function inSteps(shares: readonly Share<Label>[], each: Length, sawStep: Ticks): Bound<Label>[] {
  const isCentred = shares.some(({ label }) => label.role === 'start');
  const count = shares.reduce((sum, { weight }) => sum + weight, 0);
  const parts = divide(timesDown(each, count), count, sawStep);
  // What is left of a step stands at the left of what is centred, as drawn.
  const steps = isCentred ? parts.reverse() : parts;
  return shares.map(({ from, to, weight, label }) => {
    const length = add(...steps.splice(0, weight));
    return { from, to, least: length, most: length, label };
  });
}

/** The solution with these bounds, which stay; undefined, and none of them stays, where they do not go with the others. */
export function take(
  { nodeCount, bounds }: Pick<Settling, 'nodeCount' | 'bounds'>,
  more: readonly Bound<Label>[],
): Solved | undefined {
  const before = bounds.length;
  bounds.push(...more);
  const solution = solve(nodeCount, bounds);
  if (solution.kind === 'solved') return solution;
  bounds.length = before;
  return undefined;
}

/** Where no shares in steps of the saw hold, each is equal to the tick above or below. */
function toTheTick(
  at: Settling,
  groups: readonly { readonly shares: readonly Share<Label>[]; readonly each: Length }[],
): Solved {
  let solution = take(
    at,
    groups.flatMap(({ shares, each }) => sharesAt(shares, each)),
  );
  for (const { from, to, label } of groups.flatMap(({ shares }) => shares)) {
    const length = solution && (range(solution, from, to).least ?? NONE);
    solution = length === undefined ? undefined : take(at, [{ from, to, least: length, most: length, label }]);
  }
  if (!solution) throw new Error('shares that hold do not hold');
  return solution;
}
