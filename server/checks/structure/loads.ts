/** Loads of shelves and rods. Pa on an area, N/m along a beam, N at a point, kg for masses. */
import type { RuleSource } from '../../model/rule.ts';
import { GRAVITY, PLF, POUND_FORCE, PSF } from './units.ts';

export interface DesignLoad {
  readonly name: string;
  /** What it is for, in words. */
  readonly use: string;
  readonly load:
    | { readonly kind: 'area'; readonly pascals: number }
    | { readonly kind: 'line'; readonly newtonsPerMetre: number };
  readonly source: RuleSource;
}

const woodworkStandards: RuleSource = {
  kind: 'published',
  document: 'Architectural Woodwork Standards',
  section: '10-1.2.21, shelf loads',
  edition: 'edition 1, 2009',
  seen: true,
};

/** For messages and completion: a shelf carries what its spec or a policy says, never one of these by itself. */
export const designLoads: readonly DesignLoad[] = [
  {
    name: 'books and institutions',
    use: 'shelves of schools, hospitals and libraries, and book shelves',
    load: { kind: 'area', pascals: 50 * PSF },
    source: woodworkStandards,
  },
  {
    name: 'other shelves',
    use: 'all other shelves',
    load: { kind: 'area', pascals: 40 * PSF },
    source: woodworkStandards,
  },
  {
    name: 'books, each foot of shelf',
    use: 'full book stacks',
    load: { kind: 'line', newtonsPerMetre: 25 * PLF },
    source: {
      kind: 'published',
      document:
        'test of the California Office of the State Architect, as told in the SEAINT list, 2000a, message 00735',
      section: 'book stacks 7-1/2 ft high',
      edition: 'undated, quoted in 2000',
      seen: true,
    },
  },
];

/** The same standard caps what any one shelf is counted with, N: 200 lb. */
export const WHOLE_SHELF_CAP = 200 * POUND_FORCE;

/** Line load of a load on the whole area of a shelf, N/m. */
export function lineOfArea(pascals: number, depth: number): number {
  return pascals * depth;
}

/** The line load that stays when the whole shelf is counted with no more than `cap` N. */
export function cappedLine(perMetre: number, length: number, cap: number): number {
  return Math.min(perMetre, cap / length);
}

export interface Hung {
  readonly count: number;
  /** kg each, with its hanger; undefined where it is not known. */
  readonly weight: number | undefined;
}

/**
 * Line load of what hangs on a rod `length` metres long, spread evenly, N/m. Undefined where a weight
 * is not known: there is no published weight of clothes a foot of rod to fall back on.
 */
export function lineOfGarments(garments: readonly Hung[], length: number): number | undefined {
  let mass = 0;
  for (const { count, weight } of garments) {
    if (weight === undefined) return undefined;
    mass += count * weight;
  }
  return (mass * GRAVITY) / length;
}
