import { describe, expect, it } from 'vitest';
import { check, cuts, inch, projectOf, steps, zones } from './support.ts';

/** A template with one back wall of 93-3/4in, its zones, and one unit. */
const wall = (body: string, length = '93-3/4in'): string => `template t {
  board white-12
  wall back { length ${length}; height 96in }
${body}
}
unit u t
`;

describe('zones along a wall', () => {
  it('take what is left', () => {
    // 93-3/4 - 48 - 24 = 21-3/4
    const project = check(
      wall(`  zone a on back { width 48in; shelf s { at 84in } }
  zone b on back after a { width 24in }
  zone c on back after b { width fill at least 20in; shelf s { at 72in } }`),
    );
    expect(zones(project, 'u')).toEqual(['a: 0in, 48in', 'b: 48in, 24in', 'c: 72in, 21-3/4in']);
    expect(cuts(project, 'u')).toEqual(['a.s: 48in', 'c.s: 21-3/4in']);
    expect(steps(project, 'u', 'c.s')).toEqual(['wall back, as drawn: 93-3/4in', 'taken by zone a, zone b: - 72in']);
  });

  it('say what they leave over', () => {
    check(`template t {
    wall back { length 96in; height 96in }
//  ^^^^^^^^^ note width-left-over: 24in is left over on the back wall, from 72in to 96in
  zone a on back { width 48in }
  zone b on back after a { width 24in }
}
unit u t
`);
  });

  it('leave nothing over where a gap takes it', () => {
    check(
      wall(`  zone a on back { width 48in }
  gap rest on back after a { width fill }`),
    );
  });

  it('are anchored at either end, and what is between fills', () => {
    // 93-3/4 - 10 - 20 - 24 = 39-3/4
    const project = check(
      wall(`  gap first on back { width 10in }
  zone a on back after first { width 20in }
  zone c on back from right 0in { width 24in }
  zone b on back after a { width fill }`),
    );
    expect(zones(project, 'u')).toEqual([
      'first: 0in, 10in',
      'a: 10in, 20in',
      'b: 30in, 39-3/4in',
      'c: 69-3/4in, 24in',
    ]);
  });

  it('can stand before another', () => {
    const project = check(
      wall(`  zone c on back from right 0in { width 24in }
  zone b on back before c by 3/4in { width fill }`),
    );
    // From the left end up to 3/4 before c: 93-3/4 - 24 - 3/4 = 69
    expect(zones(project, 'u')).toEqual(['b: 0in, 69in', 'c: 69-3/4in, 24in']);
  });

  it('share equally, and hand the remainder out in saw steps', () => {
    // 93-3/4in are 1500 sixteenths; less 12in (192): 1308 = 3 x 436
    const project = check(
      wall(`  zone a on back { width share }
  zone b on back after a { width 12in }
  zone c on back after b { width share }
  zone d on back after c { width share }`),
    );
    expect(zones(project, 'u')).toEqual([
      'a: 0in, 27-1/4in',
      'b: 27-1/4in, 12in',
      'c: 39-1/4in, 27-1/4in',
      'd: 66-1/2in, 27-1/4in',
    ]);
    // 1500 sixteenths by seven: 214 each and 2 over, which go to the first two.
    const seven = check(
      wall(
        ['a', 'b', 'c', 'd', 'e', 'f', 'g']
          .map((z, i, all) => `  zone ${z} on back ${i > 0 ? `after ${all[i - 1]}` : ''} { width share }`)
          .join('\n'),
      ),
    );
    const widths = zones(seven, 'u').map((z) => z.split(', ')[1]);
    expect(widths).toEqual(['13-7/16in', '13-7/16in', '13-3/8in', '13-3/8in', '13-3/8in', '13-3/8in', '13-3/8in']);
  });

  it('share by weight', () => {
    const project = check(
      wall(
        `  zone a on back { width share 2 }
  zone b on back after a { width share }`,
        '90in',
      ),
    );
    expect(zones(project, 'u')).toEqual(['a: 0in, 60in', 'b: 60in, 30in']);
  });

  it('share equally within what each may be: a range beside them gives way', () => {
    // With 20in for a, b and c would be 35in each, and b may be 30in at most: a takes 90 - 2 x 30 = 30in.
    const project = projectOf(
      wall(
        `  zone a on back { width from 20in to 50in }
  zone b on back after a { width share at most 30in }
  zone c on back after b { width share }`,
        '90in',
      ),
    );
    expect(zones(project, 'u')).toEqual(['a: 0in, 30in', 'b: 30in, 30in', 'c: 60in, 30in']);
  });

  it('share equally on both sides of one that stands where it is said to', () => {
    // Right of m, 90 - 40 - 10 = 40in are left for b, so a has 40in too, and all of the room up to m.
    const project = projectOf(
      wall(
        `  zone m on back from left 40in { width 10in }
  zone a on back before m { width share }
  zone b on back after m { width share }`,
        '90in',
      ),
    );
    expect(zones(project, 'u')).toEqual(['a: 0in, 40in', 'm: 40in, 10in', 'b: 50in, 40in']);
  });

  it('that share fail by statements that cannot hold together, not by what was settled on', () => {
    check(`template t {
  wall back { length 90in; height 96in }
  zone a on back { width 20in }
  zone b on back after a { width share at most 30in }
  zone c on back after b { width share }
//                         ^^^^^^^^^^^ error widths-do-not-close: the back wall is 90in long; zone a is 20in wide; zone b takes an equal share, at most 30in; zone c takes an equal share. The sum is out by 10in
}
unit u t
`);
  });

  it('that are centred fail by all that says where they stand', () => {
    check(`template t {
  wall back { length 60in; height 96in }
  zone a on back { width 25in }
  zone b on back centred { width 20in }
//                         ^^^^^^^^^^ error widths-do-not-close: the back wall is 60in long; zone a is 25in wide; zone b is 20in wide
}
unit u t
`);
  });

  it('are centred with equal shares on both sides', () => {
    const project = projectOf(wall('  zone a on back centred { width 30in }', '90in'));
    expect(zones(project, 'u')).toEqual(['a: 30in, 30in']);
  });

  it('stand inside zones, between their panels', () => {
    // 48 - 2 x 3/4 = 46-1/2, shared: 744 sixteenths, 372 each = 23-1/4
    const project = check(
      wall(`  zone a on back {
    width 48in
    panels { height 84in; depth 12in }
    zone left { width share; shelf s { at 40in } }
    zone right after left { width share; shelf s { at 40in } }
  }
  zone b on back after a { width fill }`),
    );
    expect(zones(project, 'u')).toEqual([
      'a: 0in, 48in',
      'a.left: 3/4in, 23-1/4in',
      'a.right: 24in, 23-1/4in',
      'b: 48in, 45-3/4in',
    ]);
    expect(cuts(project, 'u')).toEqual([
      'a.panels.left: 84in',
      'a.panels.right: 84in',
      'a.left.s: 23-1/4in',
      'a.right.s: 23-1/4in',
    ]);
  });

  it('have a range where the statements leave one, and are made for its least', () => {
    const project = check(`template t {
  wall back { length 93-3/4in; height 96in }
  zone a on back { width from 40in to 50in }
//                 ^^^^^^^^^^^^^^^^^^^^^^^ note width-loose: Zone a can be 40in to 48-3/4in wide; 40in is taken
  zone b on back after a { width fill at least 45in }
}
unit u t
`);
    // b needs 45in, so a is at most 48-3/4in.
    const [a] = [...project.units()][0]?.resolved?.layout.zones ?? [];
    expect([inch(a?.width.least as never), inch(a?.width.most as never)]).toEqual(['40in', '48-3/4in']);
  });
});

describe('widths that cannot hold', () => {
  it('are told as a few statements, none of them superfluous', () => {
    // 48 + 24 + 24 = 96, 2-1/4 more than 93-3/4. The gap at the right end has no part in it but its width.
    check(`template t {
  wall back { length 93-3/4in; height 96in }
  zone a on back { width 48in }
  zone b on back after a { width 24in }
  zone c on back after b { width 24in }
//                         ^^^^^^^^^^ error widths-do-not-close: the back wall is 93-3/4in long; zone a is 48in wide; zone b is 24in wide; zone c is 24in wide. That takes 2-1/4in more than there is
  wall left { length 25in }
}
unit u t
`);
  });

  it('name the argument that causes them', () => {
    check(`template t {
  parameter width: length
  wall back { length width; height 96in }
  zone a on back { width 48in }
  zone b on back after a { width fill at least 24in }
}
unit fits t { width 72in }
unit narrow t { width 71-15/16in }
//              ^^^^^^^^^^^^^^^^ error widths-do-not-close: In narrow: These cannot all hold: the back wall is 71-15/16in long; zone a is 48in wide; zone b takes what is left, at least 24in. That takes 1/16in more than there is
`);
  });

  it('of a template sit once on the template, with the units they reach', () => {
    check(`template t {
  wall back { length 40in; height 96in }
  zone a on back { width 48in }
//                 ^^^^^^^^^^ error widths-do-not-close: reaches u, v
}
unit u t
unit v t mirrored
`);
  });

  it('of a range of a parameter are told at the end of the range', () => {
    check(`template t {
  parameter width: length from 47in to 60in
  wall back { length width; height 96in }
  zone a on back { width 48in }
  gap rest on back after a { width fill }
//                           ^^^^^^^^^^ error widths-do-not-close: At width 47in
}
`);
  });

  it('that cannot be read are told, and nothing is made up from them', () => {
    check(`template t {
  board white-12
  wall back { length 90in; height 96in }
  zone a on back { width 48; shelf s { at 40in } }
//                       ^^ error unit-of-measure-missing: 48 has no unit of measure
  zone b on back after a { width fill }
}
unit u t
`);
  });

  it('two zones that take what is left', () => {
    check(`template t {
  wall back { length 90in; height 96in }
  zone a on back { width fill }
  zone b on back after a { width fill }
//                         ^^^^^^^^^^ error width-undecided: Zones "a" and "b" both take what is left
}
unit u t
`);
  });

  it.each(['fill', 'share'])('two chains that meet, and both take what is left: %s', (rest) => {
    check(`template t {
  wall back { length 90in; height 96in }
  zone a on back { width ${rest} }
  zone b on back from right { width fill }
//                            ^^^^^^^^^^ error width-undecided: Zones "a" and "b" both take what is left
}
unit u t
`);
  });

  it('of two chains that begin on one side both may take what is left', () => {
    check(`template t {
  wall back { length 90in; height 96in }
  zone a on back { width fill }
  zone b on back from left 40in { width fill }
}
unit u t
`);
  });

  it('zones that stand after each other in a circle', () => {
    check(`template t {
  wall back { length 90in; height 96in }
    zone a on back after b { width 10in }
//  ^^^^^^^^^^^^^^^^^^^^^^ error name-circle: Zones "a" and "b" each stand beside another one of them
  zone b on back after a { width 10in }
}
unit u t
`);
  });

  it('two zones that both begin at the left end', () => {
    check(`template s {
  wall back { length 90in; height 96in }
  zone a on back { width fill }
  zone b on back { width 40in }
  //^^^^^^^^^^^^ error widths-do-not-close: Zones "a" and "b" both begin at the left end of the back wall
}
unit v s
template t {
  wall back { length 90in; height 96in }
  zone a on back { width 40in }
  zone b on back { width fill }
  //^^^^^^^^^^^^ error widths-do-not-close: Zones "a" and "b" both begin at the left end of the back wall
}
unit u t
`);
  });

  it('a zone of a template that begins where one does of the template it extends', () => {
    const project = check(`template heir extends base {
  zone b on back { width 20in }
  //^^^^^^^^^^^^ error widths-do-not-close: Zones "a" and "b" both begin at the left end of the back wall
}
template base {
  wall back { length 30in; height 96in }
  zone a on back { width 30in }
}
unit u heir
template last extends middle {
  zone c on back { width fill }
  //^^^^^^^^^^^^ error widths-do-not-close: Zones "a" and "c" both begin at the left end of the back wall
}
template middle extends base { board white-12 }
unit w last
`);
    // It goes behind what it builds on, wherever that is written.
    const found = project.findings().filter(({ rule }) => rule.id === 'widths-do-not-close');
    expect(found.map(({ fixes }) => fixes.map(({ title }) => title))).toEqual([['Write after a'], ['Write after a']]);
  });
});

describe('the corner of two walls', () => {
  it('belongs to the back wall unless stated', () => {
    // The back shelf is 12in deep, so of the left wall's 60in, 48in are left before the corner.
    const project = check(`template t {
  board white-12
  wall left { length 60in; height 96in }
  wall back { length 60in; height 96in }
  zone a on back { width fill; shelf s { at 70in } }
  zone b on left { width fill; shelf s { at 70in } }
}
unit u t
`);
    expect(cuts(project, 'u')).toEqual(['a.s: 60in', 'b.s: 48in']);
  });

  it('belongs to the wall that is said to own it', () => {
    const project = check(`template t {
  board white-12
  wall left { length 60in; height 96in }
  wall back { length 60in; height 96in }
  corner back left { owner left }
  zone a on back { width fill; shelf s { at 70in } }
  zone b on left { width fill; shelf s { at 70in } }
}
unit u t
unit v t mirrored
`);
    expect(cuts(project, 'u').sort()).toEqual(['a.s: 48in', 'b.s: 60in']);
    expect(cuts(project, 'v').sort()).toEqual(['a.s: 48in', 'b.s: 60in']);
    expect(zones(project, 'u')).toContain('a: 12in, 48in');
    expect(zones(project, 'v')).toContain('a: 0in, 48in');
  });

  it('is in the sum that does not come out', () => {
    // 25 - 12 = 13in are left beside the corner, and 20 are asked for.
    check(`template t {
  board white-12
  wall left { length 25in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 25in; height 96in }
  zone a on back { width fill; shelf s { at 70in } }
  zone b on left { width 20in; shelf s { at 70in } }
//                 ^^^^^^^^^^ error widths-do-not-close: These cannot all hold: the left wall is 25in long, less 12in for what stands on the back wall; zone b is 20in wide. That takes 7in more than there is.
}
unit u t
`);
  });

  it('at both ends is in the sum as two', () => {
    check(`template t {
  board white-12
  wall left { length 25in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 25in; height 96in }
  corner back left { owner left }
  corner back right { owner right }
  zone a on back { width 48in; shelf s { at 70in } }
//                 ^^^^^^^^^^ error widths-do-not-close: These cannot all hold: the back wall is 60in long, less 12in for what stands on the left wall and 10in for what stands on the right wall; zone a is 48in wide. That takes 10in more than there is.
  zone b on left { width fill; shelf s { at 30in } }
  zone c on right { width fill; shelf s { at 30in; depth 10in } }
//                              ^^^^^^^ note depth-unusual: 10in deep
}
unit u t
`);
  });
});
