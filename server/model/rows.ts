/** A row of shelves at equal pitch: how many there are, and at which heights. */
import { placeOf } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Comparison, type Finding, finding } from './finding.ts';
import type { Range } from './layout.ts';
import { limits } from './limits.ts';
import * as rules from './rules.ts';
import type { Label } from './run-labels.ts';
import { type Show, showLength, showRange } from './show.ts';
import type { FittingSpec, RowSpec } from './spec.ts';
import { add, divide, greatest, least, NONE, subtract, type Ticks, ticks } from './ticks.ts';
import { tooMany } from './too-many.ts';

export interface RowSpace {
  /** The zone's path, for messages. */
  readonly zone: string;
  /** Underside of what bounds the row below and above. */
  readonly lower: Ticks;
  readonly upper: Ticks;
  /** Thickness of what bounds it below. */
  readonly below: Ticks;
  /** Of one shelf. */
  readonly thickness: Ticks;
  readonly sawStep: Ticks;
  readonly show: Show;
  readonly report: (f: Finding) => void;
}

/** The undersides of the shelves of a row, from below. Empty where none can stand, which has been reported. */
export function rowHeights(f: RowSpec, space: RowSpace): Ticks[] {
  const { zone, lower, upper, thickness, sawStep, show, report } = space;
  const mostInRow = limits.mostInRow.most;
  const stretch = ticks(upper - lower);
  const tooClose = (shelves: number): Ticks[] => {
    report(
      tooMany('mostInRow', f.pitch?.place ?? f.place, {
        who: `Row "${f.name}" comes to`,
        count: shelves,
        what: 'shelves',
        advice: 'Write a greater pitch, or a count.',
        about: `${zone}.${f.name}`,
      }),
    );
    return [];
  };
  let count = f.count;
  if (count === undefined && f.pitch) {
    const { least, most, place } = f.pitch;
    if (most <= thickness) {
      report(
        finding(
          rules.heightsConflict,
          place,
          `A pitch of ${showLength(most, show)} leaves no room above shelves ${showLength(thickness, show)} thick.`,
          { about: `${zone}.${f.name}` },
        ),
      );
      return [];
    }
    if (least === most) {
      // At just this pitch from below; what is left over is above the highest.
      const fits = Math.floor((stretch - thickness) / least);
      if (fits > mostInRow) return tooClose(fits);
      const heights: Ticks[] = [];
      for (let at = lower + least; at + thickness <= upper; at += least) heights.push(ticks(at));
      return heights;
    }
    count = Math.ceil(stretch / most) - 1;
    if (count < 1 || stretch < (count + 1) * least) {
      report(
        finding(
          rules.heightsConflict,
          place,
          `Between ${f.lower ?? 'the floor'} and ${f.upper} there are ${showLength(stretch, show)}: no number of shelves divides that at a pitch of ${showRange(least, most, show)}.`,
          {
            about: `${zone}.${f.name}`,
            advice: 'Widen the range of the pitch.',
          },
        ),
      );
      return [];
    }
  }
  if (count === undefined) return [];
  if (count > mostInRow) return tooClose(count);
  const spaces = divide(stretch, count + 1, sawStep);
  const heights: Ticks[] = [];
  let at: number = lower;
  for (const space of spaces.slice(0, count)) {
    at += space;
    heights.push(ticks(at));
  }
  const crowded = crowdedFinding(f, heights, space);
  if (!crowded) return heights;
  report(crowded);
  return [];
}

/** One finding for the row where its shelves, or the first and what is below it, lie in one another; each pair says no more. */
function crowdedFinding(f: RowSpec, heights: readonly Ticks[], space: RowSpace): Finding | undefined {
  const { zone, lower, upper, below, thickness, sawStep, show } = space;
  const count = heights.length;
  const spaces = heights
    .map((at, i) => subtract(at, heights[i - 1] ?? lower))
    .concat(subtract(upper, heights.at(-1) ?? lower));
  const [first = NONE, ...others] = spaces;
  const isCrowded = others.some((other) => other < thickness);
  if (!isCrowded && first >= below) return undefined;
  const stretch = subtract(upper, lower);
  const fits = mostThatFit(count, (shelves) => {
    const [lowest = NONE, ...rest] = divide(stretch, shelves + 1, sawStep);
    return lowest >= below && rest.every((other) => other >= thickness);
  });
  const [from, to] = [f.lower ?? 'the floor', f.upper];
  const place = f.countPlace ?? f.pitch?.place ?? f.place;
  const apart = `put ${from} and ${to} further apart`;
  const compare = (what: string, measured: Ticks, limit: Ticks): Comparison => ({
    what,
    measured: { ticks: measured },
    relation: 'at least',
    limit: { ticks: limit },
  });
  return finding(
    rules.heightsConflict,
    place,
    isCrowded
      ? `Row "${zone}.${f.name}" has ${count} shelves ${showLength(thickness, show)} thick in the ${showLength(stretch, show)} from ${from} to ${to}: each gets no more than ${showLength(greatest(...others), show)}, so one stands in the next.`
      : `Row "${zone}.${f.name}" begins at ${showLength(add(lower, first), show)}, and ${from} below it reaches up to ${showLength(add(lower, below), show)}.`,
    {
      about: `${zone}.${f.name}`,
      advice:
        fits === 0
          ? `No shelf finds room there: leave the row out, or ${apart}.`
          : f.count === undefined
            ? `Write a greater pitch, or ${apart}.`
            : `Write a count of ${fits} or less, or ${apart}.`,
      fixes: fits > 0 && f.countPlace ? [{ ...written(f.countPlace, `count ${fits}`), byHand: true }] : [],
      comparison: isCrowded
        ? compare(`height for each shelf of row "${zone}.${f.name}"`, least(...others), thickness)
        : compare(`height between "${zone}.${from}" and row "${zone}.${f.name}"`, first, below),
    },
  );
}

/** The greatest number below `count` that finds room; fewer always need less. */
function mostThatFit(count: number, fits: (shelves: number) => boolean): number {
  let shelves = count - 1;
  while (shelves > 0 && !fits(shelves)) shelves--;
  return shelves;
}

/** The fittings with those rows turned round that take part in a conflict of heights and name a fitting at either end. */
export function turnedRows(
  fittings: readonly FittingSpec[],
  labels: readonly Label[],
): { readonly fittings: readonly FittingSpec[]; readonly rows: readonly RowSpec[] } {
  const rows: RowSpec[] = [];
  const turned = fittings.map((f) => {
    if (f.kind !== 'row' || f.lower === undefined) return f;
    if (!labels.some(({ place }) => place === f.place || place === f.pitch?.place)) return f;
    rows.push(f);
    return { ...f, lower: f.upper, upper: f.lower };
  });
  return { fittings: turned, rows };
}

/** A row between two fittings of which the first is the upper one. `at`: where the fittings of its zone stand. */
export function turnedFinding(row: RowSpec, at: ReadonlyMap<string, Range>, zone: string, show: Show): Finding {
  const { ends, name, lower = '', upper } = row;
  const [first, last] = [at.get(lower)?.value ?? NONE, at.get(upper)?.value ?? NONE];
  const place = ends ? placeOf(ends.lower.statement, { start: ends.lower.start, end: ends.upper.end }) : row.place;
  return finding(
    rules.heightsConflict,
    place,
    `Row "${zone}.${name}" goes from ${lower}, at ${showLength(first, show)}, up to ${upper}, at ${showLength(last, show)}, which is ${showLength(subtract(first, last), show)} lower.`,
    {
      about: `${zone}.${name}`,
      advice: `Write the lower one first: between ${upper} and ${lower}.`,
      fixes: ends
        ? [
            {
              title: `Write between ${upper} and ${lower}`,
              edits: [
                { place: ends.lower, text: upper },
                { place: ends.upper, text: lower },
              ],
            },
          ]
        : [],
      comparison: {
        what: `height from "${zone}.${lower}" up to "${zone}.${upper}"`,
        measured: { ticks: subtract(last, first) },
        relation: 'at least',
        limit: { ticks: NONE },
      },
    },
  );
}
