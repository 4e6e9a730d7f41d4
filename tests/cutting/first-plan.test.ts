/** What a cutting plan says, in words and by example. The laws stand in plan-laws.test.ts. */
import { describe, expect, it } from 'vitest';
import { firstFit, firstPlan } from '../../server/cutting/first-fit.ts';
import type { MaterialTotals, Pattern, Plan, PlanRequest } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { inches, ticks } from '../../server/model/ticks.ts';
import { board, piece, saw } from './requests.ts';

/** The first plan, which must hold before anything else is said of it. */
function planned(request: PlanRequest): Plan {
  const plan = firstPlan(request);
  expect(verify(request, plan)).toEqual([]);
  return plan;
}

const onlyPattern = (plan: Plan): Pattern => {
  expect(plan.patterns).toHaveLength(1);
  return plan.patterns[0] as Pattern;
};
const onlyTotals = (plan: Plan): MaterialTotals => {
  expect(plan.totals).toHaveLength(1);
  return plan.totals[0] as MaterialTotals;
};

describe('one board', () => {
  // A 6 ft board cut to 21-3/4 in with a 1/8 in kerf leaves 50-1/8 in; an offcut of 24 in or more is
  // worth keeping: common practice, no source.
  it('of 6 ft cut to 21-3/4in leaves 50-1/8in, which is worth keeping', () => {
    const pattern = onlyPattern(
      planned({ pieces: [piece('shelf', inches(21.75))], stock: [board('6ft', inches(72))], saw }),
    );
    expect(pattern.used).toBe(inches(21.75));
    expect(pattern.kerfLoss).toBe(inches(0.125));
    expect(pattern.offcut).toBe(inches(50.125));
    expect(pattern.keep).toBe(true);
  });

  it('keeps an offcut of exactly the length stated, and none that is a tick shorter', () => {
    const rest = (length: number) =>
      onlyPattern(planned({ pieces: [piece('a', ticks(length))], stock: [board('b', inches(72))], saw }));
    const leaves24 = inches(72) - inches(24) - inches(0.125);
    expect(rest(leaves24)).toMatchObject({ offcut: inches(24), keep: true });
    expect(rest(leaves24 + 1)).toMatchObject({ offcut: inches(24) - 1, keep: false });
  });

  it('holds n pieces with n - 1 cuts between them, and nothing left', () => {
    const pattern = onlyPattern(
      planned({ pieces: [piece('a', inches(23.875), 3)], stock: [board('b', inches(71.875))], saw }),
    );
    expect(pattern).toMatchObject({ times: 1, used: inches(71.625), kerfLoss: inches(0.25), offcut: 0, keep: false });
  });

  it('a tick too short for them takes a second board', () => {
    const plan = planned({
      pieces: [piece('a', inches(23.875), 3)],
      stock: [board('b', ticks(inches(71.875) - 1))],
      saw,
    });
    expect(onlyTotals(plan).boardCount).toBe(2);
  });

  it('loses to the last cut what is left when that is less than a kerf', () => {
    const pattern = onlyPattern(
      planned({ pieces: [piece('a', inches(71.9375))], stock: [board('b', inches(72))], saw }),
    );
    expect(pattern).toMatchObject({ kerfLoss: inches(0.0625), offcut: 0 });
  });

  it('of the very length of the piece needs no cut', () => {
    const pattern = onlyPattern(planned({ pieces: [piece('a', inches(72))], stock: [board('b', inches(72))], saw }));
    expect(pattern).toMatchObject({ kerfLoss: 0, offcut: 0 });
  });

  it('loses the trim at both its ends', () => {
    const trimmed = { ...saw, trim: inches(0.5) };
    const plan = planned({ pieces: [piece('a', inches(35.4375), 2)], stock: [board('b', inches(72))], saw: trimmed });
    expect(onlyPattern(plan)).toMatchObject({ times: 1, kerfLoss: inches(0.125), offcut: 0 });
    expect(onlyTotals(plan).trimLoss).toBe(inches(1));
    const longer = planned({
      pieces: [piece('a', ticks(inches(35.4375) + 1), 2)],
      stock: [board('b', inches(72))],
      saw: trimmed,
    });
    expect(onlyTotals(longer).boardCount).toBe(2);
  });
});

describe('a plan', () => {
  it('cuts the longest first, and says of each board which pieces it is for', () => {
    const pieces = [piece('short', inches(12)), piece('long', inches(40)), piece('middle', inches(19))];
    const pattern = onlyPattern(planned({ pieces, stock: [board('6ft', inches(72))], saw }));
    expect(pattern.cuts.map((cut) => cut.piece)).toEqual(['long', 'middle', 'short']);
  });

  it('mixes the pieces of all units on a board', () => {
    const pieces = [piece('A-101/shelf', inches(48)), piece('A-102/shelf', inches(23))];
    expect(onlyTotals(planned({ pieces, stock: [board('6ft', inches(72))], saw })).boardCount).toBe(1);
  });

  it('never mixes materials, and adds up each by itself', () => {
    const pieces = [piece('a', inches(20)), piece('b', inches(20), 1, { material: 'oak' })];
    const stock = [board('white', inches(72)), board('oak', inches(96), { material: 'oak' })];
    expect(planned({ pieces, stock, saw }).totals.map((t) => [t.material, t.boardCount])).toEqual([
      ['oak', 1],
      ['white', 1],
    ]);
  });

  it('accounts for the whole length of its boards', () => {
    const pieces = [piece('a', inches(40), 3), piece('b', inches(14), 5), piece('c', inches(70))];
    const totals = onlyTotals(
      planned({ pieces, stock: [board('6ft', inches(72))], saw: { ...saw, trim: inches(0.25) } }),
    );
    const { trimLoss, usedLength, kerfLoss, keptLength, waste } = totals;
    expect(trimLoss + usedLength + kerfLoss + keptLength + waste).toBe(totals.stockLength);
    expect(usedLength).toBe(inches(40 * 3 + 14 * 5 + 70));
  });

  it('of nothing is empty', () => {
    expect(planned({ pieces: [], stock: [board('b', inches(72))], saw })).toEqual({
      version: 1,
      patterns: [],
      uncut: [],
      totals: [],
    });
    expect(planned({ pieces: [piece('a', inches(20), 0)], stock: [], saw }).uncut).toEqual([]);
  });

  it('keeps the pieces of a group on neighbouring boards', () => {
    const pieces = ['1', '2'].flatMap((floor) =>
      ['a', 'b', 'c', 'd'].map((flat) => piece(`${flat}-${floor}`, inches(40), 1, { group: floor })),
    );
    const plan = planned({ pieces, stock: [board('8ft', inches(96))], saw });
    const groups = plan.patterns.map((pattern) => new Set(pattern.cuts.map((cut) => cut.piece.slice(-1))));
    expect(groups).toEqual([new Set('1'), new Set('1'), new Set('2'), new Set('2')]);
  });

  it('of ten million equal pieces is one line, and at once', { timeout: 2_000 }, () => {
    const plan = planned({ pieces: [piece('a', inches(20), 10_000_000)], stock: [board('6ft', inches(72))], saw });
    expect(plan.patterns.map((pattern) => [pattern.times, pattern.cuts[0]?.quantity])).toEqual([
      [3_333_333, 3],
      [1, 1],
    ]);
  });

  it('names every piece of ten thousand different ones, in about as many lines as boards', () => {
    const pieces = Array.from({ length: 10_000 }, (_, n) => piece(`unit ${n}`, inches(20 + (n % 40) / 4)));
    const plan = planned({ pieces, stock: [board('6ft', inches(72)), board('8ft', inches(96))], saw });
    expect(plan.patterns.length).toBeLessThanOrEqual(onlyTotals(plan).boardCount);
    expect(onlyTotals(plan).pieceCount).toBe(10_000);
  });
});

describe('several lengths of stock', () => {
  const rack = (id: string, length: number, count: number) => board(id, inches(length), { offcut: true, count });

  it('uses an offcut from the rack before a board is bought, the smallest that fits', () => {
    const stock = [board('6ft', inches(72)), rack('r40', 40, 1), rack('r30', 30, 1), rack('r20', 20, 1)];
    const plan = planned({ pieces: [piece('a', inches(25))], stock, saw });
    expect(onlyPattern(plan).stock).toBe('r30');
    expect(onlyTotals(plan).boughtLength).toBe(0);
  });

  it('takes no more offcuts than there are', () => {
    const stock = [board('6ft', inches(72)), rack('r30', 30, 2)];
    const totals = onlyTotals(planned({ pieces: [piece('a', inches(25), 3)], stock, saw }));
    expect(totals.boards.map((entry) => [entry.stock, entry.count])).toEqual([
      ['r30', 2],
      ['6ft', 1],
    ]);
  });

  it('buys what is cheapest in all, not what is longest', () => {
    const at = (six: number, eight: number) => {
      const stock = [board('6ft', inches(72), { price: six }), board('8ft', inches(96), { price: eight })];
      return onlyTotals(planned({ pieces: [piece('a', inches(30), 6)], stock, saw }));
    };
    // Three of 6 ft or two of 8 ft.
    expect(at(1000, 1600)).toMatchObject({ price: 3000, boards: [{ stock: '6ft', count: 3 }] });
    expect(at(1000, 1400)).toMatchObject({ price: 2800, boards: [{ stock: '8ft', count: 2 }] });
  });

  it('without prices buys the least length', () => {
    const stock = [board('6ft', inches(72)), board('8ft', inches(96))];
    const totals = onlyTotals(planned({ pieces: [piece('a', inches(30), 6)], stock, saw }));
    expect(totals.boards).toMatchObject([{ stock: '8ft', count: 2 }]);
    expect(totals.price).toBeUndefined();
    expect(totals.bound.measure).toBe('length');
  });

  it('gives what is left for the last board the cheapest one that holds it', () => {
    const stock = [board('4ft', inches(48), { price: 700 }), board('8ft', inches(96), { price: 1200 })];
    const totals = onlyTotals(planned({ pieces: [piece('a', inches(31), 4)], stock, saw }));
    expect(totals.boards.map((entry) => [entry.stock, entry.count])).toEqual([
      ['4ft', 1],
      ['8ft', 1],
    ]);
  });

  it('falls back to other lengths when the better ones are used up', () => {
    const stock = [board('8ft', inches(96), { price: 1000, count: 1 }), board('6ft', inches(72), { price: 1000 })];
    const totals = onlyTotals(planned({ pieces: [piece('a', inches(30), 5)], stock, saw }));
    expect(totals.boards.map((entry) => [entry.stock, entry.count])).toEqual([
      ['6ft', 1],
      ['8ft', 1],
    ]);
    expect(totals.pieceCount).toBe(5);
  });

  it('takes a longer board for a piece that the cheap ones do not hold', () => {
    const stock = [board('6ft', inches(72), { price: 500 }), board('8ft', inches(96), { price: 2000 })];
    const totals = onlyTotals(planned({ pieces: [piece('a', inches(80)), piece('b', inches(60))], stock, saw }));
    expect(totals.price).toBe(2500);
  });
});

describe('what cannot be cut', () => {
  it('is listed with the reason', () => {
    const pieces = [piece('a', inches(20), 2, { material: 'oak' }), piece('b', inches(73)), piece('c', inches(40), 3)];
    const plan = planned({ pieces, stock: [board('6ft', inches(72), { count: 2 })], saw });
    expect(plan.uncut.map(({ piece: id, quantity, reason }) => [id, quantity, reason])).toEqual([
      ['a', 2, 'no stock of this material'],
      ['b', 1, 'longer than any stock'],
      ['c', 1, 'stock used up'],
    ]);
  });

  it('does not keep the rest from being cut', () => {
    const plan = planned({
      pieces: [piece('a', inches(73)), piece('b', inches(30), 2)],
      stock: [board('6ft', inches(72))],
      saw,
    });
    expect(onlyTotals(plan).pieceCount).toBe(2);
  });

  it('counts stock of which there is none as used up', () => {
    const plan = planned({ pieces: [piece('a', inches(30))], stock: [board('6ft', inches(72), { count: 0 })], saw });
    expect(plan.uncut[0]?.reason).toBe('stock used up');
  });
});

describe('the bound', () => {
  it('is reached by a plan that wastes nothing', () => {
    const stock = [board('6ft', inches(72), { price: 900 })];
    const totals = onlyTotals(
      planned({ pieces: [piece('a', inches(23.875), 30)], stock, saw: { ...saw, keepOffcutsFrom: inches(1) } }),
    );
    expect(totals.boardCount).toBe(10);
    expect(totals.bound).toEqual({ proof: 'length', measure: 'price', cost: 9000, boards: 10 });
  });

  it('counts free offcuts as free', () => {
    const stock = [board('r', inches(72), { offcut: true, count: 1 }), board('6ft', inches(72), { price: 900 })];
    const totals = onlyTotals(planned({ pieces: [piece('a', inches(23.875), 6)], stock, saw }));
    expect(totals.bound).toMatchObject({ cost: 900, boards: 2 });
    expect(totals.price).toBe(900);
  });
});

describe('a planner', () => {
  it('hands out its plans one by one; the first-fit planner has one', () => {
    const request = { pieces: [piece('a', inches(20))], stock: [board('6ft', inches(72))], saw };
    expect([...firstFit.plan(request)]).toEqual([firstPlan(request)]);
  });

  it('refuses a request that makes no sense, and says why', () => {
    const refused = (request: Partial<PlanRequest>, why: RegExp) =>
      expect(() => firstPlan({ pieces: [], stock: [], saw, ...request })).toThrow(why);
    refused({ pieces: [piece('a', inches(2)), piece('a', inches(3))] }, /two pieces "a"/);
    refused({ stock: [board('b', inches(2)), board('b', inches(3))] }, /two stocks "b"/);
    refused({ pieces: [piece('a', ticks(0))] }, /length of piece "a"/);
    refused({ pieces: [piece('a', inches(1), 1.5)] }, /quantity of piece "a" is 1.5/);
    refused({ pieces: [piece('a', inches(1), -1)] }, /quantity of piece "a"/);
    refused({ stock: [board('b', inches(1), { price: 0.5 })] }, /price of stock "b"/);
    refused({ stock: [board('b', inches(1), { count: -1 })] }, /count of stock "b"/);
    refused({ saw: { kerf: ticks(-1), keepOffcutsFrom: ticks(0) } }, /kerf/);
    refused({ pieces: [piece('a', inches(40_000), 1e9)] }, /added up exactly/);
  });
});
