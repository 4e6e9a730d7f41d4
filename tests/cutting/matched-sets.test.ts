/** Pieces that must come from one board, one after another: how they are planned, and what the verifier refuses. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { flawsOf } from '../../server/cutting/request.ts';
import { longerThanAnyStock, provenShort } from '../../server/cutting/shortage.ts';
import type { Cut, MatchedSet, Pattern, Plan, PlanRequest } from '../../server/cutting/types.ts';
import { type ViolationRule, verify } from '../../server/cutting/verify.ts';
import { inches } from '../../server/model/ticks.ts';
import { board, piece, richRequests, saw } from './requests.ts';

const set = (id: string, quantity: number, ...pieces: readonly string[]): MatchedSet => ({
  id,
  quantity,
  runs: pieces.map((each) => ({ piece: each, quantity: 1 })),
});

/** Three fronts from one board, twice, beside loose shelves. */
const request: PlanRequest = {
  pieces: [
    piece('left', inches(15), 2),
    piece('middle', inches(30), 2),
    piece('right', inches(16), 2),
    piece('shelf', inches(25), 4),
  ],
  stock: [board('8ft', inches(96), { price: 1200 })],
  saw,
  sets: [set('fronts', 2, 'left', 'middle', 'right')],
};

function lastPlan(asked: PlanRequest): Plan {
  return [...optimal.plan(asked)].at(-1) as Plan;
}

const shown = ({ patterns }: Plan) =>
  patterns.map(({ times, cuts }) => `${times}: ${cuts.map((cut) => `${cut.quantity} ${cut.piece}`).join(', ')}`);

describe('a matched set', () => {
  it('is cut from one board, in its order, as one length among the others', () => {
    // 15 + 30 + 16 with two cuts of 1/8 between them are 61-1/4: with a cut and 25 they come to 86-3/8 of 96.
    for (const plan of [firstPlan(request), lastPlan(request)]) {
      expect(verify(request, plan)).toEqual([]);
      expect(shown(plan)).toEqual(['2: 1 left, 1 middle, 1 right, 1 shelf', '1: 2 shelf']);
      expect(plan.patterns[0]?.used).toBe(inches(86));
      expect(plan.patterns[0]?.kerfLoss).toBe(inches(0.5));
      expect(plan.patterns[0]?.offcut).toBe(inches(9.5));
    }
  });

  it('costs boards that its pieces alone would not', () => {
    // Two of 50 in and two of 45 in fill two boards; each pair of equal ones matched needs two of 45 in on one.
    const alone = {
      pieces: [piece('long', inches(50), 2), piece('short', inches(45), 2)],
      stock: [board('8ft', inches(96), { price: 1200 }), board('10ft', inches(120), { price: 1700 })],
      saw,
    };
    const matched = { ...alone, sets: [set('longs', 1, 'long', 'long')] };
    expect(lastPlan(alone).totals[0]?.price).toBe(2400);
    expect(lastPlan(matched).totals[0]).toMatchObject({ price: 2900, bound: { cost: 2900 } });
    expect(verify(matched, lastPlan(matched))).toEqual([]);
  });

  it('may come twice on one board, each whole', () => {
    const twice = { ...request, pieces: request.pieces.slice(0, 3), stock: [board('12ft', inches(144))] };
    expect(shown(lastPlan(twice))).toEqual(['1: 1 left, 1 middle, 1 right, 1 left, 1 middle, 1 right']);
    expect(verify(twice, lastPlan(twice))).toEqual([]);
  });

  it('of one piece changes nothing but its name', () => {
    const single = { ...request, sets: [set('alone', 4, 'shelf')] };
    const plain = { ...request, sets: [] };
    expect(lastPlan(single).totals[0]?.price).toBe(lastPlan(plain).totals[0]?.price);
    expect(verify(single, lastPlan(single))).toEqual([]);
  });

  it('longer than any stock is not cut, though each piece would fit', () => {
    const short = { ...request, stock: [board('5ft', inches(60))] };
    const plan = lastPlan(short);
    expect(plan.uncut).toEqual(
      ['left', 'middle', 'right'].map((id) =>
        expect.objectContaining({ piece: id, quantity: 2, reason: 'longer than any stock' }),
      ),
    );
    expect(longerThanAnyStock(short).map(({ id }) => id)).toEqual(['fronts']);
    expect(verify(short, plan)).toEqual([]);
  });

  it('counts as one length where the stock is proven short', () => {
    // Of two boards of 8 ft each holds one set and one shelf: two shelves more than there is room for.
    const short = { ...request, stock: [board('8ft', inches(96), { count: 2 })] };
    expect(provenShort(short)).toMatchObject([{ kind: 'length', pieces: ['shelf', 'fronts'] }]);
    expect(verify(short, lastPlan(short))).toEqual([]);
  });

  it.each([
    ['holds a piece that is not there', [set('s', 2, 'left', 'nobody')], 'holds "nobody", which is no piece'],
    ['holds nothing', [set('s', 2)], 'holds nothing'],
    [
      'does not come out even',
      [set('s', 1, 'left', 'right')],
      'there are 2 of piece "left", and its matched sets hold 1',
    ],
    [
      'shares a piece',
      [set('s', 2, 'left', 'right'), set('t', 2, 'left')],
      'piece "left" is in more than one matched set',
    ],
    ['is there twice', [set('s', 2, 'left'), set('s', 2, 'right')], 'there are two matched sets "s"'],
    ['has the name of a piece', [set('shelf', 2, 'left')], 'has the name of a piece'],
    ['has half a piece', [{ ...set('s', 2), runs: [{ piece: 'left', quantity: 0.5 }] }], 'holds 0.5 of piece "left"'],
    ['is not a whole number', [set('s', -1, 'left')], 'the quantity of matched set "s" is -1'],
  ] as const)('that %s is a flaw', (_, sets, message) => {
    expect(flawsOf({ ...request, sets }).join('; ')).toContain(message);
    expect(() => firstPlan({ ...request, sets })).toThrow(RangeError);
  });

  it('of two materials is a flaw', () => {
    const pieces = [...request.pieces, piece('oak', inches(10), 2, { material: 'oak' })];
    expect(flawsOf({ ...request, pieces, sets: [set('s', 2, 'left', 'oak')] }).join()).toContain(
      'is of more than one material, and one board is of one',
    );
  });
});

describe('the verifier, of matched sets', () => {
  const sound = lastPlan(request);
  const broken = (plan: Plan): ViolationRule[] => [...new Set(verify(request, plan).map(({ rule }) => rule))];
  const withCuts = (change: (cuts: readonly Cut[]) => readonly Cut[]): Plan => ({
    ...sound,
    patterns: sound.patterns.map((pattern, index) =>
      index === 0 ? { ...pattern, cuts: change(pattern.cuts) } : pattern,
    ),
  });

  it('refuses another order', () => {
    expect(broken(withCuts(([a, b, c, d]) => [b, a, c, d] as Cut[]))).toContain('matched set torn');
    expect(broken(withCuts(([a, b, c, d]) => [c, b, a, d] as Cut[]))).toContain('matched set torn');
  });

  it('refuses what lies between', () => {
    expect(broken(withCuts(([a, b, c, d]) => [a, d, b, c] as Cut[]))).toContain('matched set torn');
  });

  it('refuses a cut that does not say that it is of the set, or says it falsely', () => {
    const without = ({ set: _, ...cut }: Cut): Cut => cut;
    expect(broken(withCuts(([a, ...others]) => [without(a as Cut), ...others]))).toContain('matched set torn');
    expect(broken(withCuts((cuts) => cuts.map((cut) => ({ ...cut, set: 'fronts' }))))).toContain('matched set torn');
  });

  it('refuses pieces of a set on two boards', () => {
    // Both boards hold what they held, and one piece of equal length has changed places with another's.
    const [first, ...others] = sound.patterns;
    const [a, b, c, d] = (first as Pattern).cuts as [Cut, Cut, Cut, Cut];
    const torn = [
      { ...first, times: 1, cuts: [b, c, d] },
      { ...first, times: 1, cuts: [b, a, a, c, d] },
      ...others,
    ] as Plan['patterns'];
    expect(broken({ ...sound, patterns: torn })).toContain('matched set torn');
  });

  it('refuses a set of which some is cut and some is not', () => {
    const short: PlanRequest = { ...request, stock: [board('8ft', inches(96), { count: 1 })] };
    const plan = lastPlan(short);
    expect(verify(short, plan)).toEqual([]);
    const uncut = plan.uncut.filter(({ piece: id }) => id !== 'middle');
    expect(verify(short, { ...plan, uncut }).map(({ rule }) => rule)).toContain('matched set torn');
  });

  it('finds nothing wrong with any plan of any request, and a torn set in each that is turned round', () => {
    let turned = 0;
    fc.assert(
      fc.property(richRequests(), (asked) => {
        for (const plan of [firstPlan(asked), lastPlan(asked)]) {
          expect(verify(asked, plan)).toEqual([]);
          plan.patterns.forEach((pattern, at) => {
            const [one, two] = pattern.cuts.filter(({ set: id }) => id !== undefined);
            if (!one || !two || one.piece === two.piece || one.set !== two.set) return;
            turned++;
            const cuts = pattern.cuts.map((cut) => (cut === one ? two : cut === two ? one : cut));
            const patterns = plan.patterns.with(at, { ...pattern, cuts });
            expect(verify(asked, { ...plan, patterns }).map(({ rule }) => rule)).toContain('matched set torn');
          });
        }
      }),
      { numRuns: 400 },
    );
    expect(turned).toBeGreaterThan(40);
  });
});
