/** What to buy where counts do not do. Sums are worked out beside each case; tests/outside/purchase-exact.test.ts tries everything. */
import { describe, expect, it } from 'vitest';
import { optimal } from '../../server/cutting/optimal.ts';
import { shortfallOf } from '../../server/cutting/purchase.ts';
import type { Piece, StockLength } from '../../server/cutting/types.ts';
import { verifiedPlan } from '../../server/cutting/verified.ts';
import { inches } from '../../server/model/ticks.ts';
import { board, piece, saw } from './requests.ts';

function shortfall(pieces: readonly Piece[], stock: readonly StockLength[]) {
  const request = { pieces, stock, saw };
  const plan = verifiedPlan(request, optimal);
  if (!plan) throw new Error('a plan was expected');
  return shortfallOf(request, plan, 'white');
}

const bought = (
  purchase: { readonly boards: readonly { readonly stock: string; readonly count: number }[] } | undefined,
) => purchase?.boards.map(({ stock, count }) => `${count} x ${stock}`);

describe('a purchase', () => {
  it('is not asked for where the counts do', () => {
    expect(shortfall([piece('a', inches(40), 2)], [board('8ft', inches(96), { count: 1 })])).toBeUndefined();
  });

  it('is proven to be needed where adding up does not show it', () => {
    // 60 goes with none of 45, and two of 45 go into a board of 100: four pieces take three boards. By length two
    // would do: 60-1/8 + 3 * 45-1/8 = 195-1/2 in of 200-1/4.
    const found = shortfall(
      [piece('long', inches(60)), piece('short', inches(45), 3)],
      [board('100in', inches(100), { count: 2 })],
    );
    expect(found).toMatchObject({ proven: true, purchases: [{ aims: ['least'], boardCount: 1, proven: ['least'] }] });
    expect(found?.waiting.reduce((sum, { quantity }) => sum + quantity, 0)).toBe(1);
    expect(found?.purchases[0]?.totals.boardCount).toBe(3);
  });

  it('is the least in boards, and the cheapest in money, where these differ', () => {
    // Four more of 40 in: two boards of 8 ft at 30.00, or four of 4 ft at 11.00.
    const found = shortfall(
      [piece('a', inches(40), 6)],
      [board('8ft', inches(96), { price: 3000, count: 1 }), board('4ft', inches(48), { price: 1100, count: 0 })],
    );
    expect(found?.purchases.map((one) => [one.aims, bought(one), one.price, one.proven])).toEqual([
      [['least'], ['2 x 8ft'], 6000, ['least']],
      [['cheapest'], ['4 x 4ft'], 4400, ['cheapest']],
    ]);
    // What is there is counted in what it comes to.
    expect(found?.purchases.map(({ totals }) => totals.price)).toEqual([9000, 7400]);
  });

  it('is of the shortest boards where as many of longer ones would do too', () => {
    const stock = [
      board('12ft', inches(144), { count: 0 }),
      board('8ft', inches(96), { count: 0 }),
      board('6ft', inches(72), { count: 0 }),
    ];
    const found = shortfall([piece('a', inches(90)), piece('b', inches(70))], stock);
    // One board holds both only from 160-1/8 in up: two boards, of 8 ft and 6 ft.
    expect(bought(found?.purchases[0])).toEqual(['1 x 8ft', '1 x 6ft']);
  });

  it('takes what has no limit for granted', () => {
    // The two of 90 in need 8 ft, of which there is one; the rest comes from 4 ft, of which there is any number.
    const found = shortfall(
      [piece('long', inches(90), 2), piece('short', inches(40), 20)],
      [board('8ft', inches(96), { price: 2000, count: 1 }), board('4ft', inches(48), { price: 1100 })],
    );
    expect(found?.purchases.map((one) => [one.aims, bought(one), one.price])).toEqual([
      [['least', 'cheapest'], ['1 x 8ft'], 2000],
    ]);
  });

  it('does not help where only an offcut is long enough', () => {
    const found = shortfall(
      [piece('long', inches(110), 2), piece('short', inches(40))],
      [board('rack', inches(120), { offcut: true, count: 1 }), board('8ft', inches(96), { count: 0 })],
    );
    expect(found?.unbuyable).toMatchObject([{ piece: 'long', quantity: 1 }]);
    expect(bought(found?.purchases[0])).toEqual(['1 x 8ft']);
  });

  it('leaves out what no stock is long enough for', () => {
    const found = shortfall(
      [piece('endless', inches(200)), piece('a', inches(40), 3)],
      [board('8ft', inches(96), { count: 1 })],
    );
    expect(bought(found?.purchases[0])).toEqual(['1 x 8ft']);
  });

  it('holds matched sets together', () => {
    // Each set takes 45 + 1/8 + 40 = 85-1/8 in of one board; 6 ft hold no set, though each piece alone.
    const request = {
      pieces: [piece('left', inches(45), 2), piece('right', inches(40), 2)],
      stock: [board('8ft', inches(96), { price: 2000, count: 1 }), board('6ft', inches(72), { price: 900, count: 0 })],
      sets: [
        {
          id: 'pair',
          runs: [
            { piece: 'left', quantity: 1 },
            { piece: 'right', quantity: 1 },
          ],
          quantity: 2,
        },
      ],
      saw,
    };
    const of = (stock: readonly StockLength[]) => {
      const plan = verifiedPlan({ ...request, stock }, optimal);
      return plan && shortfallOf({ ...request, stock }, plan, 'white');
    };
    expect(bought(of(request.stock)?.purchases[0])).toEqual(['1 x 8ft']);
    // Where the one board that is long enough is an offcut, nothing helps.
    const rack = [board('rack', inches(96), { offcut: true, count: 1 }), board('6ft', inches(72), { count: 0 })];
    expect(of(rack)).toMatchObject({
      purchases: [],
      unbuyable: [
        { piece: 'left', quantity: 1 },
        { piece: 'right', quantity: 1 },
      ],
    });
  });

  it('is the cheapest in what is paid, whatever offcuts are worth', () => {
    const request = {
      pieces: [piece('a', inches(40), 2)],
      stock: [
        board('8ft', inches(96), { price: 2000, count: 0 }),
        board('12ft', inches(144), { price: 2400, count: 0 }),
      ],
      worth: [{ material: 'white', price: 15, per: inches(1) }],
      saw,
    };
    const plan = verifiedPlan(request, optimal);
    const [one] = (plan && shortfallOf(request, plan, 'white')?.purchases) ?? [];
    // 12 ft leave 63-3/4 in, worth 9.56: it would come to less, and more would be paid.
    expect([bought(one), one?.price]).toEqual([['1 x 8ft'], 2000]);
  });

  it('is the same whatever the order of pieces and stock', () => {
    const pieces = [piece('a', inches(40), 6), piece('b', inches(30), 5), piece('c', inches(22.5), 7)];
    const stock = [
      board('8ft', inches(96), { price: 3000, count: 1 }),
      board('6ft', inches(72), { price: 2200, count: 1 }),
      board('4ft', inches(48), { price: 1500, count: 1 }),
    ];
    expect(shortfall(pieces.toReversed(), stock.toReversed())?.purchases).toEqual(shortfall(pieces, stock)?.purchases);
  });
});
