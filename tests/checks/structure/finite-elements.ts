/**
 * A beam by finite elements, for comparison: it shares no code and no method with the tool. Elements
 * with two displacements a node (height, rotation), stiffness with shear deformation, consistent loads:
 * exact at the nodes for uniform loads between them (Przemieniecki, Theory of Matrix Structural
 * Analysis, from memory). Supports are taken out of the system; the rest is solved by a general library.
 * Here the rotation is that of the section, positive where height grows to the right, height downwards.
 */
import { Matrix, solve } from 'ml-matrix';
import type { Beam } from '../../../server/checks/structure/beam-input.ts';

export interface Nodes {
  readonly places: readonly number[];
  readonly heights: readonly number[];
  readonly rotations: readonly number[];
  /** Upward force at each support, from left to right. */
  readonly reactions: readonly number[];
  readonly size: number;
}

/** `parts`: into how many elements each length between loads and supports is cut. */
export function byFiniteElements(beam: Beam, parts: number): Nodes {
  const stops = new Set([0, beam.length, ...beam.supports.map(({ at }) => at)]);
  for (const load of beam.loads) {
    for (const stop of load.kind === 'point' ? [load.at] : [load.from, load.to]) stops.add(stop);
  }
  const coarse = [...stops].sort((a, b) => a - b);
  const places = coarse.flatMap((from, i) => {
    const to = coarse[i + 1];
    return to === undefined ? [from] : Array.from({ length: parts }, (_, k) => from + ((to - from) * k) / parts);
  });
  const size = 2 * places.length;
  const stiffness = Matrix.zeros(size, size);
  const forces = Matrix.zeros(size, 1);
  const put = (row: number, amount: number) => forces.set(row, 0, forces.get(row, 0) + amount);
  const { bending, shear } = beam.rigidity;
  for (let i = 0; i + 1 < places.length; i++) {
    const from = places[i] as number;
    const to = places[i + 1] as number;
    const l = to - from;
    const phi = shear === undefined ? 0 : (12 * bending) / (shear * l * l);
    const k = bending / (l ** 3 * (1 + phi));
    const element = [
      [12, 6 * l, -12, 6 * l],
      [6 * l, (4 + phi) * l * l, -6 * l, (2 - phi) * l * l],
      [-12, -6 * l, 12, -6 * l],
      [6 * l, (2 - phi) * l * l, -6 * l, (4 + phi) * l * l],
    ];
    element.forEach((row, a) => {
      row.forEach((value, b) => {
        stiffness.set(2 * i + a, 2 * i + b, stiffness.get(2 * i + a, 2 * i + b) + k * value);
      });
    });
    let q = 0;
    for (const load of beam.loads)
      if (load.kind === 'uniform' && load.from <= from && load.to >= to) q += load.perMetre;
    put(2 * i, (q * l) / 2);
    put(2 * i + 1, (q * l * l) / 12);
    put(2 * i + 2, (q * l) / 2);
    put(2 * i + 3, (-q * l * l) / 12);
  }
  for (const load of beam.loads) if (load.kind === 'point') put(2 * places.indexOf(load.at), load.force);

  const held = new Set<number>();
  for (const { at, hold } of beam.supports) {
    held.add(2 * places.indexOf(at));
    if (hold === 'fixed') held.add(2 * places.indexOf(at) + 1);
  }
  const free = Array.from({ length: size }, (_, i) => i).filter((i) => !held.has(i));
  const moved = Matrix.zeros(size, 1);
  if (free.length > 0) {
    const part = solve(stiffness.selection(free, free), forces.selection(free, [0]));
    free.forEach((row, i) => {
      moved.set(row, 0, part.get(i, 0));
    });
  }
  const left = stiffness.mmul(moved).sub(forces);
  const inOrder = beam.supports.toSorted((a, b) => a.at - b.at);
  return {
    places,
    heights: places.map((_, i) => moved.get(2 * i, 0)),
    rotations: places.map((_, i) => moved.get(2 * i + 1, 0)),
    reactions: inOrder.map(({ at }) => -left.get(2 * places.indexOf(at), 0)),
    size,
  };
}
