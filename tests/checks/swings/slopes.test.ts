/** Under a ceiling that slopes. Heights worked out by hand; plain geometry, nothing outside to cite but where said. */
import { describe, expect, it } from 'vitest';
import { expects, fixedBy, rulesFound, run } from './rooms.ts';

/** 96 in high; 48 in high at the back wall, and full height 48 in out: an inch an inch. */
const closet = (zones: string, slope = 'fixture slope eave on back { height 48in; run 48in }') => `template t {
  board white-12
  pole chrome
  wall left { length 72in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 72in; height 96in }
  ${slope}
${zones}
}
unit u t
`;
const main = (fitting: string) => `  zone main on back { width fill; ${fitting} }`;

describe('a fitting under a slope', () => {
  it('reaches up to it at its back edge, and not a tick further', () => {
    // 3/4 in thick at 47-1/4 in: 48 in.
    expect(rulesFound(closet(main('shelf one { at 47-1/4in }')))).toEqual(['low-over-shelf']);
    expect(rulesFound(closet(main('shelf one { at 1200.150025mm }')))).toEqual(['fitting-meets-slope']);
  });

  it('is told how high the ceiling is there, and to go lower or further out', () => {
    const text = `template t {
  wall left { length 72in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 72in; height 96in }
  fixture slope eave on back { height 48in; run 48in }
  zone main on back {
    width fill
    shelf one { at 60in; from wall 2in; board white-12 }
    //          ^^^^^^^ error fitting-meets-slope: Shelf "main.one" reaches up to 60-3/4in, and 2in out from the back wall the sloped ceiling is 50in high: 10-3/4in too low for it. Lower it to 49-1/4in, or keep it at least 12-3/4in from the back wall.
  }
}
unit u t
`;
    const { findings } = expects(text);
    const fixes = findings[0]?.fixes ?? [];
    expect(fixes.map(({ title }) => title)).toEqual([
      'Write 49-1/4in instead of 60in for one',
      'Write 12-3/4in instead of 2in for one',
    ]);
    for (const fix of fixes) expect(rulesFound(fixedBy(text, fix))).not.toContain('fitting-meets-slope');
    // At the back corners 2 in out, at the front ones 14 in out.
    expect(findings[0]?.working?.at(-1)?.value).toBe('50in, 50in, 62in and 62in');
  });

  it('on the wall beside it meets it at the end that is nearest', () => {
    // The left wall runs from the front, so its right end is at the back wall; 20 in wide up to 4 in off it: 52 in high there.
    const side = (at: string) => closet(`  zone side on left from right 4in { width 20in; shelf one { at ${at} } }`);
    expect(rulesFound(side('51-1/4in'))).toEqual(['low-over-shelf']);
    expect(rulesFound(side('51-17/64in'))).toEqual(['fitting-meets-slope']);
  });

  it('beyond its run has the full height', () => {
    const side = closet('  zone side on left from right 48in { width 20in; shelf one { at 95-1/4in } }');
    expect(rulesFound(side)).toEqual([]);
  });

  it('as a panel is made lower', () => {
    const text = closet(main('panels p { height 60in; side left }'));
    const [found] = run(text).findings;
    expect(found?.advice).toContain('Make it 12in lower');
    expect(found?.fixes.map(({ title }) => title)).toEqual(['Write height 48in instead of 60in for p']);
  });
});

describe('what stands on a shelf under a slope', () => {
  it('has 8 in over the edge nearest to the wall, or is told how much', () => {
    // source: shelves 8 to 9 in apart, reference tables as copied in two places.
    expect(rulesFound(closet(main('shelf one { at 39-1/4in }')))).toEqual([]);
    const { findings } = run(closet(main('shelf one { at 39-17/64in }')));
    expect(findings.map(({ rule, severity }) => [rule.id, severity])).toEqual([['low-over-shelf', 'note']]);
    expect(findings[0]?.message).toContain(
      'leaves 7-63/64in at the edge nearest to the back wall and 19-63/64in at the other',
    );
  });

  it('is not spoken of where another shelf is above it', () => {
    expect(rulesFound(closet(main('shelf high { at 47in }; shelf low { at 44in }')))).toEqual(['low-over-shelf']);
  });
});

describe('what hangs under a slope', () => {
  it('has the ends of its hangers under it', () => {
    // Hangers of 17 in on a rod 12 in off the wall end 3-1/2 in off it: 51-1/2 in high.
    const rod = (at: string, more = '') => closet(main(`rod low { at ${at}; for shirt ${more} }`));
    expect(rulesFound(rod('51-1/2in'))).toEqual([]);
    const text = rod('52in', '; from wall 12in');
    const [found] = run(text).findings;
    expect(found?.rule.id).toBe('hanging-meets-slope');
    expect(found?.message).toBe(
      'The hangers of "shirt" on rod "main.low" end 3-1/2in out from the back wall, at 52in; the sloped ceiling is 51-1/2in high there, 1/2in too low.',
    );
    expect(found?.advice).toBe('Lower the rod to 51-1/2in, or set it at least 12-1/2in from the wall.');
    expect(found?.fixes).toHaveLength(2);
    for (const fix of found?.fixes ?? []) expect(rulesFound(fixedBy(text, fix))).toEqual([]);
  });

  it('says what is lacking where nothing hangs', () => {
    const { lacked } = run(closet(main('rod low { at 40in }')));
    expect(lacked.map(({ needs }) => needs)).toEqual(['what hangs on rod "main.low"']);
  });
});

it('a wall at an angle stands under the slope as it is in the plan', () => {
  // The second wall turns by 45 degrees from the right end of the first, and the ceiling slopes down to it, an inch an inch.
  // A shelf of the first, from 12 in off the corner, is at its nearest 12 x sin 45 = 8.485 in out from the second: 56.485 in high,
  // less 3/4 in of board 55.735 in.
  const text = (at: string) => `template t {
  board white-12
  wall one { length 60in; height 96in }
  wall two { length 60in; height 96in; turns 45deg }
  wall three { length 60in; height 96in; turns 135deg }
  fixture slope eave on two { height 48in; run 48in }
  zone main on one from right 12in { width 20in; shelf low { at ${at} } }
}
unit u t
`;
  expect(rulesFound(text('55-11/16in'))).toEqual(['low-over-shelf']);
  expect(rulesFound(text('55-3/4in'))).toEqual(['fitting-meets-slope']);
});
