/** Sizes of closets that one place or another asks for: closets of housing aided by a state, and of a city. */
import { inches, type Ticks, ticks } from '../../model/ticks.ts';
import { squareFeet } from '../light/exact.ts';
import { published } from './sources.ts';

export const stateHousing = {
  /** Of bedroom and coat closets, clear. */
  deep: inches(22),
  /** Length of closet a person, along the rod. */
  perPerson: inches(24),
  /** Of a coat closet, about. */
  coatArea: squareFeet(8),
  linenDeep: inches(18),
  source: published(
    'New York Codes, Rules and Regulations, title 9, as copied at casetext.com',
    '1610.4',
    'edition not stated in the copy',
  ),
} as const;

/** Clear width of a linen closet by the number of bedrooms. */
export function linenWidth(bedrooms: number): Ticks {
  if (bedrooms <= 1) return inches(24);
  return bedrooms <= 3 ? inches(30) : inches(36);
}

export function closetLength(people: number): Ticks {
  return ticks(people * stateHousing.perPerson);
}

export const cityHousing = {
  first: squareFeet(12),
  further: squareFeet(6),
  /** 6 ft. */
  high: inches(72),
  source: published('Weston, Florida, code of ordinances', '129.05(E)', '2010'),
} as const;

/** Floor of closets that a dwelling has to have, in square ticks. */
export function closetArea(bedrooms: number): bigint {
  return bedrooms < 1 ? 0n : cityHousing.first + cityHousing.further * BigInt(bedrooms - 1);
}
