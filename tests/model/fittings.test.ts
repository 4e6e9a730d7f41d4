import { describe, expect, it } from 'vitest';
import { inches } from '../../server/model/ticks.ts';
import { check, cuts, heights, inch, projectOf, steps } from './support.ts';

const zone = (body: string, width = '24in'): string => `template t {
  board white-12
  pole chrome
  wall back { length ${width}; height 96in }
  zone a on back {
    width fill
${body}
  }
}
unit u t
`;

describe('heights up a zone', () => {
  it('are undersides of shelves and centres of rods', () => {
    const project = projectOf(
      zone(`    shelf high { at 84in }
    rod r { under high by 3in; for shirt }
    shelf low { under high by 41-1/4in }
    shelf box { above low by 12in; depth 6in }`),
    );
    // low: its upper face is 41-1/4in under 84in: 84 - 41-1/4 - 3/4 = 42. box: upper face of low 42-3/4, + 12 = 54-3/4.
    expect(heights(project, 'u')).toEqual(['a.high: 84in', 'a.r: 81in', 'a.low: 42in', 'a.box: 54-3/4in']);
  });

  it('that are at least so far under another are as near to it as they may come, one under the other', () => {
    const project = projectOf(
      zone(`    shelf high { at 84in }
    rod r { under high by at least 3in; for shirt }
    shelf low { at 8in }
    shelf middle { under r by at least 40in }
    shelf tied { under free by 10in }
    shelf free { under high by at least 20in }`),
    );
    // r: 84 - 3. middle: its upper face 40 under the rod, 81 - 40 - 3/4. free is held down by tied, which is exactly
    // 10in under it and as low as it may be: the floor, 0 + 3/4 + 10.
    expect(heights(project, 'u')).toEqual([
      'a.high: 84in',
      'a.r: 81in',
      'a.low: 8in',
      'a.middle: 40-1/4in',
      'a.tied: 0in',
      'a.free: 10-3/4in',
    ]);
    const told = project.findings().map(({ rule, message }) => `${rule.id}: ${message}`);
    expect(told).toContainEqual(
      expect.stringContaining('height-loose: Rod "a.r" can be at 40-3/4in to 81in; 81in is taken.'),
    );
    expect(told.join()).not.toContain('fitting-outside-wall: Rod');
  });

  it('that cannot hold are told as a few statements', () => {
    check(`template t {
  board white-12
  wall back { length 24in; height 96in }
  zone a on back {
    width fill
    shelf high { at 84in }
    shelf low { at 42in }
    shelf middle { under high by 20in; above low by 22in }
//                                     ^^^^^^^^^^^^^^^^^ error heights-do-not-close: The sum is out by
  }
}
unit u t
`);
  });

  it('that cannot hold are mended by no move past the ceiling or the floor', () => {
    const offered = (body: string) =>
      projectOf(zone(body))
        .findings()
        .filter(({ rule }) => rule.id === 'heights-do-not-close')
        .map(({ advice, fixes }) => [advice, ...fixes.map(({ title }) => title)]);
    // 95 + 3/4 in thick: to raise high by 1in would put it at 96-3/4in.
    expect(offered('    shelf high { at 95in }\n    shelf low { at 42in; under high by 53-1/4in }')).toEqual([
      ['Lower shelf low by 1in.', 'Write 41in instead of 42in for low'],
    ]);
    // To lower low by 3in would put it at -1in.
    expect(offered('    shelf high { at 44in }\n    shelf low { at 2in; under high by 44-1/4in }')).toEqual([
      ['Raise shelf high by 3in.', 'Write 47in instead of 44in for high'],
    ]);
    expect(offered('    shelf high { at 95in }\n    shelf low { at 2in; under high by 97-1/4in }')).toEqual([
      ['Change the distances between them by 5in in all.'],
    ]);
  });

  it('that cannot hold are compared as too little room or as too much', () => {
    const compared = (body: string) =>
      projectOf(zone(body))
        .findings()
        .filter(({ rule }) => rule.id === 'heights-do-not-close')
        .map(({ comparison }) => comparison?.what);
    const row = (pitch: string) => `    shelf low { at 8in }
    shelf cap { at 84in }
    shelves row between low and cap { count 8; pitch ${pitch} }`;
    // 84 - 8 = 76 in between the undersides, and nine spaces: 72 in at most, or 81 in at least.
    expect(compared(row('from 7in to 8in'))).toEqual(['height that nothing takes in zone a']);
    expect(compared(row('from 9in to 10in'))).toEqual(['height that is lacking in zone a']);
    expect(compared('    shelf high { at 97in }')).toEqual(['height that is lacking in zone a']);
    expect(compared('    shelf high { at 84in }\n    rod r { at 60in; under high by 3in }')).toEqual([
      'height that nothing takes in zone a',
    ]);
    expect(compared('    shelf high { at 84in }\n    rod r { at 60in; under high by at least 30in }')).toEqual([
      'height that is lacking in zone a',
    ]);
  });

  it('that come round to themselves are told as that: no move mends them', () => {
    check(
      zone(`    shelf high { at 84in }
    rod r { under r by 3in; for shirt }
//          ^^^^^^^^^^^^^^ error name-circle: Rod r is 3in under r: nothing is placed from itself. Write of one of them how high`),
    );
    check(
      zone(`    shelf s { under q by 2in }
    shelf q { under s by 3in }
//            ^^^^^^^^^^^^^^ error name-circle: none of them is anywhere: shelf s is 2in under q; shelf q is 3in under s.`),
    );
    // Twice under the same one is no circle.
    check(
      zone(`    shelf high { at 84in }
    shelf s { under high by 2in; above low by 3in }
    shelf low { under s by 4in }
//              ^^^^^^^^^^^^^^ error heights-do-not-close: The sum is out by`),
    );
  });

  it('on boards whose thickness cannot be read are told of that, and not that it is missing', () => {
    check(`board thin { depth 12in; thickness 3/4 }
//                                 ^^^ error unit-of-measure-missing: 3/4 has no unit of measure
template t {
  board thin
  wall back { length 24in; height 96in }
  zone a on back { width fill; shelf s { at 40in } }
}
stock thin { length 8ft }
unit u t
`);
  });

  it('that cannot be read are told, and nothing is made up from them', () => {
    const project = check(
      zone(`    shelf high { at 84 }
//                  ^^ error unit-of-measure-missing: 84 has no unit of measure
    rod upper { under high by 3in; for shirt }
    shelf over { above high by 10in }
    shelves between between floor and high { count 3 }
    panels { side left }
    shelf low { at 40in }`),
    );
    // low lies between the panel, whose height is not known, and the wall: 24 - 3/4 = 23-1/4.
    expect(heights(project, 'u')).toEqual(['a.low: 40in']);
    expect(cuts(project, 'u')).toEqual(['a.low: 23-1/4in']);
  });

  it('stay below the ceiling', () => {
    // 96 - 95-1/2 = 1/2, and the shelf is 3/4 thick.
    check(`template t {
  board white-12
  wall back { length 24in; height 96in }
  zone a on back { width fill; shelf s { at 95-1/2in } }
//                                       ^^^^^^^^^^^ error heights-do-not-close: That takes 1/4in more than there is
}
unit u t
`);
  });

  it('have a range where the statements leave one', () => {
    const project = check(
      zone(`    shelf s { at from 40in to 44in }
//            ^^^^^^^^^^^^^^^^^^^^ note height-loose: Shelf "a.s" can be at 40in to 44in; 40in is taken`),
    );
    expect(heights(project, 'u')).toEqual(['a.s: 40in']);
  });

  it('are asked for where nothing says them', () => {
    check(
      zone(`    shelf s { depth 12in }
//  ^^^^^^^ error height-missing: Nothing says how high shelf "s" is`),
    );
  });
});

describe('a row of shelves', () => {
  it('divides the height between two fittings equally, in saw steps', () => {
    // 84 - 8 = 76in = 1216 sixteenths in 6 spaces: 202 each (12-5/8in), 4 sixteenths over for the first four.
    const project = check(
      zone(`    shelf top { at 84in }
    shelf shoes { at 8in; tilted }
    shelves loose between shoes and top { count 5; pitch from 10in to 14in }`),
    );
    expect(heights(project, 'u')).toEqual([
      'a.top: 84in',
      'a.shoes: 8in',
      'a.loose.1: 20-11/16in',
      'a.loose.2: 33-3/8in',
      'a.loose.3: 46-1/16in',
      'a.loose.4: 58-3/4in',
      'a.loose.5: 71-3/8in',
    ]);
  });

  it('finds its number from the range of its pitch', () => {
    // 80 / 14 = 5.7: six spaces, five shelves, 13-1/3in apart
    const project = check(
      zone(`    shelf top { at 80in }
    shelves loose between floor and top { pitch from 10in to 14in }`),
    );
    expect(heights(project, 'u')).toHaveLength(6);
  });

  it('stands at a fixed pitch from below', () => {
    const project = check(
      zone(`    shelf top { at 40in }
    shelves loose between floor and top { pitch 12in }`),
    );
    expect(heights(project, 'u')).toEqual(['a.top: 40in', 'a.loose.1: 12in', 'a.loose.2: 24in', 'a.loose.3: 36in']);
  });

  it('is told where its pitch cannot be', () => {
    // 5 shelves have 6 spaces of at least 13in: 78in; between 8 and 84 there are 76.
    check(
      zone(`    shelf top { at 84in }
    shelf shoes { at 8in }
    shelves loose between shoes and top { count 5; pitch from 13in to 14in }
//                                                 ^^^^^^^^^^^^^^^^^^^^^^^ error heights-do-not-close: The sum is out by 2in`),
    );
  });

  it('of more shelves than find room is told once, with how many do', () => {
    // From 12 to 30 there are 18in, in 31 spaces 9/16in and 18/32 in turns; a shelf is 3/4in: 18 / (3/4) = 24 spaces, 23 shelves.
    const project = check(
      zone(`    panels { height 84in }
    shelf low { at 12in }
    shelf high { at 30in }
    shelves loose between low and high { count 30 }
//                                       ^^^^^^^^ error heights-do-not-close: Row "a.loose" has 30 shelves 3/4in thick in the 18in from low to high: each gets no more than 5/8in, so one stands in the next.`),
    );
    const [told] = project.findings();
    expect(told?.advice).toBe('Write a count of 23 or less, or put low and high further apart.');
    expect(told?.fixes.map(({ title }) => title)).toEqual(['Write count 23']);
    expect(told?.comparison).toMatchObject({ measured: { ticks: inches(9 / 16) }, limit: { ticks: inches(3 / 4) } });
  });

  it('of shelves that just lie on one another finds room', () => {
    check(
      zone(`    shelf low { at 12in }
    shelf high { at 30in }
    shelves loose between low and high { count 23 }`),
    );
  });

  it('on a board that is thicker than its own keeps clear of that too', () => {
    check(`board beam { depth 12in; thickness 4in }
stock beam { length 8ft price 40 EUR unlimited }
${zone(`    shelf low { at 12in; board beam }
    shelf high { at 30in }
    shelves loose between low and high { count 5 }
//                                       ^^^^^^^ error heights-do-not-close: Row "a.loose" begins at 15in, and low below it reaches up to 16in.`)}`);
  });

  it('between two that are written the wrong way round is told as that, and placed', () => {
    const project = check(
      zone(`    shelf low { at 12in }
    shelf high { at 60in }
    shelves loose between high and low { count 3 }
//                        ^^^^^^^^^^^^ error heights-do-not-close: Row "a.loose" goes from high, at 60in, up to low, at 12in, which is 48in lower.`),
    );
    expect(heights(project, 'u')).toContain('a.loose.3: 48in');
    expect(project.findings()[0]?.fixes.map(({ title }) => title)).toEqual(['Write between low and high']);
  });

  it('that ends at the floor is told which is written first', () => {
    const project = check(
      zone(`    shelf high { at 60in }
    shelves loose between high and floor { count 3 }
//                        ^^^^^^^^^^^^^^ error heights-do-not-close: Row "loose" goes from high up to the floor, and there is nothing below the floor.`),
    );
    expect(heights(project, 'u')).toContain('a.loose.3: 45in');
    expect(project.findings()[0]?.fixes.map(({ title }) => title)).toEqual(['Write between floor and high']);
  });

  it('with a pitch between two that are written the wrong way round is told as that alone', () => {
    check(
      zone(`    shelf low { at 12in }
    shelf high { at 60in }
    shelves loose between high and low { count 3; pitch from 10in to 13in }
//                        ^^^^^^^^^^^^ error heights-do-not-close: Row "a.loose" goes from high, at 60in, up to low, at 12in`),
    );
  });
});

describe('cut lengths', () => {
  it('come from the clear opening, less panels and ends, rounded down at the saw', () => {
    const text = zone(
      `    panels { height 84in }
    shelf s { at 40in }
    rod r { at 60in; for shirt }`,
      '24-1/32in',
    );
    const project = projectOf(text);
    // 24-1/32 - 2 x 3/4 = 22-17/32, rounded down to 1/16: 22-1/2. Rod: less 2 x 3/8: 21-25/32, down to 21-3/4.
    expect(cuts(project, 'u')).toEqual([
      'a.panels.left: 84in',
      'a.panels.right: 84in',
      'a.s: 22-1/2in',
      'a.r: 21-3/4in',
    ]);
    expect(steps(project, 'u', 'a.r')).toEqual([
      'wall back, as drawn: 24-1/32in',
      'left panel of a, white-12: - 3/4in',
      'right panel of a, white-12: - 3/4in',
      'left end at the panel, for the cup: - 3/8in',
      'right end at the panel, for the cup: - 3/8in',
      'rounded down at the saw to 1/16in: - 1/32in',
    ]);
    for (const part of [...project.units()][0]?.resolved?.layout.parts ?? []) {
      expect(part.steps.reduce((sum, s) => sum + s.amount, 0)).toBe(part.length);
    }
  });

  it("take off what the end meets: a wall, a panel, the neighbour's panel, or nothing", () => {
    const project =
      check(`board oak { depth 12in; thickness 1in; ends against wall take 1/4in; ends against panel take 1/8in }
stock oak { length 8ft }
template t {
  board oak
  wall back { length 60in; height 96in }
  zone a on back { width 20in; shelf s { at 40in } }
  zone b on back after a { width 20in; panels { side left; height 80in }; shelf s { at 40in } }
  zone c on back after b { width 20in; shelf s { at 40in } }
}
unit u t
`);
    // a: wall 1/4 and b's left panel 1/8: 19-5/8. b: 20 - 1 - 1/8 = 18-7/8, open at the right. c: open, wall: 19-3/4.
    expect(cuts(project, 'u')).toEqual(['a.s: 19-5/8in', 'b.panels.left: 80in', 'b.s: 18-7/8in', 'c.s: 19-3/4in']);
  });

  it('leave it to what holds the part', () => {
    const project = check(`hardware sleeve { takes 1/2in for "the sleeve" }
${zone('    rod r { at 60in; for shirt; held by sleeve }')}`);
    expect(cuts(project, 'u')).toEqual(['a.r: 23in']);
  });

  it('are told where nothing is left', () => {
    check(
      zone(
        '    rod r { at 60in; for shirt }\n//  ^^^^^ error no-room-for-part: its clear opening is 3/4in, and 3/4in is taken off',
        '3/4in',
      ),
    );
  });

  it('need a board', () => {
    check(`template t {
  wall back { length 24in; height 96in }
  zone a on back { width fill; shelf s { at 40in } }
//                             ^^^^^^^ error material-missing: Nothing says which board the shelf "s" is cut from
}
unit u t
`);
  });
});

describe('panels', () => {
  it('run up to the upper face of the highest shelf unless a height is given', () => {
    const project = check(zone('    panels\n    shelf top { at 83-1/4in }\n    shelf low { at 20in }'));
    expect(cuts(project, 'u').slice(0, 2)).toEqual(['a.panels.left: 84in', 'a.panels.right: 84in']);
    const [layout] = [...project.units()].map((u) => u.resolved?.layout);
    expect(layout?.lines.map((l) => inch(l.height))).toEqual(['83-1/4in', '20in']);
  });

  it('leave the shelf above them its whole width', () => {
    const project = check(zone('    panels { height 70in }\n    shelf top { at 80in }'));
    expect(cuts(project, 'u')).toContain('a.top: 24in');
  });
});
