/**
 * Free-standing furniture with drawers that tips onto children, and old paint: when the rules of the
 * United States on either come into it. Built-ins that are fastened for good are outside the first.
 */
import { inches, type Ticks } from '../../model/ticks.ts';
import { squareFeet } from '../light/exact.ts';
import { published } from './sources.ts';

export const clothingStorage = {
  high: inches(27),
  /** Pounds. */
  mass: 30,
  /** Cubic feet. */
  volume: 3.2,
  source: published('Standard for clothing storage units, ASTM F2057-23', '16 CFR 1261', '88 FR 28403, 2023'),
} as const;

export interface FreeStanding {
  readonly builtIn: boolean;
  /** Drawers or hinged doors. */
  readonly drawersOrDoors: boolean;
  readonly height: Ticks;
  /** Pounds. */
  readonly mass: number;
  /** Enclosed, cubic feet. */
  readonly volume: number;
}

/** All of them together make a clothing storage unit. */
export function isClothingStorage({ builtIn, drawersOrDoors, height, mass, volume }: FreeStanding): boolean {
  if (builtIn || !drawersOrDoors) return false;
  const { high, mass: heavy, volume: large } = clothingStorage;
  return height >= high && mass >= heavy && volume >= large;
}

export const leadPaint = {
  /** Dwellings built before this year. */
  before: 1978,
  /** Painted surface disturbed in one room, inside. */
  room: squareFeet(6),
  source: published(
    'Renovation, repair and painting rule, as quoted at thehtrc.com',
    '40 CFR 745.82 and 745.83',
    'edition not stated in the copy',
  ),
} as const;

export interface OldPaint {
  readonly built: number;
  /** Painted surface disturbed in the room, square ticks; jobs within 30 days add up, and what is taken out counts whole. */
  readonly disturbed: bigint;
  /** Demolition, windows and banned ways of working are never minor. */
  readonly demolition: boolean;
}

export function paintRuleApplies({ built, disturbed, demolition }: OldPaint): boolean {
  return built < leadPaint.before && (demolition || disturbed > leadPaint.room);
}
