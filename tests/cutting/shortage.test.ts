/** When it is proven that the stock cannot hold the pieces, whatever the plan. */
import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { longerThanAnyStock, provenShort } from '../../server/cutting/shortage.ts';
import { inches, ticks } from '../../server/model/ticks.ts';
import { board, piece, saw } from './requests.ts';

describe('a shortage is proven', () => {
  it('by length: the pieces and their cuts come to more than all boards', () => {
    const pieces = [piece('a', inches(35), 3), piece('b', inches(30), 2)];
    const stock = [board('6ft', inches(72), { count: 2 })];
    expect(provenShort({ pieces, stock, saw })).toEqual([
      {
        material: 'white',
        kind: 'length',
        from: inches(30),
        need: inches(35.125 * 3 + 30.125 * 2),
        have: inches(72.125 * 2),
        pieces: ['a', 'b'],
        stock: ['6ft'],
      },
    ]);
  });

  it('by count: each board holds only so many of them, though there is length enough', () => {
    // Four of 40 in come to 160 in, three boards to 216 in; but each board holds one.
    const stock = [board('6ft', inches(72), { count: 3 })];
    expect(provenShort({ pieces: [piece('a', inches(40), 4)], stock, saw })).toMatchObject([
      { kind: 'count', from: inches(40), need: 4, have: 3 },
    ]);
  });

  it('once for a material: the proof that takes in the most pieces', () => {
    const pieces = [piece('long', inches(60), 3), piece('short', inches(20), 9)];
    const stock = [board('6ft', inches(72), { count: 2 })];
    expect(provenShort({ pieces, stock, saw })).toMatchObject([{ from: inches(20), pieces: ['long', 'short'] }]);
    expect(provenShort({ pieces: pieces.slice(0, 1), stock, saw })).toMatchObject([{ from: inches(60) }]);
  });

  it('for the long pieces alone, when only few boards are long enough', () => {
    const pieces = [piece('long', inches(80), 2), piece('short', inches(20), 3)];
    const stock = [board('8ft', inches(96), { count: 1 }), board('6ft', inches(72))];
    expect(provenShort({ pieces, stock, saw })).toMatchObject([
      {
        kind: 'length',
        from: inches(80),
        need: inches(160.25),
        have: inches(96.125),
        pieces: ['long'],
        stock: ['8ft'],
      },
    ]);
  });

  it('exactly to the tick', () => {
    const pieces = [piece('a', inches(23.875), 6)];
    const of = (length: number) => provenShort({ pieces, stock: [board('b', ticks(length), { count: 2 })], saw });
    expect(of(inches(71.875))).toEqual([]);
    expect(of(inches(71.875) - 1)).toHaveLength(1);
  });

  it('for each material by itself', () => {
    const pieces = [piece('a', inches(40), 2), piece('b', inches(40), 2, { material: 'oak' })];
    const stock = [board('white', inches(72), { count: 1 }), board('oak', inches(72), { material: 'oak', count: 2 })];
    expect(provenShort({ pieces, stock, saw }).map((shortage) => shortage.material)).toEqual(['white']);
  });

  it('by stock of which there is none', () => {
    const stock = [board('6ft', inches(72), { count: 0 })];
    expect(provenShort({ pieces: [piece('a', inches(40))], stock, saw })).toMatchObject([
      { need: inches(40.125), have: 0 },
    ]);
  });
});

describe('a shortage is not proven', () => {
  it('when some length can be had without limit', () => {
    const stock = [board('6ft', inches(72)), board('8ft', inches(96), { count: 1 })];
    expect(provenShort({ pieces: [piece('a', inches(40), 1000)], stock, saw })).toEqual([]);
  });

  it('by a first plan that does not fit: another plan might', () => {
    const lengths = { a: [5, 1], b: [4, 2], c: [3, 1], d: [2, 2] } as const;
    const pieces = Object.entries(lengths).map(([id, [length, quantity]]) => piece(id, ticks(length), quantity));
    const request = {
      pieces,
      stock: [board('b', ticks(10), { count: 2 })],
      saw: { kerf: ticks(0), keepOffcutsFrom: ticks(1) },
    };
    // 5 + 3 + 2 and 4 + 4 + 2 fill both boards; the first plan starts with 5 + 4.
    expect(firstPlan(request).uncut).toMatchObject([{ reason: 'stock used up' }]);
    expect(provenShort(request)).toEqual([]);
  });

  it('by pieces that no plan could cut, which are told apart', () => {
    const pieces = [piece('a', inches(73)), piece('b', inches(20), 1, { material: 'steel' }), piece('c', inches(20))];
    const request = { pieces, stock: [board('6ft', inches(72), { count: 1 })], saw };
    expect(provenShort(request)).toEqual([]);
    expect(longerThanAnyStock(request).map(({ id }) => id)).toEqual(['a']);
  });

  it('by stock that a trim makes too short, which is told apart too', () => {
    const request = {
      pieces: [piece('a', inches(71.5))],
      stock: [board('6ft', inches(72))],
      saw: { ...saw, trim: inches(0.5) },
    };
    expect(longerThanAnyStock(request)).toHaveLength(1);
    expect(longerThanAnyStock({ ...request, saw })).toEqual([]);
  });
});
