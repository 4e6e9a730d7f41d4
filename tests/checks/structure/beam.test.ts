/** What is refused, and that nothing else is; numbers worked out beside each case. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { solveBeam, stateAt } from '../../../server/checks/structure/beam.ts';
import type { Beam, RefusalReason } from '../../../server/checks/structure/beam-input.ts';
import { point, rests, solved, uniform } from './beams.ts';

const plain: Beam = {
  length: 1,
  rigidity: { bending: 1000, shear: undefined },
  supports: rests(0, 1),
  loads: [uniform(100, 0, 1)],
};

function reason(changed: Partial<Beam>): RefusalReason | undefined {
  const answer = solveBeam({ ...plain, ...changed });
  return answer.kind === 'refused' ? answer.reason : undefined;
}

describe('a beam that cannot be computed', () => {
  it.each<[Partial<Beam>, RefusalReason]>([
    [{ length: 0 }, 'no-length'],
    [{ length: Number.NaN }, 'no-length'],
    [{ rigidity: { bending: 0, shear: undefined } }, 'no-stiffness'],
    [{ rigidity: { bending: -1, shear: undefined } }, 'no-stiffness'],
    [{ rigidity: { bending: 1000, shear: 0 } }, 'no-shear-stiffness'],
    [{ supports: [] }, 'no-support'],
    [{ supports: rests(0, 1.1) }, 'support-off-beam'],
    [{ supports: rests(0, Number.NaN) }, 'support-off-beam'],
    [{ supports: rests(0, 0.5, 0.5) }, 'coincident-supports'],
    [{ supports: rests(0, 0.5, 0.5000005) }, 'coincident-supports'],
    [{ supports: rests(0.5) }, 'not-held'],
    [{ loads: [point(Number.NaN, 0.5)] }, 'load-not-a-number'],
    [{ loads: [point(1, Number.POSITIVE_INFINITY)] }, 'load-not-a-number'],
    [{ loads: [point(1, 1.1)] }, 'load-off-beam'],
    [{ loads: [uniform(1, -0.1, 0.5)] }, 'load-off-beam'],
    [{ loads: [uniform(1, 0.6, 0.5)] }, 'load-off-beam'],
    [{ rigidity: { bending: 1e-320, shear: undefined } }, 'out-of-range'],
    [{ loads: [point(1e308, 0.5), point(1e308, 0.5)] }, 'out-of-range'],
  ])('%j is refused: %s', (changed, why) => {
    expect(reason(changed)).toBe(why);
  });

  it('says why in words', () => {
    const answer = solveBeam({ ...plain, supports: [] });
    expect(answer).toMatchObject({ kind: 'refused', words: 'nothing supports the beam' });
  });

  it('is one of the refused ones, or every number of its answer is a number', () => {
    const wild = fc.oneof(fc.double(), fc.double({ min: 0, max: 3 }), fc.constantFrom(0, 0.5, 1));
    const hold = fc.constantFrom('rest' as const, 'fixed' as const);
    const load = fc.oneof(
      fc.record({ kind: fc.constant('point' as const), at: wild, force: wild }),
      fc.record({ kind: fc.constant('uniform' as const), from: wild, to: wild, perMetre: wild }),
    );
    const beam = fc.record({
      length: wild,
      rigidity: fc.record({ bending: wild, shear: fc.option(wild, { nil: undefined }) }),
      supports: fc.array(fc.record({ at: wild, hold }), { maxLength: 4 }),
      loads: fc.array(load, { maxLength: 3 }),
    });
    fc.assert(
      fc.property(beam, (given) => {
        const answer = solveBeam(given);
        if (answer.kind === 'refused') return;
        for (const { deflection, moment, shear } of answer.stretches) {
          expect([deflection, moment, shear].every((e) => Number.isFinite(e.amount) && Number.isFinite(e.at))).toBe(
            true,
          );
        }
        for (const { force, moment } of answer.reactions) expect(Number.isFinite(force + moment)).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('a beam', () => {
  it('without load does not bend', () => {
    const [span] = solved({ ...plain, loads: [] }).stretches;
    expect(span?.deflection.amount).toBe(0);
    expect(span?.moment.amount).toBe(0);
  });

  it('keeps supports and loads that stand at its ends but for rounding', () => {
    const { stretches, reactions } = solved({
      ...plain,
      supports: rests(-1e-9, 1 + 1e-9),
      loads: [point(10, 1 + 1e-9)],
    });
    expect(stretches.map(({ kind }) => kind)).toEqual(['span']);
    expect(reactions.map(({ force }) => force)).toEqual([0, 10]);
  });

  it('passes a load over a support straight into it', () => {
    const { reactions, stretches } = solved({ ...plain, supports: rests(0, 0.5, 1), loads: [point(10, 0.5)] });
    expect(reactions.map(({ force }) => force)).toEqual([0, 10, 0]);
    expect(stretches.map(({ deflection }) => deflection.amount)).toEqual([0, 0]);
  });

  it('is parted by a support that holds it fast', () => {
    // Left of it a propped span of 1 m under 1000 N/m, right of it a cantilever of 1 m: they do not know of each other.
    const fast = solved({
      ...plain,
      length: 2,
      supports: [...rests(0), { at: 1, hold: 'fixed' }],
      loads: [uniform(1000, 0, 2)],
    });
    // Propped 3/8 and 5/8 of 1000 N, cantilever 1000 N more; moments -1000/8 left, -1000/2 right.
    expect(fast.reactions.map(({ force }) => Math.round(force * 1e6) / 1e6)).toEqual([375, 1625]);
    expect(fast.reactions[1]?.moment).toBeCloseTo(-375, 9);
    // w L4 / (8 EI).
    expect(fast.stretches[1]?.deflection.amount).toBeCloseTo(1 / 8, 12);
  });

  it('has a state everywhere on it and none beside it', () => {
    const answer = solved(plain);
    expect(stateAt(answer, 0.5)?.moment).toBeCloseTo(12.5, 12);
    expect(stateAt(answer, 1)?.deflection).toBeCloseTo(0, 12);
    expect(stateAt(answer, 1.01)).toBeUndefined();
    expect(stateAt(answer, -0.01)).toBeUndefined();
  });
});
