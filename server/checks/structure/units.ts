/**
 * Units of the structure rules. Everything is computed in SI: metres, newtons, pascals, kilograms.
 * Factors: NIST SP 811 appendix B; the inch, the pound and standard gravity are exact by definition.
 */
import { TICKS_PER_MM, type Ticks } from '../../model/ticks.ts';

/** m. */
export const INCH = 0.0254;
/** kg. */
export const POUND = 0.45359237;
/** Standard gravity, m/s2. */
export const GRAVITY = 9.80665;
/** Pound-force, N. */
export const POUND_FORCE = POUND * GRAVITY;
/** Pound-force per square inch, Pa. */
export const PSI = POUND_FORCE / (INCH * INCH);
/** Pound-force per square foot, Pa. */
export const PSF = PSI / 144;
/** Pound-force per foot, N/m. */
export const PLF = POUND_FORCE / (12 * INCH);

/** A length of the layout in metres. */
export function metres(length: Ticks): number {
  return length / (TICKS_PER_MM * 1000);
}

/** Nothing in a formula may be nought, negative, infinite or not a number. */
export function positive(...values: readonly number[]): boolean {
  return values.every((value) => Number.isFinite(value) && value > 0);
}
