/**
 * Areas, volumes and distances without rounding. A square of ticks does not fit a plain number, so
 * whole numbers of any size stand for it; a limit that is just met is met.
 */
import type { Box } from '../../model/layout.ts';
import { TICKS_PER_FOOT, type Ticks, ticks } from '../../model/ticks.ts';
import { gaps } from '../room.ts';

export function area(a: Ticks, b: Ticks): bigint {
  return BigInt(a) * BigInt(b);
}

export function volume(a: Ticks, b: Ticks, c: Ticks): bigint {
  return area(a, b) * BigInt(c);
}

/** In square ticks. */
export function squareFeet(feet: number): bigint {
  return BigInt(feet) * BigInt(TICKS_PER_FOOT) ** 2n;
}

/** In cubic ticks. */
export function cubicFeet(feet: number): bigint {
  return squareFeet(feet) * BigInt(TICKS_PER_FOOT);
}

/** Square of the least distance between two boxes; nought where they touch or overlap. */
export function squaredDistance(a: Box, b: Box): bigint {
  let sum = 0n;
  for (const gap of Object.values(gaps(a, b))) {
    const apart = BigInt(Math.max(0, gap));
    sum += apart * apart;
  }
  return sum;
}

/**
 * The least distance between two boxes, rounded down to a tick. For whole limits that changes
 * nothing: the root of a number is below a whole number just when its floor is.
 */
export function distance(a: Box, b: Box): Ticks {
  return ticks(Number(rootOf(squaredDistance(a, b))));
}

/** The greatest whole number whose square is not above it (Newton's way, from above). */
export function rootOf(square: bigint): bigint {
  if (square < 2n) return square;
  let root = 1n << BigInt(Math.ceil(square.toString(2).length / 2));
  for (;;) {
    const next = (root + square / root) >> 1n;
    if (next >= root) return root;
    root = next;
  }
}
