/** Spares: what is left of the boards, as many as can be, then as long as can be; nothing is bought for them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstFit } from '../../server/cutting/first-fit.ts';
import { flawsOf } from '../../server/cutting/request.ts';
import { sparesCut, withoutSpares, withSpares } from '../../server/cutting/spares.ts';
import type { Pattern, Plan, PlanRequest, Saw, Spare } from '../../server/cutting/types.ts';
import { verifiedPlan } from '../../server/cutting/verified.ts';
import { type ViolationRule, verify } from '../../server/cutting/verify.ts';
import { inches, type Ticks, ticks } from '../../server/model/ticks.ts';
import { board, piece, requests, saw } from './requests.ts';

const sixteenth = inches(1 / 16);

function spare(id: string, least: Ticks, most: Ticks, quantity: number, material = 'white'): Spare {
  return { id, material, least, most, quantity };
}

function planned(request: PlanRequest): Plan {
  return verifiedPlan(request, firstFit) as Plan;
}

/** `2 x 24` in inches for each pattern. */
function told({ patterns }: Plan): string[] {
  return patterns.map(({ times, spares = [] }) => {
    const cuts = spares.map(({ quantity, length, piece: id }) => `${quantity} ${id} ${length / inches(1)}`);
    return `${times}: ${cuts.join(', ')}`;
  });
}

describe('a board that leaves room', () => {
  // Source: T5 of the trade facts, common practice: a 6 ft board cut to 21-3/4 in leaves about 50 in, of which two
  // adjustable shelves for a tower of 24 in are made. 72 - 21-3/4 - 1/8 = 50-1/8; two of 23-3/4 and two cuts are 47-3/4.
  const shelf: PlanRequest = {
    pieces: [piece('long hang', inches(21.75))],
    stock: [board('6ft', inches(72))],
    saw: { ...saw, step: sixteenth },
  };

  it('gives two adjustable shelves, though it would be worth keeping', () => {
    const plan = planned({ ...shelf, spares: [spare('loose', inches(20), inches(23.75), 6)] });
    expect(planned(shelf).patterns[0]).toMatchObject({ offcut: inches(50.125), keep: true });
    expect(told(plan)).toEqual(['1: 2 loose 23.75']);
    expect(plan.patterns[0]).toMatchObject({ offcut: inches(2.375), keep: false });
    expect(plan.totals[0]).toMatchObject({ boardCount: 1, pieceCount: 1, spareCount: 2 });
  });

  it('stretches them as far as the saw goes in whole steps: 50-1/8 less one cut is 50, twice 25', () => {
    expect(told(planned({ ...shelf, spares: [spare('loose', inches(20), inches(30), 2)] }))).toEqual([
      '1: 1 loose 30, 1 loose 20',
    ]);
    // 3 x 16-9/16 and two cuts are 49-15/16; one is longer by the 3/16 left of 50-1/8.
    expect(told(planned({ ...shelf, spares: [spare('loose', inches(16.5625), inches(17), 3)] }))).toEqual([
      '1: 1 loose 16.75, 2 loose 16.5625',
    ]);
  });

  it('gives one that is exactly as long as what is left, and none that is a tick longer', () => {
    const exact = { ...shelf, saw: { ...saw } };
    const left = inches(50.125);
    expect(told(planned({ ...exact, spares: [spare('loose', left, left, 1)] }))).toEqual(['1: 1 loose 50.125']);
    const longer = ticks(left + 1);
    expect(told(planned({ ...exact, spares: [spare('loose', longer, longer, 1)] }))).toEqual(['1: ']);
  });
});

describe('many boards', () => {
  const three: PlanRequest = {
    pieces: [piece('a', inches(74)), piece('b', inches(60)), piece('c', inches(50))],
    stock: [board('8ft', inches(96))],
    saw: { kerf: ticks(0), keepOffcutsFrom: inches(24), step: sixteenth },
  };

  it('use what is waste before what would be kept, where that costs no length', () => {
    // 22, 36 and 46 in are left. A spare of 20 leaves 2, 16 or 26: from the first, 36 and 46 are kept; from the last,
    // 36 and 26.
    const plan = planned({ ...three, spares: [spare('s', inches(20), inches(20), 1)] });
    expect(plan.patterns.map(({ offcut, keep }) => `${offcut / inches(1)} ${keep}`)).toEqual([
      '2 false',
      '36 true',
      '46 true',
    ]);
  });

  it('stay together where they are cut alike, and part where only some give a spare', () => {
    const request = { ...three, pieces: [piece('a', inches(70), 5)] };
    const plan = planned({ ...request, spares: [spare('s', inches(20), inches(24), 2)] });
    expect(told(plan).sort()).toEqual(['2: 1 s 24', '3: ']);
  });

  it('are not bought for spares, nor begun', () => {
    const request = { ...three, stock: [board('8ft', inches(96), { count: 5 })] };
    const plan = planned({ ...request, spares: [spare('s', inches(20), inches(24), 50)] });
    expect(plan.totals[0]?.boardCount).toBe(3);
    // One of 22, one of 36, two of 46.
    expect(sparesCut(plan).get('s')).toBe(4);
  });
});

describe('laws', () => {
  /** Every way to hand out spares, tried one by one. */
  function best(
    rooms: readonly number[],
    kinds: readonly Spare[],
    saw: Saw,
  ): [count: number, length: number, kept: number] {
    let found: [number, number, number] = [-1, 0, 0];
    const isBetter = (one: readonly number[], other: readonly number[]) => {
      const at = one.findIndex((value, index) => value !== other[index]);
      return at >= 0 && (one[at] as number) > (other[at] as number);
    };
    const from = (at: number, left: readonly number[], sum: [number, number, number]): void => {
      if (at === rooms.length) {
        if (isBetter(sum, found)) found = sum;
        return;
      }
      const room = rooms[at] as number;
      const fill = (rest: number, open: readonly number[], count: number, length: number): void => {
        const keeps = rest > 0 && rest >= saw.keepOffcutsFrom ? rest : 0;
        from(at + 1, open, [sum[0] + count, sum[1] + length, sum[2] + keeps]);
        kinds.forEach(({ least, most }, kind) => {
          if ((open[kind] as number) === 0) return;
          for (let long: number = least; long <= most && long <= rest; long++) {
            const after = Math.max(0, rest - long - saw.kerf);
            fill(
              after,
              open.map((n, i) => (i === kind ? n - 1 : n)),
              count + 1,
              length + long,
            );
          }
        });
      };
      fill(room, left, 0, 0);
    };
    from(
      0,
      kinds.map(({ quantity }) => quantity),
      [0, 0, 0],
    );
    return found;
  }

  it('as many as can be, of those as long as can be, of those with the most to keep', () => {
    const kind = fc.record({
      least: fc.integer({ min: 1, max: 6 }),
      more: fc.integer({ min: 0, max: 3 }),
      quantity: fc.integer({ min: 1, max: 3 }),
    });
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 11 }), { minLength: 1, maxLength: 3 }),
        fc.array(kind, { minLength: 1, maxLength: 2 }),
        fc.integer({ min: 0, max: 2 }),
        fc.integer({ min: 1, max: 6 }),
        (rooms, drawn, kerf, keep) => {
          const own: Saw = { kerf: ticks(kerf), keepOffcutsFrom: ticks(keep) };
          // A piece so long that a board holds one, and leaves the room after its cut.
          const request: PlanRequest = {
            pieces: rooms.map((_, at) => piece(`p${at}`, ticks(100 + at), 1)),
            stock: rooms.map((room, at) => board(`b${at}`, ticks(100 + at + kerf + room), { count: 1 })),
            spares: drawn.map(({ least, more, quantity }, at) =>
              spare(`s${at}`, ticks(least), ticks(least + more), quantity),
            ),
            saw: own,
          };
          const bare: Pattern[] = rooms.map((room, at) => ({
            stock: `b${at}`,
            material: 'white',
            times: 1,
            cuts: [{ piece: `p${at}`, length: ticks(100 + at), quantity: 1 }],
            used: ticks(100 + at),
            kerfLoss: ticks(kerf),
            offcut: ticks(room),
            keep: room >= keep,
          }));
          const { patterns } = withSpares(request, { version: 1, patterns: bare, uncut: [], totals: [] });
          const spares = patterns.flatMap((pattern) =>
            (pattern.spares ?? []).map((cut) => ({ ...cut, times: pattern.times })),
          );
          const count = spares.reduce((sum, { quantity, times }) => sum + quantity * times, 0);
          const length = spares.reduce((sum, cut) => sum + cut.length * cut.quantity * cut.times, 0);
          const kept = patterns.reduce((sum, each) => sum + (each.keep ? each.offcut * each.times : 0), 0);
          expect([count, length, kept]).toEqual(best(rooms, request.spares ?? [], own));
        },
      ),
      { numRuns: 300 },
    );
  });

  it('every plan with spares holds, costs what it did, and is the same the other way round', () => {
    const wanted = fc.array(
      fc.record({
        material: fc.constantFrom('oak', 'white'),
        least: fc.integer({ min: 1, max: 12 }),
        more: fc.integer({ min: 0, max: 9 }),
        quantity: fc.integer({ min: 0, max: 9 }),
      }),
      { minLength: 1, maxLength: 3 },
    );
    fc.assert(
      fc.property(requests(), wanted, fc.integer({ min: 1, max: 3 }), (drawn, spares, step) => {
        const request: PlanRequest = {
          ...drawn,
          spares: spares.map(({ material, least, more, quantity }, at) =>
            spare(`s${at}`, ticks(least), ticks(least + more), quantity, material),
          ),
          saw: { ...drawn.saw, step: ticks(step) },
        };
        const plan = verifiedPlan(request, firstFit);
        if (!plan) return;
        expect(verify(request, plan)).toEqual([]);
        const before = verifiedPlan(drawn, firstFit);
        expect(plan.totals.map((t) => [t.boardCount, t.price, t.boughtLength, t.bound])).toEqual(
          before?.totals.map((t) => [t.boardCount, t.price, t.boughtLength, t.bound]),
        );
        const turned = { ...request, pieces: request.pieces.toReversed(), stock: request.stock.toReversed() };
        expect(verifiedPlan(turned, firstFit)).toEqual(plan);
      }),
    );
  });

  it('takes no time over a thousand boards, wanted by the hundred thousand, of many kinds', () => {
    const request: PlanRequest = {
      pieces: [piece('a', inches(60), 1000), piece('b', inches(50), 1000)],
      stock: [board('8ft', inches(96)), board('12ft', inches(144))],
      spares: Array.from({ length: 12 }, (_, at) => spare(`s${at}`, ticks(40_000 * (at + 1)), inches(20), 100_000)),
      saw: { ...saw, step: ticks(1) },
    };
    const from = performance.now();
    const plan = planned(request);
    expect(performance.now() - from).toBeLessThan(5000);
    expect([...sparesCut(plan).values()].reduce((sum, count) => sum + count, 0)).toBeGreaterThan(1000);
  });
});

describe('the verifier', () => {
  const request: PlanRequest = {
    pieces: [piece('a', inches(70)), piece('rod', inches(20), 1, { material: 'steel' })],
    stock: [board('8ft', inches(96)), board('bar', inches(50), { material: 'steel' })],
    spares: [spare('s', inches(8), inches(12), 2), spare('t', inches(8), inches(9), 2, 'steel')],
    saw: { ...saw, step: sixteenth },
  };
  const sound = planned(request);
  const white = sound.patterns.findIndex(({ material }) => material === 'white');

  function broken(change: (pattern: Pattern) => Partial<Pattern>, asked = request): ViolationRule[] {
    const patterns = sound.patterns.map((each, at) => (at === white ? { ...each, ...change(each) } : each));
    return [...new Set(verify(asked, { ...sound, patterns }).map(({ rule }) => rule))];
  }
  const withSpare = (change: object) =>
    broken(({ spares = [] }) => ({ spares: spares.map((cut, at) => (at === 0 ? { ...cut, ...change } : cut)) }));

  it('finds nothing wrong with a sound plan', () => {
    expect(verify(request, sound)).toEqual([]);
    expect(told(sound)).toEqual(['1: 2 t 9', '1: 2 s 12']);
  });

  it('catches a spare out of its range, off the steps of the saw, too often, or of something else', () => {
    expect(withSpare({ length: inches(12.0625) })).toContain('spare out of range');
    expect(withSpare({ length: inches(7.9375) })).toContain('spare out of range');
    expect(withSpare({ length: ticks(inches(12) - 1) })).toContain('spare out of range');
    expect(withSpare({ quantity: 3 })).toContain('spare cut too often');
    expect(withSpare({ piece: 'x' })).toContain('unknown spare');
    expect(withSpare({ piece: 't' })).toContain('material differs');
    expect(withSpare({ quantity: 0.5 })).toContain('not a whole number');
  });

  it('catches a board that spares overfill, and figures that do not count them', () => {
    expect(
      broken(() => ({
        spares: [
          { piece: 's', length: inches(12), quantity: 2 },
          { piece: 's', length: inches(8), quantity: 1 },
        ],
      })),
    ).toContain('board overfull');
    expect(broken(({ used }) => ({ used: ticks(used - inches(12)) }))).toContain('board figures');
    const totals = sound.totals.map((each) => ({ ...each, spareCount: 1 }));
    expect(verify(request, { ...sound, totals }).map(({ rule }) => rule)).toEqual(['totals', 'totals']);
  });

  it('catches a spare that is wanted and has room, and a board that is cut for nothing but spares', () => {
    const bare = firstFit.plan(request)[Symbol.iterator]().next().value as Plan;
    expect(verify(request, bare).map(({ rule }) => rule)).toEqual(['room for a spare', 'room for a spare']);
    expect(broken(() => ({ cuts: [] }))).toContain('not a whole number');
  });
});

it('ranges that hold no length, and ids that are taken, are flaws of the request', () => {
  const asked = (spares: Spare[], own: Saw = saw) =>
    flawsOf({ pieces: [piece('a', inches(1))], stock: [board('b', inches(9))], spares, saw: own });
  expect(asked([spare('s', inches(2), inches(2), 1)])).toEqual([]);
  expect(asked([spare('s', inches(3), inches(2), 1)])).toHaveLength(1);
  expect(asked([spare('s', ticks(0), inches(2), 1)])).toHaveLength(1);
  expect(asked([spare('s', inches(2), inches(2), -1)])).toHaveLength(1);
  expect(asked([spare('a', inches(2), inches(2), 1)])).toEqual(['there are two pieces "a"']);
  // Between 1-1/32 and 1-3/64 in there is no sixteenth.
  expect(asked([spare('s', inches(1 + 1 / 32), inches(1 + 3 / 64), 1)], { ...saw, step: sixteenth })).toHaveLength(1);
});

it('a plan without the spares that were cut into it costs what it did, and holds', () => {
  const wanted = fc.array(
    fc.tuple(fc.constantFrom('oak', 'white'), fc.integer({ min: 1, max: 30 }), fc.integer({ min: 0, max: 20 })),
    { maxLength: 2 },
  );
  fc.assert(
    fc.property(requests(), wanted, (asked, drawn) => {
      const spares = drawn.map(([material, least, more], i) => ({
        ...spare(`spare ${i}`, inches(least), inches(least + more), 3),
        material,
      }));
      const plan = [...firstFit.plan(asked)].at(-1) as Plan;
      const request = { ...asked, spares };
      const back = withoutSpares(request, withSpares(request, plan));
      expect(verify(asked, back)).toEqual([]);
      const figures = ({ totals }: Plan) =>
        totals.map(({ keptLength, waste, price, bound }) => ({ keptLength, waste, price, bound }));
      expect(figures(back)).toEqual(figures(plan));
    }),
    { numRuns: 200 },
  );
});
