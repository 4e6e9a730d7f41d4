/** Loose parts whose length is a range, and what is said of ranges that cannot be. */
import { describe, expect, it } from 'vitest';
import { demandOf } from '../../server/cutting/demand.ts';
import { check, projectOf } from './support.ts';

describe('spares', () => {
  it('are asked for with their range in whole steps of the saw, and are no pieces', () => {
    const project = projectOf(`project "Quarry Lane" { saw-step 1/8in }
board white-12 { depth 12in; thickness 3/4in }
extra cleats { board white-12; length from 8-1/16in to 16-1/16in; count up to 12 }
extra short { board white-12; length 5-1/16in; count up to 2 }
`);
    const { request } = demandOf(project);
    expect(request.pieces).toEqual([]);
    expect(request.saw.step).toBe(127_000);
    const inch = 1_016_000;
    expect(request.spares).toEqual([
      { id: 'cleats', material: 'white-12', least: 8.125 * inch, most: 16 * inch, quantity: 12 },
      { id: 'short', material: 'white-12', least: 5 * inch, most: 5 * inch, quantity: 2 },
    ]);
  });

  it('have a range that holds something', () => {
    check(`board white-12 { depth 12in; thickness 3/4in }
extra a { board white-12; length from 16in to 8in; count up to 2 }
//                        ^^^^^^^^^^^^^^^^^^^^^^^ error number-out-of-bounds: The least is more than the most
extra b { board white-12; length from 0in to 8in; count up to 2 }
//                                    ^^^ error number-out-of-bounds: A part of no length is no use
extra c { board white-12; length from 8-1/64in to 8-1/32in; count up to 2 }
//                        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error number-out-of-bounds: No length within it can be set on the saw, which goes in steps of 1/16in
extra d { board white-12; length from 8in to 12in; count up to 0 }
//                                                             ^ error number-out-of-bounds: 0 is less than 1
`);
  });

  it('say up to how many would be of use', () => {
    check(`board white-12 { depth 12in; thickness 3/4in }
extra a { board white-12; length from 8in to 16in }
//                        ^^^^^^^^^^^^^^^^^^^^^^^ error count-open: nothing says how many would be of use
extra b { board white-12; length from 8in to 16in; count 6 }
//                                                       ^ error count-open: has a range of lengths and a fixed count
`);
  });
});
