/**
 * Cross-sections: what a board, a rod or a board with a front edge has to set against bending and
 * shear. Lengths in metres, areas in m2, second moments in m4, section moduli in m3.
 */
import { positive } from './units.ts';

export interface Section {
  /** Area, m2. */
  readonly area: number;
  /** Second moment of area I about the neutral axis, m4. */
  readonly inertia: number;
  /** Section modulus S = I / distance of the outermost fibre, m3. */
  readonly modulus: number;
  /** Area that counts for shear deformation A', m2: the area divided by its form factor. */
  readonly shearArea: number;
}

/** What a beam has to set against loads, whatever it is made of. */
export interface Rigidity {
  /** E I, N m2. */
  readonly bending: number;
  /** G A', N; undefined where the shear modulus is not known, and shear deformation is left out. */
  readonly shear: number | undefined;
}

/**
 * A board lying flat: breadth b front to back, thickness t.
 * I = b t3 / 12, S = b t2 / 6, A' = 5 b t / 6 (USDA Wood Handbook, GTR-190, equation 9-2 and its text).
 * Undefined where a size is not a positive number.
 */
export function rectangle(breadth: number, thickness: number): Section | undefined {
  if (!positive(breadth, thickness)) return undefined;
  const area = breadth * thickness;
  return {
    area,
    inertia: (area * thickness * thickness) / 12,
    modulus: (area * thickness) / 6,
    shearArea: (5 * area) / 6,
  };
}

/** A solid rod. I = pi D4 / 64, S = 2 I / D. */
export function solidRound(diameter: number): Section | undefined {
  return ring(diameter, 0);
}

/** A tube of outer diameter D and wall w. I = pi (D4 - d4) / 64, S = 2 I / D, d = D - 2 w. A wall of half the diameter is a solid rod. */
export function tube(diameter: number, wall: number): Section | undefined {
  return positive(wall) ? ring(diameter, diameter - 2 * wall) : undefined;
}

/**
 * Shear area after Cowper, "The Shear Coefficient in Timoshenko's Beam Theory" (1966), hollow circle,
 * Poisson's ratio 0.3; from memory. On rods it is some hundredths of a per cent of the deflection.
 */
function ring(outer: number, inner: number): Section | undefined {
  if (!positive(outer) || !(inner >= 0)) return undefined;
  const area = (Math.PI * (outer ** 2 - inner ** 2)) / 4;
  const inertia = (Math.PI * (outer ** 4 - inner ** 4)) / 64;
  const poisson = 0.3;
  const m2 = (inner / outer) ** 2;
  const square = (1 + m2) ** 2;
  const coefficient = (6 * (1 + poisson) * square) / ((7 + 6 * poisson) * square + (20 + 12 * poisson) * m2);
  return { area, inertia, modulus: (2 * inertia) / outer, shearArea: coefficient * area };
}

/** A material as a section needs it. Pa; `shear` undefined where it is not known. */
export interface Elastic {
  readonly stiffness: number;
  readonly shear: number | undefined;
}

/** A section of one material as a beam. */
export function rigidity(section: Section, { stiffness, shear }: Elastic): Rigidity {
  return {
    bending: stiffness * section.inertia,
    shear: shear === undefined ? undefined : shear * section.shearArea,
  };
}

export interface EdgedShelf {
  readonly board: { readonly breadth: number; readonly thickness: number; readonly material: Elastic };
  /** Stands upright before the front of the board, its top flush with the board's upper face. */
  readonly edge: { readonly height: number; readonly thickness: number; readonly material: Elastic };
}

export interface Composite extends Rigidity {
  /** Neutral axis below the upper face, m. */
  readonly axis: number;
  /** The edge's stiffness over the board's: what its breadth is multiplied by. */
  readonly modularRatio: number;
  /** Second moment of the transformed section, all of it as the board's material, m4. */
  readonly inertia: number;
  /** Stress in the outermost fibre for a bending moment of 1 N m, Pa / (N m) = 1/m3. */
  readonly stressPerMoment: { readonly board: number; readonly edge: number };
}

/**
 * A shelf with an upright front edge, by the transformed section: the edge's breadth times the ratio
 * of the stiffnesses, both bending as one. That holds for an edge glued along its whole length on a
 * shelf that does not twist; for one that is only nailed on it promises too much.
 * For shear the board and the edge are added side by side.
 */
export function edgedShelf({ board, edge }: EdgedShelf): Composite | undefined {
  const flat = rectangle(board.breadth, board.thickness);
  const upright = rectangle(edge.thickness, edge.height);
  if (!flat || !upright || !positive(board.material.stiffness, edge.material.stiffness)) return undefined;
  const modularRatio = edge.material.stiffness / board.material.stiffness;
  const area = flat.area + modularRatio * upright.area;
  const axis = ((flat.area * board.thickness) / 2 + (modularRatio * upright.area * edge.height) / 2) / area;
  const inertia =
    flat.inertia +
    flat.area * (axis - board.thickness / 2) ** 2 +
    modularRatio * (upright.inertia + upright.area * (axis - edge.height / 2) ** 2);
  const outermost = (depth: number) => Math.max(axis, Math.abs(depth - axis));
  return {
    axis,
    modularRatio,
    inertia,
    bending: board.material.stiffness * inertia,
    shear: sum(shearOf(flat, board.material), shearOf(upright, edge.material)),
    stressPerMoment: {
      board: outermost(board.thickness) / inertia,
      edge: (modularRatio * outermost(edge.height)) / inertia,
    },
  };
}

function shearOf(section: Section, { shear }: Elastic): number | undefined {
  return shear === undefined ? undefined : shear * section.shearArea;
}

/** Unknown with either unknown. */
function sum(a: number | undefined, b: number | undefined): number | undefined {
  return a === undefined || b === undefined ? undefined : a + b;
}
