/**
 * How far a beam may span: in closed form for a simple span without shear deformation, by halving a
 * bracket for any other. Metres, newtons, N m2.
 */

import { solveBeam } from './beam.ts';
import type { Beam } from './beam-input.ts';
import { allowedOver, compareStretches, type DeflectionLimit } from './limits.ts';
import { positive } from './units.ts';

/**
 * Greatest simple span under a uniform load w: from 5 w L4 / (384 E I) <= L / n, L = (384 E I / (5 n w))^(1/3);
 * from <= d, L = (384 E I d / (5 w))^(1/4). Undefined where a number is not positive or nothing is asked for.
 */
export function greatestUniformSpan(bending: number, perMetre: number, limit: DeflectionLimit): number | undefined {
  return smallest(
    bending,
    perMetre,
    limit,
    (ratio) => Math.cbrt((384 * bending) / (5 * ratio * perMetre)),
    (most) => ((384 * bending * most) / (5 * perMetre)) ** 0.25,
  );
}

/** Greatest simple span under a load P in its middle: P L3 / (48 E I). Undefined as above. */
export function greatestMiddleSpan(bending: number, force: number, limit: DeflectionLimit): number | undefined {
  return smallest(
    bending,
    force,
    limit,
    (ratio) => Math.sqrt((48 * bending) / (ratio * force)),
    (most) => Math.cbrt((48 * bending * most) / force),
  );
}

function smallest(
  bending: number,
  load: number,
  { ratio, most }: DeflectionLimit,
  byRatio: (ratio: number) => number,
  byMost: (most: number) => number,
): number | undefined {
  if (!positive(bending, load, ratio ?? 1, most ?? 1)) return undefined;
  const spans = [...(ratio === undefined ? [] : [byRatio(ratio)]), ...(most === undefined ? [] : [byMost(most)])];
  return spans.length === 0 ? undefined : Math.min(...spans);
}

export interface Bracket {
  readonly from: number;
  readonly to: number;
  /** How near the answer comes to the greatest that passes; it is never greater. */
  readonly within: number;
}

/**
 * The greatest value that passes, where all smaller ones pass too. Undefined where not even `from`
 * does; `to` where everything does.
 */
export function greatestPassing(passes: (value: number) => boolean, { from, to, within }: Bracket): number | undefined {
  if (!passes(from)) return undefined;
  if (passes(to)) return to;
  let [good, bad] = [from, to];
  while (bad - good > within) {
    const middle = good + (bad - good) / 2;
    if (middle <= good || middle >= bad) break;
    if (passes(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** True where the beam can be computed and no stretch deflects more than the limit allows. */
export function staysWithin(beam: Beam, limit: DeflectionLimit, creep = 1): boolean {
  const answer = solveBeam(beam);
  return answer.kind === 'solved' && compareStretches(answer, limit, creep).every(({ holds }) => holds);
}

/**
 * The greatest length of a beam, made anew for every length, that stays within the limit; at most
 * `longest`, to 0.1 mm. Everything of the beam has to grow with its length for this to be the only answer.
 */
export function greatestLength(
  make: (length: number) => Beam,
  limit: DeflectionLimit,
  longest: number,
  creep = 1,
): number | undefined {
  if (!Number.isFinite(allowedOver(1, limit))) return undefined;
  return greatestPassing((length) => staysWithin(make(length), limit, creep), {
    from: 1e-3,
    to: longest,
    within: 1e-4,
  });
}
