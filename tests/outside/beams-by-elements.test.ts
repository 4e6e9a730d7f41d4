/**
 * Beams drawn at random against another way to solve them: many short elements of two nodes, each with its stiffness
 * matrix, and loads as forces at the nodes (the direct stiffness method; J. S. Przemieniecki, "Theory of Matrix
 * Structural Analysis", 1968, from memory). Bending only; Cholesky factors by the package `ml-matrix`.
 */
import fc from 'fast-check';
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { expect, it } from 'vitest';
import { solveBeam } from '../../server/checks/structure/beam.ts';
import type { Beam, BeamLoad, Support } from '../../server/checks/structure/beam-input.ts';
import { runs } from '../runs.ts';

/** Places are multiples of the length of an element, so that every support and load stands at a node. */
const ELEMENTS = 60;
const STEP = 0.04;

interface Solution {
  readonly deflections: readonly number[];
  readonly reactions: readonly number[];
}

function byElements({ rigidity, supports, loads }: Beam): Solution {
  const nodes = ELEMENTS + 1;
  const h = STEP;
  const stiff = new Matrix(2 * nodes, 2 * nodes);
  const k = rigidity.bending / h ** 3;
  const element = [
    [12, 6 * h, -12, 6 * h],
    [6 * h, 4 * h * h, -6 * h, 2 * h * h],
    [-12, -6 * h, 12, -6 * h],
    [6 * h, 2 * h * h, -6 * h, 4 * h * h],
  ];
  for (let e = 0; e < ELEMENTS; e++)
    for (const [i, row] of element.entries())
      for (const [j, value] of row.entries())
        stiff.set(2 * e + i, 2 * e + j, stiff.get(2 * e + i, 2 * e + j) + k * value);
  const force = new Float64Array(2 * nodes);
  const at = (place: number): number => Math.round(place / h);
  const push = (i: number, by: number) => {
    force[i] = (force[i] as number) + by;
  };
  for (const load of loads) {
    if (load.kind === 'point') push(2 * at(load.at), load.force);
    else
      for (let e = at(load.from); e < at(load.to); e++) {
        // What an even load is worth at the two ends of an element.
        push(2 * e, (load.perMetre * h) / 2);
        push(2 * e + 1, (load.perMetre * h * h) / 12);
        push(2 * e + 2, (load.perMetre * h) / 2);
        push(2 * e + 3, -(load.perMetre * h * h) / 12);
      }
  }
  const held = new Set(
    supports.flatMap(({ at: place, hold }) => [2 * at(place), ...(hold === 'fixed' ? [2 * at(place) + 1] : [])]),
  );
  const free = Array.from({ length: 2 * nodes }, (_, i) => i).filter((i) => !held.has(i));
  const factors = new CholeskyDecomposition(stiff.selection(free, free));
  const moved = factors.solve(Matrix.columnVector(free.map((i) => force[i] as number)));
  const all = new Float64Array(2 * nodes);
  for (const [i, dof] of free.entries()) all[dof] = moved.get(i, 0);
  return {
    deflections: Array.from({ length: nodes }, (_, n) => all[2 * n] as number),
    reactions: supports.map(({ at: place }) => {
      const dof = 2 * at(place);
      let sum = force[dof] as number;
      for (let j = Math.max(0, dof - 3); j < Math.min(2 * nodes, dof + 4); j++)
        sum -= stiff.get(dof, j) * (all[j] as number);
      return sum;
    }),
  };
}

const place = fc.integer({ min: 0, max: ELEMENTS }).map((n) => n * STEP);
const load: fc.Arbitrary<BeamLoad> = fc.oneof(
  fc.record({ kind: fc.constant('point' as const), at: place, force: fc.integer({ min: 1, max: 900 }) }),
  fc
    .record({
      a: fc.integer({ min: 0, max: ELEMENTS - 1 }),
      by: fc.integer({ min: 1, max: ELEMENTS }),
      perMetre: fc.integer({ min: 1, max: 900 }),
    })
    .map(
      ({ a, by, perMetre }): BeamLoad => ({
        kind: 'uniform',
        from: a * STEP,
        to: Math.min(ELEMENTS, a + by) * STEP,
        perMetre,
      }),
    ),
);
const beams: fc.Arbitrary<Beam> = fc
  .record({
    stands: fc.uniqueArray(fc.integer({ min: 0, max: ELEMENTS / 12 }), { minLength: 2, maxLength: 5 }),
    ends: fc.record({ left: fc.boolean(), right: fc.boolean() }),
    loads: fc.array(load, { minLength: 1, maxLength: 4 }),
    bending: fc.integer({ min: 200, max: 20_000 }),
  })
  .map(({ stands, ends, loads, bending }): Beam => {
    const sorted = stands.sort((a, b) => a - b).map((n) => n * 12 * STEP);
    const supports = sorted.map(
      (at, i): Support => ({
        at,
        hold: (i === 0 && ends.left) || (i === sorted.length - 1 && ends.right) ? 'fixed' : 'rest',
      }),
    );
    return { length: ELEMENTS * STEP, rigidity: { bending, shear: undefined }, supports, loads };
  });

it('sag, and press on their supports, as many short elements do', () => {
  let compared = 0;
  fc.assert(
    fc.property(beams, (beam) => {
      const answer = solveBeam(beam);
      if (answer.kind === 'refused') throw new Error(answer.words);
      const elements = byElements(beam);
      const most = Math.max(...elements.deflections.map(Math.abs));
      // What stands on supports alone bends nothing.
      fc.pre(most > 1e-12);
      const total = beam.loads.reduce(
        (sum, one) => sum + (one.kind === 'point' ? one.force : one.perMetre * (one.to - one.from)),
        0,
      );
      for (const [i, { force }] of answer.reactions.entries())
        expect(Math.abs(force - (elements.reactions[i] as number))).toBeLessThan(1e-5 * total);
      // The greatest deflection of a stretch may stand between two nodes, and is never less than at any node.
      for (const { from, to, deflection } of answer.stretches) {
        const inside = elements.deflections.filter((_, n) => n * STEP >= from - 1e-9 && n * STEP <= to + 1e-9);
        const greatest = Math.max(...inside.map(Math.abs));
        expect(Math.abs(deflection.amount)).toBeGreaterThan(greatest - 1e-5 * most);
        expect(Math.abs(deflection.amount)).toBeLessThan(greatest + 0.03 * most);
        const near = elements.deflections[Math.round(deflection.at / STEP)] as number;
        expect(Math.abs(near - deflection.amount)).toBeLessThan(0.03 * most);
        compared++;
      }
    }),
    runs(60),
  );
  expect(compared).toBeGreaterThan(60);
});
