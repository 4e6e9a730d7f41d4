/** Heaters in closets: which may not share one with storage, and the room that one needs. */
import type { Burns, Heats } from '../../model/layout.ts';
import { inches } from '../../model/ticks.ts';
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

export interface Appliance extends Pick<Burns, 'fuel' | 'kept'> {
  /** Undefined where nothing says. */
  readonly heats: Heats['what'] | undefined;
}

/**
 * May not stand where things are stored: a water heater that burns fuel in any case, another gas appliance
 * unless it is direct-vent or shut off from the closet. Undefined where it depends on what it heats, and nothing says.
 */
export function barredFromStorage({ fuel, kept, heats }: Appliance): boolean | undefined {
  if (fuel === 'nothing') return false;
  if (heats === 'water' || (fuel === 'gas' && kept === undefined)) return true;
  return heats === undefined ? undefined : false;
}

/** A level space before the side that is serviced, at least as deep as wide. */
export const serviceSpace = {
  side: inches(30),
  source: published(
    'International Residential Code, as quoted at codecheck.com',
    'M1305.1, access to appliances',
    'edition not stated in the copy',
  ),
} as const;
