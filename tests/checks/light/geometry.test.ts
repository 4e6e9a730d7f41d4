/** Storage space, distances, hatches and working room against samplers of points and plain search. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, rootOf, squaredDistance } from '../../../server/checks/light/exact.ts';
import { freeOf, hatchSize, sides } from '../../../server/checks/light/hatch.ts';
import { type StorageWall, storageBoxes } from '../../../server/checks/light/storage-space.ts';
import { workingRoom, workingSpace } from '../../../server/checks/light/working-space.ts';
import type { Box } from '../../../server/model/layout.ts';
import { inches, TICKS_PER_INCH, ticks } from '../../../server/model/ticks.ts';
import { box } from '../layouts.ts';

type Pair = readonly [number, number];
const span = (most: number): fc.Arbitrary<Pair> =>
  fc
    .tuple(fc.integer({ min: 0, max: most - 1 }), fc.integer({ min: 1, max: most }))
    .map(([from, length]): Pair => [from, Math.min(most, from + length)]);
const holds = ([from, to]: Pair, at: number) => from <= at && at < to;
const meets = (a: Pair, b: Pair) => a[0] < b[1] && b[0] < a[1];

describe('distances', () => {
  const small = fc.record({ x: span(6), y: span(6), z: span(6) });

  it('are the least between points of the two boxes', () => {
    const points = ({ x, y, z }: { x: Pair; y: Pair; z: Pair }) => {
      const all: number[][] = [];
      for (let i = x[0]; i <= x[1]; i++) {
        for (let j = y[0]; j <= y[1]; j++) {
          for (let k = z[0]; k <= z[1]; k++) all.push([i, j, k]);
        }
      }
      return all;
    };
    // Boxes on whole inches: the nearest points of two of them can always be had on whole inches.
    fc.assert(
      fc.property(small, small, fc.integer({ min: 0, max: 4 }), (a, b, away) => {
        const far = { ...b, x: [b.x[0] + away, b.x[1] + away] as const };
        let least = Number.POSITIVE_INFINITY;
        for (const p of points(a)) {
          for (const q of points(far)) {
            least = Math.min(
              least,
              p.reduce((sum, at, i) => sum + (at - (q[i] ?? 0)) ** 2, 0),
            );
          }
        }
        const found = squaredDistance(box(a.x, a.y, a.z), box(far.x, far.y, far.z));
        expect(found).toBe(BigInt(least) * BigInt(TICKS_PER_INCH) ** 2n);
      }),
      { numRuns: 100 },
    );
  });

  it('are rounded down, so that a whole limit is met just when it is', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 0n, max: 10n ** 24n }), (square) => {
        const root = rootOf(square);
        expect(root * root <= square && square < (root + 1n) * (root + 1n)).toBe(true);
      }),
    );
  });

  it('are exact beyond what plain numbers hold', () => {
    // 200 m apart each way: the squares are some 6.4e19, beyond 2^53.
    const far = ticks(8_000_000_000);
    const at = (from: number): Box => {
      const side = [ticks(from), ticks(from + 1)] as const;
      return { x: side, y: side, z: side };
    };
    expect(squaredDistance(at(0), at(far + 1))).toBe(3n * BigInt(far) ** 2n);
    expect(distance(at(0), at(far + 1))).toBe(Number(rootOf(3n * BigInt(far) ** 2n)));
  });
});

describe('the storage space', () => {
  const wall = fc.record({
    length: fc.integer({ min: 20, max: 60 }),
    height: fc.integer({ min: 60, max: 100 }),
    room: fc.option(fc.integer({ min: 10, max: 60 }), { nil: undefined }),
    rods: fc.array(
      fc.record({ x: span(20), at: fc.integer({ min: 30, max: 90 }), out: fc.integer({ min: 1, max: 50 }) }),
      {
        maxLength: 2,
      },
    ),
    shelves: fc.array(
      fc.record({ x: span(20), deep: fc.integer({ min: 4, max: 30 }), at: fc.integer({ min: 10, max: 90 }) }),
      {
        maxLength: 3,
      },
    ),
  });

  it('holds the points that its definition holds', () => {
    fc.assert(
      fc.property(wall, fc.tuple(fc.nat(59), fc.nat(70), fc.nat(99)), (given, [i, j, k]) => {
        const [x, y, z] = [i + 0.5, j + 0.5, k + 0.5];
        const input: StorageWall = {
          name: 'back',
          isFront: false,
          length: inches(given.length),
          height: inches(given.height),
          room: given.room === undefined ? undefined : inches(given.room),
          shelves: given.shelves.map((s) => box(s.x, [0, s.deep], [s.at, s.at + 1])),
          rods: given.rods.map((r) => ({
            box: box(r.x, [r.out - 0.5, r.out + 0.5], [r.at - 0.5, r.at + 0.5]),
            centre: inches(r.at),
            fromWall: inches(r.out),
          })),
        };
        const found = storageBoxes([input]).some(
          (s) => holds(s.box.x, inches(x)) && holds(s.box.y, inches(y)) && holds(s.box.z, inches(z)),
        );
        // The definition, point by point.
        const step = Math.max(72, ...given.rods.map((r) => r.at));
        const upper = given.shelves.filter(
          (s) => s.at + 1 > step || !given.shelves.some((o) => o !== s && meets(o.x, s.x) && o.at >= s.at + 1),
        );
        const deep = z < step ? 24 : Math.max(12, ...upper.map((s) => s.deep));
        const along = x < given.length && z < given.height && y < Math.min(deep, given.room ?? deep);
        const beside = given.rods.some((r) => holds(r.x, x) && Math.abs(y - r.out) < 12 && z < r.at);
        expect(found).toBe(along || beside);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('a hatch', () => {
  it('keeps its best free rectangle, against all there are', () => {
    const covers = fc.array(fc.record({ x: span(40), y: span(40) }), { maxLength: 3 });
    fc.assert(
      fc.property(covers, (below) => {
        const plan = ({ x, y }: { x: Pair; y: Pair }) => {
          const made = box(x, y, [0, 1]);
          return { x: made.x, y: made.y };
        };
        const found = freeOf(plan({ x: [4, 36], y: [4, 30] }), below.map(plan));
        let best: { short: number; long: number; large: boolean } | undefined;
        for (let a = 4; a < 36; a++) {
          for (let b = a + 1; b <= 36; b++) {
            for (let c = 4; c < 30; c++) {
              for (let d = c + 1; d <= 30; d++) {
                if (below.some((other) => meets(other.x, [a, b]) && meets(other.y, [c, d]))) continue;
                const [short, long] = [Math.min(b - a, d - c), Math.max(b - a, d - c)];
                const large = short >= 22 && long >= 30;
                const more = (other: NonNullable<typeof best>) =>
                  large !== other.large ? large : short > other.short || (short === other.short && long > other.long);
                if (!best || more(best)) best = { short, long, large };
              }
            }
          }
        }
        const own = found && sides(found);
        expect(own).toEqual(best && { short: inches(best.short), long: inches(best.long) });
      }),
      { numRuns: 40 },
    );
    expect([hatchSize.short, hatchSize.long]).toEqual([inches(22), inches(30)]);
  });
});

describe('working room', () => {
  it('is what a walk out from the panel and along the wall finds', () => {
    const things = fc.array(fc.record({ x: span(96), y: span(50), z: span(96) }), { maxLength: 4 });
    fc.assert(
      fc.property(things, (given) => {
        const panel = box([40, 54], [0, 0], [40, 70]);
        const room = workingRoom(
          panel,
          given.map((t) => box(t.x, t.y, t.z)),
          inches(96),
          [inches(0), inches(78)],
        );
        const stands = (x: number, y: number) => given.some((t) => t.z[0] < 78 && holds(t.x, x) && holds(t.y, y));
        let deep = 0;
        while (deep < 60 && ![...Array(14).keys()].some((i) => stands(40.5 + i, deep + 0.5))) deep++;
        expect(room.deep).toBe(deep === 60 ? undefined : inches(deep));
        const bare = (x: number) =>
          // What is before the panel itself is told by the depth, and does not bound the width.
          ![...Array(36).keys()].some((y) =>
            given.some((t) => t.z[0] < 78 && !meets(t.x, [40, 54]) && holds(t.x, x) && holds(t.y, y + 0.5)),
          );
        let [from, to] = [40, 54];
        while (from > 0 && bare(from - 0.5)) from--;
        while (to < 96 && bare(to + 0.5)) to++;
        expect(room.wide).toBe(inches(to - from));
        expect(workingSpace.deep).toBe(inches(36));
      }),
      { numRuns: 300 },
    );
  });
});
