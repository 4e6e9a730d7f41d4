/** What would stiffen a shelf that sags too much: each way tried, with the deflection that it leads to. Metres. */
import { type Solved, solveBeam } from './beam.ts';
import type { Beam, BeamLoad, Support } from './beam-input.ts';
import { compareStretches, type Deflected, type DeflectionLimit } from './limits.ts';
import { type Elastic, edgedShelf, type Rigidity, rectangle, rigidity } from './section.ts';
import { greatestPassing, staysWithin } from './span.ts';
import { GRAVITY } from './units.ts';

export interface ShelfBeam {
  readonly length: number;
  /** Front to back. */
  readonly breadth: number;
  readonly thickness: number;
  readonly material: Elastic;
  /** kg/m3; its own weight is left out where it is not known. */
  readonly density: number | undefined;
  readonly edge?: EdgeStrip;
  readonly supports: readonly Support[];
  /** Without its own weight. */
  readonly loads: readonly BeamLoad[];
}

/** An upright front edge, glued along its whole length, flush with the upper face of the shelf. */
export interface EdgeStrip {
  readonly height: number;
  readonly thickness: number;
  readonly material: Elastic;
}

/** What may be tried. */
export interface Means {
  /** Board thicknesses there are to choose from, of the same material. */
  readonly thicknesses: readonly number[];
  readonly edges: readonly EdgeStrip[];
  /** m from the left end; the middle of the longest span where undefined. */
  readonly supportAt?: number;
}

export type Option =
  | { readonly kind: 'thicker'; readonly thickness: number }
  | { readonly kind: 'support'; readonly at: number }
  | { readonly kind: 'edge'; readonly edge: EdgeStrip };

export interface Tried {
  readonly option: Option;
  /** Of the stretch that uses most of its allowance. */
  readonly worst: Deflected;
  readonly holds: boolean;
}

/** The shelf as a beam with its own weight on it; undefined where a size or stiffness is not a positive number. */
export function shelfBeam(shelf: ShelfBeam): Beam | undefined {
  const stiff = shelfRigidity(shelf);
  if (!stiff) return undefined;
  const { length, breadth, thickness, density, supports, loads } = shelf;
  const own: BeamLoad[] =
    density === undefined
      ? []
      : [{ kind: 'uniform', from: 0, to: length, perMetre: density * breadth * thickness * GRAVITY }];
  return { length, rigidity: stiff, supports, loads: [...loads, ...own] };
}

function shelfRigidity({ breadth, thickness, material, edge }: ShelfBeam): Rigidity | undefined {
  if (edge) return edgedShelf({ board: { breadth, thickness, material }, edge });
  const section = rectangle(breadth, thickness);
  return section && rigidity(section, material);
}

/** The stretch that uses most of its allowance; undefined where the beam cannot be computed. */
export function worstStretch(beam: Beam, limit: DeflectionLimit, creep: number): Deflected | undefined {
  const answer = solveBeam(beam);
  return answer.kind === 'solved' ? worstOf(answer, limit, creep) : undefined;
}

export function worstOf(answer: Solved, limit: DeflectionLimit, creep: number): Deflected | undefined {
  const use = ({ deflection, allowed }: Deflected) => deflection / allowed;
  let worst: Deflected | undefined;
  for (const one of compareStretches(answer, limit, creep)) if (!worst || use(one) > use(worst)) worst = one;
  return worst;
}

/** Every means tried by itself, in the order given: thicknesses greater than the shelf's, one more support, edges. */
export function tryStiffening(shelf: ShelfBeam, means: Means, limit: DeflectionLimit, creep = 1): Tried[] {
  const tried: Tried[] = [];
  const attempt = (option: Option, changed: ShelfBeam) => {
    const beam = shelfBeam(changed);
    const worst = beam && worstStretch(beam, limit, creep);
    if (worst) tried.push({ option, worst, holds: worst.holds });
  };
  for (const thickness of means.thicknesses) {
    if (thickness > shelf.thickness) attempt({ kind: 'thicker', thickness }, { ...shelf, thickness });
  }
  const at = means.supportAt ?? middleOfLongest(shelf);
  if (at !== undefined) {
    attempt({ kind: 'support', at }, { ...shelf, supports: [...shelf.supports, { at, hold: 'rest' }] });
  }
  for (const edge of means.edges) attempt({ kind: 'edge', edge }, { ...shelf, edge });
  return tried;
}

function middleOfLongest({ supports }: ShelfBeam): number | undefined {
  const places = supports.map(({ at }) => at).sort((a, b) => a - b);
  let longest: { readonly length: number; readonly middle: number } | undefined;
  places.slice(1).forEach((to, i) => {
    const from = places[i] as number;
    if (to - from > (longest?.length ?? 0)) longest = { length: to - from, middle: (from + to) / 2 };
  });
  return longest?.middle;
}

/** The least thickness of the same material that stays within the limit, to 0.01 mm; undefined where even `most` does not. */
export function leastThickness(
  shelf: ShelfBeam,
  limit: DeflectionLimit,
  creep: number,
  most: number,
): number | undefined {
  const passes = (thickness: number) => withinLimit({ ...shelf, thickness }, limit, creep);
  return leastPassing(passes, shelf.thickness, most);
}

/** The least height of a front edge of this strip's thickness and material that does; undefined where even `most` does not. */
export function leastEdge(
  shelf: ShelfBeam,
  strip: Omit<EdgeStrip, 'height'>,
  limit: DeflectionLimit,
  creep: number,
  most: number,
): number | undefined {
  const passes = (height: number) => withinLimit({ ...shelf, edge: { ...strip, height } }, limit, creep);
  return leastPassing(passes, shelf.edge?.height ?? shelf.thickness, most);
}

function withinLimit(shelf: ShelfBeam, limit: DeflectionLimit, creep: number): boolean {
  const beam = shelfBeam(shelf);
  return beam !== undefined && staysWithin(beam, limit, creep);
}

/** As greatestPassing, the other way round: all greater ones pass too. */
function leastPassing(passes: (value: number) => boolean, from: number, most: number): number | undefined {
  const found = greatestPassing((negative) => passes(-negative), { from: -most, to: -from, within: 1e-5 });
  return found === undefined ? undefined : -found;
}
