/** What people write who have read a little of the language: each told as what it is, with how it is written here. */
import { describe, expect, it } from 'vitest';
import type { BlockPlace } from '../../server/model/vocabulary.ts';
import { saidOfFile, saidOfStatement } from './said.ts';
import { check } from './support.ts';

describe('a bound in other words', () => {
  it.each<[text: string, place: BlockPlace, told: string]>([
    [
      'limit rod-height max 48in',
      'policy',
      '"max" is written in two words: "at most". Write limit rod-height at most 48in => limit rod-height at most 48in',
    ],
    [
      'width fill minimum 20in',
      'zone',
      '"minimum" is written in two words: "at least". Write width fill at least 20in => width fill at least 20in',
    ],
  ])('is told in those: %s', (text, place, told) => {
    expect(saidOfStatement(text, place)).toEqual([told]);
  });

  it('and a word of the language is no factor', () => {
    expect(saidOfStatement('width 1/2 fill', 'zone')[0]).not.toContain('*');
  });
});

describe('words in capital letters', () => {
  it('are told of once for a declaration, with all that stands in its block', () => {
    const text = `Board oak { Depth 12in; thickness 3/4in }
TEMPLATE t {
  Wall back { LENGTH 60in; height 96in }
  board oak
}
unit u t
`;
    expect(saidOfFile(text).map(({ found: { message, advice } }) => `${message} ${advice}`)).toEqual([
      'Words of the language are written in small letters: "board". Write "board", and so the words in its block.',
      'Words of the language are written in small letters: "template". Write "template", and so the words in its block.',
    ]);
    expect(saidOfFile(text)[0]?.mended).toBe(text.replace('Board', 'board').replace('Depth', 'depth'));
  });

  it('stay where they are names', () => {
    expect(saidOfStatement('Zone Back on Wide { Width fill; Shelf Zone { at 60in } }', 'template')).toEqual([
      expect.stringContaining('=> zone Back on Wide { width fill; shelf Zone { at 60in } }'),
    ]);
  });
});

describe('a parameter that lacks a part', () => {
  it.each([
    ['parameter w length', 'parameter w: length'],
    ['parameter w = 30in', 'parameter w: length = 30in'],
    ['parameter w 30in', 'parameter w: length = 30in'],
    ['parameter w: 30in', 'parameter w: length = 30in'],
    ['parameter w: length 30in', 'parameter w: length = 30in'],
    ['parameter w: 4', 'parameter w: count = 4'],
    ['parameter w: 45deg', 'parameter w: angle = 45deg'],
    ['parameter w = "oak"', 'parameter w: text = "oak"'],
    ['parameter w from 30in to 40in', 'parameter w: length from 30in to 40in'],
  ])('is offered with it: %s', (text, mended) => {
    expect(saidOfStatement(text, 'template')).toEqual([
      `A parameter says its type behind a colon, and what it is by default behind "=". Write ${mended} => ${mended}`,
    ]);
  });
});

describe('feet and inches', () => {
  it.each([
    ["at 7'4", "at 7'4in", 'Behind feet stand inches, and 4 has no unit of measure.'],
    ['at 7ft 4', 'at 7ft 4in', 'Behind feet stand inches, and 4 has no unit of measure.'],
    ["at 7'-4", "at 7'-4in", 'Behind feet stand inches, and 4 has no unit of measure.'],
    ['at 7ft 4-1/2', 'at 7ft 4-1/2in', 'Behind feet stand inches, and 4-1/2 has no unit of measure.'],
    ['at 5ft6in', 'at 5ft 6in', 'Between feet and inches stands a space.'],
    ['at 5ft6-1/2in', 'at 5ft 6-1/2in', 'Between feet and inches stands a space.'],
    ['at 4-6', 'at 4ft 6in', '4-6 says no unit of measure: feet and inches are written 4ft 6in.'],
  ])('in another spelling are offered as they are written: %s', (text, mended, message) => {
    expect(saidOfStatement(text, 'shelf')).toEqual([`${message} Did you mean ${mended.slice(3)}? => ${mended}`]);
  });
});

describe('a list', () => {
  it('with "and" in it is offered with a comma', () => {
    expect(saidOfStatement('for suit and long-coat', 'hanging-rod')).toEqual([
      'Between "suit" and "long-coat" a comma stands, and not "and". Write for suit, long-coat => for suit, long-coat',
    ]);
  });
});

describe('a word that says nothing', () => {
  it('is the one that is too many', () => {
    expect(saidOfStatement('studs at 16in', 'wall')).toEqual([
      '"at" does not fit here; without it this is complete. Write studs 16in => studs 16in',
    ]);
  });
});

describe('two walls in one name', () => {
  it('are parted', () => {
    expect(saidOfStatement('corner back-left { owner left }', 'template')).toEqual([
      '"back-left" is one name, and two walls stand here side by side. Write corner back left => corner back left { owner left }',
    ]);
  });
});

describe('a text without quotation marks', () => {
  it.each<[text: string, place: BlockPlace, mended: string]>([
    ['project Quarry Lane { kerf 1/8in }', 'file', 'project "Quarry Lane" { kerf 1/8in }'],
    ['finish white', 'board', 'finish "white"'],
    ['finish white oak, oiled', 'board', 'finish "white oak, oiled"'],
    ['takes 3/8in for cup', 'hardware', 'takes 3/8in for "cup"'],
    [
      'accept rod-near-wall at u.a.r because agreed on site',
      'file',
      'accept rod-near-wall at u.a.r because "agreed on site"',
    ],
    ['screws #8 x 1-1/2in count 2 into wall', 'hardware', 'screws "#8 x 1-1/2in" count 2 into wall'],
    ['use ../shared as trade', 'file', 'use "../shared" as trade'],
  ])('is offered with them: %s', (text, place, mended) => {
    const written = /"(.*?)"/.exec(mended)?.[0];
    expect(saidOfStatement(text, place)).toEqual([
      `This is a text, and a text stands in quotation marks. Did you mean ${written}? => ${mended}`,
    ]);
  });
});

describe('a price', () => {
  it.each([
    ['length 8ft price €12.50', 'length 8ft price 12.50 EUR'],
    ['length 8ft price 12.50€ count 4', 'length 8ft price 12.50 EUR count 4'],
    ['length 8ft price 12.50 £', 'length 8ft price 12.50 GBP'],
  ])('with the sign of its currency is offered with its letters: %s', (text, mended) => {
    const meant = /[\d.]+ [A-Z]{3}/.exec(mended)?.[0];
    expect(saidOfStatement(text, 'stock')).toEqual([
      `A currency is written with its three letters, behind the number. Did you mean ${meant}? => ${mended}`,
    ]);
  });

  it('in dollars is asked for its currency, and so is the project', () => {
    const advice = 'A currency is written with its three letters, behind the number. Write for example: 12.50 EUR';
    expect(saidOfStatement('length 8ft price $12.50', 'stock').map((one) => one.split(' => ')[0])).toEqual([advice]);
    expect(saidOfStatement('currency $', 'project').map((one) => one.split(' => ')[0])).toEqual([advice]);
  });
});

describe('what stands once in each statement', () => {
  it('and is written as a list is offered in several', () => {
    expect(saidOfStatement('length 8ft, 12ft', 'stock')).toEqual([
      '"length" says one at a time. Write length 8ft; length 12ft => length 8ft; length 12ft',
    ]);
    expect(saidOfStatement('offcut 50in count 2, 40in, 30in', 'stock')).toEqual([
      '"offcut" says one at a time. Write offcut 50in count 2; offcut 40in; offcut 30in => offcut 50in count 2; offcut 40in; offcut 30in',
    ]);
  });
});

describe('the word of another thing', () => {
  it.each<[text: string, place: BlockPlace, mended: string]>([
    ['width 12in', 'board', 'depth 12in'],
    ['height 3/4in', 'board', 'thickness 3/4in'],
    ['color "white"', 'board', 'finish "white"'],
    ['thickness 1/16in', 'rod', 'tube 1/16in'],
    ['length 60in', 'garment', 'hang 60in'],
    ['height 72in', 'shelf', 'at 72in'],
    ['length 48in', 'zone', 'width 48in'],
    ['width 60in', 'wall', 'length 60in'],
    ['units inches', 'project', 'show inches'],
  ])('is told of with the one that is used here: %s', (text, place, mended) => {
    const [found] = saidOfStatement(text, place);
    expect(found).toContain(`Did you mean "${mended.split(' ')[0]}"? => ${mended}`);
  });

  it('is not taken for one that is only spelt like it', () => {
    expect(saidOfStatement('leaves sliding', 'wall')[0]).not.toContain('Did you mean');
  });

  it('is told of among kinds of fixtures too', () => {
    expect(saidOfStatement('fixture socket on back { from left 30in; height 16in }', 'template')[0]).toContain(
      'Did you mean "outlet"? => fixture outlet on back',
    );
  });
});

describe('a statement that reads like a sentence', () => {
  it.each<[text: string, place: BlockPlace, told: string]>([
    [
      'zone a on the back wall',
      'template',
      '"the" and "wall" say nothing here; without them this is complete. Write zone a on back => zone a on back',
    ],
    [
      'width 30in wide',
      'zone',
      '"wide" does not fit here; without it this is complete. Write width 30in => width 30in',
    ],
    [
      'from 2in',
      'opening',
      '"2in" does not fit here: after "from" there should be "left" or "right". Write from left 2in or from right 2in => from left 2in',
    ],
    [
      'studs 1in 17in 33in',
      'wall',
      'Between these a comma stands each time. Write studs 1in, 17in, 33in => studs 1in, 17in, 33in',
    ],
    ['length "60in"', 'wall', 'A number stands without quotation marks. Write 60in => length 60in'],
    ['length 60.5.2in', 'wall', '60.5.2in is no number. Write it with one point, or as a fraction: 60.5 or 60-1/2.'],
    [
      'wall "back" { length 60in }',
      'template',
      '"back" is a name here, and a name stands without quotation marks. Write back => wall back { length 60in }',
    ],
    [
      'swing inward',
      'opening',
      '"inward" does not fit here: after "swing" there should be "in" or "out". Did you mean "in"? => swing in',
    ],
    ['holds coat 10', 'hanging-rod', '"coat" and "10" stand in another order. Write holds 10 coat => holds 10 coat'],
  ])('is told without what says nothing in it: %s', (text, place, told) => {
    expect(saidOfStatement(text, place).filter((one) => !one.startsWith('A zone needs'))).toEqual([told]);
  });

  it('takes the rest of a wall by the word for that', () => {
    check(`template t {
  wall back { length 60in; height 96in }
  zone a on back { width rest }
//                       ^^^^ error name-not-known: There is no parameter or word "rest". Did you mean "fill"?
}
`);
  });
});

describe('a fixture that lacks a part', () => {
  it('is told by its name, with what it lacks', () => {
    const project = check(`template t {
    wall back { length 40in; height 96in }
    fixture outlet on back { from left 20in }
//  ^^^^^^^^^^^^^^^^^^^^^^ error phrase-not-understood: Fixture "outlet" does not say how high it is. Write for example: height 16in
    fixture slope on back { height 60in }
//  ^^^^^^^^^^^^^^^^^^^^^ error phrase-not-understood: Slope "slope" does not say how far out it reaches the full height.
}
`);
    expect(project.findings().flatMap(({ fixes }) => fixes.map(({ title }) => title))).toEqual([
      'Write height 16in',
      'Write run 36in',
    ]);
  });
});

describe('a limit without its word', () => {
  it('is offered with that, and not as a sag', () => {
    expect(saidOfStatement('rod-height at most 48in', 'policy')[0]).toContain(
      'Did you mean "limit rod-height at most 48in"?',
    );
  });
});

describe('a product without its sign', () => {
  it('is offered with it', () => {
    expect(saidOfStatement('width 1/2 whole', 'zone')).toEqual([
      'Between "1/2" and "whole" a * is missing. Write width 1/2 * whole => width 1/2 * whole',
    ]);
  });
});

describe('how many there are', () => {
  it('stands in the block, and not in place of a name', () => {
    expect(saidOfStatement('shelves 5 between low and top', 'zone')).toEqual([
      'How many there are stands in the block, and a name in its place. Write shelves row between low and top { count 5 } => shelves row between low and top { count 5 }',
    ]);
  });
});

describe('a count', () => {
  it('in a word is offered in digits', () => {
    check(`template t { wall back { length 60in; height 96in } }
unit u t { count three }
//               ^^^^^ error name-not-known: A count is written in digits, and "three" is a word. Write 3
`);
  });
});

describe('an angle', () => {
  it('without a unit of measure can only be degrees', () => {
    check(`template t {
  wall left { length 25in; height 96in }
  wall back { length 60in; height 96in }
  corner back left { angle 90 }
//                         ^^ error wrong-kind-of-quantity: Here should be an angle, and this is a count. Did you mean 90deg?
}
`);
  });
});

describe('a corner of walls that do not meet', () => {
  it('is told of where nothing but its owner is said', () => {
    check(`template t {
    wall left { length 25in; height 96in }
    wall back { length 60in; height 96in }
    wall right { length 25in; height 96in }
    corner left right { owner right }
//  ^^^^^^^^^^^^^^^^^ error corner-not-there: Walls left and right do not meet, so they have no corner. Walls that meet are left and back, back and right.
}
`);
  });
});

describe('an opening wider than its wall', () => {
  it('is told by its width, and not by where it ends', () => {
    check(`template t {
    wall front { length 60in; height 96in }
    opening front { width 72in; height 80in }
//  ^^^^^^^^^^^^^ error outside-its-wall: Opening "front" is 72in wide, and the front wall is 60in long. Make it at most 60in wide.
}
`);
  });
});

describe('what cannot stand in one place', () => {
  it('is told of zones with where each of them begins', () => {
    check(`template t {
  wall back { length 60in; height 96in }
  zone a on back from left 0in { width 30in }
//                               ^^^^^^^^^^ error widths-do-not-close: These cannot all hold: zone a is 30in wide; zone b stands 20in from the left end; zone a stands 0in from the left end. That takes 10in more than there is.
  zone b on back from left 20in { width 30in }
}
`);
  });

  it('is told of drawers with how high they are together', () => {
    check(`template t {
  wall back { length 60in; height 96in }
  zone a on back {
    width fill
    drawers d { at 0in; count 12; height 9in; depth 14in }
//  ^^^^^^^^^ error heights-do-not-close: the wall is 96in high; drawers d are 108in high, 12 of 9in each. That takes 12in more than there is. Make drawers d 12in less high in all.
  }
}
`);
  });
});
