/** A tower that stands free: whether open drawers tip it over its front edge, and whether it is a thing that the federal rule speaks of. SI. */
import type { RuleSource } from '../../model/rule.ts';
import { INCH, POUND, positive } from './units.ts';

export interface Standing {
  /** Of the tower without the drawers that are open, N. */
  readonly weight: number;
  /** From the front edge it stands on back to its centre of gravity, m. */
  readonly behindEdge: number;
  readonly open: readonly OpenDrawer[];
}

export interface OpenDrawer {
  /** The drawer and what is in it, N. */
  readonly weight: number;
  /** Front to back, m. */
  readonly depth: number;
  /** How far its front stands before the edge, m. */
  readonly pullOut: number;
}

export interface Tipping {
  /** Moments about the front edge, N m: what keeps it standing, and what tips it. */
  readonly keeps: number;
  readonly tips: number;
  /** keeps / tips; infinite where nothing tips it. Below 1 it falls. */
  readonly ratio: number;
}

/** By statics, on a level floor, without carpet, climbing or a push. The load of a drawer counts in its middle. */
export function tipping({ weight, behindEdge, open }: Standing): Tipping | undefined {
  const given = [weight, behindEdge, ...open.flatMap((drawer) => [drawer.weight, drawer.depth, drawer.pullOut])];
  if (!given.every((value) => Number.isFinite(value) && value >= 0)) return undefined;
  let keeps = weight * behindEdge;
  let tips = 0;
  for (const drawer of open) {
    const before = drawer.pullOut - drawer.depth / 2;
    if (before > 0) tips += drawer.weight * before;
    else keeps += drawer.weight * -before;
  }
  return { keeps, tips, ratio: tips === 0 ? Number.POSITIVE_INFINITY : keeps / tips };
}

export const storageUnitSource: RuleSource = {
  kind: 'published',
  document: '16 CFR 1261 (ASTM F2057-23), as told in the business guidance of cpsc.gov',
  section: 'scope',
  edition: 'made after 1 September 2023',
  seen: true,
};

/** At least these bring a free-standing unit with drawers or hinged doors into scope. m, kg, m3. */
export const storageUnitLeast = { height: 27 * INCH, mass: 30 * POUND, volume: 3.2 * (12 * INCH) ** 3 } as const;

export interface StorageUnit {
  readonly freeStanding: boolean;
  readonly drawersOrDoors: boolean;
  /** m. */
  readonly height: number;
  /** kg, empty. */
  readonly mass: number | undefined;
  /** Enclosed, m3. */
  readonly volume: number | undefined;
}

/** `unknown` names what would have to be known. What is fixed to the building is out. */
export type Scope =
  | { readonly kind: 'in' }
  | { readonly kind: 'out' }
  | { readonly kind: 'unknown'; readonly needs: readonly string[] };

export function storageUnitScope({ freeStanding, drawersOrDoors, height, mass, volume }: StorageUnit): Scope {
  const reaches = (value: number | undefined, least: number) => value === undefined || value >= least - 1e-9;
  const may =
    freeStanding &&
    drawersOrDoors &&
    reaches(positive(height) ? height : 0, storageUnitLeast.height) &&
    reaches(mass, storageUnitLeast.mass) &&
    reaches(volume, storageUnitLeast.volume);
  if (!may) return { kind: 'out' };
  const needs = [...(mass === undefined ? ['its mass'] : []), ...(volume === undefined ? ['its enclosed volume'] : [])];
  return needs.length === 0 ? { kind: 'in' } : { kind: 'unknown', needs };
}
