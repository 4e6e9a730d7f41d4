/** Sprinkler heads in closets: what is to stay free below one, and which closets are said to need none or one. */
import type { RuleSource } from '../../model/rule.ts';
import { inches, subtract, type Ticks } from '../../model/ticks.ts';
import { published } from '../access/sources.ts';
import { area, cubicFeet, squareFeet, volume } from './exact.ts';

const quoted = (section: string, edition: string): RuleSource =>
  published('NFPA 13, as quoted at ncnsfpe.org', section, edition);

/** The section is from memory: 10.2.8 in editions from 2019 on. */
export const belowHead = {
  least: inches(18),
  source: published(
    'NFPA 13, as quoted in a list of advice at lists.ufl.edu',
    'clearance from deflector to storage',
    'edition not stated in the copy',
  ),
} as const;

/** From the deflector down to the top of what stands below it. */
export function belowDeflector(deflector: Ticks, top: Ticks): Ticks {
  return subtract(deflector, top);
}

export interface ClosetSize {
  readonly width: Ticks;
  readonly depth: Ticks;
  readonly height: Ticks;
}

export const hotelCloset = {
  area: squareFeet(24),
  leastSide: inches(36),
  source: quoted('closets of hotel guest rooms', '2013 and 2016'),
} as const;

export const patientCloset = {
  area: squareFeet(6),
  source: quoted('8.15.9, clothes closets of patient rooms', '2016'),
} as const;

export const smallCloset = {
  volume: cubicFeet(400),
  source: quoted('small closets, one head at the highest ceiling', '2016'),
} as const;

export const dwellingCloset = {
  area: squareFeet(24),
  leastSide: inches(36),
  source: published(
    'NFPA 13D and IRC P2904.1.1',
    '8.3, closets of one- and two-family dwellings',
    'from memory',
    false,
  ),
} as const;

export const flatClosetSource = quoted('4.1, closets of flats and dormitories', '2016');

export type Occupancy = 'hotel 2013' | 'hotel 2016' | 'patient room' | 'flat' | 'dwelling';

/**
 * Whether a head may be left out of a closet with walls and ceiling that do not burn. Says nothing
 * of other walls; the fire code that holds, and the contractor, have the last word.
 */
export function mayLackHead(
  occupancy: Occupancy,
  { width, depth }: ClosetSize,
): { readonly may: boolean; readonly source: RuleSource } {
  const floor = area(width, depth);
  const leastSide = Math.min(width, depth);
  switch (occupancy) {
    case 'hotel 2013':
      return { may: floor <= hotelCloset.area && leastSide <= hotelCloset.leastSide, source: hotelCloset.source };
    case 'hotel 2016':
      return { may: floor <= hotelCloset.area, source: hotelCloset.source };
    case 'patient room':
      return { may: floor <= patientCloset.area, source: patientCloset.source };
    case 'dwelling':
      return {
        may: floor <= dwellingCloset.area && leastSide <= dwellingCloset.leastSide,
        source: dwellingCloset.source,
      };
    case 'flat':
      return { may: false, source: flatClosetSource };
  }
}

/** One head at the highest ceiling is enough for a closet that is no larger. */
export function oneHeadWillDo({ width, depth, height }: ClosetSize): boolean {
  return volume(width, depth, height) <= smallCloset.volume;
}
