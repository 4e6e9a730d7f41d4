/** Drawers on their way out. Numbers worked out by hand; plain geometry, nothing outside to cite. */
import { describe, expect, it } from 'vitest';
import { policy } from '../layouts.ts';
import { expects, fixedBy, rulesFound, run } from './rooms.ts';

/** A closet as deep as is said, 60 in wide, drawers on its back wall from 20 to 40 in along, 16 in deep, out by 16 in. */
const closet = ({ deep = '32in', front = '', drawers = 'pull-out 16in', more = '' } = {}) => `template t {
  board white-12
  wall left { length ${deep}; height 96in }
  wall back { length 60in; height 96in }
  wall right { length ${deep}; height 96in }
  wall front { length 60in; height 96in }
${front}
  zone side on back { width 20in }
  zone main on back after side {
    width 20in
    drawers chest { at 6in; count 3; height 8in; depth 16in; ${drawers} }
  }
${more}
}
unit u t
`;

describe('drawers before a wall', () => {
  it('come out to its face, and not a tick further', () => {
    // 16 closed and 16 out are 32.
    expect(rulesFound(closet())).toEqual([]);
    // A tick of 25 nm is 0.000025 mm: the wall is that much nearer than 32in = 812.8 mm.
    const found = run(closet({ deep: '812.799mm' })).findings;
    expect(found.map(({ rule, message }) => `${rule.id}: ${message}`)).toEqual([
      'drawer-meets-wall: Drawers "main.chest" come out 16in and meet the front wall after ~16in: ~0in too far.',
    ]);
  });

  it('are told how far they come, and the nearest that passes', () => {
    const text = `template t {
  wall left { length 25in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 25in; height 96in }
  wall front { length 60in; height 96in }
  zone main on back {
    width 20in
    drawers chest { at 6in; count 3; height 8in; depth 16in; pull-out 16in }
    //^^^^^^^^^^^ warning drawer-meets-wall: come out 16in and meet the front wall after 9in: 7in too far. Take drawers that come out at most 9in, or that are 7in less deep.
  }
}
unit u t
`;
    const { findings } = expects(text);
    const fixes = findings[0]?.fixes ?? [];
    expect(fixes.map(({ title }) => title)).toEqual([
      'Write pull-out 9in instead of 16in for chest',
      'Write depth 9in instead of 16in for chest',
    ]);
    for (const fix of fixes) expect(rulesFound(fixedBy(text, fix))).toEqual([]);
  });

  it('without a pull-out of their own are made shallower by half of what is too much', () => {
    // As far out as they are deep: 25 / 2 = 12-1/2 in.
    const text = closet({ deep: '25in', drawers: '' });
    const [found] = run(text).findings;
    expect(found?.fixes.map(({ title }) => title)).toEqual(['Write depth 12-1/2in instead of 16in for chest']);
    expect(rulesFound(fixedBy(text, found?.fixes[0]))).toEqual([]);
  });

  it('have the shorter of two side walls that differ as their depth', () => {
    const text = closet().replace('wall right { length 32in', 'wall right { length 31in');
    expect(run(text).findings[0]?.message).toContain('after 15in');
  });

  it('say what is lacking where nothing is known to be across from them', () => {
    const open = closet().replace(/\n {2}wall front .*\n/, '\n');
    const { findings, lacked } = run(open);
    expect(findings).toEqual([]);
    expect(lacked.map(({ rule, needs }) => `${rule.id}: ${needs}`)).toEqual([
      'drawer-meets-wall: what is across from drawers "main.chest": a wall, or an opening in it',
    ]);
  });

  it('tell what was compared, holding or not', () => {
    const { looked } = run(closet());
    expect(looked.map(({ rule, about, holds, comparison }) => [rule.id, about, holds, comparison.relation])).toEqual([
      ['drawer-meets-wall', 'main.chest', true, 'at least'],
    ]);
  });
});

describe('drawers before an opening', () => {
  // The closet is 25 in deep, so the drawers come through. From inside, the front wall runs from right to left: drawers
  // from 20 to 40 in along the back wall are at 20 to 40 in along it, too.
  const before = (opening: string) =>
    rulesFound(closet({ deep: '25in', front: `  opening front { height 80in; ${opening} }` }));

  it('come out through it where they pass its jambs, to the tick', () => {
    expect(before('width 20in; from left 20in')).toEqual([]);
    expect(before('width 20in; from left 508.001mm')).toEqual(['drawer-meets-wall']);
    expect(before('width 20in; from left 507.999mm')).toEqual(['drawer-meets-wall']);
  });

  it('need half of it where leaves slide', () => {
    // Of 40 in, 20 in open at once: from 0 to 20 or from 20 to 40.
    expect(before('width 40in; from left 0in; leaves sliding')).toEqual([]);
    expect(before('width 40in; from left 1in; leaves sliding')).toEqual(['drawer-meets-leaf']);
    expect(before('width 58in; from left 1in; leaves sliding')).toEqual(['drawer-meets-leaf']);
  });

  it('need it less the folded leaves, two leaves of 1-3/8 in at each jamb', () => {
    // 20 + 2 x 2-3/4 = 25-1/2 in, from 17-1/4 to 42-3/4 in.
    expect(before('width 25-1/2in; from left 17-1/4in; leaves bifold')).toEqual([]);
    expect(before('width 25-1/2in; from left 17-1/8in; leaves bifold')).toEqual(['drawer-meets-leaf']);
  });

  it('need it whole where the leaf swings out', () => {
    expect(before('width 20in; from left 20in; swing out hinged left')).toEqual([]);
  });

  it('meet the wall above it where they are higher', () => {
    // 6 + 3 x 8 = 30 in.
    const through = (height: string) =>
      rulesFound(closet({ deep: '25in', front: `  opening front { width 20in; from left 20in; height ${height} }` }));
    expect(through('30in')).toEqual([]);
    expect(through('29-63/64in')).toEqual(['drawer-meets-wall']);
  });
});

describe('drawers beside a leaf that swings in', () => {
  // 120 in deep, drawers on the left wall. The left wall runs from the front to the back, so what stands at 0 to 20 in
  // along it is nearest to the front. The leaf is hinged at the left wall's side, 36 in wide, and stands open 36 in deep.
  const walkIn = (from: string, hinge: string, pull = 'pull-out 16in') => `template t {
  wall left { length 120in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 120in; height 96in }
  wall front { length 60in; height 96in }
  opening front { width 30in; height 80in; from right 20in; swing in hinged ${hinge} }
  gap free on left { width ${from} }
  zone main on left after free {
    width 20in
    drawers chest { at 6in; count 3; height 8in; depth 16in; ${pull} }
  }
}
unit u t
`;

  it('meet the leaf as it stands open', () => {
    // The hinges are 20 in from the left wall, so the drawers come out 4 in before the leaf.
    const [found] = run(walkIn('5in', 'right')).findings;
    expect(found?.message).toBe(
      'Drawers "main.chest" come out 16in and meet the leaf of opening "front" as it stands open after 4in: 12in too far.',
    );
  });

  it('beyond the leaf come out', () => {
    expect(rulesFound(walkIn('30in', 'right'))).toEqual([]);
    expect(rulesFound(walkIn('29in', 'right'))).toEqual(['drawer-meets-leaf']);
  });

  it('in its swing, with the hinges on the far side, are told to be closed first', () => {
    // Hinged left: at 50 in from the left wall. Drawers are out to 32 in, the front edge at 5 in from the door's wall:
    // 18 in across and 5 in in, sqrt(18^2 + 5^2) = 18.68 in from the hinges.
    const { findings } = run(walkIn('5in', 'left'));
    expect(findings.map(({ rule, severity }) => [rule.id, severity])).toEqual([['drawer-in-swing', 'note']]);
    expect(findings[0]?.message).toContain('~18-11/16in from its hinges, and the leaf is 30in wide');
    // 24 in in, 18 in across: 30 in.
    expect(rulesFound(walkIn('24in', 'left'))).toEqual([]);
    expect(rulesFound(walkIn('609.599mm', 'left'))).toEqual(['drawer-in-swing']);
  });
});

describe('drawers before other things', () => {
  it('meet a fitting of another wall at their height only', () => {
    // A shelf on the right wall, 12 in deep from 48 in, at 20 in: before the third drawer of three. The zone begins at 28 in.
    const corner = (at: string, deep = '12in') => `template t {
  board white-16
  wall left { length 60in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 60in; height 96in }
  zone main on back from right 0in {
    width 20in
    drawers chest { at 6in; count 3; height 8in; depth 16in; pull-out 16in }
  }
  zone low on right from left 24in {
    width 20in
    shelf one { at ${at}; depth ${deep} }
  }
}
unit u t
`;
    const [found] = run(corner('22in')).findings;
    expect(found?.message).toBe(
      '1 of the 3 drawers "main.chest" comes out 16in and meets shelf "low.one" after 8in: 8in too far.',
    );
    expect(rulesFound(corner('30in'))).toEqual([]);
    expect(rulesFound(corner('29-63/64in'))).toEqual(['drawer-meets-fitting']);
    expect(rulesFound(corner('5in'))).toEqual([]);
  });

  it('keep off what is to be kept free before a fixture', () => {
    // 32 + 16 = 48 in to the front wall; the switch there wants 16 in.
    const fixture = (clear: string) =>
      rulesFound(
        closet({ deep: '48in', front: `  fixture switch on front { from left 30in; height 20in; clear ${clear} }` }),
      );
    expect(fixture('16in')).toEqual([]);
    expect(fixture('16-1/64in')).toEqual(['drawer-meets-fixture']);
    expect(fixture('0in')).toEqual([]);
  });

  it('cannot be out at once with those round the corner', () => {
    // On the back wall from 20 to 40 in, out to 32 in; on the right wall from 20 to 40 in from the back, out from 44 to 28 in.
    const both = (from: string) =>
      closet({
        deep: '60in',
        more: `  zone other on right from left ${from} {
    width 20in
    drawers near { at 6in; count 1; height 8in; depth 16in; pull-out 16in }
  }`,
      });
    const { findings } = run(both('20in'));
    expect(findings.map(({ rule, about }) => [rule.id, about])).toEqual([['drawers-meet', 'other.near']]);
    expect(findings[0]?.message).toContain('these come out 4in of their 16in');
    expect(rulesFound(both('32in'))).toEqual([]);
  });

  it('leave the room that a policy asks for', () => {
    // Out to 32 in of 50: 18 in left.
    const asked = (least: number) =>
      rulesFound(closet({ deep: '50in' }), undefined, policy({ 'clear-before-drawers': { least } }));
    expect(asked(18)).toEqual([]);
    expect(asked(18 + 1 / 64)).toEqual(['little-room-before-drawers']);
  });
});

describe('drawers in a corner that is not square', () => {
  it('meet the wall that leans in before them', () => {
    // At 60 degrees the right wall leans in by tan 30 = 0.5774 for each inch out. The drawers end 20 in from the corner:
    // 20 / 0.5774 = 34.64 in out, 18.64 in before their front.
    const text = (pull: string) => `template t {
  wall back { length 60in; height 96in }
  wall right { length 60in; height 96in }
  corner back right { angle 60deg }
  zone main on back from right 20in {
    width 20in
    drawers chest { at 6in; count 3; height 8in; depth 16in; pull-out ${pull} }
  }
}
unit u t
`;
    expect(rulesFound(text('18-5/8in'))).toEqual([]);
    expect(rulesFound(text('18-3/4in'))).toEqual(['drawer-meets-wall']);
  });
});
