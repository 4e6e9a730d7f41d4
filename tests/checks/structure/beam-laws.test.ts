/** Beams against an independent method (finite-elements.ts), and laws that every elastic beam obeys. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stateAt } from '../../../server/checks/structure/beam.ts';
import type { Beam } from '../../../server/checks/structure/beam-input.ts';
import { anyBeam, greatestDeflection, point, rests, solved, uniform } from './beams.ts';
import { byFiniteElements } from './finite-elements.ts';

const runs = { numRuns: 400 };

/** Equal within a part of the greatest number in play. */
function close(a: number, b: number, scale: number, part = 1e-6): void {
  expect(Math.abs(a - b)).toBeLessThanOrEqual(part * Math.max(scale, 1e-8));
}

const sizes = (numbers: readonly number[]) => Math.max(...numbers.map(Math.abs));

function totalLoad({ loads }: Beam): number {
  return loads.reduce((sum, one) => sum + (one.kind === 'point' ? one.force : one.perMetre * (one.to - one.from)), 0);
}

describe('random beams', () => {
  it('deflect, turn and press on their supports as finite elements say', () => {
    fc.assert(
      fc.property(anyBeam, (beam) => {
        const answer = solved(beam);
        const nodes = byFiniteElements(beam, 1);
        nodes.places.forEach((x, i) => {
          const state = stateAt(answer, x);
          close(state?.deflection ?? Number.NaN, nodes.heights[i] as number, sizes(nodes.heights));
          close(state?.rotation ?? Number.NaN, nodes.rotations[i] as number, sizes(nodes.rotations));
        });
        answer.reactions.forEach(({ force }, i) => {
          close(force, nodes.reactions[i] as number, sizes(nodes.reactions));
        });
      }),
      runs,
    );
  });

  it('have their greatest deflection no smaller than any of many nodes, and hardly greater', () => {
    fc.assert(
      fc.property(anyBeam, (beam) => {
        const nodes = byFiniteElements(beam, 4);
        for (const { from, to, deflection } of solved(beam).stretches) {
          const inside = nodes.heights.filter((_, i) => {
            const x = nodes.places[i] as number;
            return x >= from && x <= to;
          });
          const sampled = sizes(inside);
          const scale = sizes(nodes.heights);
          expect(Math.abs(deflection.amount)).toBeGreaterThanOrEqual(sampled - 1e-6 * scale);
          expect(Math.abs(deflection.amount)).toBeLessThanOrEqual(sampled + 0.2 * scale + 1e-12);
          close(stateAt(solved(beam), deflection.at)?.deflection ?? Number.NaN, deflection.amount, scale);
        }
      }),
      { numRuns: 120 },
    );
  });

  it('press on their supports with all that loads them, and about the same place', () => {
    fc.assert(
      fc.property(anyBeam, (beam) => {
        const { reactions } = solved(beam);
        const scale = sizes([totalLoad(beam), ...reactions.map(({ force }) => force)]);
        close(
          reactions.reduce((sum, { force }) => sum + force, 0),
          totalLoad(beam),
          scale,
          1e-8,
        );
        // Moments about the left end: loads on one side, reactions and what fixed supports hold on the other.
        const loaded = beam.loads.reduce(
          (sum, one) =>
            sum +
            (one.kind === 'point'
              ? one.force * one.at
              : one.perMetre * (one.to - one.from) * ((one.from + one.to) / 2)),
          0,
        );
        const held = reactions.reduce((sum, { at, force, moment }) => sum + force * at - moment, 0);
        const moments = sizes(reactions.flatMap(({ at, force, moment }) => [at * force, moment]));
        close(held, loaded, moments, 1e-8);
      }),
      runs,
    );
  });

  it('add up: two loads together do what each does alone', () => {
    fc.assert(
      fc.property(anyBeam, fc.integer({ min: 0, max: 100 }), (beam, where) => {
        const x = (beam.length * where) / 100;
        const alone = beam.loads.map((one) => ({ ...beam, loads: [one] }));
        const at = (one: Beam) => stateAt(solved(one), x)?.deflection ?? Number.NaN;
        const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);
        close(at(beam), sum(alone.map(at)), sum(alone.map(greatestDeflection)), 1e-8);
      }),
      runs,
    );
  });

  it('are the same seen from behind', () => {
    fc.assert(
      fc.property(anyBeam, (beam) => {
        const turned: Beam = {
          ...beam,
          supports: beam.supports.map(({ at, hold }) => ({ at: beam.length - at, hold })),
          loads: beam.loads.map((one) =>
            one.kind === 'point'
              ? { ...one, at: beam.length - one.at }
              : { ...one, from: beam.length - one.to, to: beam.length - one.from },
          ),
        };
        const forth = solved(beam);
        const back = solved(turned);
        const forces = back.reactions.map(({ force }) => force).reverse();
        forth.reactions.forEach(({ force }, i) => {
          close(force, forces[i] as number, sizes(forces));
        });
        close(greatestDeflection(beam), greatestDeflection(turned), greatestDeflection(beam));
      }),
      runs,
    );
  });

  it('answer a load at one place with the same deflection at another as the other way round (Maxwell)', () => {
    fc.assert(
      fc.property(anyBeam, fc.integer({ min: 1, max: 99 }), fc.integer({ min: 1, max: 99 }), (beam, a, b) => {
        const [x, y] = [(beam.length * a) / 100, (beam.length * b) / 100];
        const at = (load: number, seen: number) =>
          stateAt(solved({ ...beam, loads: [point(1000, load)] }), seen)?.deflection ?? Number.NaN;
        close(at(x, y), at(y, x), sizes([at(x, x), at(y, y)]));
      }),
      runs,
    );
  });
});

describe('supports', () => {
  const evenly = (spans: number, length: number) => Array.from({ length: spans + 1 }, (_, i) => (length * i) / spans);

  it('one more under equal spans never lets a uniformly loaded beam deflect more', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 3, max: 40 }).map((n) => n / 10),
        fc.option(fc.integer({ min: 20000, max: 5_000_000 }), { nil: undefined }),
        (spans, length, shear) => {
          const beam = (n: number): Beam => ({
            length,
            rigidity: { bending: 1000, shear },
            supports: rests(...evenly(n, length)),
            loads: [uniform(500, 0, length)],
          });
          expect(greatestDeflection(beam(spans + 1))).toBeLessThanOrEqual(greatestDeflection(beam(spans)));
        },
      ),
      runs,
    );
  });

  it('one more anywhere never lets a loaded place sink further than before under its own load', () => {
    fc.assert(
      fc.property(anyBeam, fc.integer({ min: 1, max: 99 }), fc.integer({ min: 1, max: 99 }), (beam, where, loaded) => {
        const at = (beam.length * where) / 100;
        fc.pre(beam.supports.every((support) => Math.abs(support.at - at) > 0.02));
        const x = (beam.length * loaded) / 100;
        const under = (one: Beam) => stateAt(solved({ ...one, loads: [point(1000, x)] }), x)?.deflection ?? Number.NaN;
        const more = under({ ...beam, supports: [...beam.supports, ...rests(at)] });
        expect(more).toBeLessThanOrEqual(under(beam) * (1 + 1e-6) + 1e-12);
      }),
      runs,
    );
  });
});
