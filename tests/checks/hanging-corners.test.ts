/** Rods that meet in corners, rods that are full, and what hangs before leaves and under slopes. */
import { describe, expect, it } from 'vitest';
import { hangingCheck } from '../../server/checks/hanging.ts';
import { policy } from './layouts.ts';
import { expects, fixedBy, rulesFound, run } from './swings/rooms.ts';

const only = [hangingCheck];

/** Two rods in the corner of the back and the right wall, 12 in off their walls; the right one begins `from` off the back wall. */
const corner = (from: string, { back = 'shirt', right = 'shirt', at = '60in', angle = '90deg' } = {}) => `template t {
  pole chrome
  wall left { length 60in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 60in; height 96in }
  corner back right { owner back; angle ${angle} }
  zone main on back { width fill; rod one { at 60in; for ${back} } }
  zone side on right from right 0in { width ${from}; rod two { at ${at}; for ${right} } }
}
unit u t
`;

describe('what hangs on two rods in a corner', () => {
  // Hangers of 17 in, 12 in off the back wall: out to 20-1/2 in. The zone of the right wall ends at 60 in and is as wide as said.
  it('is clear of the other where the rod begins half a hanger beyond it, to the tick', () => {
    expect(rulesFound(corner('39-1/2in'), only)).toEqual([]);
    // 39-1/2 in = 1003.3 mm, and a tick more.
    expect(rulesFound(corner('1003.300025mm'), only)).toEqual(['hanging-meets-hanging']);
  });

  it('is told how much of the rod it takes up, and at which end', () => {
    const [found] = run(corner('46in'), only).findings;
    // It begins 14 in off the back wall: 20-1/2 - 14 = 6-1/2 in.
    expect(found?.message).toBe(
      '"shirt" on rod "side.two" and "shirt" on rod "main.one" meet where the back wall and the right wall come together: what hangs on the one takes up 6-1/2in of the left end of the other.',
    );
    expect(found?.advice).toBe('End rod "side.two" 6-1/2in before its left end, or leave that much of it empty.');
  });

  it('needs no room where it hangs above or below the other', () => {
    // Shirts hang 36 in, from 60 in down to 24 in: what hangs on a rod at 24 in begins there.
    const meet = (at: string) =>
      run(corner('46in', { at, right: 'child-garment' }), only).findings.filter(
        ({ rule }) => rule.id === 'hanging-meets-hanging',
      );
    expect(meet('24in')).toEqual([]);
    expect(meet('24-1/64in')).toHaveLength(1);
  });

  it('counts the widest of what hangs', () => {
    // A short coat has a hanger of 18 in: out to 21 in.
    expect(rulesFound(corner('39-1/2in', { back: 'short-coat' }), only)).toEqual(['hanging-meets-hanging']);
    expect(rulesFound(corner('39in', { back: 'short-coat' }), only)).toEqual([]);
  });

  it('is compared at the angle of the corner', () => {
    // At 135 degrees the right wall turns away: what hangs 20-1/2 in out along both meets less far along it.
    const { looked } = run(corner('46in', { angle: '135deg' }), only);
    const compared = looked.find(({ rule }) => rule.id === 'hanging-meets-hanging');
    const short =
      compared && 'ticks' in compared.comparison.measured ? -compared.comparison.measured.ticks / 1_016_000 : 0;
    // In the frame of the right wall the box of the back rod reaches from the corner along the bisector: its front edge,
    // 20.5 in off the back wall, crosses the band from 3.5 to 20.5 in off the right wall. A point x along and y off the right
    // wall is x sin 45 + y cos 45 off the back wall, so x = 20.5 / sin 45 - y: at y = 3.5 in 25.4914 in. But the rod of the back wall ends at
    // the corner, so a point of it has x <= y, and x + y <= 28.9914: at most x = y = 14.4957 in.
    expect(short).toBeCloseTo(14.4957 - 14, 3);
  });

  it('says what is lacking', () => {
    const { lacked } = run(corner('46in').replace('for shirt', 'from wall 12in'), only);
    expect(lacked.filter(({ rule }) => rule.id === 'hanging-meets-hanging').map(({ needs }) => needs)).toEqual([
      'what hangs on rod "main.one"',
    ]);
  });
});

describe('a rod that holds a number of garments', () => {
  // What garments take is from "Clothes Planning Dimensions": coats 4 to 5 in; the starter coat takes 4 in.
  const rod = (width: string, holds: string) => `template t {
  pole chrome
  wall left { length 25in; height 96in }
  wall back { length ${width}; height 96in }
  wall right { length 25in; height 96in }
  zone main on back { width fill; rod one { at 70in; ${holds} } }
}
unit u t
`;

  it('is as long as they take together, to the tick', () => {
    // 20 x 2 + 5 x 4 = 60 in = 1524 mm.
    const holds = 'holds 20 shirt; holds 5 long-coat';
    expect(rulesFound(rod('60in', holds), only)).toEqual([]);
    expect(rulesFound(rod('1523.999975mm', holds), only)).toEqual(['rod-too-short']);
    const { looked } = run(rod('60in', holds), only);
    const [made] = looked.filter(({ rule }) => rule.id === 'rod-too-short');
    expect(made?.holds).toBe(true);
    expect(made?.working).toEqual([
      { what: '20 "shirt"', value: '40in', how: '20 x 2in' },
      { what: '5 "long-coat"', value: '20in', how: '5 x 4in' },
    ]);
  });

  it('is told the greatest number that fits', () => {
    const text = `template t {
  wall left { length 25in; height 96in }
  wall back { length 54in; height 96in }
  wall right { length 25in; height 96in }
  zone main on back {
    width fill
    rod one { at 70in; pole chrome
      holds 20 shirt
      //^^^^^^^^^^^^ warning rod-too-short: Rod "main.one" is 54in long between its ends, and 20 "shirt" take 40in (20 x 2in) and 5 "long-coat" take 20in (5 x 4in): 6in too short. Make it 6in longer, or hang at most 17 "shirt" there, or hang at most 3 "long-coat" there.
      holds 5 long-coat
    }
  }
}
unit u t
`;
    const { findings } = expects(text, only);
    expect(findings[0]?.fixes.map(({ title }) => title)).toEqual([
      'Write 17 instead of 20 for shirt',
      'Write 3 instead of 5 for long-coat',
    ]);
    for (const fix of findings[0]?.fixes ?? []) expect(rulesFound(fixedBy(text, fix), only)).toEqual([]);
  });

  it('hangs them there, too: they are compared with the floor', () => {
    // A long coat hangs 56 in.
    expect(rulesFound(rod('60in', 'holds 5 long-coat').replace('at 70in', 'at 55in'), only)).toEqual([
      'garment-meets-floor',
    ]);
  });

  it('says what is lacking where a garment does not say what it takes', () => {
    const text = `garment cape { hang 40in; hanger 17in }\n${rod('20in', 'holds 30 cape')}`;
    const { findings, lacked } = run(text, only);
    expect(findings).toEqual([]);
    expect(lacked.map(({ rule, needs }) => `${rule.id}: ${needs}`)).toContain(
      'rod-too-short: the length of rod that one "cape" takes (`takes 2in`)',
    );
  });
});

describe('what hangs before leaves that slide or fold', () => {
  const closet = (leaf: string) => `template t {
  pole chrome
  wall left { length 25in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 25in; height 96in }
  wall front { length 60in; height 96in }
  opening front { width 48in; height 80in; centred; leaves ${leaf} }
  zone main on back { width fill; rod one { at 70in; for shirt } }
}
unit u t
`;
  const lacks = (leaf: string, inForce = policy()) =>
    run(closet(leaf), only, inForce).lacked.map(({ rule, needs }) => `${rule.id}: ${needs.replace(/ \(.*/, '')}`);

  it('lacks how far they stand into the closet, unless a policy keeps room for them', () => {
    const needed = ['rod-near-front: how far the leaves of opening "front" stand into the closet'];
    expect(lacks('sliding')).toEqual(needed);
    expect(lacks('bifold')).toEqual(needed);
    expect(lacks('none')).toEqual([]);
    expect(lacks('sliding', policy({ 'clear-before-hanger': { least: 2 } }))).toEqual([]);
  });
});

describe('a rod under a slope', () => {
  // The ceiling is 60 in high at the back wall and rises an inch an inch. The rod is 1-1/4 in thick, 12 in off the wall, so
  // its back is 11-3/8 in off it: 71-3/8 in high there. 1-1/2 in less is 69-7/8 in, 3 in less is 68-3/8 in.
  const under = (at: string) => `template t {
  pole chrome
  wall left { length 60in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 60in; height 96in }
  fixture slope eave on back { height 60in; run 36in }
  zone main on back { width fill; rod one { at ${at}; for shirt } }
}
unit u t
`;

  it('has as much room above it as hangers need to lift off', () => {
    expect(rulesFound(under('68-3/8in'), only)).toEqual([]);
    expect(rulesFound(under('69-7/8in'), only)).toEqual(['rod-under-advice']);
    expect(rulesFound(under('69-57/64in'), only)).toEqual(['rod-near-shelf']);
    const text = under('70in');
    const [found] = run(text, only).findings;
    expect(found?.message).toContain('below the sloped ceiling');
    expect(rulesFound(fixedBy(text, found?.fixes[0]), only)).toEqual(['rod-under-advice']);
  });
});

describe('in a room of another shape', () => {
  // A trapezium: the wall across from the first is 30 in off it.
  const bay = (wide: string) => `template t {
  pole chrome
  wall one { length 100in; height 96in }
  wall two { length 30in; height 96in; turns 90deg }
  wall three { length 100in; height 96in; turns 90deg }
  zone main on one from left 20in { width 40in; rod low { at 60in; for shirt; from wall ${wide} } }
}
unit u t
`;

  it('the depth before a rod is the distance to the wall across from it', () => {
    // 30 - 8-1/2 = 21-1/2 in.
    expect(rulesFound(bay('21-1/2in'), only)).toEqual([]);
    expect(rulesFound(bay('21-33/64in'), only)).toEqual(['rod-near-front']);
    const text = bay('22in');
    expect(rulesFound(fixedBy(text, run(text, only).findings[0]?.fixes[0]), only)).toEqual([]);
  });
});
