/** Random beams such as closets have, for laws. */
import fc from 'fast-check';
import { type Solved, solveBeam } from '../../../server/checks/structure/beam.ts';
import type { Beam, BeamLoad, Support } from '../../../server/checks/structure/beam-input.ts';

/** Places two centimetres apart: with shorter elements the finite elements of the comparison lose their digits. */
const place = (length: number) => fc.integer({ min: 0, max: Math.round(length * 50) }).map((n) => n / 50);

const load = (length: number): fc.Arbitrary<BeamLoad> =>
  fc.oneof(
    fc
      .record({ a: place(length), b: place(length), perMetre: fc.integer({ min: 0, max: 2000 }) })
      .map(({ a, b, perMetre }): BeamLoad => ({ kind: 'uniform', from: Math.min(a, b), to: Math.max(a, b), perMetre })),
    fc
      .record({ at: place(length), force: fc.integer({ min: -500, max: 1500 }) })
      .map(({ at, force }): BeamLoad => ({ kind: 'point', at, force })),
  );

const hold = fc.constantFrom<Support['hold']>('rest', 'rest', 'rest', 'fixed');

const supports = (length: number): fc.Arbitrary<Support[]> =>
  fc
    .uniqueArray(fc.record({ at: place(length), hold }), { minLength: 1, maxLength: 6, selector: ({ at }) => at })
    .filter((all) => all.length > 1 || all[0]?.hold === 'fixed');

export const anyBeam: fc.Arbitrary<Beam> = fc
  .record({
    length: fc.integer({ min: 10, max: 150 }).map((n) => n / 50),
    bending: fc.integer({ min: 20, max: 20000 }),
    shear: fc.option(fc.integer({ min: 20000, max: 5_000_000 }), { nil: undefined }),
  })
  .chain(({ length, bending, shear }) =>
    fc
      .record({ supports: supports(length), loads: fc.array(load(length), { minLength: 1, maxLength: 5 }) })
      .map((rest) => ({ length, rigidity: { bending, shear }, ...rest })),
  );

export function solved(beam: Beam): Solved {
  const answer = solveBeam(beam);
  if (answer.kind === 'refused') throw new Error(answer.words);
  return answer;
}

/** The greatest deflection of all stretches, m, by size. */
export function greatestDeflection(beam: Beam): number {
  return Math.max(...solved(beam).stretches.map(({ deflection }) => Math.abs(deflection.amount)));
}

export function uniform(perMetre: number, from: number, to: number): BeamLoad {
  return { kind: 'uniform', perMetre, from, to };
}

export function point(force: number, at: number): BeamLoad {
  return { kind: 'point', force, at };
}

export function rests(...places: readonly number[]): Support[] {
  return places.map((at) => ({ at, hold: 'rest' }));
}
