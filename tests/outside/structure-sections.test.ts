/** Cross-sections and sizes against published tables. Tables in inches. */
import { describe, expect, it } from 'vitest';
import { edgedShelf, rectangle, type Section, solidRound, tube } from '../../server/checks/structure/section.ts';
import { INCH } from '../../server/checks/structure/units.ts';

/** A section in inches, in2, in3, in4. */
function inInches(section: Section | undefined) {
  if (!section) throw new Error('a section was expected');
  const { area, inertia, modulus, shearArea } = section;
  return {
    area: area / INCH ** 2,
    inertia: inertia / INCH ** 4,
    modulus: modulus / INCH ** 3,
    shearArea: shearArea / INCH ** 2,
  };
}

/** One in the last digit printed: the table was computed from rounded values on the way. */
const digit = (printed: string) => 10 ** -(printed.split('.')[1]?.length ?? 0);

describe('pipe of schedule 40', () => {
  // source: R. L. Mott, Machine Elements in Mechanical Design, 4th edition, table A16-6: diameter, wall, I, S.
  const seen = [
    ['1/2', 0.84, 0.109, '0.01709', '0.04070'],
    ['3/4', 1.05, 0.113, '0.03704', '0.07055'],
    ['1', 1.315, 0.133, '0.08734', '0.1328'],
    ['1-1/4', 1.66, 0.14, '0.1947', '0.2346'],
    ['1-1/2', 1.9, 0.145, '0.3099', '0.3262'],
    ['2', 2.375, 0.154, '0.6658', '0.5607'],
  ] as const;
  // The three smallest sizes of the same table: from memory.
  const remembered = [
    ['1/8', 0.405, 0.068, '0.00106', '0.00525'],
    ['1/4', 0.54, 0.088, '0.00331', '0.01227'],
    ['3/8', 0.675, 0.091, '0.00729', '0.02160'],
  ] as const;

  it.each([...seen, ...remembered])('%s in has the printed I and S', (_, diameter, wall, inertia, modulus) => {
    const pipe = inInches(tube(diameter * INCH, wall * INCH));
    expect(Math.abs(pipe.inertia - Number(inertia))).toBeLessThanOrEqual(digit(inertia));
    expect(Math.abs(pipe.modulus - Number(modulus))).toBeLessThanOrEqual(digit(modulus));
  });

  it('of 1 in has the printed radius of gyration', () => {
    // source: the same row, r = 0.421 in.
    const { area, inertia } = inInches(tube(1.315 * INCH, 0.133 * INCH));
    expect(Math.sqrt(inertia / area)).toBeCloseTo(0.421, 3);
  });
});

describe('closet tubes', () => {
  // Worked out by hand from I = pi (D4 - d4) / 64; no table of these walls is published.
  it.each([
    [1.0625, 0.035, 0.01493],
    [1.0625, 0.049, 0.02008],
    [1.0625, 0.065, 0.02544],
    [1.3125, 0.035, 0.02868],
    [1.3125, 0.049, 0.03887],
    [1.3125, 0.065, 0.04969],
  ])('%f x %f in have I = %f in4', (diameter, wall, inertia) => {
    expect(inInches(tube(diameter * INCH, wall * INCH)).inertia).toBeCloseTo(inertia, 5);
  });

  it('of solid wood, 1-1/4 in, have I = 0.11984 in4', () => {
    expect(inInches(solidRound(1.25 * INCH)).inertia).toBeCloseTo(0.11984, 5);
  });
});

describe('plywood strips 12 in wide', () => {
  // source: PFS/TECO, Design capacities, table C, as transcribed in an open project: A (12 t), I, S.
  it.each([
    ['15/32', 0.469, 0.103, 0.44],
    ['23/32', 0.719, 0.371, 1.033],
    ['3/4', 0.75, 0.422, 1.125],
    ['1', 1, 1, 2],
  ])('%s in thick have the printed I and S', (_, thickness, inertia, modulus) => {
    const strip = inInches(rectangle(12 * INCH, thickness * INCH));
    expect(strip.area).toBeCloseTo(12 * thickness, 9);
    // The table rounds sizes before it multiplies: within one in the last digit.
    expect(Math.abs(strip.inertia - inertia)).toBeLessThanOrEqual(0.001);
    expect(Math.abs(strip.modulus - modulus)).toBeLessThanOrEqual(0.001);
  });

  it('of 3/4 in nominal, 23/32 in actual, lose 12 % of their stiffness', () => {
    // source: the same table, 0.371 / 0.422.
    const nominal = inInches(rectangle(12 * INCH, 0.75 * INCH)).inertia;
    const actual = inInches(rectangle(12 * INCH, 0.719 * INCH)).inertia;
    expect(1 - actual / nominal).toBeCloseTo(0.12, 2);
  });
});

describe('a joist 2 x 8', () => {
  it('has I = 47.63 in4 and S = 13.14 in3', () => {
    // source: HUD Residential Structural Design Guide, 2nd edition, example 5.1, as transcribed in an open project.
    const joist = inInches(rectangle(1.5 * INCH, 7.25 * INCH));
    expect(joist.inertia).toBeCloseTo(47.635, 3);
    expect(joist.modulus).toBeCloseTo(13.141, 3);
    // source: USDA Wood Handbook, equation 9-2: the modified area of a rectangle is 5/6 of it.
    expect(joist.shearArea).toBeCloseTo((5 / 6) * 1.5 * 7.25, 9);
  });
});

describe('shear areas of rounds', () => {
  // source: G. R. Cowper, Journal of Applied Mechanics 33, 1966, for Poisson's ratio 0.3; from memory.
  it('are those of a solid circle and of a thin tube at the two ends', () => {
    const solid = inInches(solidRound(INCH));
    expect(solid.shearArea / solid.area).toBeCloseTo((6 * 1.3) / (7 + 6 * 0.3), 12);
    const thin = inInches(tube(INCH, 1e-6 * INCH));
    expect(thin.shearArea / thin.area).toBeCloseTo((2 * 1.3) / (4 + 3 * 0.3), 5);
  });
});

describe('a shelf with a front edge', () => {
  const material = { stiffness: 3e9, shear: undefined };
  const board = { breadth: 0.3, thickness: 0.02, material };

  it('of an edge as high as the board is a wider board', () => {
    const edged = edgedShelf({ board, edge: { height: 0.02, thickness: 0.025, material } });
    expect(edged?.bending).toBeCloseTo(3e9 * (rectangle(0.325, 0.02)?.inertia ?? 0), 6);
    expect(edged?.axis).toBeCloseTo(0.01, 12);
  });

  it('counts an edge twice as stiff as one twice as thick', () => {
    const stiff = edgedShelf({
      board,
      edge: { height: 0.05, thickness: 0.02, material: { ...material, stiffness: 6e9 } },
    });
    const thick = edgedShelf({ board, edge: { height: 0.05, thickness: 0.04, material } });
    expect(stiff?.bending).toBeCloseTo(thick?.bending ?? 0, 6);
    expect(stiff?.modularRatio).toBe(2);
  });

  it('agrees with a sum over thin slices', () => {
    // Plain mechanics of a beam of two materials: EI = sum of E b(z) (z - axis)2 dz.
    const edge = { height: 0.06, thickness: 0.018, material: { stiffness: 11e9, shear: undefined } };
    const slices = 60000;
    const step = edge.height / slices;
    const stiffnessAt = (z: number) => (z < board.thickness ? 3e9 * board.breadth : 0) + 11e9 * edge.thickness;
    const depths = Array.from({ length: slices }, (_, i) => (i + 0.5) * step);
    const total = depths.reduce((sum, z) => sum + stiffnessAt(z), 0);
    const axis = depths.reduce((sum, z) => sum + stiffnessAt(z) * z, 0) / total;
    const bending = depths.reduce((sum, z) => sum + stiffnessAt(z) * (z - axis) ** 2 * step, 0);
    const edged = edgedShelf({ board, edge });
    expect(edged?.axis).toBeCloseTo(axis, 7);
    expect((edged?.bending ?? 0) / bending).toBeCloseTo(1, 6);
    // Stress by Hooke's law at the farthest fibre: E z / EI.
    expect((edged?.stressPerMoment.edge ?? 0) * bending).toBeCloseTo(11e9 * Math.max(axis, 0.06 - axis), -3);
  });
});
