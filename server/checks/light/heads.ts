/** Sprinkler heads in closets: what is to stay free below one, and which closets are said to need none or one. */
import type { Building } from '../../model/materials.ts';
import type { RuleSource } from '../../model/rule.ts';
import { inches, least, subtract, type Ticks } from '../../model/ticks.ts';
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

export interface ClosetFloor {
  readonly width: Ticks;
  readonly depth: Ticks;
}

/** A closet that is no larger, with walls and a ceiling that do not burn, may be without a head. */
export interface WithoutHead {
  /** Square feet of its floor. */
  readonly feet: number;
  /** Its shorter side, where that counts as well. */
  readonly shortSide?: Ticks;
  readonly source: RuleSource;
}

/** By what the building is. In flats and dormitories every closet has a head. The row of houses is from memory. */
export const withoutHead: Readonly<Record<Building['kind'], WithoutHead>> = {
  hotel: { feet: 24, source: quoted('closets of hotel guest rooms', '2016') },
  hospital: { feet: 6, source: quoted('8.15.9, clothes closets of patient rooms', '2016') },
  flats: { feet: 0, source: quoted('4.1, closets of flats and dormitories', '2016') },
  house: {
    feet: 24,
    shortSide: inches(36),
    source: published(
      'NFPA 13D and IRC P2904.1.1',
      '8.3, closets of one- and two-family dwellings',
      'edition not known',
      false,
    ),
  },
};

export function mayLackHead(kind: Building['kind'], { width, depth }: ClosetFloor): boolean {
  const { feet, shortSide } = withoutHead[kind];
  if (feet === 0 || area(width, depth) > squareFeet(feet)) return false;
  return shortSide === undefined || least(width, depth) <= shortSide;
}

/** One head, at the highest ceiling, is enough for a closet that is no larger. */
export const smallCloset = {
  /** Cubic feet. */
  feet: 400,
  source: quoted('small closets, one head at the highest ceiling', '2016'),
} as const;

export function oneHeadWillDo({ width, depth }: ClosetFloor, height: Ticks): boolean {
  return volume(width, depth, height) <= cubicFeet(smallCloset.feet);
}
