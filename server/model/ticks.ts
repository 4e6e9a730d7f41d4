/**
 * Exact lengths. A tick is 25 nm, the largest length in which 1/64 in, 0.001 in and 0.001 mm are
 * all whole numbers: 15,875, 1,016 and 40 ticks (1 in = 25.4 mm exactly, NIST SP 811 appendix B).
 * All geometry is done in whole ticks; 2^53 ticks are some 225,000 km, so plain numbers are exact.
 */

import { limits } from './limits.ts';

declare const tickBrand: unique symbol;

/** A length in whole ticks of 25 nm. Branded, so that a count is never taken for a length. */
export type Ticks = number & { readonly [tickBrand]: true };

export const TICKS_PER_INCH = 1_016_000;
export const TICKS_PER_MM = 40_000;
export const TICKS_PER_FOOT = 12 * TICKS_PER_INCH;

/** The longest length that may be written: 1 km. Anything longer is a slip of the unit of measure. */
export const LONGEST = ticks(limits.longestLength.most * TICKS_PER_MM);

/** Takes a whole number as ticks. Throws on a fraction: that is a mistake of ours, not of a designer. */
export function ticks(value: number): Ticks {
  if (!Number.isSafeInteger(value)) throw new RangeError(`not a whole number of ticks: ${value}`);
  return (value === 0 ? 0 : value) as Ticks;
}

export const NONE = ticks(0);

/** Whole or binary-fraction inches to ticks, for defaults in our own tables (not for user text). */
export function inches(value: number): Ticks {
  return ticks(value * TICKS_PER_INCH);
}

export function millimetres(value: number): Ticks {
  return ticks(value * TICKS_PER_MM);
}

export function add(...lengths: readonly Ticks[]): Ticks {
  let sum = 0;
  for (const length of lengths) sum += length;
  return ticks(sum);
}

export function subtract(a: Ticks, b: Ticks): Ticks {
  return ticks(a - b);
}

export function least(...lengths: readonly Ticks[]): Ticks {
  return ticks(Math.min(...lengths));
}

export function greatest(...lengths: readonly Ticks[]): Ticks {
  return ticks(Math.max(...lengths));
}

/** Rounds down to a multiple of `step`, towards minus infinity. */
export function roundDown(length: Ticks, step: Ticks): Ticks {
  return step <= 0 ? length : ticks(Math.floor(length / step) * step);
}

/** Rounds up to a multiple of `step`, towards plus infinity. */
export function roundUp(length: Ticks, step: Ticks): Ticks {
  return step <= 0 ? length : ticks(Math.ceil(length / step) * step);
}

/**
 * Divides a length into `shares` whole parts. Each part is a multiple of `step` as far as that goes;
 * what is left over is handed out one step at a time from the first part on, and what is smaller
 * than a step goes to the last. The parts always add up to the length.
 */
export function divide(length: Ticks, shares: number, step: Ticks): Ticks[] {
  if (shares <= 0) return [];
  const unit = step > 0 ? step : ticks(1);
  const steps = Math.floor(length / unit);
  const each = Math.floor(steps / shares);
  const spare = steps - each * shares;
  const parts: Ticks[] = [];
  for (let i = 0; i < shares; i++) parts.push(ticks((each + (i < spare ? 1 : 0)) * unit));
  parts[shares - 1] = ticks((parts[shares - 1] as number) + (length - steps * unit));
  return parts;
}
