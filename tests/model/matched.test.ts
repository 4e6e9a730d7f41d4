/** Matched sets and the worth of offcuts as they are written: what becomes of them in the request, and what is found. */
import { describe, expect, it } from 'vitest';
import { demandOf } from '../../server/cutting/demand.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { verifiedPlan } from '../../server/cutting/verified.ts';
import type { Project } from '../../server/model/project.ts';
import { inches } from '../../server/model/ticks.ts';
import { check, inch, projectOf } from './support.ts';

const oak = `board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft; length 10ft }
`;

/** Each set of the request as its lengths in order, and how many there are. */
function setsOf(project: Project): string[] {
  const { request, matched } = demandOf(project);
  const lengths = new Map(request.pieces.map(({ id, length }) => [id, inch(length)]));
  return (request.sets ?? []).map(({ id, runs, quantity }) => {
    const inOrder = runs.map(({ piece, quantity }) => (quantity === 1 ? '' : `${quantity} x `) + lengths.get(piece));
    return `${quantity} of ${matched.get(id)?.name}: ${inOrder.join(', ')}`;
  });
}

/** Zones of 24 in, 36 in and what is left of 90 in: 30 in. */
const template = (a: string, b: string, c: string, more = ''): string => `${oak}template t {
  board oak
  pole chrome
  ${more}
  wall back { length 90in; height 96in }
  zone a on back { width 24in; ${a} }
  zone b on back after a { width 36in; ${b} }
  zone c on back after b { width fill; ${c} }
}
`;
const shelf = (name: string, at: number, more = ''): string => `shelf ${name} { at ${at}in; ${more} }`;

describe('parts with the same name under matched', () => {
  const row = template(
    shelf('top', 80, 'matched top-row'),
    shelf('top', 80, 'matched top-row'),
    shelf('top', 80, 'matched top-row'),
  );

  it('are one set, in the order in which they are written, for each unit', () => {
    const project = projectOf(`${row}unit u t\nunit v t { count 3 }`);
    expect(setsOf(project)).toEqual(['4 of top-row: 24in, 36in, 30in']);
    const plan = verifiedPlan(demandOf(project).request, optimal);
    // 24 + 36 + 30 and two cuts are 90-1/4 in of 96.
    expect(plan?.patterns.map(({ times, cuts }) => [times, ...cuts.map(({ length }) => inch(length))])).toEqual([
      [4, '24in', '36in', '30in'],
    ]);
  });

  it('keep that order in a unit that is mirrored', () => {
    expect(setsOf(projectOf(`${row}unit u t mirrored`))).toEqual(['1 of top-row: 24in, 36in, 30in']);
    const walls = `${oak}template t {
  board oak
  wall left { length 50in; height 96in }
  wall right { length 40in; height 96in }
  zone a on left { width fill; ${shelf('top', 80, 'matched side')} }
  zone b on right { width fill; ${shelf('top', 80, 'matched side')} }
}
unit u t
unit v t mirrored
`;
    expect(setsOf(projectOf(walls))).toEqual(['2 of side: 50in, 40in']);
  });

  it('come in the order of statements, panels of a pair and shelves of a row where their statement stands', () => {
    const inside = `${shelf('high', 80, 'matched tower')}; shelves loose between floor and high { count 2; matched tower }; panels { matched tower }`;
    const project = projectOf(`${template(inside, '', '')}unit u t`);
    // Between the panels of 3/4 in 22-1/2 in are clear; the panels end at the upper face of the shelf, 80-3/4 in.
    expect(setsOf(project)).toEqual(['1 of tower: 3 x 22-1/2in, 2 x 80-3/4in']);
    const { matched } = [...project.units()][0]?.resolved?.layout ?? {};
    expect(matched?.[0]?.parts.map(({ path }) => path)).toEqual([
      'a.high',
      'a.loose.1',
      'a.loose.2',
      'a.panels.left',
      'a.panels.right',
    ]);
  });

  it('of several materials are one set of each', () => {
    const project = projectOf(
      `${template(
        `${shelf('top', 80, 'matched m')}; rod r { at 60in; matched m }`,
        `${shelf('top', 80, 'matched m')}; rod r { at 60in; matched m }`,
        '',
      )}unit u t`,
    );
    // A rod loses 3/8 in at each end.
    expect(setsOf(project)).toEqual(['1 of m: 24in, 36in', '1 of m: 23-1/4in, 35-1/4in']);
  });

  it('are named for a whole zone or template, for its boards and not its rods, unless a fitting says otherwise', () => {
    const zones = [
      `${shelf('top', 80)}; ${shelf('low', 20, 'matched none')}; rod r { at 60in }`,
      `${shelf('top', 80)}; rod r { at 60in }`,
      `matched other; ${shelf('top', 80)}; ${shelf('low', 20)}`,
    ] as const;
    expect(setsOf(projectOf(`${template(...zones, 'matched all')}unit u t`))).toEqual([
      '1 of all: 24in, 36in',
      '1 of other: 2 x 30in',
    ]);
  });

  it('are changed by an override', () => {
    const project = projectOf(`${row}unit u t { override b.top { matched none } }`);
    expect(setsOf(project)).toEqual(['1 of top-row: 24in, 30in']);
  });

  it('that are loose come from one board, all of the count, with others of the name for the same floor and phase', () => {
    const extras = `extra a { board oak; length 20in; count 3; matched spares; phase 1 }
extra b { board oak; length 10in; matched spares; phase 1 }
extra c { board oak; length 12in; matched spares; phase 2 }
extra d { board oak; length 14in; count 2 }
`;
    expect(setsOf(projectOf(oak + extras))).toEqual(['1 of spares: 3 x 20in, 10in']);
    const { pieces } = demandOf(projectOf(oak + extras)).request;
    expect(pieces.map(({ length, quantity }) => `${quantity} x ${inch(length)}`)).toEqual([
      '3 x 20in',
      '1 x 10in',
      '1 x 12in',
      '2 x 14in',
    ]);
  });

  it('is noted where only one part of the unit carries the name', () => {
    check(`${oak}template t {
  board oak
  wall back { length 90in; height 96in }
  zone a on back { width 40in; shelf top { at 80in; matched fronts }; shelf low { at 20in; matched fronts } }
  zone b on back after a { width fill; shelf top { at 80in; matched front } }
  //                                                        ^^^^^^^^^^^^^ note matched-alone: Shelf "b.top" is the only part of matched set "front"
}
unit u t
`);
  });

  it('is an error where no stock is long enough for them together', () => {
    // 60 + 61 and a cut are 121-1/8 in, 1-1/8 in more than the 10 ft of the longest stock.
    check(`${oak}template t {
  board oak
  wall back { length 121in; height 96in }
  zone a on back { width 60in; shelf top { at 80in; matched fronts } }
  //                                                ^^^^^^^^^^^^^^ error matched-set-longer-than-stock: Matched set "fronts" takes 121-1/8in of one board: 2 parts of "oak" and a cut of 1/8in between each two. The longest stock of it is 120in. Add a stock length of at least 121-1/8in
  zone b on back after a { width fill; shelf top { at 80in; matched fronts } }
}
unit u t
unit v t
`);
  });
});

describe('what offcuts are worth', () => {
  const stock = (worth: string, price = 'price 18.90 EUR'): string =>
    `board oak { depth 12in; thickness 3/4in }
extra shelf { board oak; length 60in }
stock oak { length 8ft ${price}; ${worth} }
`;

  it('is in the request, in cents for a length', () => {
    const { request, notCounted } = demandOf(projectOf(stock('keep-offcuts worth 1.20 EUR per 1ft')));
    expect(request.worth).toEqual([{ material: 'oak', price: 120, per: inches(12) }]);
    expect(notCounted).toEqual([]);
    expect(demandOf(projectOf(stock('lead 5 days'))).request).not.toHaveProperty('worth');
  });

  it('is an error where a board that is cut for nothing would pay, and is left out', () => {
    // 18.90 for 8 ft are 2.3625 a foot.
    check(stock('keep-offcuts worth 2.36 EUR per 1ft'));
    const project = check(`board oak { depth 12in; thickness 3/4in }
extra shelf { board oak; length 60in }
stock oak {
  length 8ft price 18.90 EUR
    keep-offcuts worth 2.37 EUR per 1ft
//  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error offcut-worth-not-counted: An offcut of "oak" as long as a board of 96in would be worth 18.96 EUR, and the board costs 18.90 EUR: it would pay to buy boards and cut nothing from them. Say less than 2.37 EUR per 12in.
}
`);
    expect(demandOf(project).request).not.toHaveProperty('worth');
  });

  it('is an error where a length has no price', () => {
    check(`board oak { depth 12in; thickness 3/4in }
stock oak {
  length 8ft
    keep-offcuts worth 1.20 EUR per 1ft
//  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error offcut-worth-not-counted: not every length of it that can be bought has a price
}
`);
  });

  it('is an error of no length, and in another currency', () => {
    check(`board oak { depth 12in; thickness 3/4in }
board elm { depth 12in; thickness 3/4in }
stock oak {
  length 8ft price 18.90 EUR
    keep-offcuts worth 1.20 EUR per 0in
//  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error number-out-of-bounds: Offcuts of no length are worth nothing
}
stock elm {
  length 8ft price 18.90 EUR
    keep-offcuts worth 1.20 USD per 1ft
//                          ^^^ error wrong-kind-of-quantity: The price is in USD; the project's currency is EUR
}
`);
  });
});
