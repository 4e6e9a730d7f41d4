/** The stock of a project against its parts. Sums are worked out beside each case; no outside source. */
import { describe, expect, it } from 'vitest';
import { stockFindings } from '../../server/checks/stock.ts';
import type { StockInput } from '../../server/checks/stock-input.ts';
import type { Piece, Plan, PlanRequest, StockLength, Uncut } from '../../server/cutting/types.ts';
import type { StockItem } from '../../server/model/materials.ts';
import { showInches } from '../../server/model/show.ts';
import { inches } from '../../server/model/ticks.ts';
import { ids, only, place, standsOn } from './layouts.ts';

function piece(id: string, length: number, quantity = 1, material = 'white-12'): Piece {
  return { id, material, length: inches(length), quantity };
}

function stock(id: string, length: number, count?: number, material = 'white-12'): StockLength {
  return { id, material, length: inches(length), count, offcut: false };
}

interface Given {
  readonly uncut?: readonly Uncut[];
  readonly trim?: number;
}

/** Kerf 1/8 in. Each piece comes from as many units as it has parts. */
function project(pieces: readonly Piece[], lengths: readonly StockLength[], given: Given = {}): StockInput {
  const request: PlanRequest = {
    pieces,
    stock: lengths,
    saw: { kerf: inches(0.125), trim: inches(given.trim ?? 0), keepOffcutsFrom: inches(24) },
  };
  const plan: Plan | undefined = given.uncut && { version: 1, patterns: [], uncut: given.uncut, totals: [] };
  const items = lengths.map(({ id, material, length, count, offcut }): [string, StockItem] => [
    id,
    {
      material,
      length,
      price: undefined,
      count,
      offcut,
      place: place(`length ${id}`),
      declaration: place(`stock of ${id}`),
    },
  ]);
  const origins = pieces.map(
    ({ id, quantity }): [string, StockInput['origins'] extends ReadonlyMap<string, infer O> ? O : never] => [
      id,
      Array.from({ length: quantity }, (_, i) => ({
        place: place(`part ${id} ${i + 1}`),
        unit: `A-${i + 1}`,
        path: `shirts.${id}`,
      })),
    ],
  );
  return {
    request,
    plan,
    items: new Map(items),
    origins: new Map(origins),
    materials: new Map([['white-12', place('board white-12')]]),
    show: showInches,
  };
}

function left(of: Piece, quantity: number, reason: Uncut['reason']): Uncut {
  return { piece: of.id, material: of.material, length: of.length, quantity, reason };
}

describe('a material without stock', () => {
  it('is a warning on the material, with the parts that wait', () => {
    const told = only(stockFindings(project([piece('high', 48, 2)], [])), 'stock-missing');
    expect(told.severity).toBe('warning');
    expect(told.message).toBe('"white-12" has no stock, and 2 parts of it are to be cut.');
    expect(standsOn(told.place)).toBe('board white-12');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['part high 1', 'part high 2']);
    expect(told.related[0]?.message).toBe('"shirts.high" of unit "A-1" waits: 48in.');
    expect(told.reach).toEqual(['A-1', 'A-2']);
  });

  it('sits on a part where the material has no place', () => {
    const told = only(stockFindings(project([piece('long', 48, 1, 'chrome')], [])), 'stock-missing');
    expect(told.message).toBe('"chrome" has no stock, and 1 part of it is to be cut.');
    expect(standsOn(told.place)).toBe('part long 1');
  });

  it('is no matter where nothing is cut from it', () => {
    expect(stockFindings(project([piece('high', 48, 0)], []))).toEqual([]);
  });
});

describe('a part longer than the stock', () => {
  it('may be as long as the longest and no longer', () => {
    const lengths = [stock('6ft', 72), stock('8ft', 96)];
    expect(stockFindings(project([piece('high', 96)], lengths))).toEqual([]);
    const told = only(
      stockFindings(project([piece('high', 96.0625, 2), piece('low', 97)], lengths)),
      'part-longer-than-stock',
    );
    expect(told.severity).toBe('error');
    expect(told.message).toBe('The longest stock of "white-12" is 96in; 3 parts of it are longer, up to 97in.');
    expect(told.advice).toBe('Add a stock length of at least 97in, or divide the parts in the layout.');
    expect(standsOn(told.place)).toBe('stock of 8ft');
    expect(told.comparison).toEqual({
      what: 'longest part of "white-12"',
      measured: { ticks: inches(97) },
      relation: 'at most',
      limit: { ticks: inches(96) },
    });
    // The longest first.
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['part low 1', 'part high 1', 'part high 2']);
  });

  it('loses what the saw trims off both ends', () => {
    // 96 - 2 * 1/4 = 95-1/2.
    const lengths = [stock('8ft', 96)];
    expect(stockFindings(project([piece('high', 95.5)], lengths, { trim: 0.25 }))).toEqual([]);
    const told = only(stockFindings(project([piece('high', 96)], lengths, { trim: 0.25 })), 'part-longer-than-stock');
    expect(told.message).toBe(
      'The longest stock of "white-12" is 96in, of which 95-1/2in can be used; 1 part of it is 96in long.',
    );
    // 96 + 2 * 1/4 = 96-1/2.
    expect(told.advice).toBe('Add a stock length of at least 96-1/2in, or divide the part in the layout.');
  });
});

describe('a stock that is short', () => {
  it('is proven by length', () => {
    // Two boards hold 2 * (96 + 1/8) = 192-1/4 with kerfs; five parts of 47-15/16 take 5 * 48-1/16 = 240-5/16.
    const told = only(stockFindings(project([piece('high', 47.9375, 5)], [stock('8ft', 96, 2)])), 'stock-short');
    expect(told.severity).toBe('error');
    expect(told.message).toBe(
      '"white-12" is short, whatever the plan: the 5 parts take 240-5/16in with a kerf each, and the stock that is long enough holds 192-1/4in.',
    );
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(240.3125) }, limit: { ticks: inches(192.25) } });
    expect(standsOn(told.place)).toBe('stock of 8ft');
    // Four parts take 4 * 48-1/16 = 192-1/4, which just fits.
    expect(stockFindings(project([piece('high', 47.9375, 4)], [stock('8ft', 96, 2)]))).toEqual([]);
  });

  it('is proven by count, with a plan or without', () => {
    // A board of 96 holds one part of 60: two boards, three parts. By length it would do: 3 * 60-1/8 = 180-3/8.
    const pieces = [piece('high', 60, 3), piece('loose', 10)];
    const bare = project(pieces, [stock('8ft', 96, 2)]);
    const told = only(stockFindings(bare), 'stock-short');
    expect(told.message).toBe(
      '"white-12" is short, whatever the plan: the 3 parts of 60in and longer find room for 2 at most in the stock that is long enough.',
    );
    expect(told.comparison).toEqual({
      what: 'parts of "white-12"',
      measured: { count: 3 },
      relation: 'at most',
      limit: { count: 2 },
    });
    const planned = project(pieces, [stock('8ft', 96, 2)], {
      uncut: [left(pieces[0] as Piece, 1, 'stock used up')],
    });
    expect(ids(stockFindings(planned))).toEqual(['stock-short']);
  });

  it('names ten parts and how many more', () => {
    const told = only(stockFindings(project([piece('high', 60, 13)], [stock('8ft', 96, 2)])), 'stock-short');
    expect(told.related).toHaveLength(10);
    expect(told.related.at(-1)?.message).toBe('"shirts.high" of unit "A-10" waits: 60in; and 3 more.');
    expect(told.related.at(-2)?.message).toBe('"shirts.high" of unit "A-9" waits: 60in.');
    expect(told.reach).toHaveLength(13);
  });

  it('is not proven by a plan that does not fit', () => {
    const high = piece('high', 48, 2);
    const told = only(
      stockFindings(project([high], [stock('8ft', 97, 1)], { uncut: [left(high, 1, 'stock used up')] })),
      'stock-plan-does-not-fit',
    );
    expect(told.severity).toBe('warning');
    expect(told.message).toBe(
      'The best plan found leaves 1 part of "white-12" without stock. That is no proof that it is short: another plan may fit.',
    );
    expect(told.comparison).toMatchObject({ measured: { count: 1 }, limit: { count: 0 } });
    expect(standsOn(told.place)).toBe('stock of 8ft');
  });

  it('leaves to the other rules what they say', () => {
    const high = piece('high', 98);
    const planned = project([high], [stock('8ft', 96)], { uncut: [left(high, 1, 'longer than any stock')] });
    expect(ids(stockFindings(planned))).toEqual(['part-longer-than-stock']);
    const none = project([high], [], { uncut: [left(high, 1, 'no stock of this material')] });
    expect(ids(stockFindings(none))).toEqual(['stock-missing']);
  });
});
