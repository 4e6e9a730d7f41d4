/** Heaters in closets: which may not share one with storage, and the room that one needs. */
import { inches, type Ticks } from '../../model/ticks.ts';
import { published } from '../access/sources.ts';

export const gasSource = published(
  'International Residential Code and International Fuel Gas Code, as quoted at nachi.org',
  'G2406.2 and 303.3, prohibited places of gas appliances',
  'edition not stated in the copy',
);

export const fuelSource = published(
  'International Residential Code, as quoted at codecheck.com',
  'M2005.2, water heaters in storage closets',
  'edition not stated in the copy',
);

export interface Appliance {
  readonly fuel: 'gas' | 'oil' | 'electric';
  readonly use: 'water heater' | 'other';
  /** Takes its air from outside and sends its smoke there by itself. */
  readonly directVent: boolean;
  /** In a closet of its own with outdoor air and a self-closing door with a gasket. */
  readonly closedOff: boolean;
}

/** May not stand where things are stored: a water heater that burns fuel in any case, another gas appliance unless it is shut off from the room. */
export function barredFromStorage({ fuel, use, directVent, closedOff }: Appliance): boolean {
  if (fuel === 'electric') return false;
  return use === 'water heater' || (fuel === 'gas' && !directVent && !closedOff);
}

export const serviceSpace = {
  side: inches(30),
  passage: inches(24),
  passageLength: inches(240),
  source: published(
    'International Residential Code, as quoted at codecheck.com',
    'M1305.1, access to appliances',
    'edition not stated in the copy',
  ),
} as const;

/** A level platform before the side that is serviced, at least as long as wide. */
export function serviceFits(width: Ticks, depth: Ticks): boolean {
  return width >= serviceSpace.side && depth >= serviceSpace.side;
}

export function passageFits(width: Ticks, length: Ticks): boolean {
  return width >= serviceSpace.passage && length <= serviceSpace.passageLength;
}
