/** Fixes of many rules: what is offered, whether by hand, and that it mends and breaks nothing when it is made. */
import { describe, expect, it } from 'vitest';
import { allFindings, projectOf } from '../model/support.ts';
import { offers } from './offers.ts';

/** A closet 60 in wide, with walls 24 in deep beside. */
const closet = (inside: string, more = 'unit u t'): string => `template t {
  board white-12
  pole chrome
  wall left { length 24in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 24in; height 96in }
${inside}
}
${more}
`;

/** Titles, and whether somebody has to choose them. Each is made on the whole text. */
function mends(text: string, rule: string): [title: string, byHand: boolean][] {
  return offers(text, rule).map(({ title, byHand, left, worse }) => {
    expect(left, title).not.toContain(rule);
    expect(worse, title).toEqual([]);
    return [title, byHand];
  });
}

/** What has gaps: the errors that ask for what is missing, and none once it is filled in. */
function asks(text: string, rule: string, fill: (after: string) => string): string[] {
  return offers(text, rule).map(({ title, byHand, after }) => {
    expect(byHand, title).toBe(true);
    const filled = fill(after);
    expect(filled, title).not.toBe(after);
    expect(still(filled, rule), title).toEqual([]);
    return title;
  });
}

/** Rules that still speak after a gap has been filled in. */
function still(text: string, rule: string): string[] {
  return allFindings(projectOf(text))
    .map((one) => one.rule.id)
    .filter((id) => id === rule || id === 'phrase-not-understood');
}

describe('a door that swings in and meets something', () => {
  // Hinged right, 22 in off the front wall and 20 in across: 29.73 in of 30 in, see swings/leaves.test.ts.
  const door = (swing: string): string => `template t {
  board white-12
  wall left { length 72in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 72in; height 96in }
  wall front { length 60in; height 96in }
  opening front { width 30in; height 80in; from left 2in; ${swing} }
  zone side on right from left 40in { width 10in; shelf one { at 40in } }
}
unit u t
`;

  it('swings out, by hand: nobody here sees whether there is room outside', () => {
    expect(mends(door('swing in hinged right'), 'leaf-meets-fitting')).toEqual([
      ['Write swing out instead of swing in', true],
    ]);
  });
});

describe('drawers that leave too little room', () => {
  it('come out less far, or are less deep, as far as the policy asks', () => {
    // 48 - 14 - 12 = 22 in are left of the 30 in asked for: 8 in less of either.
    const text = `policy roomy { limit clear-before-drawers at least 30in }
template t {
  wall left { length 48in; height 96in }
  wall back { length 48in; height 96in }
  wall right { length 48in; height 96in }
  wall front { length 48in; height 96in }
  zone a on back { width fill; drawers chest { at 8in; count 2; height 8in; depth 14in; pull-out 12in } }
}
unit u t { policy roomy }
`;
    expect(mends(text, 'little-room-before-drawers')).toEqual([
      ['Write pull-out 4in instead of 12in for chest', false],
      ['Write depth 6in instead of 14in for chest', false],
    ]);
  });
});

describe('what stands before something that has to stay free', () => {
  const outlet = (shelf: string): string =>
    closet(`  fixture outlet on back { from left 30in; height 40in; size 3in by 4in; clear 2in }
  zone a on back { width fill; shelf s { ${shelf} } }`);

  it('is set over it or below it, the nearer first', () => {
    // The outlet is 38 to 42 in high. Over it: 42 + 2 = 44 in. Below it: 38 - 2 - 3/4 = 35-1/4 in.
    expect(mends(outlet('at 43in'), 'fitting-before-fixture')).toEqual([
      ['Write 44in instead of 43in for s', true],
      ['Write 35-1/4in instead of 43in for s', true],
    ]);
    expect(mends(outlet('at 36in'), 'fitting-before-fixture')).toEqual([
      ['Write 35-1/4in instead of 36in for s', true],
      ['Write 44in instead of 36in for s', true],
    ]);
    expect(offers(outlet('at 20in + 20in'), 'fitting-before-fixture')).toEqual([]);
  });

  it('goes up in whole millimetres where it is written in them', () => {
    // 44 in are 1117.6 mm.
    expect(mends(outlet('at 1100mm'), 'fitting-before-fixture')[0]).toEqual([
      'Write 1118mm instead of 1100mm for s',
      true,
    ]);
  });

  it('is set over an opening, and over a baseboard', () => {
    const opening = closet(`  opening door on back { width 30in; height 80in; from left 10in }
  zone a on back { width fill; shelf s { at 40in } }`);
    expect(mends(opening, 'fitting-before-opening')).toEqual([['Write 80in instead of 40in for s', true]]);
    const baseboard = closet(`  fixture baseboard on back { height 5in; depth 3/4in }
  zone a on back { width fill; shelf s { at 2in } }`);
    expect(mends(baseboard, 'fitting-at-baseboard')).toEqual([['Write 5in instead of 2in for s', true]]);
  });

  it('is lowered below a sprinkler head until it is as far off as asked', () => {
    const text = closet(`  fixture sprinkler on ceiling { from left 30in; from back 6in; depth 2in }
  zone a on back { width fill; shelf s { at 84in } }`);
    // The deflector hangs at 94 in: 94 - 18 - 3/4 = 75-1/4 in.
    expect(mends(text, 'storage-near-sprinkler')).toEqual([['Write 75-1/4in instead of 84in for s', false]]);
  });
});

describe('what reaches out of a closet', () => {
  it('is made less deep, up to what the limit lets pass', () => {
    const text = `policy reachable { reach side 48in }
template t {
  board white-16
  wall left { length 10in; height 96in }
  wall back { length 40in; height 96in }
  wall right { length 10in; height 96in }
  opening front { width 40in; height 80in; clear-floor 48in by 30in }
  zone a on back { width fill; shelf s { at 40in; depth 15in } }
}
unit u t { policy reachable }
`;
    // 10 in deep, and 4 in may protrude.
    expect(mends(text, 'protruding-fitting')).toEqual([['Write depth 14in instead of 15in for s', false]]);
  });
});

describe('a tower that stands free', () => {
  it('no longer says so, by hand: it is still to be fastened', () => {
    const text = closet('  zone a on back { width 24in; panels { height 84in; free-standing } }');
    expect(mends(text, 'tall-free-standing')).toEqual([['Remove free-standing', true]]);
  });
});

describe('width that is left over', () => {
  it('is taken by a gap behind the zone beside it', () => {
    const text = closet('  zone a on back { width 40in; shelf s { at 40in } }');
    expect(mends(text, 'width-left-over')).toEqual([['Write gap rest on back after a { width fill }', true]]);
    expect(offers(text, 'width-left-over')[0]?.after).toContain(
      '  zone a on back { width 40in; shelf s { at 40in } }\n  gap rest on back after a { width fill }\n}',
    );
  });

  it('is taken on both sides, under names that are free, in a unit that is mirrored, and inside of a zone', () => {
    const both = closet('  zone rest on back from left 10in { width 40in }');
    expect(mends(both, 'width-left-over')).toEqual([
      ['Write gap rest-2 on back { width fill }, gap rest-3 on back after rest { width fill }', true],
    ]);
    const fromRight = closet('  zone a on back from right 10in { width 40in }');
    expect(mends(fromRight, 'width-left-over')).toEqual([
      ['Write gap rest on back { width fill }, gap rest-2 on back from right { width fill }', true],
    ]);
    const mirrored = closet('  zone a on left { width 20in }', 'unit u t mirrored');
    expect(mends(mirrored, 'width-left-over')).toEqual([['Write gap rest on left after a { width fill }', true]]);
    const inside = closet('  zone a on back { width fill\n    zone b { width 20in }\n  }');
    expect(mends(inside, 'width-left-over')).toEqual([['Write gap rest after b { width fill }', true]]);
  });
});

describe('a zone or fixture that does not say where it stands', () => {
  it('is on the wall that there is, or on one of those that there are', () => {
    const one =
      'template t {\n  board white-12\n  wall back { length 60in; height 96in }\n  zone a { width fill }\n}\nunit u t\n';
    expect(mends(one, 'phrase-not-understood')).toEqual([['Write on back', false]]);
    const three = closet('  fixture outlet { from left 10in; height 16in }');
    expect(mends(three, 'phrase-not-understood').map(([title]) => title)).toEqual([
      'Write on left',
      'Write on back',
      'Write on right',
    ]);
  });
});

describe('a name that is given twice in a template', () => {
  it('gets the first number that is free, the second time', () => {
    const text = closet(
      '  zone a on back { width fill; shelf s { at 40in }; shelf s { at 60in }; shelf s-2 { at 70in } }',
    );
    expect(mends(text, 'name-taken')).toEqual([['Write s-3 instead of s', true]]);
  });
});

describe('a name that is not known', () => {
  it('is declared with gaps where no other is near', () => {
    const text = closet('  zone a on back { width fill; board oak; shelf s { at 40in } }');
    const filled = (after: string): string => after.replace('depth; thickness', 'depth 12in; thickness 3/4in');
    expect(asks(text, 'name-not-known', filled)).toEqual(['Declare board oak, to be filled in']);
    const garment = closet('  zone a on back { width fill; rod r { at 60in; for kimono } }');
    expect(asks(garment, 'name-not-known', (after) => after.replace('hang; hanger', 'hang 50in; hanger 17in'))).toEqual(
      ['Declare garment kimono, to be filled in'],
    );
    const policy = closet('  zone a on back { width fill }', 'unit u t { policy strict }');
    expect(
      asks(policy, 'name-not-known', (after) => after.replace('{ limit }', '{ limit rod-height at most 48in }')),
    ).toEqual(['Declare policy strict, to be filled in']);
    const template = 'unit u linen-closet\n';
    expect(
      asks(template, 'name-not-known', (after) => after.replace('length; height', 'length 40in; height 96in')),
    ).toEqual(['Declare template linen-closet, to be filled in']);
  });

  it('is declared as either of what it can be', () => {
    expect(offers('stock brass { length 8ft }\n', 'name-not-known').map(({ title }) => title)).toEqual([
      'Declare board brass, to be filled in',
      'Declare rod brass, to be filled in',
    ]);
  });

  it('is not declared where it is one of a library', () => {
    expect(offers('unit u trade.reach-in\n', 'name-not-known')).toEqual([]);
  });

  it('is the nearest wall, in a survey', () => {
    const text = closet('  zone a on back { width fill }', 'unit u t\nsurvey u { wall bakc { length 60in } }');
    expect(mends(text, 'name-not-known')).toEqual([['Write "back"', false]]);
  });
});

describe('a part that is longer than any stock', () => {
  it('asks for a longer length, and says how long it has to be', () => {
    const text = 'board oak { }\nstock oak { length 6ft }\nextra one { board oak; length 80in }\n';
    expect(asks(text, 'part-longer-than-stock', (after) => after.replace('; length }', '; length 8ft }'))).toEqual([
      'Write "length", to be filled in: one of at least 80in that can be had',
    ]);
  });
});

describe('a wall that was measured too short', () => {
  const measured = (zones: string, unit = ''): string => `template t {
  wall back { length 94in }
${zones}
}
unit v t { ${unit} }
survey v { wall back { length 93-15/16in at 6in } }
`;

  it('is met by less of what is open, in that unit alone', () => {
    const text = measured('  zone a on back { width 48in }\n  zone b on back after a { width fill at least 46in }');
    expect(mends(text, 'survey-narrower-than-layout')).toEqual([
      ['Write override b { width fill at least 45-15/16in }', true],
    ]);
  });

  it('is met by either of two widths where none is open', () => {
    const text = measured('  zone a on back { width 48in }\n  zone b on back after a { width 46in }');
    expect(mends(text, 'survey-narrower-than-layout')).toEqual([
      ['Write override a { width 47-15/16in }', true],
      ['Write override b { width 45-15/16in }', true],
    ]);
  });
});

describe('facts that are not said', () => {
  it('are asked for: what hangs on a rod, how long it hangs, what is to be kept free', () => {
    const rod = closet('  zone a on back { width fill; rod r { at 60in } }');
    expect(asks(rod, 'rod-without-garment', (after) => after.replace('; for', '; for shirt'))).toEqual([
      'Write "for", to be filled in',
    ]);
    const scarf = closet(
      '  zone a on back { width fill; rod r { at 60in; for scarf } }',
      'garment scarf { hanger 10in }\nunit u t',
    );
    expect(asks(scarf, 'garment-incomplete', (after) => after.replace('; hang }', '; hang 30in }'))).toEqual([
      'Write "hang", to be filled in',
    ]);
    const light = closet('  fixture light on back { from left 30in; height 90in }');
    expect(
      asks(light, 'fixture-without-clear', (after) =>
        after.replace('; lamp }', '; lamp surface led enclosed }').replace('; clear }', '; clear 12in }'),
      ),
    ).toEqual(['Write "lamp", to be filled in', 'Write "clear", to be filled in']);
  });

  it('are asked for: where a sprinkler head is, in a building that has them', () => {
    const text = closet('', 'policy wet { building flats sprinklered }\nunit u t { policy wet }');
    expect(
      asks(text, 'closet-without-head', (after) =>
        after.replace('from left; from back; depth', 'from left 30in; from back 12in; depth 2in'),
      ),
    ).toEqual(['Draw the head, if there is one: where it is, to be filled in']);
  });
});

describe('hardware', () => {
  const shelf = (hardware: string, by: string): string => `${hardware}
template t {
  board white-12
  wall back { length 48in; height 96in; studs every 16in from 14-1/2in }
  zone a on back { width fill; shelf s { at 72in; carried by ${by} } }
}
unit u t
`;

  it('names the anchor that the project has', () => {
    const text = shelf('hardware rear { is support; spacing at most 24in }\nhardware toggle { is anchor }', 'rear');
    expect(mends(text, 'anchor-not-named')).toEqual([['Write anchor toggle', false]]);
  });

  it('is what can carry such a part, by hand: its maker says which', () => {
    const text = shelf('hardware thing { takes 1/16in }', 'thing').replace('from 14-1/2in', 'from 0in');
    expect(mends(text, 'hardware-without-role')).toEqual([
      ['Write is support', true],
      ['Write is bracket', true],
    ]);
  });
});

describe('a quantity of the wrong kind', () => {
  it('is a price in the currency of the project', () => {
    const text = 'board oak { }\nstock oak { length 8ft price 14.50 }\n';
    expect(mends(text, 'wrong-kind-of-quantity')).toEqual([['Write 14.50 EUR', false]]);
  });

  it('is a length, where one of two that are added says so', () => {
    const text = closet('  zone a on back { width 20in + 2 }');
    expect(mends(text, 'wrong-kind-of-quantity').map(([title]) => title)).toEqual([
      'Write 2in',
      'Write 2ft',
      'Write 2mm',
      'Write 2cm',
    ]);
    expect(offers(closet('  zone a on back { width 20in * 2in }'), 'wrong-kind-of-quantity')).toEqual([]);
  });
});

describe('room to work before an electrical panel', () => {
  it('is given by less depth of what stands across from it, and not by a height: codes ask for more than that', () => {
    const text = (wall: string): string => `template t {
  board white-16
  wall left { length 48in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 48in; height 96in }
  wall front { length 60in; height 96in }
  fixture panel on back { from left 30in; height 60in; size 14in by 24in }
  zone a on ${wall} { width fill; shelf s { at 60in; depth 15in } }
}
unit u t
`;
    // 48 - 36 = 12 in are left for the shelf.
    expect(mends(text('front'), 'panel-working-space')).toEqual([['Write depth 12in instead of 15in for s', false]]);
    expect(offers(text('back'), 'panel-working-space')).toEqual([]);
    expect(offers(text('back'), 'fitting-before-fixture')).toEqual([]);
  });
});

describe('a currency', () => {
  it('is written in capital letters', () => {
    expect(
      offers('project "Quarry Lane" { currency eur }\n', 'phrase-not-understood').map(({ title }) => title),
    ).toEqual(['Write EUR']);
  });
});

describe('hardware that does not suit what it carries', () => {
  const wall = (inside: string, hardware: string): string => `${hardware}
hardware plug { is anchor }
template t {
  board white-12
  pole chrome
  wall back { length 48in; height 96in; studs every 16in from 8in }
  zone a on back { width fill; ${inside} }
}
unit u t
`;
  const arm = (reach: number, more = ''): string =>
    `hardware arm-${reach} { is bracket; reach ${reach}in; leg 9in; spacing at most 32in; anchor plug${more} }`;

  it('gives way to the longest bracket that ends at the shelf or before it, by hand', () => {
    const text = wall('shelf s { at 66in; carried by arm-14 }', [arm(8), arm(11), arm(12), arm(14)].join('\n'));
    expect(mends(text, 'bracket-past-shelf')).toEqual([['Write arm-12 instead of arm-14', true]]);
    const shorter = wall('shelf s { at 66in; carried by arm-14 }', [arm(8), arm(11), arm(14)].join('\n'));
    expect(mends(shorter, 'bracket-past-shelf')).toEqual([['Write arm-11 instead of arm-14', true]]);
    expect(offers(wall('shelf s { at 66in; carried by arm-14 }', arm(14)), 'bracket-past-shelf')).toEqual([]);
  });

  it('gives way where the zone or the template says it for all, in the one part alone', () => {
    const text = wall('carried by arm-8, cap; shelf s { at 66in }', `hardware cap { is cover }\n${arm(8)}\n${arm(12)}`);
    expect(mends(text, 'shelf-past-bracket')).toEqual([['Write carried by arm-12, cap', true]]);
    // No shorter one would reach the front of the shelf.
    const short = wall('carried by arm-8; shelf s { at 66in }', `${arm(8)}\n${arm(11)}`);
    expect(offers(short, 'shelf-past-bracket')).toEqual([]);
  });

  it('of a rod under a shelf without brackets is a cup, or the shelf takes brackets', () => {
    // 15 in of reach less 3 in are the 12 in at which the rod stands.
    const shelf =
      'shelf s { at 72in; depth 12in; carried by rear }; rod r { under s by 3in; for shirt; carried by hook }';
    const some =
      'hardware rear { is support; spacing at most 24in; anchor plug }\nhardware hook { is hook; set-back 3in }\n';
    const cups = wall(shelf, `${some}hardware cup { is cup; anchor plug }`);
    expect(mends(cups, 'hook-without-bracket')).toEqual([['Write cup instead of hook', true]]);
    // A bracket that reaches past the shelf is no mending: 15 in of 12 in.
    expect(offers(wall(shelf, `${some}${arm(15)}`), 'hook-without-bracket')).toEqual([]);
    const deep = shelf.replace('depth 12in', 'board white-16; depth 15in');
    expect(mends(wall(deep, `${some}${arm(15)}`), 'hook-without-bracket')).toEqual([
      ['Write carried by rear, arm-15 in the shelf over it', true],
    ]);
  });

  it('of a shelf on pins without panels is a support', () => {
    const rear = 'hardware pin { is pin }\nhardware rear { is support; spacing at most 24in; anchor plug }';
    expect(mends(wall('shelf s { at 66in; carried by pin }', rear), 'pin-without-panel')).toEqual([
      ['Write rear instead of pin', true],
    ]);
  });

  it('is one that is rated for what it carries, and none that is rated for too little', () => {
    const rated = (pounds: number): string => arm(12, `; rated ${pounds} lb`).replace('arm-12', `arm-${pounds}`);
    const text =
      `policy rules { load shelf 60 lbf/ft2 }\n${wall('shelf s { at 66in; carried by arm-20 }', [rated(20), rated(30), rated(200)].join('\n'))}`.replace(
        'unit u t',
        'unit u t { policy rules }',
      );
    expect(mends(text, 'hardware-past-rating')).toEqual([['Write arm-200 instead of arm-20', true]]);
  });

  it('is described with a spacing that so many as can be set keep to', () => {
    // A thousand over 48 in stand 48 / 999 in apart, which is a little more than 3/64 in.
    const text = wall(
      'shelf s { at 66in; carried by rear }',
      'hardware rear { is support; spacing at most 1/32in; anchor plug }',
    );
    expect(mends(text, 'fixings-far-apart')).toEqual([['Write 1/16in instead of 1/32in for rear', true]]);
  });
});

describe('a shelf of an unusual depth', () => {
  it('is made one of the usual ones, by hand, and only as deep as its board and the closet', () => {
    const shelf = (board: string): string =>
      closet(`  zone a on back { width fill; shelf s { at 40in; depth 11in; board ${board} } }`);
    expect(mends(shelf('white-16'), 'depth-unusual')).toEqual([
      ['Write depth 12in instead of 11in for s', true],
      ['Write depth 16in instead of 11in for s', true],
    ]);
    expect(mends(shelf('white-12'), 'depth-unusual')).toEqual([['Write depth 12in instead of 11in for s', true]]);
    const plain = closet('  zone a on back { width fill; depth 11in; shelf s { at 40in } }');
    expect(mends(plain, 'depth-unusual')).toEqual([['Write depth 12in instead of 11in for a', true]]);
  });
});

describe('a survey of one of several units', () => {
  const several = (count: string): string => `template t { wall back { length 60in; height 96in } }
unit a t { floor 1; count ${count} }
survey a { back length 59-7/8in at 6in }
`;

  it('makes the one that was measured a unit of its own, by hand', () => {
    const [offer, ...more] = offers(several('4'), 'survey-of-many');
    expect(more).toEqual([]);
    expect(offer).toMatchObject({
      title: 'Make "a" the one that was measured, and a-others the other 3',
      byHand: true,
      worse: [],
    });
    expect(offer?.left).not.toContain('survey-of-many');
    expect(offer?.after).toBe(`template t { wall back { length 60in; height 96in } }
unit a t { floor 1 }
unit a-others t { floor 1; count 3 }
survey a { back length 59-7/8in at 6in }
`);
    expect(mends(several('2'), 'survey-of-many')).toEqual([
      ['Make "a" the one that was measured, and a-others the other', true],
    ]);
  });

  it('is left to people where the count is one, or is computed', () => {
    expect(offers(several('1'), 'survey-of-many')).toEqual([]);
    expect(offers(several('2 + 2'), 'survey-of-many')).toEqual([]);
  });
});
