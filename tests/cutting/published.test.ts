/** The formats that published instances come in, on tiny ones of our own. */
import { describe, expect, it } from 'vitest';
import { optimal } from '../../server/cutting/optimal.ts';
import type { Plan } from '../../server/cutting/types.ts';
import { readInstances, readOptima, requestOf } from './published.ts';

const each = (lengths: readonly number[]) => lengths.map((length) => ({ length, quantity: 1 }));

describe('a file of instances', () => {
  it('of bin packing: the number of items, the capacity, the sizes', () => {
    const wanted = [{ name: 'a', stock: [{ length: 10 }], pieces: each([7, 5, 3]), kerf: 0, optimum: 2 }];
    const optima = readOptima('name\toptimum\na\t2\n');
    expect(readInstances('a.txt', '3\n10\n7\n5\n3\n', optima)).toEqual(wanted);
    expect(readInstances('a.bpp', '\uFEFF 3 \r\n 10\r\n7\r\n5\r\n3\r\n\r\n', optima)).toEqual(wanted);
    expect(readInstances('a.BPP', '3 10 7 5 3', optima)).toEqual(wanted);
    expect(readInstances('a', '3\n10\n7 5\n3', optima)).toEqual(wanted);
  });

  it('of cutting stock: a size and its demand in each line, or one after the other', () => {
    const pieces = [
      { length: 7, quantity: 2 },
      { length: 3, quantity: 4 },
    ];
    for (const text of ['2\n10\n7\t2\n3\t4\n', '2\n10\n7 2 3 4', '2\r\n10\r\n7;2\r\n3;4\r\n'])
      expect(readInstances('b.csp', text)).toEqual([
        { name: 'b', stock: [{ length: 10 }], pieces, kerf: 0, optimum: undefined },
      ]);
  });

  it('with several of them, each with its name and its best value', () => {
    const text = ' 2\n t1\n 100.0 3 1\n 49.8\n 26\n 24.2\n u1\n 150 2 1\n 42\n 69\n';
    expect(readInstances('binpack5.txt', text, new Map([['t1', 1]]))).toEqual([
      { name: 't1', stock: [{ length: 1000 }], pieces: each([498, 260, 242]), kerf: 0, optimum: 1 },
      { name: 'u1', stock: [{ length: 150 }], pieces: each([42, 69]), kerf: 0, optimum: undefined },
    ]);
  });

  it('of several stock lengths with prices, and with counts', () => {
    expect(readInstances('c.txt', '2 3\n10 100\n6 70\n7\n5\n3\n')).toMatchObject([
      {
        stock: [
          { length: 10, price: 100 },
          { length: 6, price: 70 },
        ],
        pieces: each([7, 5, 3]),
      },
    ]);
    expect(readInstances('c.txt', '1 2\n10 100 4\n7 2\n3 5\n')).toMatchObject([
      {
        stock: [{ length: 10, price: 100, count: 4 }],
        pieces: [
          { length: 7, quantity: 2 },
          { length: 3, quantity: 5 },
        ],
      },
    ]);
    expect(readInstances('c.json', '{"stock":[{"length":9}],"pieces":[{"length":4,"quantity":3}],"kerf":1}')).toEqual([
      { name: 'c', stock: [{ length: 9 }], pieces: [{ length: 4, quantity: 3 }], kerf: 1 },
    ]);
  });

  it.each([
    ['3\n10\n7\n5\n', 'x.txt: 2 numbers for 3 sizes'],
    ['3\n10\n7\nfive\n3\n', 'x.txt: "five" is not a number'],
    ['', 'x.txt: 0 numbers for undefined sizes'],
    ['1\nt1\n100 3 1\n50\n30\n', 't1 is cut short'],
  ])('that is none of these is refused: %j', (text, why) => {
    expect(() => readInstances('x.txt', text)).toThrow(why);
  });

  it('is planned as it stands', () => {
    const [triplet] = readInstances('t.txt', '1\nt1\n100.0 3 1\n49.8\n26\n24.2\n');
    if (!triplet) throw new Error('nothing was read');
    const plan = [...optimal.plan(requestOf(triplet))].at(-1) as Plan;
    expect(plan.totals[0]).toMatchObject({ boardCount: 1, waste: 0 });
  });
});
