/** Limits, spans the other way round, and what stiffens a shelf. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareStretches, type DeflectionLimit } from '../../../server/checks/structure/limits.ts';
import {
  greatestLength,
  greatestMiddleSpan,
  greatestPassing,
  greatestUniformSpan,
  staysWithin,
} from '../../../server/checks/structure/span.ts';
import { type ShelfBeam, shelfBeam, tryStiffening, worstStretch } from '../../../server/checks/structure/stiffen.ts';
import { point, rests, solved, uniform } from './beams.ts';

const limits: fc.Arbitrary<DeflectionLimit> = fc
  .record({
    ratio: fc.option(fc.integer({ min: 100, max: 400 }), { nil: undefined }),
    most: fc.option(
      fc.integer({ min: 1, max: 10 }).map((mm) => mm / 1000),
      { nil: undefined },
    ),
  })
  .filter(({ ratio, most }) => ratio !== undefined || most !== undefined);

describe('the greatest span', () => {
  const bendings = fc.integer({ min: 20, max: 20000 });
  const loads = fc.integer({ min: 20, max: 2000 });

  it('passes, and a thousandth more does not', () => {
    fc.assert(
      fc.property(bendings, loads, limits, (bending, load, limit) => {
        const rigidity = { bending, shear: undefined };
        const spread = greatestUniformSpan(bending, load, limit) ?? Number.NaN;
        const middle = greatestMiddleSpan(bending, load, limit) ?? Number.NaN;
        for (const part of [0.999, 1.001]) {
          const long = spread * part;
          const beam = { length: long, rigidity, supports: rests(0, long), loads: [uniform(load, 0, long)] };
          expect(staysWithin(beam, limit)).toBe(part < 1);
          const other = middle * part;
          const pressed = { length: other, rigidity, supports: rests(0, other), loads: [point(load, other / 2)] };
          expect(staysWithin(pressed, limit)).toBe(part < 1);
        }
      }),
    );
  });

  it('of beams on three supports is found by search, and creep shortens it', () => {
    const make = (length: number) => ({
      length,
      rigidity: { bending: 500, shear: 90000 },
      supports: rests(0, length / 2, length),
      loads: [uniform(300, 0, length)],
    });
    const limit = { ratio: 240, most: undefined };
    const longest = greatestLength(make, limit, 10) ?? Number.NaN;
    expect(staysWithin(make(longest), limit)).toBe(true);
    expect(staysWithin(make(longest + 2e-4), limit)).toBe(false);
    expect(greatestLength(make, limit, 10, 1.5)).toBeLessThan(longest);
    expect(greatestLength(make, limit, 0.5)).toBe(0.5);
    expect(greatestLength(make, { ratio: undefined, most: undefined }, 10)).toBeUndefined();
  });

  it('is none where not even the shortest passes', () => {
    expect(greatestPassing((x) => x <= 0.5, { from: 1, to: 2, within: 0.1 })).toBeUndefined();
    expect(greatestPassing((x) => x <= 1.25, { from: 1, to: 2, within: 1e-9 })).toBeCloseTo(1.25, 8);
  });
});

describe('a limit', () => {
  it('counts twice the length of an overhang', () => {
    // Overhangs of 0.25 m beside a span of 1 m: 2 x 0.25 / 100 = 5 mm against 1 / 100 = 10 mm.
    const answer = solved({
      length: 1.25,
      rigidity: { bending: 1000, shear: undefined },
      supports: rests(0, 1),
      loads: [uniform(10, 0, 1.25)],
    });
    const compared = compareStretches(answer, { ratio: 100, most: undefined });
    expect(compared.map(({ allowed }) => allowed)).toEqual([0.01, 0.005]);
  });

  it('holds at its last micrometre and fails beyond', () => {
    // 5 w L4 / (384 EI) with w 384, EI 1000: 5 mm.
    const beam = {
      length: 1,
      rigidity: { bending: 1000, shear: undefined },
      supports: rests(0, 1),
      loads: [uniform(384, 0, 1)],
    };
    expect(staysWithin(beam, { ratio: undefined, most: 0.005001 })).toBe(true);
    expect(staysWithin(beam, { ratio: undefined, most: 0.004999 })).toBe(false);
    expect(staysWithin(beam, { ratio: undefined, most: 0.007 }, 1.5)).toBe(false);
  });
});

describe('stiffening', () => {
  const shelf: ShelfBeam = {
    length: 1.2,
    breadth: 0.3,
    thickness: 0.019,
    material: { stiffness: 2.5e9, shear: undefined },
    density: 700,
    supports: rests(0, 1.2),
    loads: [uniform(300, 0, 1.2)],
  };
  const limit = { ratio: 240, most: undefined };
  const edge = { height: 0.03, thickness: 0.019, material: { stiffness: 11e9, shear: undefined } };

  it('weighs the board itself', () => {
    // 700 kg/m3 x 0.3 x 0.019 m2 x 9.80665 = 39.13 N/m.
    const beam = shelfBeam(shelf);
    expect(beam?.loads[1]).toMatchObject({ kind: 'uniform', perMetre: expect.closeTo(39.129, 3) });
  });

  it('tries thicker boards, one more support and edges, and says what each comes to', () => {
    const tried = tryStiffening(
      shelf,
      { thicknesses: [0.016, 0.025, 0.032], edges: [edge, { ...edge, height: 0.045 }] },
      limit,
    );
    expect(tried.map(({ option }) => option.kind)).toEqual(['thicker', 'thicker', 'support', 'edge', 'edge']);
    expect(tried[2]?.option).toEqual({ kind: 'support', at: 0.6 });
    const before = worstStretch(beamOf(shelf), limit, 1);
    for (const { worst } of tried) expect(worst.deflection).toBeLessThan(before?.deflection ?? 0);
    // 5 w L4 / (384 E I) by hand, own weight counted, against 1.2 / 240 = 5 mm. As it is: w 339.1, EI 428.7, 21.36 mm;
    // 25 mm: 351.5, 976.6; 32 mm: 365.9, 2048; edges by the transformed section: EI 1030.7 and 2973; with a support in
    // the middle w L4 / 184.6 EI of 0.6 m.
    const millimetres = tried.map(({ worst }) => Math.round(worst.deflection * 1e5) / 100);
    expect(millimetres).toEqual([9.72, 4.82, 0.56, 8.88, 3.08]);
    expect(before?.holds).toBe(false);
    expect(tried.map(({ holds }) => holds)).toEqual([false, true, true, false, true]);
  });

  it('has nothing to say of a shelf without stiffness', () => {
    const soft = { ...shelf, material: { stiffness: 0, shear: undefined } };
    expect(tryStiffening(soft, { thicknesses: [0.03], edges: [edge] }, limit)).toEqual([]);
  });
});

function beamOf(given: ShelfBeam) {
  const beam = shelfBeam(given);
  if (!beam) throw new Error('a beam was expected');
  return beam;
}
