/** Templates written into what is built on them. What is built stays, or it is not offered. */
import { describe, expect, it } from 'vitest';
import { made, titleOf } from './support.ts';

const base = `/// The plain one.
template base {
  parameter width: length = 94in
  board white-12
  pole chrome
  // The plan has the last word.
  wall left { length 25in; height 96in; studs 4in }
  wall back { length width; height 96in }
  wall right { length 25in; height 96in }
  opening front { width 60in; height 80in }

  zone a on back {
    width 48in // wide
    shelf high { at 84in; load 20 lbf/ft2 }
    rod r { under high by 3in; for shirt }
    shelves row between low and high { count 2 }
    shelf low { at 30in }
  }
  gap g on back after a { width 2in }
}
`;

describe('what a template extends', () => {
  const id = 'inline-base';

  it('is written into it, each thing where the other has it, and the clause goes', () => {
    const texts = {
      'base.closet': base,
      'heir.closet': `/// With a tower.
template |heir extends base {
  parameter width: length = 96in from 92in to 98in
  depth 12in
  zone a {
    width fill at least 40in
    // Lower than before.
    shelf high { at 80in }
  }
  zone b on back after g { width 20in; shelf s { at 40in } }
}

unit u heir
unit v base
`,
    };
    expect(titleOf(texts, id)).toBe('Write what "base" says into template "heir"');
    const after = made(texts, id);
    expect(after['base.closet']).toBe(base);
    expect(after['heir.closet']).toBe(`/// With a tower.
template heir {
  parameter width: length = 96in from 92in to 98in
  board white-12
  pole chrome
  // The plan has the last word.
  wall left { length 25in; height 96in; studs 4in }
  wall back { length width; height 96in }
  wall right { length 25in; height 96in }
  opening front { width 60in; height 80in }

  zone a on back {
    width fill at least 40in
    // Lower than before.
    shelf high { at 80in; load 20 lbf/ft2 }
    rod r { under high by 3in; for shirt }
    shelves row between low and high { count 2 }
    shelf low { at 30in }
  }
  gap g on back after a { width 2in }
  depth 12in
  zone b on back after g { width 20in; shelf s { at 40in } }
}

unit u heir
unit v base
`);
  });

  it('goes step by step where that one extends another in turn', () => {
    const texts = {
      'main.closet': `${base}
template middle extends base {
  zone a from right { }
  gap g before a { width 3in }
}
template |heir extends middle { zone a { width 40in } }
unit u heir
unit v heir mirrored
`,
    };
    const once = made(texts, id)['main.closet'] ?? '';
    expect(once).toContain(`template heir extends base {
  zone a from right { width 40in }
  gap g before a { width 3in }
}`);
    const twice = made({ 'main.closet': once.replace('template heir', 'template |heir') }, id)['main.closet'];
    expect(twice).toContain('template heir {\n  parameter width: length = 94in\n');
    expect(twice).toContain('zone a on back from right {\n');
    expect(twice).toContain('gap g on back before a { width 3in }');
  });

  it('keeps what has another word in the place of what it replaces, and the line ends of its file', () => {
    const texts = {
      'base.closet': base,
      'heir.closet': 'template |heir extends base {\r\n  zone g on back after a { width 4in }\r\n}\r\nunit u heir\r\n',
    };
    const after = made(texts, id)['heir.closet'] ?? '';
    expect(after.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(after).toContain('  }\r\n  zone g on back after a { width 4in }\r\n}\r\nunit u heir\r\n');
  });

  it('is not spoken of where nothing is extended, in a circle, or in a text half typed', () => {
    expect(titleOf({ 'main.closet': base.replace('template', 'tem|plate') }, id)).toBeUndefined();
    expect(titleOf({ 'main.closet': 'template |t extends t { }\n' }, id)).toBeUndefined();
    expect(() => titleOf({ 'main.closet': 'template |t extends s { \ntemplate s extends t { ' }, id)).not.toThrow();
    expect(titleOf({ 'main.closet': `${base}template |t extends base { zone a {\n` }, id)).toContain('not closed');
  });
});

describe('a template of a library that another extends', () => {
  const id = 'inline-base';
  const library = `board pine { depth 14in; thickness 3/4in; carried by cleat }
hardware cleat { is support; spacing at most 24in }
garment cape { hang 50in; hanger 20in }
template base {
  parameter made: board = pine
  wall back { length 60in; height 96in }
  board made
  pole chrome
}
template closet extends base {
  zone a on back { width fill; shelf s { at 60in; carried by cleat }; rod r { under s by 3in; for cape, shirt } }
}
`;
  const texts = (template: string) => ({
    '/trade/all.closet': `rod chrome { diameter 1in }\n${library}`,
    'main.closet': `use "../trade" as trade\n\n${template}\n\nunit u heir\n`,
  });

  it('is written with the name of the library before what it names there, and before what it extends', () => {
    const after = made(
      texts('template |heir extends trade.closet { zone a { shelf low { at 30in; board white-12 } } }'),
      id,
    );
    expect(after['main.closet']).toBe(`use "../trade" as trade

template heir extends trade.base {
  zone a on back {
    width fill
    shelf s { at 60in; carried by trade.cleat }
    rod r { under s by 3in; for trade.cape, shirt }
    shelf low { at 30in; board white-12 }
  }
}

unit u heir
`);
  });

  it('leaves parameters as they are, but for what they hold', () => {
    const after = made(
      texts('template |heir extends trade.base { zone a on back { width fill; shelf s { at 60in } } }'),
      id,
    );
    expect(after['main.closet']).toContain(`template heir {
  parameter made: board = trade.pine
  wall back { length 60in; height 96in }
  board made
  pole trade.chrome
`);
  });
});

describe('a template that extends another, at a unit', () => {
  const id = 'inline-template';

  it('becomes overrides of the unit, which is built on the other', () => {
    const texts = {
      'templates.closet': `${base}
template heir extends base {
  parameter width: length = 96in
  parameter top: length = 80in
  parameter more: length
  // Measured twice.
  wall left { length 26in } // by two
  zone a { shelf high { at top - more }; rod r { at 75in } }
}
`,
      'units.closet': `unit u| heir { floor 1; more 2in; override a.low { at 20in }; phase 3 }
`,
    };
    expect(titleOf(texts, id)).toBe('Build unit "u" on "base", with what "heir" changes of it as overrides');
    expect(made(texts, id)['units.closet']).toBe(`unit u base {
  floor 1
  width 96in
  override left { length 26in }
  override a.high { at 80in - 2in }
  override a.r { at 75in; under high by 3in }
  override a.low { at 20in }
  phase 3
}
`);
  });

  it('is turned round where the unit is mirrored, since overrides are stated as on site', () => {
    const texts = {
      'main.closet': `${base}
template heir extends base { wall left { length 26in; studs 5in }; opening front { from left 2in } }
|unit u heir mirrored
`,
    };
    expect(made(texts, id)['main.closet']).toContain(
      `unit u base mirrored {
  override right { length 26in; studs from right 5in }
  override front { from right 2in }
}`
        .replace('{\n  ', '{ ')
        .replace('\n  ', '; ')
        .replace('\n}', ' }'),
    );
  });

  it('stays where a unit could not say it, with the reason', () => {
    const reason = (heir: string): string | undefined =>
      titleOf({ 'main.closet': `${base}template heir extends base { ${heir} }\n|unit u heir\n` }, id)?.replace(
        /^.* as overrides /,
        '',
      );
    expect(reason('zone b on left { width fill }')).toBe(
      '("zone b on left" is new in the template, and a unit can only change what is there.)',
    );
    expect(reason('depth 10in')).toBe('("depth 10in" is said of the whole template, and no unit can say that.)');
    expect(reason('zone a from left 3in { }')).toBe(
      '("zone a from left 3in" stands elsewhere than in the template below, and a unit can only change what is in a block.)',
    );
    expect(reason('corner back left { owner left }')).toBe(
      '("corner back left" is about a corner, and no unit can change one.)',
    );
    expect(reason('parameter more: length; zone a { width more }')).toBe(
      '(The unit gives no "more", which its template asks for.)',
    );
    expect(titleOf({ 'main.closet': `${base}unit u ba|se\n` }, id)).toBe(
      'Write what "base" says into unit "u" (A unit says what is different from a template, and this one extends none that would be left.)',
    );
  });

  it('takes back what was extracted', () => {
    const text = `${base}
|unit u base {
  floor 1
  override a.high { at 74in }
  override g { width 3in }
}
`;
    const there = made({ 'main.closet': text }, 'extract-template')['main.closet'] ?? '';
    const back = made({ 'main.closet': there.replace('unit u', '|unit u') }, id)['main.closet'] ?? '';
    expect(back.slice(back.indexOf('unit u'))).toBe(text.slice(text.indexOf('|unit u') + 1));
  });
});

describe('a comment that has no place in what is written', () => {
  const texts = (heir: string) => ({ 'base.closet': base, 'heir.closet': `${heir}\nunit u heir\nunit v base\n` });

  it('is not lost: the refactoring is not offered, and says which', () => {
    const lost = 'The comment "/* agreed on site */" would be lost: put it on a line of its own.';
    const heir = 'template |heir extends base { zone a /* agreed on site */ { width 40in } }';
    expect(titleOf(texts(heir), 'inline-base')).toContain(lost);
    const moved = 'template |heir extends base {\n  // agreed on site\n  zone a { width 40in }\n}';
    expect(made(texts(moved), 'inline-base')['heir.closet']).toContain('// agreed on site');
  });

  it('stays behind the head of a unit', () => {
    const heir = 'template heir extends base { zone a { width 40in } }\nunit |w heir mirrored /* three */ { floor 1 }';
    expect(made(texts(heir), 'inline-template')['heir.closet']).toContain('unit w base mirrored /* three */ {');
  });
});

it('a template that extends itself by another is not written into it', () => {
  const text = 'template |wide extends deep { }\ntemplate deep extends wide { }\n';
  expect(titleOf({ 'main.closet': text }, 'inline-base')).toContain('(Each of the two extends the other.)');
});
