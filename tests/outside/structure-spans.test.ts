/** Spans, loads and grades against published tables. */
import { describe, expect, it } from 'vitest';
import { allowedOver } from '../../server/checks/structure/limits.ts';
import {
  cappedLine,
  designLoads,
  lineOfArea,
  lineOfGarments,
  WHOLE_SHELF_CAP,
} from '../../server/checks/structure/loads.ts';
import { materialRows } from '../../server/checks/structure/materials.ts';
import { rectangle } from '../../server/checks/structure/section.ts';
import { greatestLength, greatestMiddleSpan, greatestUniformSpan } from '../../server/checks/structure/span.ts';
import { INCH, PLF, POUND, POUND_FORCE, PSF, PSI } from '../../server/checks/structure/units.ts';

const by144 = { ratio: 144, most: undefined };

describe('the table of shelf spans', () => {
  // source: Architectural Woodwork Standards, edition 1, 2009, 10-4.4.14.10.11 to .13: longest shelf in inches, by the
  // modulus of elasticity, thickness and load; the limit of 10-1.2.21, span / 144. The table gives whole inches.
  it.each([
    [950e3, 0.75, 40, 40],
    [950e3, 0.75, 50, 37],
    [950e3, 1, 40, 53],
    [950e3, 1, 50, 49],
    [1.8e6, 0.75, 40, 49],
    [1.8e6, 0.75, 50, 46],
    [1.8e6, 1, 40, 66],
    [1.8e6, 1, 50, 61],
    [1.82e6, 0.75, 40, 49],
    [1.82e6, 0.75, 50, 46],
    [1.82e6, 1, 40, 66],
    [1.82e6, 1, 50, 61],
  ])('E %d psi, %f in thick, %d psf: %d in', (stiffness, thickness, load, published) => {
    const depth = 12 * INCH;
    const bending = stiffness * PSI * (rectangle(depth, thickness * INCH)?.inertia ?? 0);
    const line = lineOfArea(load * PSF, depth);
    const span = greatestUniformSpan(bending, line, by144) ?? 0;
    expect(Math.abs(span / INCH - published)).toBeLessThan(1);
    // The general way comes to the same.
    const searched = greatestLength(
      (length) => ({
        length,
        rigidity: { bending, shear: undefined },
        supports: [
          { at: 0, hold: 'rest' },
          { at: length, hold: 'rest' },
        ],
        loads: [{ kind: 'uniform', from: 0, to: length, perMetre: line }],
      }),
      by144,
      5,
    );
    expect(span - (searched ?? 0)).toBeGreaterThanOrEqual(-1e-9);
    expect(span - (searched ?? 0)).toBeLessThanOrEqual(1e-4);
  });
});

describe('a joist 2 x 8', () => {
  it('spans 13.8 ft at 30 psf, 16 in apart, for span / 360', () => {
    // source: HUD Residential Structural Design Guide, 2nd edition, example 5.1, as transcribed in an open project.
    const bending = 1.5e6 * PSI * (rectangle(1.5 * INCH, 7.25 * INCH)?.inertia ?? 0);
    const span = greatestUniformSpan(bending, lineOfArea(30 * PSF, 16 * INCH), { ratio: 360, most: undefined });
    expect((span ?? 0) / (12 * INCH)).toBeCloseTo(13.83, 2);
  });
});

describe('limits', () => {
  it('of span / 144 and span / 240 allow 0.25 and 0.15 in over 36 in', () => {
    // source: Architectural Woodwork Standards, edition 1, 10-1.2.21; the stricter one by joneakes.com 652, quoting panel makers.
    expect(allowedOver(36, by144)).toBeCloseTo(0.25, 12);
    expect(allowedOver(36, { ratio: 240, most: undefined })).toBeCloseTo(0.15, 12);
  });

  it('of a distance alone go with the fourth root, or the third for a load in the middle', () => {
    // Plain algebra: at the span found, 5 w L4 / (384 E I) and P L3 / (48 E I) are the distance.
    const most = { ratio: undefined, most: 0.002 };
    const spread = greatestUniformSpan(800, 400, most) ?? 0;
    expect((5 * 400 * spread ** 4) / (384 * 800)).toBeCloseTo(0.002, 12);
    const middle = greatestMiddleSpan(800, 400, most) ?? 0;
    expect((400 * middle ** 3) / (48 * 800)).toBeCloseTo(0.002, 12);
    expect(greatestUniformSpan(800, 400, { ratio: undefined, most: undefined })).toBeUndefined();
  });
});

describe('loads', () => {
  const area = (name: string) => {
    const load = designLoads.find((one) => one.name === name)?.load;
    return load?.kind === 'area' ? load.pascals : Number.NaN;
  };

  it('of books are 50 psf, of other shelves 40, and of one shelf no more than 200 lb', () => {
    // source: Architectural Woodwork Standards, edition 1, 10-1.2.21.
    expect(area('books and institutions') / PSF).toBeCloseTo(50, 12);
    expect(area('other shelves') / PSF).toBeCloseTo(40, 12);
    const [length, depth] = [48 * INCH, 15 * INCH];
    const line = lineOfArea(50 * PSF, depth);
    expect((line * length) / POUND_FORCE).toBeCloseTo(250, 9);
    expect((cappedLine(line, length, WHOLE_SHELF_CAP) * length) / POUND_FORCE).toBeCloseTo(200, 9);
    expect(cappedLine(line, length / 2, WHOLE_SHELF_CAP)).toBe(line);
  });

  it('of full stacks are 25 lb a foot', () => {
    // source: test of the California Office of the State Architect, as told in the SEAINT list, 2000a, message 00735.
    const load = designLoads.find((one) => one.load.kind === 'line')?.load;
    expect(load?.kind === 'line' ? load.newtonsPerMetre / PLF : Number.NaN).toBeCloseTo(25, 12);
  });

  it('of clothes are what is known of them', () => {
    // 20 shirts of 0.3 kg and 10 coats of 1.5 kg on 1.2 m: 21 kg x 9.80665 / 1.2.
    const shirts = { count: 20, weight: 0.3 };
    expect(lineOfGarments([shirts, { count: 10, weight: 1.5 }], 1.2)).toBeCloseTo(171.616375, 9);
    expect(lineOfGarments([shirts, { count: 10, weight: undefined }], 1.2)).toBeUndefined();
  });
});

describe('grades', () => {
  const row = (name: string) => {
    const found = materialRows.find((one) => one.name === name);
    if (!found) throw new Error(`no ${name}`);
    return found;
  };

  it('of particleboard are apart as published: stiffness 22 %, strength 13.7 %', () => {
    // source: woodweb.com, particleboard grades, ANSI A208.1-1999, M-3 against M-2 (the ratios seen, the values from memory).
    const [m2, m3] = [row('particleboard M-2, 1999'), row('particleboard M-3, 1999')];
    expect(m3.stiffness / m2.stiffness).toBeCloseTo(1.2225, 4);
    expect((m3.rupture ?? 0) / (m2.rupture ?? 1)).toBeCloseTo(1.137, 2);
    expect(m2.stiffness / 1e6).toBeCloseTo(2250, -1);
    expect(m2.source).toMatchObject({ edition: '1999', seen: false });
    expect(row('particleboard M-2, 2009').source).toMatchObject({ edition: '2009', seen: false });
  });

  it('of red oak are the same in two publications', () => {
    // source: Architectural Woodwork Standards, edition 1 (seen); USDA Wood Handbook, table 5-3b (from memory).
    expect(row('red oak').stiffness / PSI).toBeCloseTo(1.82e6, 3);
    expect(row('red oak, northern').stiffness).toBe(row('red oak').stiffness);
  });

  it.each([
    // source: USDA Wood Handbook, table 5-3b, million psi; from memory.
    ['yellow birch', 2.01],
    ['sugar maple', 1.83],
    ['yellow-poplar', 1.58],
    ['ponderosa pine', 1.29],
    ['eastern white pine', 1.24],
    ['Douglas-fir, coast', 1.95],
  ])('%s has %f million psi, from memory', (name, millions) => {
    expect(row(name).stiffness / PSI / 1e6).toBeCloseTo(millions, 9);
    expect(row(name).source).toMatchObject({ seen: false });
  });

  it('are named once each, and say whether their source was seen', () => {
    expect(new Set(materialRows.map(({ name }) => name)).size).toBe(materialRows.length);
    for (const { source } of materialRows) expect(source.kind).toBe('published');
  });
});

describe('units', () => {
  it('are those of NIST', () => {
    // source: NIST SP 811 appendix B, as used in tests of an open project: psf 47.88026, psi 6894.76, lbf 4.44822.
    expect(PSF).toBeCloseTo(47.88026, 5);
    expect(PSI).toBeCloseTo(6894.757, 3);
    expect(POUND_FORCE).toBeCloseTo(4.4482216, 7);
    expect(POUND).toBe(0.45359237);
  });
});
