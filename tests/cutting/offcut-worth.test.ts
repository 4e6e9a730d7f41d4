/** What kept offcuts are worth: how a plan is judged by it, and what is refused. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { flawsOf } from '../../server/cutting/request.ts';
import type { MaterialTotals, Plan, PlanRequest } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { inches, ticks } from '../../server/model/ticks.ts';
import { board, piece, richRequests, saw } from './requests.ts';

/** A shelf of 60 in from a board of 6 ft or of 8 ft; an offcut of 24 in or more is kept. */
const request: PlanRequest = {
  pieces: [piece('shelf', inches(60), 1)],
  stock: [board('6ft', inches(72), { price: 1450 }), board('8ft', inches(96), { price: 1890 })],
  saw,
};
const perFoot = (price: number) => ({ worth: [{ material: 'white', price, per: inches(12) }] });

function lastPlan(asked: PlanRequest): Plan {
  return [...optimal.plan(asked)].at(-1) as Plan;
}

function judged({ totals: [totals] }: Plan): number {
  const { price = 0, takenValue = 0, keptValue = 0 } = totals as MaterialTotals;
  return price + takenValue - keptValue;
}

describe('what kept offcuts are worth', () => {
  it('changes nothing where nothing is said, or nothing is what they are worth', () => {
    const plain = [...optimal.plan(request)];
    expect([...optimal.plan({ ...request, ...perFoot(0) })]).toEqual(plain);
    expect(plain.at(-1)?.totals[0]).not.toHaveProperty('keptValue');
  });

  it('takes the longer board where what is left of it is worth the difference', () => {
    // Of 8 ft 96 - 60 - 1/8 = 35-7/8 in are left: at 1.50 a foot 4.48 and a little, more than 18.90 - 14.50.
    const dear = lastPlan({ ...request, ...perFoot(150) });
    expect(dear.patterns).toMatchObject([{ stock: '8ft', offcut: inches(35.875), keep: true }]);
    expect(dear.totals[0]).toMatchObject({ price: 1890, keptValue: 448, takenValue: 0, bound: { cost: 1442 } });
    // At 1.40 a foot they are worth 4.18, less than that.
    const cheap = lastPlan({ ...request, ...perFoot(140) });
    expect(cheap.patterns).toMatchObject([{ stock: '6ft', keep: false }]);
    expect(cheap.totals[0]).toMatchObject({ price: 1450, keptValue: 0, bound: { cost: 1450 } });
  });

  it('counts for nothing below the length that is kept', () => {
    const asked = { ...request, ...perFoot(150), saw: { ...saw, keepOffcutsFrom: inches(36) } };
    expect(lastPlan(asked).totals[0]).toMatchObject({ price: 1450, keptValue: 0 });
  });

  it('makes an offcut on the rack cost what it is worth there', () => {
    // 65 in on the rack are worth 8.12 at 1.50 a foot; 60 of it leave nothing that is kept. A board costs more.
    const rack = board('rack', inches(65), { offcut: true, count: 1 });
    const asked = { ...request, ...perFoot(150), stock: [...request.stock, rack] };
    expect(lastPlan(asked).totals[0]).toMatchObject({ price: 0, takenValue: 812, keptValue: 0, bound: { cost: 812 } });
    // One of 12 ft is worth 18.00 there and 10.48 with 60 in off it: 7.52 are lost.
    const long = { ...asked, stock: [...asked.stock, board('long', inches(144), { offcut: true, count: 1 })] };
    expect(lastPlan(long)).toMatchObject({ patterns: [{ stock: 'long' }] });
    expect(judged(lastPlan(long))).toBe(1800 - 1048);
  });

  it('counts the price of an offcut on the rack where that is more', () => {
    const rack = board('rack', inches(65), { offcut: true, count: 1, price: 1000 });
    const asked = { ...request, ...perFoot(150), stock: [...request.stock, rack] };
    expect(lastPlan(asked).totals[0]).toMatchObject({ price: 1000, takenValue: 0 });
  });

  it('is a flaw where a board cut for nothing would pay', () => {
    // 8 ft for 18.90 are 2.3625 a foot: 2.36 is less, 2.37 is more.
    expect(flawsOf({ ...request, ...perFoot(236) })).toEqual([]);
    expect(flawsOf({ ...request, ...perFoot(237) })).toEqual([
      'an offcut as long as stock "8ft" would be worth 1896, the board itself costs 1890',
    ]);
    expect(() => firstPlan({ ...request, ...perFoot(237) })).toThrow(RangeError);
  });

  it('is a flaw where it is no number, is said twice, or stock has no price', () => {
    const flaws = (more: Partial<PlanRequest>) => flawsOf({ ...request, ...more }).join('; ');
    expect(flaws(perFoot(-1))).toContain('is -1 for');
    expect(flaws(perFoot(0.5))).toContain('is 0.5 for');
    expect(flaws(perFoot(Number.NaN))).toContain('is NaN for');
    expect(flaws({ worth: [{ material: 'white', price: 1, per: ticks(0) }] })).toContain('for 0 ticks');
    expect(flaws({ worth: [...perFoot(1).worth, ...perFoot(1).worth] })).toContain('it is said twice');
    expect(flaws({ ...perFoot(1), stock: [board('b', inches(96))] })).toContain('not all of its stock has a price');
    expect(flaws(perFoot(2 ** 50))).toContain('more than can be added up exactly');
  });

  it('leaves a bound that no plan falls below, and totals that the verifier adds up', () => {
    let valued = 0;
    fc.assert(
      fc.property(richRequests(), (asked) => {
        for (const plan of [firstPlan(asked), lastPlan(asked)]) {
          expect(verify(asked, plan)).toEqual([]);
          for (const { price = 0, takenValue = 0, keptValue, bound } of plan.totals) {
            if (keptValue === undefined) continue;
            if (keptValue > 0) valued++;
            expect(price + takenValue - keptValue).toBeGreaterThanOrEqual(bound.cost);
          }
        }
      }),
      { numRuns: 400 },
    );
    expect(valued).toBeGreaterThan(30);
  });
});

describe('the verifier, of what offcuts are worth', () => {
  const asked = { ...request, ...perFoot(150) };
  const sound = lastPlan(asked);
  const broken = (change: Partial<MaterialTotals>): string[] =>
    verify(asked, { ...sound, totals: sound.totals.map((totals) => ({ ...totals, ...change })) }).map(
      ({ rule }) => rule,
    );

  it('finds nothing wrong with a sound plan', () => {
    expect(broken({})).toEqual([]);
  });

  it('refuses a value that is off by one, or is left out', () => {
    expect(broken({ keptValue: 449 })).toContain('totals');
    expect(broken({ keptValue: 447 })).toContain('totals');
    expect(broken({ takenValue: 1 })).toContain('totals');
    const [{ keptValue: _, ...totals }] = sound.totals as [MaterialTotals];
    expect(verify(asked, { ...sound, totals: [totals] }).map(({ rule }) => rule)).toEqual(['totals']);
  });

  it('refuses a bound that is one too high, and a certificate without a weight for it', () => {
    // The first plan of a job whose optimum is above its bound leaves room for a false claim.
    const job: PlanRequest = {
      pieces: [piece('a', inches(41), 5), piece('b', inches(30), 4), piece('c', inches(17), 3)],
      stock: request.stock,
      saw,
      ...perFoot(120),
    };
    const plan = lastPlan(job);
    const [totals] = plan.totals as [MaterialTotals];
    const { bound } = totals;
    if (bound.proof === 'length') throw new Error('a better bound is wanted here');
    const certified = bound.proof === 'dual' ? bound : bound.certified;
    expect(verify(job, plan)).toEqual([]);
    const claim = (change: object) =>
      verify(job, {
        ...plan,
        totals: [{ ...totals, bound: { ...certified, proof: 'dual', measure: 'price', ...change } as typeof bound }],
      }).map(({ message }) => message);
    expect(claim({})).toEqual([]);
    expect(claim({ cost: certified.cost + 1 }).join()).toContain('is not proven');
    const { worth: _, ...without } = certified.certificate as { worth?: number; grid: number; weights: [] };
    expect(claim({ certificate: without }).join()).toContain(
      'the certificate weighs what offcuts are worth with undefined',
    );
    for (const worth of [0, -1, 0.5, Number.NaN]) {
      expect(claim({ certificate: { ...certified.certificate, worth } }).join()).toContain(`worth with ${worth}`);
    }
  });
});
