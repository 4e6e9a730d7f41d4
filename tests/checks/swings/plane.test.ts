/** Quarter circles, strips and boxes at any angle, against a sampler of points; and a few cases worked out by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { freeWay } from '../../../server/checks/swings/ahead.ts';
import {
  distanceFrom,
  fromPlan,
  type Point,
  type Polygon,
  rectangle,
  toPlan,
} from '../../../server/checks/swings/plane.ts';
import { meetsLeaf } from '../../../server/checks/swings/sector.ts';

const coordinate = fc.integer({ min: -80_000, max: 80_000 });
const side = fc.integer({ min: 500, max: 60_000 });
const turned = fc
  .record({ at: fc.tuple(coordinate, coordinate), wide: side, deep: side, degrees: fc.integer({ min: 0, max: 359 }) })
  .map(({ at, wide, deep, degrees }) => {
    const angle = (degrees * Math.PI) / 180;
    const frame = { from: at, along: [Math.cos(angle), Math.sin(angle)] as Point };
    return { frame, wide, deep, polygon: rectangle([0, wide], [0, deep]).map((p) => toPlan(frame, p)) };
  });

/** Points inside a turned box, on a grid that touches its edges. */
function* inside({ frame, wide, deep }: { frame: { from: Point; along: Point }; wide: number; deep: number }) {
  const steps = 24;
  for (let i = 0; i <= steps; i++)
    for (let k = 0; k <= steps; k++) yield toPlan(frame, [(wide * i) / steps, (deep * k) / steps]);
}

/** A point that lies `margin` inside the quarter disc of a leaf. */
function isSwept([x, y]: Point, at: number, wide: number, left: boolean, margin: number): boolean {
  const across = left ? x - at : at - x;
  return across > margin && y > margin && Math.hypot(across, y) < wide - margin;
}

describe('a leaf that swings in', () => {
  it('meets whatever has a point that it sweeps, and stops no later than there', () => {
    let met = 0;
    fc.assert(
      fc.property(turned, fc.integer({ min: 10_000, max: 90_000 }), fc.boolean(), (box, wide, left) => {
        const found = meetsLeaf({ at: 0, hinge: left ? 'left' : 'right', wide }, box.polygon);
        for (const p of inside(box)) {
          if (!isSwept(p, 0, wide, left, 5)) continue;
          met++;
          expect(found).toBeDefined();
          expect(found?.distance).toBeLessThanOrEqual(Math.hypot(...p) + 1);
          const angle = (Math.atan2(p[1], Math.abs(p[0])) * 180) / Math.PI;
          expect(found?.opens).toBeLessThanOrEqual(angle + 0.1);
        }
      }),
      { numRuns: 400 },
    );
    expect(met).toBeGreaterThan(1000);
  });

  it('meets nothing that has no point near what it sweeps', () => {
    let clear = 0;
    fc.assert(
      fc.property(turned, fc.integer({ min: 10_000, max: 90_000 }), fc.boolean(), (box, wide, left) => {
        // A grid point is never farther from a point of the box than half of a step's diagonal.
        const reach = Math.hypot(box.wide, box.deep) / 24;
        if ([...inside(box)].some((p) => isSwept(p, 0, wide, left, -reach))) return;
        clear++;
        expect(meetsLeaf({ at: 0, hinge: left ? 'left' : 'right', wide }, box.polygon)).toBeUndefined();
      }),
      { numRuns: 400 },
    );
    expect(clear).toBeGreaterThan(20);
  });

  it('passes a corner at its very reach, and meets it a tick nearer', () => {
    // 3, 4, 5: the near corner of the box is 50,000 from the hinges.
    const box = rectangle([30_000, 60_000], [40_000, 60_000]);
    expect(meetsLeaf({ at: 0, hinge: 'left', wide: 50_000 }, box)).toBeUndefined();
    const met = meetsLeaf({ at: 0, hinge: 'left', wide: 50_001 }, box);
    expect(met?.distance).toBe(50_000);
    // At that corner: the angle whose tangent is 4/3.
    expect(met?.opens).toBeCloseTo(53.13, 2);
  });

  it('meets what stands at its middle first at the edge nearest to the closed leaf', () => {
    // From 30,000 to 60,000 along, 10,000 to 20,000 out: the leaf comes by the corner (60,000, 10,000), 60,828 off, beyond its 50,000;
    // the lower edge enters its reach at sqrt(50,000^2 - 10,000^2) = 48,990 along: 11.54 degrees.
    const met = meetsLeaf({ at: 0, hinge: 'left', wide: 50_000 }, rectangle([30_000, 60_000], [10_000, 20_000]));
    expect(met?.opens).toBeCloseTo(11.54, 2);
    // In a mirror, from the other side.
    const mirrored = meetsLeaf(
      { at: 0, hinge: 'right', wide: 50_000 },
      rectangle([-60_000, -30_000], [10_000, 20_000]),
    );
    expect(mirrored?.distance).toBe(met?.distance);
    expect(mirrored?.opens).toBeCloseTo(met?.opens ?? 0, 9);
  });

  it('leaves alone what only touches its jamb or the face of its wall', () => {
    expect(meetsLeaf({ at: 0, hinge: 'left', wide: 50_000 }, rectangle([-20_000, 0], [0, 40_000]))).toBeUndefined();
    expect(meetsLeaf({ at: 0, hinge: 'left', wide: 50_000 }, rectangle([0, 40_000], [-20_000, 0]))).toBeUndefined();
  });
});

describe('the free way before something that comes straight out', () => {
  it('ends no later than any point of what is in the way, and not far before the nearest of them', () => {
    let met = 0;
    fc.assert(
      fc.property(turned, fc.tuple(coordinate, side), coordinate, (box, [from, width], front) => {
        const path = { x: [from, from + width] as const, front };
        const way = freeWay(path, box.polygon);
        const before = [...inside(box)].filter(([x, y]) => x > from + 5 && x < from + width - 5 && y > front + 5);
        if (before.length === 0) return;
        met++;
        const nearest = Math.min(...before.map(([, y]) => y - front));
        expect(way).toBeDefined();
        expect(way).toBeLessThanOrEqual(nearest + 1);
        expect(way).toBeGreaterThanOrEqual(0);
        // The point where it ends belongs to the box.
        const ends = Math.min(
          ...Array.from({ length: 201 }, (_, i) =>
            distanceFrom([from + (width * i) / 200, front + (way ?? 0)], box.polygon),
          ),
        );
        expect(ends).toBeLessThanOrEqual(width / 200 + 2);
      }),
      { numRuns: 1500 },
    );
    expect(met).toBeGreaterThan(100);
  });

  it('ends at a wall across from it, to the tick', () => {
    const wall: Polygon = [
      [0, 25_000],
      [90_000, 25_000],
    ];
    expect(freeWay({ x: [10_000, 30_000], front: 16_000 }, wall)).toBe(9_000);
    expect(freeWay({ x: [10_000, 30_000], front: 24_999 }, wall)).toBe(1);
    expect(freeWay({ x: [90_000, 99_000], front: 16_000 }, wall)).toBeUndefined();
  });

  it('is not hindered by what is beside it or behind it', () => {
    expect(freeWay({ x: [10_000, 30_000], front: 16_000 }, rectangle([30_000, 40_000], [0, 90_000]))).toBeUndefined();
    expect(freeWay({ x: [10_000, 30_000], front: 16_000 }, rectangle([0, 90_000], [0, 16_000]))).toBeUndefined();
    expect(freeWay({ x: [10_000, 30_000], front: 16_000 }, rectangle([0, 90_000], [0, 16_010]))).toBe(0);
  });
});

describe('frames in the plan', () => {
  it('take a point there and back', () => {
    fc.assert(
      fc.property(turned, coordinate, coordinate, ({ frame }, x, y) => {
        const [there, back] = fromPlan(frame, toPlan(frame, [x, y]));
        expect(there).toBeCloseTo(x, 3);
        expect(back).toBeCloseTo(y, 3);
      }),
    );
  });
});
