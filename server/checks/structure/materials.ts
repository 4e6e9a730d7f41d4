/**
 * A starter table of published stiffness and strength, for messages and completion. Nothing is looked
 * up behind a designer's back: a board has the stiffness that its own declaration gives.
 * They are nominal grade values, not guaranteed: of five bought boards of grade M-2 one reached the
 * strength of the standard (Dettmer and Smith, BioResources 10(3), 2015).
 */
import type { RuleSource } from '../../model/rule.ts';
import { PSI } from './units.ts';

export interface MaterialRow {
  readonly name: string;
  readonly kind: 'wood' | 'panel' | 'metal';
  /** Modulus of elasticity in bending, Pa. */
  readonly stiffness: number;
  /** Shear modulus, Pa. */
  readonly shear?: number;
  /** Stress at which a test piece broke in bending, Pa. Not a stress to be counted on. */
  readonly rupture?: number;
  readonly source: RuleSource;
}

export const NOMINAL = 'nominal grade values, not guaranteed';

function published(document: string, section: string, edition: string, seen: boolean): RuleSource {
  return { kind: 'published', document, section, edition, seen };
}

const shelfTable = published('Architectural Woodwork Standards', '10-4.4.14.10, shelf spans', 'edition 1, 2009', true);
const woodHandbook = published('USDA Wood Handbook', 'table 5-3b, at 12 % moisture', 'GTR-190, 2010', false);
const particleboard = (edition: string) => published('ANSI A208.1, Particleboard', 'grade table', edition, false);
const structuresEnBois = published(
  'Benoit, Legrand and Tastet, Calcul de structures en bois, as transcribed in an open project',
  'example 2.3.1, C24',
  '2008',
  true,
);

const wood = (name: string, millions: number, source = woodHandbook): MaterialRow => ({
  name,
  kind: 'wood',
  stiffness: millions * 1e6 * PSI,
  source,
});

export const materialRows: readonly MaterialRow[] = [
  wood('red oak', 1.82, shelfTable),
  wood('red oak, northern', 1.82),
  wood('yellow birch', 2.01),
  wood('sugar maple', 1.83),
  wood('yellow-poplar', 1.58),
  wood('ponderosa pine', 1.29),
  wood('eastern white pine', 1.24),
  wood('Douglas-fir, coast', 1.95),
  { name: 'softwood C24', kind: 'wood', stiffness: 11e9, shear: 690e6, source: structuresEnBois },
  {
    name: 'particleboard M-2, 1999',
    kind: 'panel',
    stiffness: 326_300 * PSI,
    rupture: 2103 * PSI,
    source: particleboard('1999'),
  },
  {
    name: 'particleboard M-3, 1999',
    kind: 'panel',
    stiffness: 398_900 * PSI,
    rupture: 2393 * PSI,
    source: particleboard('1999'),
  },
  {
    name: 'particleboard M-2, 2009',
    kind: 'panel',
    stiffness: 290_100 * PSI,
    rupture: 1885 * PSI,
    source: particleboard('2009'),
  },
  {
    name: 'MDF shelf',
    kind: 'panel',
    stiffness: 2.5e9,
    source: published('mdf-info.eu, page on shelves', 'formula for the deflection of a shelf', 'undated page', true),
  },
  {
    name: 'steel',
    kind: 'metal',
    stiffness: 29e6 * PSI,
    source: published('AISC Steel Construction Manual', 'modulus of elasticity', 'edition not known', false),
  },
];

/** Woods that studs are made of, and some that shelves are screwed to; the first five are the words of `framing`. */
export interface Framing {
  readonly name: string;
  /** Specific gravity G, oven dry. */
  readonly gravity: number;
}

/** NDS 2018, table 12.3.3A, read in a copy that an open project keeps. */
export const framings: readonly Framing[] = [
  { name: 'spf', gravity: 0.42 },
  { name: 'hem-fir', gravity: 0.43 },
  { name: 'douglas-fir', gravity: 0.5 },
  { name: 'southern-pine', gravity: 0.55 },
  { name: 'spf-south', gravity: 0.36 },
  { name: 'red-oak', gravity: 0.67 },
  { name: 'northern-red-oak', gravity: 0.68 },
  { name: 'yellow-poplar', gravity: 0.43 },
  { name: 'red-maple', gravity: 0.58 },
];

export const framingSource: RuleSource = published(
  'National Design Specification for Wood Construction, as transcribed in an open project',
  'table 12.3.3A',
  '2018',
  true,
);

export function framingNamed(name: string): Framing | undefined {
  return framings.find((framing) => framing.name === name);
}
