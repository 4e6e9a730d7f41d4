/** Free-standing towers that tip: when rules of the United States on clothing storage units come in, and what tall things need. Built-ins fastened for good are outside the first. */
import { inches, type Ticks } from '../../model/ticks.ts';
import { cubicFeet } from '../light/exact.ts';
import { published } from './sources.ts';

export const clothingStorage = {
  high: inches(27),
  /** Pounds. Drawers are bought as boxes and nothing says what they weigh, so it is told and not compared. */
  mass: 30,
  /** Cubic feet, enclosed. */
  volume: 3.2,
  source: published('Standard for clothing storage units, ASTM F2057-23', '16 CFR 1261', '88 FR 28403, 2023'),
} as const;

export interface FreeStanding {
  readonly height: Ticks;
  /** Enclosed by drawers, cubic ticks. */
  readonly enclosed: bigint;
}

/** High and large enough to be a clothing storage unit, if it is also heavy enough. 3.2 cubic feet are 16 fifths. */
export function mayBeClothingStorage({ height, enclosed }: FreeStanding): boolean {
  return height >= clothingStorage.high && 5n * enclosed >= cubicFeet(16);
}

export const tallThings = {
  /** 6 ft. */
  high: inches(72),
  source: published(
    'Oregon State University construction standards',
    'division 12 00 00, furnishings',
    'edition not stated',
  ),
} as const;
