/** Leaves that swing in. Numbers worked out by hand; plain geometry, nothing outside to cite. */
import { describe, expect, it } from 'vitest';
import { expects, fixedBy, rulesFound, run } from './rooms.ts';

/**
 * A walk-in closet 60 in wide and 72 in deep. The front wall runs from right to left as seen from the back wall, so its
 * left end is at the right wall. The door is 30 in wide, from 2 in off its left end: 28 in off the left wall.
 */
const closet = (swing: string, zones: string, more = '') => `template t {
  board white-12
  pole chrome
  wall left { length 72in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 72in; height 96in }
  wall front { length 60in; height 96in }
  opening front { width 30in; height 80in; from left 2in; ${swing} }
${more}
${zones}
}
unit u t
`;

/** A shelf of the right wall, whose right end, at 72 in, is at the front wall. */
const shelfOnRight = (from: string, at = '40in', depth = '12in') => `  zone side on right from left ${from} {
    width 10in
    shelf one { at ${at}; depth ${depth} }
  }`;

describe('a leaf that swings in', () => {
  it('stops at a fitting in its quarter circle', () => {
    // Hinged right, its hinges are 32 in from the left end of the front wall. The shelf is 10 in long, 40 to 50 in along the
    // right wall, so 22 to 32 in off the front wall, and reaches out 12 in: 20 in across from the hinges.
    // sqrt(20^2 + 22^2) = 29.73 in, less than 30.
    const { findings } = run(closet('swing in hinged right', shelfOnRight('40in')));
    expect(findings.map(({ rule, about }) => [rule.id, about])).toEqual([['leaf-meets-fitting', 'side.one']]);
    // Its corner is at atan(22 / 20) = 47.7 degrees; the leaf enters the shelf there.
    expect(findings[0]?.message).toBe(
      'The leaf of opening "front", 30in wide, swings in and meets shelf "side.one", ~29-47/64in from its hinges: it opens 47 degrees.',
    );
  });

  it('passes a fitting by, just', () => {
    // A depth of 12 in leaves 20 in across; at 39-1/2 in the shelf ends at 49-1/2 in, 22-1/2 in off: 30.1 in.
    expect(rulesFound(closet('swing in hinged right', shelfOnRight('39-1/2in')))).toEqual([]);
    // 14 in deep leaves 18 in across: 3, 4, 5 with 24 in off the front wall is 30 in, which it clears to the tick.
    expect(rulesFound(closet('swing in hinged right', shelfOnRight('38in', '40in', '14in')))).toEqual([]);
    expect(rulesFound(closet('swing in hinged right', shelfOnRight('965.200025mm', '40in', '14in')))).toEqual([
      'leaf-meets-fitting',
    ]);
  });

  it('passes above and below what is not as high as it is', () => {
    const over = (at: string) => rulesFound(closet('swing in hinged right', shelfOnRight('50in', at)));
    expect(over('80in')).toEqual([]);
    expect(over('79-63/64in')).toEqual(['leaf-meets-fitting']);
  });

  it('is told to be hinged on the other side where it swings clear there, and how deep a shelf may be', () => {
    const text = closet('swing in hinged right', shelfOnRight('40in'));
    const [found] = run(text).findings;
    // sqrt(30^2 - 22^2) = 20.396 in across at most: 32 - 20.396 = 11.604, so 11-1/2 in deep.
    expect(found?.advice).toBe('Let it swing out, or slide, or make the shelf at most 11-1/2in deep.');
    expect(found?.fixes.map(({ title }) => title)).toEqual([
      'Write depth 11-1/2in instead of 12in for one',
      'Write swing out instead of swing in',
    ]);
    for (const fix of found?.fixes ?? []) expect(rulesFound(fixedBy(text, fix))).toEqual([]);
    // Whether there is room outside is for somebody to see.
    expect(found?.fixes.map(({ byHand = false }) => byHand)).toEqual([false, true]);
    // On the left wall, 12 to 22 in off the front wall and 30 in deep: 2 in past hinges that are 28 in off the left wall.
    // Hinged left, they are 58 in off it: 28 in across, sqrt(28^2 + 12^2) = 30.46 in.
    const onLeft = closet(
      'swing in hinged right',
      '  zone side on left from left 12in { width 10in; shelf one { at 40in; depth 30in } }',
    );
    const [other] = run(onLeft).findings;
    expect(other?.advice).toContain('Hinge it on the left, where it swings clear');
    expect(other?.fixes[0]?.title).toBe('Write hinged left instead of hinged right');
    expect(rulesFound(fixedBy(onLeft, other?.fixes[0]))).toEqual([]);
  });

  it('brushes what hangs, by half of its hanger', () => {
    // A rod on the right wall, 12 in off it, with hangers of 17 in: out to 20-1/2 in, 11-1/2 in across from the hinges.
    const rod = (from: string) =>
      closet(
        'swing in hinged right',
        `  zone side on right from left ${from} {
    width 10in
    rod low { at 60in; for shirt }
  }`,
      );
    const { findings } = run(rod('34in'));
    // 34 + 10 = 44 in: 28 in off the front wall; sqrt(11.5^2 + 28^2) = 30.27 in.
    expect(findings.map(({ rule }) => rule.id)).toEqual([]);
    // 36 in: 26 in off; sqrt(11.5^2 + 26^2) = 28.43 in. The rod itself is 19-3/8 in across: 32.4 in.
    const met = run(rod('36in')).findings;
    expect(met.map(({ rule }) => rule.id)).toEqual(['leaf-meets-hanging']);
    expect(met[0]?.message).toContain('meets "shirt" on rod "side.low", ~28-7/16in from its hinges');
  });

  it('meets a wall across from it', () => {
    const shallow = (deep: string) =>
      rulesFound(closet('swing in hinged left', '').replaceAll('length 72in', `length ${deep}`));
    expect(shallow('30in')).toEqual([]);
    expect(shallow('29-63/64in')).toEqual(['leaf-meets-wall']);
  });

  it('keeps off what is to be kept free before a fixture', () => {
    // On the back wall, 72 in off: a clear distance of 42 in is 30 in from the front wall.
    const fixture = (clear: string) =>
      rulesFound(
        closet('swing in hinged left', '', `  fixture panel on back { from right 12in; height 50in; clear ${clear} }`),
      );
    expect(fixture('42in')).toEqual([]);
    expect(fixture('42-1/64in')).toEqual(['leaf-meets-fixture']);
  });

  it('asks for the side of its hinges, and says what was not compared', () => {
    const text = `template t {
  wall left { length 72in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 72in; height 96in }
  wall front { length 60in; height 96in }
  opening front { width 30in; height 80in; from left 2in
    swing in
    //^^^^^^ note swing-without-hinge: nothing says where its hinges are
  }
  zone main on back { width fill; shelf one { at 40in; depth 12in; board white-12 } }
}
unit u t
`;
    const { lacked } = expects(text);
    expect([...new Set(lacked.map(({ needs }) => needs))]).toEqual(['the side of the hinges of opening "front"']);
    expect(lacked.length).toBeGreaterThanOrEqual(5);
  });
});

describe('other leaves', () => {
  it.each(['swing out hinged left', 'leaves sliding', 'leaves bifold', 'leaves none'])(
    '%s meets nothing inside',
    (leaf) => {
      expect(rulesFound(closet(leaf, shelfOnRight('60in')))).toEqual([]);
    },
  );
});

describe('a leaf in a room that is not square', () => {
  it('is compared in the plan as it is', () => {
    // Walls of a bay: after the first wall of 40 in, the second turns by 45 degrees. A door in the first, hinged at its right end at the corner,
    // swings over the second wall's shelves: 12 in deep shelves stand in its way wherever they begin nearer than the leaf is wide.
    const bay = (from: string) => `template t {
  board white-12
  wall one { length 40in; height 96in }
  wall two { length 60in; height 96in; turns 45deg }
  opening door on one { width 30in; height 80in; from right 0in; swing in hinged right }
  gap free on two { width ${from} }
  zone main on two after free { width 20in; shelf low { at 40in; depth 12in } }
}
unit u t
`;
    // The second wall goes on from the hinges, 45 degrees on the inner side of straight ahead: the leaf stands open at 90 degrees
    // to the first, so it sweeps from 180 to 90 degrees, and what the shelf has there is only its inner end,
    // whose corner 12 in out is at 45 + atan(12 / from) degrees: within the sweep when from < 12.
    expect(rulesFound(bay('11-63/64in'))).toEqual(['leaf-meets-fitting']);
    expect(rulesFound(bay('12in'))).toEqual([]);
  });
});
