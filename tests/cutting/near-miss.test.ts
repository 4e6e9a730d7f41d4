/** Which dimension a little smaller would save a board. Sums are worked out beside each case. */
import { describe, expect, it } from 'vitest';
import { type Lever, type NearMissOptions, nearMisses } from '../../server/cutting/near-miss.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import type { Piece, StockLength } from '../../server/cutting/types.ts';
import { verifiedPlan } from '../../server/cutting/verified.ts';
import { inches } from '../../server/model/ticks.ts';
import { board, piece, saw } from './requests.ts';

const sixteenths: NearMissOptions = { most: inches(1 / 4), step: inches(1 / 16) };

function found(
  pieces: readonly Piece[],
  stock: readonly StockLength[],
  levers: readonly Lever[] = pieces.map(({ id, quantity }) => ({ id, moves: [{ piece: id, quantity, by: 1 }] })),
  options = sixteenths,
) {
  const request = { pieces, stock, saw };
  const plan = verifiedPlan(request, optimal);
  if (!plan) throw new Error('a plan was expected');
  return nearMisses(request, plan, levers, options).map(({ lever, by, saves }) => ({
    lever,
    by: by / inches(1),
    ...saves,
  }));
}

const eightFeet = board('8ft', inches(96), { price: 2000 });

describe('a near miss', () => {
  it('is told with the least that saves a board', () => {
    // Two of 48 in and a kerf of 1/8 come to 96-1/8 in. Shorter by 1/16 both, they fit.
    expect(found([piece('a', inches(48), 2)], [eightFeet])).toEqual([
      { lever: 'a', by: 1 / 16, boards: 1, price: 2000, length: 0, pieces: 0, atLeast: false },
    ]);
    // Where one of the two gives way alone, it is 1/8.
    const one: Lever = { id: 'one', moves: [{ piece: 'a', quantity: 1, by: 1 }] };
    expect(found([piece('a', inches(48), 2)], [eightFeet], [one])).toMatchObject([
      { lever: 'one', by: 1 / 8, boards: 1 },
    ]);
  });

  it('ends where no more may be asked', () => {
    // Two of 48-1/16 come to 96-1/4 with the kerf: 1/8 off each. Two of 48-1/4 take 5/16.
    expect(found([piece('a', inches(48.0625), 2)], [eightFeet])).toMatchObject([{ by: 1 / 8 }]);
    expect(found([piece('a', inches(48.25), 2)], [eightFeet])).toEqual([]);
    const more = { ...sixteenths, most: inches(3 / 8) };
    expect(found([piece('a', inches(48.25), 2)], [eightFeet], undefined, more)).toMatchObject([{ by: 5 / 16 }]);
    expect(found([piece('a', inches(48), 2)], [eightFeet], undefined, { ...sixteenths, most: 0 })).toEqual([]);
  });

  it('is also the step to the next shorter board', () => {
    const sixFeet = board('6ft', inches(72), { price: 1400 });
    expect(found([piece('a', inches(72.0625), 2)], [eightFeet, sixFeet])).toEqual([
      { lever: 'a', by: 1 / 16, boards: 0, price: 1200, length: 0, pieces: 0, atLeast: false },
    ]);
  });

  it('is also what makes a part possible', () => {
    expect(found([piece('a', inches(96.125), 2), piece('b', inches(10))], [eightFeet])).toMatchObject([
      { lever: 'a', by: 1 / 8, pieces: 2, price: 0 },
    ]);
  });

  it('counts in length where there are no prices', () => {
    expect(found([piece('a', inches(48), 2)], [board('8ft', inches(96))])).toMatchObject([
      { boards: 1, price: 0, length: inches(96) },
    ]);
  });

  it('counts in what gets longer by it', () => {
    // The neighbour of 47-15/16 grows by what the other loses: two of each take four boards whatever is tried.
    const pieces = [piece('a', inches(48), 2), piece('b', inches(95.9375), 2)];
    const wall: Lever = {
      id: 'wall',
      moves: [
        { piece: 'a', quantity: 2, by: 1 },
        { piece: 'b', quantity: 2, by: -1 },
      ],
    };
    // 95-15/16 + 1/16 is 96 and still fits; 1/8 more would not.
    expect(found(pieces, [eightFeet], [wall], { ...sixteenths, most: inches(1 / 16) })).toMatchObject([
      { by: 1 / 16, boards: 1 },
    ]);
    const tight = [piece('a', inches(48), 2), piece('b', inches(96), 2)];
    expect(found(tight, [eightFeet], [wall])).toEqual([]);
  });

  it('adds up over materials', () => {
    const rod = { material: 'chrome' };
    const pieces = [piece('shelf', inches(48), 2), piece('rod', inches(48), 2, rod)];
    const zone: Lever = { id: 'zone', moves: pieces.map(({ id }) => ({ piece: id, quantity: 2, by: 1 })) };
    const stock = [eightFeet, board('rod 8ft', inches(96), { ...rod, price: 900 })];
    expect(found(pieces, stock, [zone])).toMatchObject([{ boards: 2, price: 2900 }]);
  });

  it('is judged with what offcuts are worth', () => {
    // A board of 20.00 saved; the two of 47-7/8 in that were left are worth nothing any more: 2 x 4.78 at 0.10 an inch.
    const worth = [{ material: 'white', price: 10, per: inches(1) }];
    const request = { pieces: [piece('a', inches(48), 2)], stock: [eightFeet], saw, worth };
    const plan = verifiedPlan(request, optimal);
    const levers: Lever[] = [{ id: 'a', moves: [{ piece: 'a', quantity: 2, by: 1 }] }];
    const [miss] = (plan && nearMisses(request, plan, levers, { ...sixteenths, most: inches(1 / 16) })) ?? [];
    // The plan as it is comes to 40.00 - 9.56 = 30.44, the other to 20.00.
    expect(miss?.saves).toMatchObject({ boards: 1, price: 1044 });
  });

  it('is not told where too little is saved to be a board', () => {
    // A board is left over anyway.
    expect(found([piece('a', inches(40), 2)], [eightFeet])).toEqual([]);
  });
});
