/** Screws, lag screws and nails against published values; brackets and towers by statics. */
import { describe, expect, it } from 'vitest';
import {
  anchorHold,
  bracketPull,
  type Fastener,
  lateral,
  penetration,
  withdrawal,
} from '../../server/checks/structure/fastener.ts';
import { framingNamed } from '../../server/checks/structure/materials.ts';
import { gaugeDiameter, readScrew } from '../../server/checks/structure/screw.ts';
import { tipping } from '../../server/checks/structure/tipping.ts';
import { INCH, POUND_FORCE } from '../../server/checks/structure/units.ts';

/** Pounds an inch. */
function poundsPerInch(fastener: Fastener, gravity: number, diameter: number): number {
  return ((withdrawal(fastener, gravity, diameter * INCH) ?? Number.NaN) * INCH) / POUND_FORCE;
}

describe('wood screws pulled from side grain', () => {
  // source: NDS 12.2-2, W = 2850 G2 D, as quoted by engineeringtoolbox.com and a handbook; worked out for
  // diameters of NDS appendix L and the gravities of table 12.3.3A.
  it.each([
    ['spf', 6, 69.4],
    ['spf', 8, 82.4],
    ['spf', 10, 95.5],
    ['douglas-fir', 6, 98.3],
    ['douglas-fir', 8, 116.9],
    ['douglas-fir', 10, 135.4],
    ['southern-pine', 6, 119.0],
    ['southern-pine', 8, 141.4],
    ['southern-pine', 10, 163.8],
  ])('of %s, #%i, hold %f lb an inch', (framing, gauge, pounds) => {
    const gravity = framingNamed(framing)?.gravity ?? Number.NaN;
    const measured = poundsPerInch('wood-screw', gravity, (gaugeDiameter(gauge) ?? Number.NaN) / INCH);
    expect(Math.abs(measured - pounds)).toBeLessThan(0.051);
  });

  it('hold 109 lb an inch, #10 in wood of 0.45', () => {
    // source: engineeringtoolbox.com, wood screws, allowable withdrawal loads; the table cuts decimals off.
    expect(Math.floor(poundsPerInch('wood-screw', 0.45, 0.19))).toBe(109);
  });

  it('hold 1 : 5.5 of what pulls them out', () => {
    // source: USDA Wood Handbook chapter 8, 15,700 G2 D L; from memory.
    expect(15700 / (poundsPerInch('wood-screw', 0.42, 0.164) / (0.42 ** 2 * 0.164))).toBeCloseTo(5.509, 3);
  });
});

describe('nails', () => {
  it('0.131 x 2.5 in through a side of 0.105 in hold 49.5 lb in spruce-pine-fir', () => {
    // source: AWC, connection design examples, E2.1a, as transcribed in an open project: 3619.313 N/m = 20.67 lb/in,
    // point 2.395 in deep. A nail holds along its whole shank.
    const perMetre = withdrawal('nail', 0.42, 0.131 * INCH) ?? Number.NaN;
    expect(perMetre).toBeCloseTo(3619.313, 2);
    expect(poundsPerInch('nail', 0.42, 0.131)).toBeCloseTo(20.67, 2);
    const { depth, thread } = penetration({ length: 2.5 * INCH, thread: 2.5 * INCH }, [0.105 * INCH]);
    expect(depth / INCH).toBeCloseTo(2.395, 9);
    expect((perMetre * thread) / POUND_FORCE).toBeCloseTo(49.5, 1);
  });
});

describe('lag screws', () => {
  it('follow 1800 G^1.5 D^0.75', () => {
    // source: NDS 12.2-1, 2018, as transcribed in an open project; 1/4 in in 0.50: 1800 x 0.353553 x 0.353553 = 225.
    expect(poundsPerInch('lag-screw', 0.5, 0.25)).toBeCloseTo(225, 9);
  });
});

describe('wood screws pushed sideways', () => {
  // source: p = C D2, C 4800, 3960, 3240 and 2520, handbook chapter 6, equation 6.38 and table 6.2.
  it.each([
    ['I', 173.28],
    ['II', 142.956],
    ['III', 116.964],
    ['IV', 90.972],
  ] as const)('of #10 hold, in group %s, %f lb', (group, pounds) => {
    expect((lateral(group, 0.19 * INCH) ?? Number.NaN) / POUND_FORCE).toBeCloseTo(pounds, 9);
  });
});

describe('sizes of screws', () => {
  it.each([
    // source: ASME B18.6.1 and NDS appendix L, as tabled in a public collection.
    [4, 0.112],
    [6, 0.138],
    [8, 0.164],
    [9, 0.177],
    [10, 0.19],
    [12, 0.216],
  ])('#%i is %f in thick', (gauge, inches) => {
    expect((gaugeDiameter(gauge) ?? Number.NaN) / INCH).toBeCloseTo(inches, 12);
  });
});

describe('specific gravities of framing', () => {
  it.each([
    // source: NDS 2018, table 12.3.3A, as transcribed in an open project.
    ['spf', 0.42],
    ['hem-fir', 0.43],
    ['douglas-fir', 0.5],
    ['southern-pine', 0.55],
    ['spf-south', 0.36],
    ['red-oak', 0.67],
    ['northern-red-oak', 0.68],
    ['yellow-poplar', 0.43],
    ['red-maple', 0.58],
  ])('%s: %f', (name, gravity) => {
    expect(framingNamed(name)?.gravity).toBe(gravity);
  });
});

describe('screws written as text', () => {
  // Common practice, no source: screw sizes as a trade list writes them.
  it.each([
    ['#8 x 1-1/2 in', 0.164, 1.5],
    ['#8 x 3/4 in', 0.164, 0.75],
    ['#8 x 1/2 in', 0.164, 0.5],
    ['#4 x 3/4 in', 0.112, 0.75],
    ['#8 x 1 in', 0.164, 1],
    ['#8 x 3 in', 0.164, 3],
    ['#6 x 1-1/4 in', 0.138, 1.25],
    ['#10 x 3 in', 0.19, 3],
    ['#6 x 1-1/4 in self-drilling', 0.138, 1.25],
    ['1/4 x 3 in', 0.25, 3],
    ['#8x2-1/2"', 0.164, 2.5],
    ['# 8 × 2 1/2in', 0.164, 2.5],
    ['#8 x 2', 0.164, 2],
    ['5 x 60 mm', 5 / 25.4, 60 / 25.4],
    ['4.5mm x 50mm', 4.5 / 25.4, 50 / 25.4],
  ])('%s is %f in thick and %f in long', (text, diameter, length) => {
    const screw = readScrew(text);
    if (screw.kind === 'unreadable') throw new Error(screw.why);
    expect(screw.diameter / INCH).toBeCloseTo(diameter, 9);
    expect(screw.length / INCH).toBeCloseTo(length, 9);
    // Two thirds of a wood screw are threaded: NDS appendix L, from memory.
    expect(screw.thread).toBeCloseTo((screw.length * 2) / 3, 12);
  });

  it.each([
    ['', 'it does not read like'],
    ['wood screw', 'it does not read like'],
    ['5 x 60', 'it names no unit'],
    ['#8 x 2 ft', 'it does not read like'],
    ['#8 x 40 mm', 'numbers of screws go with inches'],
    ['#99 x 1 in', 'there is no screw #99'],
    ['#8 x 0 in', 'the length is not a number'],
    ['3/0 x 1 in', 'the diameter is not a number'],
    ['60 x 5 mm', 'it is shorter than it is thick'],
  ])('%s is not a screw', (text, why) => {
    const screw = readScrew(text);
    expect(screw.kind === 'unreadable' ? screw.why : '').toContain(why);
  });
});

describe('penetration', () => {
  it('is what is left after the lining and the part', () => {
    // 3 in through a bracket of 1/16 in and 1/2 in of lining: 2-7/16 in deep, and all 2 in of its thread in the wood.
    const long = penetration({ length: 3, thread: 2 }, [1 / 16, 1 / 2]);
    expect(long).toEqual({ depth: 2.4375, thread: 2 });
    // 1-1/2 in through 3/4 in of board and 5/8 in of lining: 1/8 in, with thread all of it.
    expect(penetration({ length: 1.5, thread: 1 }, [0.75, 0.625])).toEqual({ depth: 0.125, thread: 0.125 });
    // Too short to reach.
    expect(penetration({ length: 1, thread: 0.6 }, [0.75, 0.5])).toEqual({ depth: -0.25, thread: 0 });
  });
});

describe('an angle bracket', () => {
  it('pulls its upper screws by load times reach over the arm between them and the foot of its leg', () => {
    // Statics: 100 N at 6 in before the wall, arm 8 in: 75 N.
    expect(bracketPull({ load: 100, reach: 6 * INCH, arm: 8 * INCH })).toBeCloseTo(75, 12);
    expect(bracketPull({ load: 100, reach: 0.2, arm: 0 })).toBeUndefined();
  });
});

describe('an anchor', () => {
  it('holds what its maker rates it for, over the factor of the policy', () => {
    // No formula is published. 20 kg over 4: 5 kg.
    expect(anchorHold(20, 4)).toBeCloseTo(5 * 9.80665, 12);
    expect(anchorHold(20, 0)).toBeUndefined();
  });
});

describe('a tower that stands free', () => {
  it('tips when its open drawers weigh more about the front edge', () => {
    // Statics about the front edge: 300 N x 0.25 m = 75 N m keeps it; three drawers of 100 N, 0.4 m deep and 0.45 m
    // out, count at 0.45 - 0.2 = 0.25 m before the edge: 75 N m. A fourth tips it.
    const drawer = { weight: 100, depth: 0.4, pullOut: 0.45 };
    expect(tipping({ weight: 300, behindEdge: 0.25, open: [drawer, drawer, drawer] })?.ratio).toBeCloseTo(1, 12);
    expect(tipping({ weight: 300, behindEdge: 0.25, open: Array(4).fill(drawer) })?.ratio).toBeCloseTo(0.75, 12);
    expect(tipping({ weight: 300, behindEdge: 0.25, open: [] })?.ratio).toBe(Number.POSITIVE_INFINITY);
    // Pulled out by less than half of its depth, a drawer still counts as standing on the floor.
    expect(tipping({ weight: 300, behindEdge: 0.25, open: [{ ...drawer, pullOut: 0.1 }] })).toMatchObject({
      keeps: 85,
      tips: 0,
    });
  });
});
