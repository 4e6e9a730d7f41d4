/**
 * Greatest deflection of the simplest beams in closed form: kb W L3 / (E I) + ks W L / (G A'), W the
 * whole load. Formula: USDA Wood Handbook (GTR-190), equation 9-2; coefficients of its Table 9-1 from
 * memory, and borne out by published examples (tests/outside/structure-beams.test.ts).
 */
import type { Rigidity } from './section.ts';

export interface Coefficients {
  readonly bending: number;
  readonly shear: number;
}

export const coefficients = {
  'simple-uniform': { bending: 5 / 384, shear: 1 / 8 },
  'simple-middle': { bending: 1 / 48, shear: 1 / 4 },
  'fixed-uniform': { bending: 1 / 384, shear: 1 / 8 },
  'fixed-middle': { bending: 1 / 192, shear: 1 / 4 },
  'cantilever-uniform': { bending: 1 / 8, shear: 1 / 2 },
  'cantilever-tip': { bending: 1 / 3, shear: 1 },
} as const satisfies Record<string, Coefficients>;

export type SimplestBeam = keyof typeof coefficients;

/** Greatest deflection, m. `load` is the whole load in N, `length` the span or cantilever in m. */
export function simplestDeflection(beam: SimplestBeam, load: number, length: number, rigidity: Rigidity): number {
  const { bending, shear } = coefficients[beam];
  const slip = rigidity.shear === undefined ? 0 : (shear * load * length) / rigidity.shear;
  return (bending * load * length ** 3) / rigidity.bending + slip;
}
