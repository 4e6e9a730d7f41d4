/** What the exact search rests on, each against a way that tries everything. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { costBelow, leastCost } from '../../server/cutting/columns/certificate.ts';
import { createMaster } from '../../server/cutting/columns/master.ts';
import { spaceOf } from '../../server/cutting/columns/space.ts';
import { contentsWithin, dualsOf } from '../../server/cutting/columns/within.ts';

describe('the next lower cost', () => {
  const kinds = fc.array(
    fc.record({
      cost: fc.integer({ min: 0, max: 12 }),
      count: fc.oneof(fc.integer({ min: 0, max: 4 }), fc.constant(Infinity)),
    }),
    { minLength: 1, maxLength: 4 },
  );

  it('is one that whole boards come to, and none lies between', () => {
    fc.assert(
      fc.property(kinds, fc.integer({ min: 1, max: 60 }), (boards, cost) => {
        fc.pre(boards.some((board) => board.cost > 0));
        let reached = new Set([0]);
        for (const board of boards) {
          const more = new Set<number>();
          for (const sum of reached)
            for (let n = 0; n <= board.count && sum + n * board.cost < cost; n++) {
              more.add(sum + n * board.cost);
              if (board.cost === 0) break;
            }
          reached = more;
        }
        expect(costBelow(boards, cost)).toBe(Math.max(...reached));
      }),
    );
  });
});

describe('the least cost of whole boards', () => {
  it('is found for prices that nothing divides, and weights in parts of a thousand million', () => {
    // 36 boards are needed, 35 and a half by weight. 35 at 12247 and one at 10000 hold enough for 438645; 34 and two
    // at 10954 hold just enough for 438306. In parts it would be 434700 or so.
    const weight = 2 ** 34;
    const boards = [
      { holds: weight, cost: 12_247, count: Infinity },
      { holds: Math.floor(0.8 * weight), cost: 10_954, count: Infinity },
      { holds: Math.floor((2 / 3) * weight), cost: 10_000, count: Infinity },
    ];
    expect(leastCost(boards, BigInt(Math.floor(35.5 * weight)))).toBe(34 * 12_247 + 2 * 10_954);
  });
});

describe('the contents that matter', () => {
  // Primes, so that no grid divides them: boards come to more than the units that are planned on.
  const drawn = fc.record({
    sizes: fc.uniqueArray(fc.integer({ min: 900_000, max: 4_000_000 }), { minLength: 1, maxLength: 6 }),
    quantities: fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 6, maxLength: 6 }),
    rooms: fc.uniqueArray(fc.integer({ min: 4_000_000, max: 9_000_000 }), { minLength: 1, maxLength: 2 }),
    gap: fc.integer({ min: 0, max: 100 }),
  });

  it('are all of them, to the last unit, though a coarse grid is laid over the boards', () => {
    let coarse = 0;
    fc.assert(
      fc.property(drawn, ({ sizes: lengths, quantities, rooms, gap }) => {
        const sizes = lengths
          .toSorted((a, b) => b - a)
          .map((size, at) => ({ size, quantity: quantities[at] as number }));
        // One board is just as long as its pieces.
        const exact = sizes.reduce((sum, { size }) => (sum + size <= 9_000_000 ? sum + size : sum), 0);
        const kinds = [...new Set([...rooms, exact])].map((room) => ({
          room,
          length: room,
          cost: Math.round(room / 1000),
          count: Infinity,
          onRack: false,
        }));
        const space = spaceOf(sizes, kinds);
        if (space.weights !== space.lightest) coarse++;
        const master = createMaster(
          space,
          sizes.map(({ quantity }) => quantity),
        );
        const duals = dualsOf(
          master,
          sizes.map(({ size }) => size),
        );
        const found = contentsWithin(space, duals, gap / 100, {});
        const texts = (found ?? []).map(({ kind, parts }) => `${kind}: ${parts.join(' ')}`).sort();

        const wanted: string[] = [];
        const near: string[] = [];
        space.kinds.forEach(({ room, cost }, kind) => {
          const list = (at: number, left: number, worth: number, parts: (readonly [number, number])[]): void => {
            const size = sizes[at];
            if (!size) {
              const reduced = cost / space.dearest - worth;
              expect(reduced).toBeGreaterThan(-1e-9);
              const held = new Map(parts);
              const full = sizes.every((s, i) => s.size > left || (held.get(i) ?? 0) >= s.quantity);
              if (!full || parts.length === 0) return;
              if (reduced <= gap / 100) wanted.push(`${kind}: ${parts.join(' ')}`);
              if (reduced <= gap / 100 + 1e-6) near.push(`${kind}: ${parts.join(' ')}`);
              return;
            }
            for (let n = 0; n <= size.quantity && n * size.size <= left; n++) {
              const more = n > 0 ? [...parts, [at, n] as const] : parts;
              list(at + 1, left - n * size.size, worth + n * (duals.sizes[at] as number), more);
            }
          };
          list(0, room, 0, []);
        });
        // A margin lets in what lies a rounding error beyond the gap.
        expect(texts).toEqual(expect.arrayContaining(wanted));
        expect(near).toEqual(expect.arrayContaining(texts));
      }),
      { numRuns: 200 },
    );
    expect(coarse).toBeGreaterThan(150);
  });
});
