/** The verifier of plans: what it must catch. That sound plans pass is a law in plan-laws.test.ts. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import type { Cut, MaterialTotals, Pattern, Plan, PlanRequest, Uncut } from '../../server/cutting/types.ts';
import { type ViolationRule, verify } from '../../server/cutting/verify.ts';
import { inches, type Ticks, ticks } from '../../server/model/ticks.ts';
import { board, piece, requests, saw } from './requests.ts';

const request: PlanRequest = {
  pieces: [
    piece('shelf', inches(30), 7),
    piece('top', inches(23.875), 3),
    piece('rod', inches(20), 2, { material: 'steel' }),
    piece('beam', inches(200), 1),
  ],
  stock: [
    board('6ft', inches(72), { price: 900, count: 3 }),
    board('8ft', inches(96), { price: 1200 }),
    board('rack', inches(31), { offcut: true, count: 1 }),
  ],
  saw,
};
const sound = firstPlan(request);

/** The rules that the verifier finds broken, each once. */
function broken(plan: Plan, asked = request): ViolationRule[] {
  return [...new Set(verify(asked, plan).map((violation) => violation.rule))];
}

const withPattern = (at: number, change: (pattern: Pattern) => Partial<Pattern>): Plan => ({
  ...sound,
  patterns: sound.patterns.map((pattern, index) => (index === at ? { ...pattern, ...change(pattern) } : pattern)),
});
const withFirstCut = (change: Partial<Cut>): Plan =>
  withPattern(0, ({ cuts: [first, ...others] }) => ({ cuts: [{ ...(first as Cut), ...change }, ...others] }));
const withUncut = (change: Partial<Uncut>): Plan => ({
  ...sound,
  uncut: sound.uncut.map((entry, index) => (index === 0 ? { ...entry, ...change } : entry)),
});
const withTotals = (change: Partial<MaterialTotals>): Plan => ({
  ...sound,
  totals: sound.totals.map((totals, index) => (index === 0 ? { ...totals, ...change } : totals)),
});

describe('the verifier', () => {
  it('finds nothing wrong with a sound plan', () => {
    expect(verify(request, sound)).toEqual([]);
    expect(sound.patterns.length).toBeGreaterThan(2);
    expect(sound.uncut.map((entry) => entry.piece)).toEqual(['rod', 'beam']);
  });

  it('catches a piece cut once too often, and one forgotten', () => {
    expect(broken(withPattern(0, ({ times }) => ({ times: times + 1 })))).toContain('piece cut too often');
    expect(broken({ ...sound, patterns: sound.patterns.slice(1) })).toContain('piece missing');
    expect(broken(withUncut({ quantity: 1 }))).toContain('piece missing');
    expect(broken({ ...sound, uncut: [] })).toEqual(['piece missing']);
    expect(broken({ ...sound, uncut: [...sound.uncut, ...sound.uncut] })).toEqual(['piece cut too often']);
  });

  it('catches a board that is overfull by one tick', () => {
    const full = { pieces: [piece('a', inches(23.875), 3)], stock: [board('b', inches(71.875))], saw };
    const plan = firstPlan(full);
    expect(plan.patterns[0]?.offcut).toBe(0);
    const shorter = { ...full, stock: [board('b', ticks(inches(71.875) - 1))] };
    expect(broken(plan, full)).toEqual([]);
    expect(broken(plan, shorter)).toContain('board overfull');
    expect(verify(shorter, plan).find((v) => v.rule === 'board overfull')?.where).toBe('pattern 1');
  });

  it('knows the trims and the kerf', () => {
    const full = { pieces: [piece('a', inches(23.875), 3)], stock: [board('b', inches(71.875))], saw };
    expect(broken(firstPlan(full), { ...full, saw: { ...saw, kerf: ticks(saw.kerf + 1) } })).toContain(
      'board overfull',
    );
    expect(broken(firstPlan(full), { ...full, saw: { ...saw, trim: ticks(1) } })).toContain('board overfull');
  });

  it('catches more boards than there are', () => {
    const taken = sound.totals[0]?.boards.find((entry) => entry.stock === '6ft')?.count as number;
    expect(taken).toBeGreaterThan(0);
    const fewer = request.stock.map((each) => (each.id === '6ft' ? { ...each, count: taken - 1 } : each));
    expect(broken(sound, { ...request, stock: fewer })).toContain('stock over count');
  });

  it.each(['used', 'kerfLoss', 'offcut'] as const)('catches a wrong figure of a board: %s', (figure) => {
    expect(broken(withPattern(0, (pattern) => ({ [figure]: pattern[figure] + 1 })))).toContain('board figures');
  });

  it('catches an offcut that is kept though too short, or thrown away though long enough', () => {
    expect(broken(withPattern(0, ({ keep }) => ({ keep: !keep })))).toContain('board figures');
  });

  it.each([
    'boardCount',
    'pieceCount',
    'price',
    'boughtLength',
    'stockLength',
    'usedLength',
    'trimLoss',
    'kerfLoss',
    'keptCount',
    'keptLength',
    'waste',
  ] as const)('catches a wrong total: %s', (figure) => {
    expect(broken(withTotals({ [figure]: ((sound.totals[0] as MaterialTotals)[figure] as number) + 1 }))).toEqual([
      'totals',
    ]);
  });

  it('catches totals that list the wrong boards, or are missing, or are of nothing', () => {
    const [totals] = sound.totals as [MaterialTotals];
    const [first, ...others] = totals.boards as [MaterialTotals['boards'][number]];
    expect(broken(withTotals({ boards: others }))).toEqual(['totals']);
    expect(broken(withTotals({ boards: [{ ...first, count: first.count + 1 }, ...others] }))).toEqual(['totals']);
    expect(broken(withTotals({ boards: [{ ...first, length: ticks(first.length + 1) }, ...others] }))).toEqual([
      'totals',
    ]);
    expect(broken(withTotals({ boards: [first, ...totals.boards] }))).toEqual(['totals']);
    expect(broken(withTotals({ boards: [...totals.boards, { ...first, stock: 'none' }] }))).toEqual(['totals']);
    expect(broken({ ...sound, totals: [] })).toEqual(['totals']);
    expect(broken({ ...sound, totals: [totals, totals] })).toEqual(['totals']);
    expect(broken({ ...sound, totals: [totals, { ...totals, material: 'steel' }] })).toEqual(['totals']);
    const { price, ...unpriced } = totals;
    expect(price).toBeGreaterThan(0);
    expect(broken({ ...sound, totals: [unpriced] })).toEqual(['totals']);
  });

  it('catches a bound that the lengths do not prove', () => {
    const { bound } = sound.totals[0] as MaterialTotals;
    expect(broken(withTotals({ bound: { ...bound, cost: bound.cost - 1, boards: bound.boards - 1 } }))).toEqual([]);
    expect(broken(withTotals({ bound: { ...bound, cost: bound.cost + 1 } }))).toEqual(['bound']);
    expect(broken(withTotals({ bound: { ...bound, boards: bound.boards + 1 } }))).toEqual(['bound']);
    expect(broken(withTotals({ bound: { ...bound, boards: Number.NaN } }))).toEqual(['bound']);
    expect(broken(withTotals({ bound: { ...bound, measure: 'length' } }))).toEqual(['bound']);
    expect(broken(withTotals({ bound: { ...bound, proof: 'hearsay' as 'length' } }))).toEqual(['bound']);
  });

  it('catches what is not in the request', () => {
    expect(broken(withPattern(0, () => ({ stock: 'none' })))).toContain('unknown stock');
    expect(broken(withFirstCut({ piece: 'none' }))).toContain('unknown piece');
    expect(broken(withFirstCut({ piece: 'rod' }))).toContain('material differs');
    expect(broken(withPattern(0, () => ({ material: 'steel' })))).toContain('material differs');
    expect(broken(withFirstCut({ length: inches(1) }))).toContain('length differs');
    expect(broken(withUncut({ piece: 'none' }))).toContain('unknown piece');
    expect(broken(withUncut({ material: 'white' }))).toContain('material differs');
    expect(broken(withUncut({ length: inches(1) }))).toContain('length differs');
  });

  it('catches cuts that are not in order', () => {
    const mixed = { pieces: [piece('a', inches(30)), piece('b', inches(20))], stock: [board('b', inches(72))], saw };
    const plan = firstPlan(mixed);
    const backwards = plan.patterns.map((pattern) => ({ ...pattern, cuts: pattern.cuts.toReversed() }));
    expect(broken({ ...plan, patterns: backwards }, mixed)).toEqual(['order of cuts']);
  });

  it('catches a wrong reason, and pieces left although there is stock for them', () => {
    expect(broken(withUncut({ reason: 'stock used up' }))).toEqual(['reason for uncut pieces']);
    const idle: Plan = {
      version: 1,
      patterns: [],
      totals: [],
      uncut: [{ piece: 'a', material: 'white', length: inches(20), quantity: 1, reason: 'stock used up' }],
    };
    const asked = (count: number) => ({
      pieces: [piece('a', inches(20))],
      stock: [board('b', inches(72), { count })],
      saw,
    });
    expect(broken(idle, asked(0))).toEqual([]);
    expect(broken(idle, asked(1))).toEqual(['reason for uncut pieces']);
  });

  it.each([Number.NaN, 0.5, -1, Number.POSITIVE_INFINITY, 2 ** 60])(
    'catches what is not a whole number: %d',
    (value) => {
      expect(broken(withPattern(0, () => ({ times: value })))).toEqual(['not a whole number']);
      expect(broken(withFirstCut({ quantity: value }))).toEqual(['not a whole number']);
      expect(broken(withPattern(0, () => ({ offcut: value as Ticks })))).toEqual(['not a whole number']);
      expect(broken(withUncut({ quantity: value }))).toEqual(['not a whole number']);
    },
  );

  it('catches an empty board and a version that it does not know', () => {
    expect(broken(withPattern(0, () => ({ cuts: [] })))).toEqual(['not a whole number']);
    expect(broken({ ...sound, version: 2 as 1 })).toEqual(['version']);
  });

  it('catches any one number of any plan that is off by one', () => {
    fc.assert(
      fc.property(requests(), fc.nat(), fc.constantFrom(-1, 1), (asked, pick, by) => {
        const plan = firstPlan(asked);
        const text = JSON.stringify(plan, (key, value) => (key === 'bound' || key === 'version' ? undefined : value));
        const numbers = [...text.matchAll(/(?<=[:[,])\d+(?=[,}\]])/g)];
        fc.pre(numbers.length > 0);
        const chosen = numbers[pick % numbers.length] as RegExpExecArray;
        const changed =
          text.slice(0, chosen.index) + (Number(chosen[0]) + by) + text.slice(chosen.index + chosen[0].length);
        const mutant = JSON.parse(changed) as Plan;
        const whole: Plan = {
          ...mutant,
          version: 1,
          totals: mutant.totals.map((totals, index) => ({
            ...totals,
            bound: (plan.totals[index] as MaterialTotals).bound,
          })),
        };
        expect(verify(asked, whole)).not.toEqual([]);
      }),
      { numRuns: 2000 },
    );
  });
});
