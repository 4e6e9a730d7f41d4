/**
 * Moments over the supports of a continuous beam. Cut at its supports, the beam is a row of simple
 * spans whose end rotations are known in closed form; the moments follow from neighbours turning
 * alike at the support between them (the equation of three moments, with shear deformation).
 */
import type { Support } from './beam-input.ts';
import type { Rigidity } from './section.ts';
import { AT_REST } from './segment.ts';
import { type Cut, march, simpleShear } from './stretch.ts';

/** End rotations of a simple span: at the left f M_left + g M_right + left, at the right -(g M_left + f M_right) + right. */
interface Turning {
  readonly f: number;
  readonly g: number;
  readonly left: number;
  readonly right: number;
}

function turning(span: Cut, rigidity: Rigidity): Turning {
  const length = span.to - span.from;
  const slip = rigidity.shear === undefined ? 0 : 1 / (rigidity.shear * length);
  const { end } = march(span, { ...AT_REST, shear: simpleShear(span) }, rigidity);
  const left = -end.deflection / length;
  return {
    f: length / (3 * rigidity.bending) + slip,
    g: length / (6 * rigidity.bending) - slip,
    left,
    right: end.rotation + left,
  };
}

/** Sagging moments, N m, that overhangs put on the first and the last support. */
export interface Overhanging {
  readonly left: number;
  readonly right: number;
}

/** Moments at the left and the right end of every span, N m. */
export function supportMoments(
  supports: readonly Support[],
  spans: readonly Cut[],
  rigidity: Rigidity,
  overhanging: Overhanging,
): (readonly [left: number, right: number])[] {
  const turns = spans.map((span) => turning(span, rigidity));
  const found: (readonly [number, number])[] = [];
  // A fixed support parts the beam: each run from one to the next is solved by itself.
  for (let begin = 0; begin < spans.length; ) {
    let end = begin + 1;
    while (end < spans.length && supports[end]?.hold === 'rest') end++;
    const rows: Row[] = [];
    for (let i = begin; i <= end; i++) {
      const rests = supports[i]?.hold === 'rest';
      if (rests && i === 0) rows.push(knownMoment(overhanging.left));
      else if (rests && i === spans.length) rows.push(knownMoment(overhanging.right));
      else rows.push(turnAlike(i > begin ? turns[i - 1] : undefined, i < end ? turns[i] : undefined));
    }
    const moments = solveTridiagonal(rows);
    for (let i = 0; i < end - begin; i++) found.push([moments[i] as number, moments[i + 1] as number]);
    begin = end;
  }
  return found;
}

interface Row {
  readonly below: number;
  readonly diagonal: number;
  readonly above: number;
  readonly right: number;
}

function knownMoment(moment: number): Row {
  return { below: 0, diagonal: 1, above: 0, right: moment };
}

/** The span on the left turns at its right end as the one on the right does at its left; a missing one does not turn. */
function turnAlike(onLeft: Turning | undefined, onRight: Turning | undefined): Row {
  return {
    below: onLeft?.g ?? 0,
    diagonal: (onLeft?.f ?? 0) + (onRight?.f ?? 0),
    above: onRight?.g ?? 0,
    right: (onLeft?.right ?? 0) - (onRight?.left ?? 0),
  };
}

/** Elimination down and back. |g| < f in every span, so the diagonal dominates and no pivoting is needed. */
function solveTridiagonal(rows: readonly Row[]): number[] {
  const above: number[] = [];
  const solved: number[] = [];
  rows.forEach((row, i) => {
    const pivot = row.diagonal - row.below * (above[i - 1] ?? 0);
    above.push(row.above / pivot);
    solved.push((row.right - row.below * (solved[i - 1] ?? 0)) / pivot);
  });
  for (let i = rows.length - 2; i >= 0; i--) {
    solved[i] = (solved[i] as number) - (above[i] as number) * (solved[i + 1] as number);
  }
  return solved;
}
