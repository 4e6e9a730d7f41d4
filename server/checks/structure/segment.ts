/**
 * A straight, uniform beam between two places where its load changes: shear is linear, moment a
 * parabola, deflection of the fourth degree, all known in closed form from the state at its start.
 *
 * Signs: x from left to right, load and deflection v positive downwards, moment M positive where the
 * beam sags. V = dM/dx, dV/dx = -q. With shear deformation (Timoshenko): the rotation r of the section
 * follows dr/dx = -M / EI, and dv/dx = r + V / GA'.
 */
import { rootsWithin } from './roots.ts';
import type { Rigidity } from './section.ts';

export interface State {
  /** v, m, downwards. */
  readonly deflection: number;
  /** r, rad. */
  readonly rotation: number;
  /** M, N m, sagging. */
  readonly moment: number;
  /** V, N. */
  readonly shear: number;
}

export const AT_REST: State = { deflection: 0, rotation: 0, moment: 0, shear: 0 };

export interface Segment {
  /** m from the left end of the beam. */
  readonly from: number;
  readonly length: number;
  /** Uniform load q, N/m, downwards. */
  readonly load: number;
  readonly start: State;
}

/** The state at `t` metres from the start of the segment. */
export function stateWithin({ start, load }: Segment, t: number, { bending, shear }: Rigidity): State {
  const { moment: m, shear: v } = start;
  const slip = shear === undefined ? 0 : (v * t - (load * t * t) / 2) / shear;
  return {
    deflection:
      start.deflection +
      start.rotation * t -
      ((m * t ** 2) / 2 + (v * t ** 3) / 6 - (load * t ** 4) / 24) / bending +
      slip,
    rotation: start.rotation - (m * t + (v * t ** 2) / 2 - (load * t ** 3) / 6) / bending,
    moment: m + v * t - (load * t * t) / 2,
    shear: v - load * t,
  };
}

/** A value and where it occurs, m from the left end of the beam. */
export interface Extreme {
  readonly at: number;
  readonly amount: number;
}

export interface Extremes {
  readonly deflection: Extreme;
  /** The greatest deflection downwards; nought where all of it rises. */
  readonly sag: Extreme;
  readonly moment: Extreme;
  readonly shear: Extreme;
}

/** The greatest deflection, moment and shear by size, each with its sign. Of equal ones the leftmost. */
export function extremes(segments: readonly Segment[], rigidity: Rigidity): Extremes {
  const first = segments[0]?.from ?? 0;
  const [deflection, sag, moment, shear] = [
    new Greatest(first),
    new Greatest(first),
    new Greatest(first),
    new Greatest(first),
  ];
  for (const segment of segments) {
    const { from, length, load, start } = segment;
    const flexible = rigidity.shear ?? Number.POSITIVE_INFINITY;
    // dv/dx as a polynomial; at its roots the deflection is greatest, else at an end.
    const slope = [
      start.rotation + start.shear / flexible,
      -start.moment / rigidity.bending - load / flexible,
      -start.shear / (2 * rigidity.bending),
      load / (6 * rigidity.bending),
    ];
    for (const t of [0, ...rootsWithin(slope, 0, length), length]) {
      const { deflection: amount } = stateWithin(segment, t, rigidity);
      deflection.see(from + t, amount);
      sag.see(from + t, Math.max(0, amount));
    }
    const turn = load === 0 ? 0 : start.shear / load;
    for (const t of [0, ...(turn > 0 && turn < length ? [turn] : []), length]) {
      moment.see(from + t, stateWithin(segment, t, rigidity).moment);
    }
    shear.see(from, start.shear);
    shear.see(from + length, start.shear - load * length);
  }
  return { deflection: deflection.found, sag: sag.found, moment: moment.found, shear: shear.found };
}

class Greatest {
  private at: number;
  private amount = 0;

  constructor(at: number) {
    this.at = at;
  }

  see(at: number, amount: number): void {
    // What is not a number is greater than nothing: it would be passed over, and is to be seen.
    if (!Number.isFinite(this.amount) || Math.abs(amount) <= Math.abs(this.amount)) return;
    this.at = at;
    this.amount = amount;
  }

  get found(): Extreme {
    return { at: this.at, amount: this.amount };
  }
}
