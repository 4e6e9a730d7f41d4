/** A row of shelves at equal pitch: how many there are, and at which heights. */
import { type Finding, finding } from './finding.ts';
import { limits } from './limits.ts';
import * as rules from './rules.ts';
import { type Show, showLength, showRange } from './show.ts';
import type { RowSpec } from './spec.ts';
import { divide, type Ticks, ticks } from './ticks.ts';
import { tooMany } from './too-many.ts';

export interface RowSpace {
  /** The zone's path, for messages. */
  readonly zone: string;
  /** Underside of what bounds the row below and above. */
  readonly lower: Ticks;
  readonly upper: Ticks;
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
  return heights;
}
