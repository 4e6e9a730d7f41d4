/** What a plan says where stock is short and where it is nearly saved. The JSON is held to its schema in json.test.ts. */
import { describe, expect, it } from 'vitest';
import { folderWith, root, storypole } from './command.ts';

/** One board of 8 ft is there; 8 ft take two of 40 in, 4 ft one. */
const short = `project "Quarry Lane" { currency EUR; kerf 1/8in; saw-step 1/16in }
board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft price 30.00 EUR count 1; length 4ft price 11.00 EUR count 0 }
template t { board oak; wall back { length 40in; height 96in }; zone a on back { width fill; shelf s { at 40in } } }
unit A t
unit B t
unit C t
extra spare { board oak; length 40in; count 3 }
`;

describe('plan', () => {
  it('says who waits, and what to buy: the least, and the cheapest', () => {
    const { out, status } = storypole(['plan'], folderWith({ 'a.closet': short }));
    expect(status).toBe(1);
    const from = out.indexOf('Not cut');
    expect(out.slice(from, out.indexOf('\na.closet', from))).toBe(`Not cut

  pieces    of  material  why            waits for it
       4  40in  oak       stock used up  4 of the 6 in A and 2 like it (a.s), spare

To buy beyond the counts: oak

  The least: 2 boards, 60.00 EUR; no purchase is smaller.
    2  of 96in
  With it the 6 parts come from 3 boards, 90.00 EUR in all.

  The cheapest: 4 boards, 44.00 EUR; no purchase is cheaper.
    4  of 48in
  With it the 6 parts come from 5 boards, 74.00 EUR in all.

  That the counts of oak do not hold all parts is proven in whole numbers.
`);
    expect(out).toContain(
      'to do: Buy at least 2 boards beyond the counts: 2 of 96in, 60.00 EUR; no purchase is smaller. Cheaper is 4 of 48in, 44.00 EUR; no purchase is cheaper.',
    );
  });

  it('says the same in JSON, with the units', () => {
    const { out } = storypole(['plan', '--format', 'json'], folderWith({ 'a.closet': short }));
    const [project] = JSON.parse(out).projects;
    expect(project.shortfalls).toMatchObject([
      {
        material: 'oak',
        proven: true,
        waiting: [{ quantity: 4, for: [{ units: ['A', 'B', 'C'], path: 'a.s' }, { units: ['spare'] }] }],
        unbuyable: [],
        purchases: [
          {
            aims: ['least'],
            proven: ['least'],
            boardCount: 2,
            price: { hundredths: 6000 },
            with: { boardCount: 3, price: { hundredths: 9000 } },
          },
          {
            aims: ['cheapest'],
            proven: ['cheapest'],
            boardCount: 4,
            price: { hundredths: 4400 },
            with: { boardCount: 5, price: { hundredths: 7400 } },
          },
        ],
      },
    ]);
  });

  it('says of plain lengths what to buy', () => {
    const csv = 'what,material,length,count,price\npart,oak,40in,6\nstock,oak,8ft,1,30.00\nstock,oak,4ft,0,11.00\n';
    const { out, status } = storypole(['plan', 'l.csv', '--currency', 'EUR'], folderWith({ 'l.csv': csv }));
    expect(status).toBe(1);
    expect(out).toContain('  The cheapest: 4 boards, 44.00 EUR; no purchase is cheaper.\n    4  of 48in\n');
    expect(out).not.toContain('waits for it');
  });

  it('says what each delivery lacks', () => {
    const text = short.replace('unit A t', 'unit A t { phase 1 }').replace('count 1;', 'count 0;');
    const { out } = storypole(['plan', '--by', 'phase', '--format', 'json'], folderWith({ 'a.closet': text }));
    const { projects } = JSON.parse(out);
    expect(
      projects.map(
        (one: { shortfalls: { purchases: { boardCount: number }[] }[] }) => one.shortfalls[0]?.purchases[0]?.boardCount,
      ),
    ).toEqual([1, 3]);
  });

  it('names what nearly saves a board', () => {
    const { out, status } = storypole(['plan', 'examples/mistakes/board-nearly-saved', '--format', 'json'], root);
    expect(status).toBe(0);
    const [project] = JSON.parse(out).projects;
    expect(project.nearMisses).toMatchObject([
      {
        dimension: 'width',
        name: 'shirts',
        by: { text: '1/16in' },
        saves: { boards: 1, price: { text: '18.90 EUR' }, length: null, pieces: 0, atLeast: false },
        further: null,
        parts: [
          { path: 'shirts.high', quantity: 1 },
          { path: 'shirts.low', quantity: 1 },
        ],
      },
    ]);
    const check = storypole(['check', 'examples/mistakes/board-nearly-saved'], root);
    expect([check.status, check.out.includes('note stock-nearly-saved')]).toEqual([0, true]);
  });
});
