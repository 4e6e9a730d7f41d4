/** What the commands print for people, whole and as it is read: for one of everything, and for several. */
import { describe, expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

const one = `project "Quarry Lane" { currency EUR; kerf 1/8in; saw-step 1/16in; keep-offcuts from 24in }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 18.90 EUR unlimited }
template linen {
  board white-12
  wall back { length 36in; height 96in }
  zone main on back { width fill; shelf top { at 72in } }
}
unit A-101-linen linen { floor 1; flat A-101 }
`;

const many = `project "Quarry Lane" { currency EUR; kerf 1/8in; saw-step 1/16in; keep-offcuts from 24in }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1in }
stock white-12 { length 8ft price 18.90 EUR unlimited }
stock chrome { length 8ft; offcut 50in }
template coats {
  parameter width: length from 30in to 98in
  board white-12
  pole chrome
  wall back { length width; height 96in }
  zone main on back {
    width fill
    shelf top { at 72in }
    rod hang { under top by 3in }
  }
}
unit A-101-coats coats { floor 1; flat A-101; width 48in }
unit A-102-coats coats mirrored { floor 1; flat A-102; width 48in }
unit A-103-coats coats { floor 1; flat A-103; width 1000mm; count 2 }
unit A-104-coats coast { floor 1; flat A-104 }
extra spare { board white-12; length 20in; count 3 }
`;

function printed(text: string, words: readonly string[]): string {
  const { out, err } = storypole(words, folderWith({ 'a.closet': text }));
  expect(err).toBe('');
  return out;
}

describe('one of everything', () => {
  it('check', () =>
    expect(printed(one, ['check'])).toBe(`No findings in 1 file, 1 unit.
`));
  it('cuts', () =>
    expect(printed(one, ['cuts'])).toBe(`Cut list: Quarry Lane

Unit A-101-linen (linen): floor 1, flat A-101

count  length  depth  thickness  material  for
    1    36in   12in      3/4in  white-12  main.top

All parts together

count  length  depth  thickness  material  for
    1    36in   12in      3/4in  white-12  main.top in A-101-linen
`));
  it('cuts --steps --unit A-101-linen', () =>
    expect(printed(one, ['cuts', '--steps', '--unit', 'A-101-linen'])).toBe(`Cut list: Quarry Lane

Unit A-101-linen (linen): floor 1, flat A-101

count  length  depth  thickness  material  for
    1    36in   12in      3/4in  white-12  main.top
         36in  wall back, as drawn
`));
  it('plan', () =>
    expect(printed(one, ['plan'])).toBe(`Cutting plan: Quarry Lane

white-12: 1 part from 1 board, 18.90 EUR

  boards    of               each     in all
       1  96in  to buy  18.90 EUR  18.90 EUR

  times  board  cut, the longest first  left over
      1   96in  36in                     59-7/8in  keep

  1 x 96in  |36in                      |59-7/8in keep                                |

  The parts come to 36in; the saw takes 1/8in; nothing is waste.
  1 pattern; the saw's stop is set once in this order, alike boards together.
  Back to the rack: 1 x 59-7/8in.
  At least 1 board is needed, and this plan uses no more.
  No plan for these parts costs less, proven in whole numbers that storypole plan --verify works out again.
`));
});

describe('several of everything', () => {
  it('check', () =>
    expect(printed(many, ['check'])).toBe(`a.closet:14:5 note rod-without-garment
  Rod "main.hang" does not say what hangs on it, so it was not compared with the floor, with what is below it, or with the depth of the closet.
    14 |     rod hang { under top by 3in }
       |     ^^^^^^^^
  to do: Name a garment: \`for shirt\`.
  fix: Write "for", to be filled in
  reaches 3 units: A-101-coats, A-102-coats, A-103-coats

a.closet:20:18 error name-not-known
  There is no template "coast".
    20 | unit A-104-coats coast { floor 1; flat A-104 }
       |                  ^^^^^
  to do: Did you mean "coats"?
  fix: Write "coats"

1 error and 1 note in 1 file, 5 units.
`));
  it('check --severity error', () =>
    expect(printed(many, ['check', '--severity', 'error'])).toBe(`a.closet:20:18 error name-not-known
  There is no template "coast".
    20 | unit A-104-coats coast { floor 1; flat A-104 }
       |                  ^^^^^
  to do: Did you mean "coats"?
  fix: Write "coats"

1 error and 1 note in 1 file, 5 units; only errors are listed.
`));
  it('cuts', () =>
    expect(printed(many, ['cuts'])).toBe(`Cut list: Quarry Lane

Do not cut by this yet: there is 1 error in the project, and what it concerns is missing or may be wrong. Run storypole check.

Unit A-101-coats and 1 like it (coats, 1 of them mirrored)
  A-101-coats, A-102-coats

each  count  length  depth  thickness  material  for
   1      2    48in   12in      3/4in  white-12  main.top
   1      2    48in                    chrome    main.hang

Unit A-103-coats (coats): floor 1, flat A-103, 2 alike, all counted below

count     length  depth  thickness  material  for
    2  39-5/16in   12in      3/4in  white-12  main.top
    2  39-5/16in                    chrome    main.hang

Unit A-104-coats: floor 1, flat A-104

It cannot be worked out: its template is not known.

Loose parts

count  length  depth  thickness  material  for
    3    20in   12in      3/4in  white-12  spare

All parts together

count     length  depth  thickness  material  for
    2       48in   12in      3/4in  white-12  main.top in A-101-coats, A-102-coats
    2  39-5/16in   12in      3/4in  white-12  main.top in A-103-coats
    3       20in   12in      3/4in  white-12  spare
    2       48in                    chrome    main.hang in A-101-coats, A-102-coats
    2  39-5/16in                    chrome    main.hang in A-103-coats
`));
  it('cuts --steps --unit A-103-coats', () =>
    expect(printed(many, ['cuts', '--steps', '--unit', 'A-103-coats'])).toBe(`Cut list: Quarry Lane

Do not cut by this yet: there is 1 error in the project, and what it concerns is missing or may be wrong. Run storypole check.

Unit A-103-coats (coats): floor 1, flat A-103, 2 alike, all counted below

count     length  depth  thickness  material  for
    2  39-5/16in   12in      3/4in  white-12  main.top
         ~39-3/8in  wall back, as drawn
         - ~1/16in  rounded down at the saw to 1/16in
    2  39-5/16in                    chrome    main.hang
         ~39-3/8in  wall back, as drawn
         - ~1/16in  rounded down at the saw to 1/16in

~ stands before a length that is finer than what is shown.
`));
  it('plan', () =>
    expect(printed(many, ['plan'])).toBe(`Cutting plan: Quarry Lane

Do not cut by this yet: there is 1 error in the project, and what it concerns is missing or may be wrong. Run storypole check.

chrome: 4 parts from 3 rods

  rods    of
     1  50in  on the rack
     2  96in  to buy

  times   rod  cut, the longest first  left over
      1  50in  48in                      1-7/8in
      1  96in  48in, 39-5/16in          8-7/16in
      1  96in  39-5/16in               56-9/16in  keep

  1 x 50in  |48in                                                                |...|
  1 x 96in  |48in                               |39-5/16in                    |......|
  1 x 96in  |39-5/16in                    |56-9/16in keep                            |

  The parts come to 174-5/8in; the saw takes 1/2in; 10-5/16in is waste (4.3 % of the stock).
  3 patterns; the saw's stop is set 2 times in this order, alike boards together.
  Back to the rack: 1 x 56-9/16in.
  At least 2 rods are needed; this plan uses 3.
  No plan for these parts buys less, proven in whole numbers that storypole plan --verify works out again.

white-12: 7 parts from 3 boards, 56.70 EUR

  boards    of               each     in all
       3  96in  to buy  18.90 EUR  56.70 EUR

  times  board  cut, the longest first  left over
      2   96in  48in, 39-5/16in          8-7/16in
      1   96in  3 x 20in                 35-5/8in  keep

  2 x 96in  |48in                               |39-5/16in                    |......|
  1 x 96in  |20in          |20in          |20in          |35-5/8in keep              |

  The parts come to 234-5/8in; the saw takes 7/8in; 16-7/8in is waste (5.9 % of the stock).
  2 patterns; the saw's stop is set 3 times in this order, alike boards together.
  Back to the rack: 1 x 35-5/8in.
  At least 3 boards are needed, and this plan uses no more.
  No plan for these parts costs less, proven in whole numbers that storypole plan --verify works out again.
`));
});

it('explain', () =>
  expect(printed(one, ['explain', 'rod-near-wall'])).toBe(`A rod is too near the wall behind it for its hangers
rod-near-wall: warning, hanging

Half of the hanger stands behind the rod. Where the rod is nearer to the wall than that, hangers stand askew and rub the wall. Cloth gives way, so it is the hanger that counts here, and not the garment on it.

Compared: distance from the centre of the rod to the wall - half of the hanger >= clear-behind-hanger

Limits that a policy can set:
  clear-behind-hanger: From the end of a hanger to the wall behind it. At least 0 by default (common practice, no source).

Common practice, no source.

For example:

    template t {
      parameter width: length = 45in from 40in to 48in
      wall back { length width }
      pole chrome
      zone a on back {
        width fill
        rod r { at 60in; for shirt; from wall 7in }
                                    ^^^^^^^^^^^^^
      }
    }

Rod "a.r" is 7in from the back wall; half of the 17in hanger of "shirt" is 8-1/2in. Set the rod at least 8-1/2in from the wall.

Mended:

    rod r { at 60in; for shirt; from wall 8-1/2in }
`));
