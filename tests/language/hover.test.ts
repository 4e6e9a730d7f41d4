/** What is told about ranges, surveys, level lines, loose zones, rules and limits. Sums are worked out beside them. */
import { describe, expect, it } from 'vitest';
import { completionsAt } from '../../server/language/completion.ts';
import { cutListAt } from '../../server/language/cut-list.ts';
import { hoverAt } from '../../server/language/hover.ts';
import { cursor } from './marked.ts';
import { twoUnits } from './two-units.ts';

function told(marked: string): string {
  const { snapshot, at } = cursor(marked);
  return hoverAt(snapshot, at)?.text ?? '';
}

/** Where `part` stands once, with a cursor behind its first letter. */
function at(text: string, part: string): string {
  const [before, after, more] = text.split(part);
  expect([more, after === undefined], part).toEqual([undefined, false]);
  return `${before}${part.charAt(0)}|${part.slice(1)}${after}`;
}

const template = (parameters: string, zones: string): string => `template t {
  ${parameters}
  wall back { length width; height 96in }
  board white-12
  ${zones}
}
`;

describe('the ranges of a template', () => {
  const linear = template(
    'parameter width: length = 60in from 50in to 70in',
    'zone a on back { width 20in; shelf s { at 40in } }\n  zone b on back after a { width fill; shelf s { at 40in } }',
  );

  it('are proven where all lengths are linear, with every corner looked at', () => {
    const text =
      'Checked at both ends of each range (width 50in; width 70in; width 60in); between them it follows that zones and heights close, since all lengths are linear in the parameters.';
    for (const place of [
      'template t',
      't {\n  parameter',
      'parameter width',
      'width: length',
      '50in',
      '70in',
      'to 70in',
    ])
      expect(told(at(linear, place)), place).toContain(text);
    expect(told(`${linear}unit u |t`), 'named by a unit').toContain(text);
  });

  it('are only sampled where a length is not linear, or there are too many for all corners', () => {
    // A parameter times and over fixed numbers is linear; over another parameter it is not.
    const product = linear.replace('width 20in', 'width width * 1 / 3');
    expect(told(at(product, 'template t'))).toContain('Checked at both ends');
    const quotient = template(
      'parameter width: length from 50in to 70in\n  parameter n: count from 2 to 4',
      'zone a on back { width width / n; shelf s { at 40in } }\n  zone b on back after a { width fill; shelf s { at 40in } }',
    );
    // Two ranges: four corners.
    expect(told(at(quotient, 'template t'))).toMatch(
      /^Checked at 4 values .*; values in between are checked when a unit uses them\./,
    );
    const names = ['p', 'q', 'r', 's'];
    const five = linear.replace(
      'parameter width',
      `${names.map((n) => `parameter ${n}: length = 2in from 1in to 3in\n  `).join('')}parameter width`,
    );
    // All least, all greatest, and the values that hold where none is given.
    expect(told(at(five, 'template t'))).toMatch(/^Checked at 3 values/);
  });

  it('are only sampled where the number of shelves in a row follows from their pitch', () => {
    const row = (count: string): string =>
      template(
        'parameter width: length = 60in\n  parameter high: length from 80in to 90in',
        `zone a on back { width fill; shelf top { at high }; shelves row between floor and top { ${count}pitch from 8in to 14in } }`,
      );
    expect(told(at(row(''), 'template t'))).toMatch(/^Checked at 2 values \(.*\); values in between/);
    expect(told(at(row('count 6; '), 'template t'))).toMatch(/^Checked at both ends/);
  });

  it('are not called checked where something does not close, or has no value', () => {
    const broken = linear.replace('width 20in', 'width 65in');
    // At 50 in and at 60 in, 65 in is too much.
    expect(told(at(broken, 'template t'))).toContain('It does not close at width 50in.');
    const open = linear.replace('parameter width', 'parameter deep: length\n  parameter width');
    expect(told(at(open, 'template t'))).toContain('What rests on `deep` is checked when a unit gives it.');
    expect(told(at(open, 'template t'))).not.toContain('it follows');
  });

  it('are not spoken of where there are none', () => {
    expect(told(at(template('parameter width: length = 60in', ''), 'template t'))).not.toContain('Checked at');
  });
});

describe('a level line', () => {
  it('names the parts that belong to it', () => {
    const text = `template t {
  wall back { length 72in; height 96in }
  board white-12
  zone shirts on back { width 48in; shelf high { at 84in } }
  zone tower on back after shirts { width 24in; shelf t1 { at 84in }; shelf t2 { at 40in } }
}
unit u t
`;
    expect(told(at(text, 'shelf high'))).toContain('Level line at 84in, 72in long: shirts.high, tower.t1.');
    expect(told(at(text, 'shelf t1'))).toContain('Level line at 84in, 72in long: shirts.high, tower.t1.');
    expect(told(at(text, 'shelf t2'))).not.toContain('shirts.high');
  });
});

describe('a length that a survey replaces', () => {
  const text = `${template(
    'parameter width: length = 60in from 50in to 70in',
    'wall left { length 25in; height 96in }\n  zone a on back { width fill; shelf s { at 40in } }',
  )}unit u1 t { width 61in }
unit u2 t
unit u3 t { width 66in }
survey u1 { wall back { length 60-1/2in at 6in; length 60-3/8in at 90in } }
survey u2 { wall back { length 59-7/8in } }
`;

  it('says in which units, and what was measured', () => {
    const all = 'Surveys replace it in 2 units (u1, u2): 59-7/8in to 60-1/2in measured, in 3 readings.';
    expect(told(at(text, 'length width'))).toContain(all);
    expect(told(at(text, 'width;'))).toContain(all);
    expect(told(at(text, '60in from'))).toContain(all);
    expect(told(at(text, '61in'))).toContain('Its survey replaces it: 60-3/8in to 60-1/2in measured, in 2 readings.');
    expect(told(at(text, 'width 61in'))).toContain('Its survey replaces it');
  });

  it('says nothing of what was not measured', () => {
    expect(told(at(text, '66in'))).toBe('66in = 1676.4mm');
    expect(told(at(text, '25in'))).toBe('25in = 635mm');
  });
});

describe('a zone that is not given its width', () => {
  const text = `template t {
  wall back { length 90in; height 96in }
  board white-12
  zone a on back { width 20in; shelf s { at 40in } }
  zone b on back after a { width from 22in to 40in; shelf s { at 40in } }
  zone c on back after b { width fill; shelf s { at 40in } }
}
unit u t
`;

  it('says what is left, of what, and beside what', () => {
    // 90 - 20 - 22 = 48 in; at most 90 - 20 - 22, at least 90 - 20 - 40 = 30 in.
    const c =
      'What is left of wall back (90in) beside a (20in), b (22in). Its width may be 30in to 48in; it follows from the others.';
    expect(told(at(text, 'zone c'))).toContain(`**48in** wide in 1 unit, its left end 42in along wall back.\n\n${c}`);
    expect(told(at(text, 'fill'))).toContain(c);
    expect(told(at(text, 'width fill'))).toContain(c);
  });

  it('says its range, and that the least is taken', () => {
    expect(told(at(text, 'zone b'))).toContain(
      'Within the range that is written. Its width may be 22in to 40in; the least is taken.',
    );
    expect(told(at(text, 'zone a'))).toContain('As it is written.');
  });

  it('shares within another zone', () => {
    const shared = text.replace(
      'width 20in; shelf s { at 40in }',
      'width 20in\n    zone l { width share; shelf s { at 40in } }\n    zone r after l { width share; shelf s { at 40in } }\n  ',
    );
    expect(told(at(shared, 'zone l'))).toContain('An equal share of what is left of zone a (20in) beside a.r (10in).');
  });
});

describe('rules and limits', () => {
  const head = 'policy p {\n';

  it('are told in full', () => {
    const rule = told(`${head}  treat garment-meets-|floor as note\n}\n`);
    expect(rule).toContain('**A garment reaches the floor**');
    expect(rule).toContain('`garment-meets-floor`: warning, hanging');
    expect(rule).toContain('Compared: `height of the rod - hanging length >= clear-below-garment`');
    expect(rule).toContain('Common practice, no source.');
    expect(told('accept rod-near-|wall at u.a.r because "a low ceiling"\n')).toContain('**A rod is too near the wall');
    const limit = told(`${head}  limit clear-above-|rod at least 2in\n}\n`);
    expect(limit).toContain('From the centre of a rod to the underside of what is above it');
    expect(limit).toContain('At least 1-1/2in by default.');
    expect(limit).toContain('Read by `rod-near-shelf`.');
  });

  it('are offered with what they say', () => {
    const offered = (marked: string, label: string) => {
      const { snapshot, at: offset } = cursor(marked);
      return completionsAt(snapshot, offset).find((c) => c.label === label);
    };
    const rule = offered('accept | at u.a because "so"\n', 'rod-near-wall');
    expect(rule?.detail).toBe('A rod is too near the wall behind it for its hangers');
    expect(rule?.doc?.()).toContain('Compared:');
    const limit = offered(`${head}  limit |\n}\n`, 'rod-height');
    expect(limit?.detail).toBe('From the floor to the centre of a rod.');
    expect(limit?.doc?.()).toContain('No limit by default.');
  });
});

describe('loose parts', () => {
  const text = `board white-12 { depth 12in; thickness 3/4in }
extra tops { board white-12; length 30in; count 4 }
extra cleats { board white-12; length from 8in to 16in; count up to 12 }
`;

  it('say what is cut of them, and for which of them nothing is bought', () => {
    expect(told(at(text, 'extra tops'))).toContain('Cut 4 of **30in** of `white-12`.');
    expect(told(at(text, 'extra cleats'))).toContain(
      'Up to 12 of **8in to 16in** of `white-12`, cut from what is left',
    );
  });
});

describe('the cut list of a template', () => {
  it('holds the units of templates that extend it', () => {
    const text = `template base {
  wall back { length 60in; height 96in }
  board white-12
  zone a on back { width fill; shelf s { at 40in } }
}
template more extends base { zone a { shelf s2 { at 60in } } }
template other { wall back { length 30in; height 96in } }
unit u1 base
unit u2 more
unit u3 other
`;
    const list = (part: string): string => {
      const { snapshot, at: offset } = cursor(at(text, part));
      return cutListAt(snapshot, offset)?.text ?? '';
    };
    // Three shelves of 60 in: one of u1, two of u2.
    expect(list('template base')).toMatch(/^ +3 +60in/m);
    expect(list('template more')).toMatch(/^ +2 +60in/m);
    expect(list('template other')).not.toContain('60in');
  });
});

describe('a matched set', () => {
  const matched = template(
    'parameter width: length = 60in',
    'zone a on back { width 20in; shelf low { at 40in; matched row } }\n  zone b on back after a { width fill; shelf high { at 80in; matched row } }',
  );

  it('is told where one of its parts stands, in its order', () => {
    const text = 'Matched set `row`: from one board of `white-12`, one after another: a.low (20in), b.high (40in).';
    expect(told(at(`${matched}unit u t`, 'shelf low'))).toContain(text);
    expect(told(at(`${matched}unit u t`, 'shelf high'))).toContain(text);
    expect(told(at(matched, 'shelf high')), 'of the template alone').toContain(text);
  });

  it('of one part says so', () => {
    const alone = matched.replace('shelf high { at 80in; matched row }', 'shelf high { at 80in }');
    expect(told(at(`${alone}unit u t`, 'shelf low'))).toContain('Matched set `row` has no other part of `white-12`.');
    expect(told(at(`${alone}unit u t`, 'shelf high'))).not.toContain('Matched set');
  });
});

describe('a part that is cut differently in different units', () => {
  const linear = template(
    'parameter width: length from 50in to 70in',
    'zone a on back { width 20in; shelf first { at 40in } }\n  zone b on back after a { width fill; shelf second { at 40in } }',
  );
  const used = `${linear}unit north t { width 60in }\nunit south t { width 70in }\n`;

  it('is shown to come to its length in one of them, which is named', () => {
    // 60 - 20 = 40, and 70 - 20 = 50.
    const text = told(at(used, 'shelf second'));
    // What stands in the template beside it is the whole range: 50 - 20 = 30.
    expect(text).toContain(
      'Cut **40in to 50in** of `white-12` in 2 units (30in to 50in over the ranges of the template).\n\nIn north:\n\n```text\n  60in  wall back',
    );
    expect(text).toContain('40in  finished length of b.second');
  });

  it('is shown for all at once where the length is the same', () => {
    expect(told(at(used, 'shelf first'))).not.toContain('In north');
    expect(told(at(linear, 'shelf second'))).not.toMatch(/^In /m);
  });
});

describe('a thing that an override names', () => {
  const text = `${template('', 'zone a on back { width fill; shelf s { at 80in } }').replace('length width', 'length 40in')}unit u1 t {}
unit u2 t { override a.s { at 70in } }
unit u3 t { override a { width 30in } }
`;

  it('is told as it is in the unit around, and compared there', () => {
    const hover = told(at(text, 'a.s').replace('a|.s', 'a.s|'));
    expect(hover).toContain('Cut **40in** of `white-12` in u2.');
    expect(hover).toContain('At 70in, from the finished floor to its underside.');
    expect(hover).toContain('Compared in u2:');
    expect(hover).not.toContain('units');
    expect(told(at(text, 'a {').replace('a| {', 'a| {'))).toContain(
      '**30in** wide in u3 (40in over the ranges of the template), its left end',
    );
  });

  it('is told of all units in the template', () => {
    const hover = told(at(text, 'shelf s'));
    expect(hover).toContain('in 3 units');
    expect(hover).toContain('At 70in to 80in');
    expect(hover).toContain('one of 3 units:');
  });
});

describe('a thing at which a finding is agreed to', () => {
  const text = `${template('', 'zone a on back { width fill; shelf s { at 80in } }').replace('length width', 'length 40in')}unit u1 t {}
unit u2 t { override a.s { at 70in } }
unit u3 t { override a { width 30in } }
`;
  const accept = (place: string): string => told(`${text}accept ends-in-the-air at ${place} because "so"\n`);

  it('is told as it is in the unit whose path it is, and compared there', () => {
    const hover = accept('u2.a.s|');
    expect(hover).toContain('Cut **40in** of `white-12` in u2.');
    expect(hover).toContain('At 70in, from the finished floor to its underside.');
    expect(hover).toContain('Compared in u2:');
    expect(hover).not.toContain('units');
    expect(accept('u3.a|')).toContain('**30in** wide in u3');
    expect(accept('u3.a|.s')).toContain('**30in** wide in u3');
  });

  it('is told of all units in the path of a template', () => {
    expect(accept('t.a.s|')).toContain('in 3 units');
  });

  it('is told of the one unit that is named alone', () => {
    expect(accept('u2|')).toContain('unit u2 t');
    expect(accept('u2|.a.s')).toContain('unit u2 t');
  });
});

describe('a wall', () => {
  const walls = template(
    '',
    'wall left { length 25in; height 96in }\n  zone a on back { width 20in; shelf s { at 40in } }',
  );
  const text = `${walls.replace('length width', 'length 60in')}unit u t\n`;

  it('that carries zones says what they leave over', () => {
    // 60 - 20 = 40.
    expect(told(at(text, 'wall back'))).toContain('Left over: 40in.');
    expect(told(at(text.replace('width 20in', 'width fill'), 'wall back'))).toContain('Nothing is left over.');
  });

  it('without any says nothing of it', () => {
    const hover = told(at(text, 'wall left'));
    expect(hover).toContain('Drawn **25in** long in 1 unit.');
    expect(hover).not.toMatch(/left over/i);
  });
});

describe('the head of a word', () => {
  it('is written as the reference has it', () => {
    const text = told(at(template('', 'zone a on back { width from 20in to 30in at least 4in }'), 'width from'));
    expect(text).toContain('at least <at-least>');
    expect(told('un|it u t')).toContain('unit <name> <template> [mirrored]');
    for (const internal of ['atLeast', ':length', ':ref', ':name']) expect(text).not.toContain(internal);
  });
});

describe('what is declared elsewhere, named here', () => {
  const materials = `/// For closets.
board pine { depth 12in; thickness 3/4in }
rod steel { diameter 1-1/4in }
stock pine { length 8ft price 18.90 EUR; length 12ft count 3; offcut 50in count 2 }
`;
  const closets = `template t {
  parameter width: length = 60in
  parameter made: board
  wall back { length width; height 96in }
  zone a on back { width fill; board made; shelf s { at 60in }; shelf low { at 30in } }
}
unit u t { made pine }
unit v t { made pine; count 2; width 50in }
`;
  const all = materials + closets;

  it('is told with what it says, what it comes in and what is cut from it', () => {
    const text = told(all.replace('unit u t { made pine', 'unit u t { made pi|ne'));
    expect(text).toBe(
      [
        '```closet\nboard pine { depth 12in; thickness 3/4in }\n```',
        'For closets.',
        'Stock: 96in at 18.90 EUR, 3 × 144in, 2 offcuts of 50in. 6 parts of it in 3 units, the longest 60in.',
      ].join('\n\n'),
    );
  });

  it('is told where it is declared without what stands there', () => {
    const text = told(all.replace('board pine', 'board pi|ne'));
    expect(text).toMatch(/^```closet\nboard pine\n```/);
    expect(text).toContain('6 parts of it in 3 units');
  });

  it('says so where there is no stock and nothing is cut', () => {
    expect(told(all.replace('rod steel', 'rod ste|el'))).toContain(
      'No stock of it is declared. Nothing is cut from it.',
    );
  });

  it('is told as one part where there is one', () => {
    const one = all.replace('; shelf low { at 30in }', '').replace('unit v t { made pine; count 2; width 50in }\n', '');
    expect(told(one.replace('board pine', 'board pi|ne'))).toContain('1 part of it in 1 unit: 60in.');
  });

  it('is told by its head where it is long', () => {
    const long = `board pine {\n${'  // So much is said of it.\n'.repeat(12)}  depth 12in\n}\n`;
    expect(told(`${long}stock pi|ne { length 8ft }\n`)).toMatch(/^```closet\nboard pine\n```/);
  });

  it('is a template by its head and what it asks for', () => {
    expect(told(all.replace('unit u t', 'unit u t|'))).toMatch(
      /^```closet\ntemplate t\n {2}parameter width: length = 60in\n {2}parameter made: board\n```/,
    );
  });
});

describe('what rests on something that cannot be read', () => {
  const shelf = (text: string): string => told(text.replace('shelf s', 'shelf |s'));
  const unit = (text: string): string => told(text.replace('unit v', 'unit |v'));
  const notYet = '**Do not cut by this yet:** ';

  it('is told with that, of a unit and of a part', () => {
    for (const text of [shelf(twoUnits), unit(twoUnits)]) expect(text).not.toContain(notYet);
    const broken = twoUnits.replace('at 60in }', 'at 60in } shelf t { at 4O in }');
    expect(unit(broken)).toContain(`${notYet}not all of what it is built of can be read.`);
    expect(shelf(broken)).toContain(`${notYet}not all of what the 2 units are built of can be read.`);
  });

  it('names the unit, or says of how many of them it is so', () => {
    const broken = twoUnits.replace('width 50in', 'width 5O in');
    expect(shelf(broken)).toContain(`${notYet}not all of what unit v is built of can be read.`);
    const third = `${broken}unit w t { width 5l in }\nunit x t\n`;
    expect(shelf(third)).toContain(`${notYet}not all of what 2 of the 4 units are built of can be read.`);
  });

  it('goes before the cut list of a unit in which there are errors', () => {
    const tooHigh = twoUnits.replace('shelf s { at 60in }', 'shelf s { at 97in }');
    expect(unit(tooHigh)).toMatch(
      /\*\*Do not cut by this yet:\*\* there (?:is|are) \d errors? in this unit\.\n\n```text/,
    );
  });
});
