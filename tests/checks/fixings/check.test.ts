/** What the checks of fixings find, record and offer: each just passing, and failing by as little as can be. */
import { describe, expect, it } from 'vitest';
import { spanOf } from '../../../grammar/tree.ts';
import { fixingChecks } from '../../../server/checks/fixings/check.ts';
import type { Finding } from '../../../server/model/finding.ts';
import { projectOf } from '../../model/support.ts';
import { checked, hardware, ids, only, unitOf } from './texts.ts';

const shelf = (carried: string, more = ''): string =>
  `zone a on back { width fill; shelf s { at 72in; carried by ${carried}${more} } }`;
const withHardware = (...own: string[]): string => [...own, hardware.plug].join('\n');

describe('every rule of fixings', () => {
  it('has a caution where something can come down, and says where it comes from', () => {
    const rules = fixingChecks.flatMap((check) => check.rules);
    expect(new Set(rules.map(({ id }) => id)).size).toBe(rules.length);
    for (const rule of rules) {
      expect(rule.family).toBe('fixing');
      expect(['common-practice', 'language', 'published']).toContain(rule.source.kind);
      expect(`${rule.title} ${rule.explanation} ${rule.caution}`).not.toMatch(/\bsafe\b|\bcompliant\b/i);
      if (rule.severity !== 'note') expect(rule.caution ?? '').toMatch(/come first|licensed/);
    }
  });
});

describe('every finding', () => {
  it('was recorded, as a comparison that does not hold or as a fact that is lacking', () => {
    const own = withHardware(
      'hardware thing { takes 1in }',
      'hardware rear { is support; in-stud 3; screws "long ones" }',
      'hardware angle { is bracket; reach 13in; least 2; anchor plug }',
      hardware.hook,
      hardware.pin,
      'hardware short { is bracket; reach 9in; spacing at most 1/64in; anchor plug }',
    ).replace('rated 50 lb', 'rated 5 lb');
    const inside = `zone a on back { width fill
    panels sides { height 84in }
    shelf s { at 80in; carried by angle, rear, thing }
    rod r { at 70in; for shirt; carried by hook }
    rod q { at 82in; for shirt; carried by hook }
    shelf t { at 60in; carried by short }
    shelf n { at 50in }
  }`;
    const sides =
      'wall left { length 25in; height 96in }\n  fixture outlet on back { from left 20in; height 60in; clear 2in }';
    const units = [
      unitOf(inside, { hardware: own, sides }),
      unitOf(shelf('rear, peg'), { hardware: own, studs: '' }),
      unitOf(shelf('peg'), { hardware: own }),
      unitOf(shelf('angle'), {
        length: '96in',
        unit: 'unit u t\nsurvey u { wall back { length 96in; studs 14in, 30in, 48in, 64in, 80in } }',
      }),
    ].map(checked);
    const found = new Set<string>();
    for (const { findings, looked, lacked } of units)
      for (const { rule, message } of findings) {
        found.add(rule.id);
        const told = looked.some((l) => l.rule === rule && !l.holds) || lacked.some((l) => l.rule === rule);
        expect(told, `${rule.id}: ${message}`).toBe(true);
      }
    // Each rule was found broken by one of them.
    expect([...found].sort()).toEqual(fixingChecks.flatMap((check) => check.rules.map(({ id }) => id)).sort());
  });
});

describe('a stud that is asked for', () => {
  const one = (shift: string): string =>
    withHardware(
      `hardware rear { is support; spacing at most 24in; inset 2in; in-stud 1; shift ${shift}; anchor plug; screws "#8 x 1-1/2 in" count 2 }`,
    );
  // On 24 in the two stand at 2 and 22 in.
  const tower = (shift: string, studs = 'studs 14in') =>
    unitOf(shelf('rear'), { length: '24in', studs, hardware: one(shift) });

  it('is met, or missed by a tick', () => {
    expect(ids(checked(tower('0in', 'studs 2-1/2in')))).toEqual([]);
    // 0.501 in off its centre: lengths are not written finer than by 0.001 in.
    expect(ids(checked(tower('0in', 'studs 2.501in')))).toEqual(['stud-missed']);
  });

  it('is told with all numbers, and the least shift that reaches one is offered', () => {
    const found = only(checked(tower('7in')), 'stud-missed');
    expect(found.severity).toBe('error');
    expect(found.message).toBe(
      'None of the 2 "rear" of shelf "a.s" meets a stud, and 1 must. They stand at 2in and 22in along the back wall; its studs are at 14in.',
    );
    expect(found.comparison).toEqual({
      what: 'rear in a stud',
      measured: { count: 0 },
      relation: 'at least',
      limit: { count: 1 },
    });
    // 22 - 14 = 8 in; from 2 in it would be 12.
    expect(found.fixes.map(({ title }) => title)).toEqual(['Write 8in instead of 7in for rear']);
    expect(ids(checked(tower('8in')))).toEqual([]);
  });

  it('is not looked for where studs are not stated: that is told', () => {
    const made = checked(tower('8in', ''));
    expect(ids(made)).toEqual(['studs-not-stated']);
    expect(made.lacked.map(({ rule, needs }) => `${rule.id}: ${needs}`)).toEqual([
      'stud-missed: the studs of the back wall',
      'anchor-not-named: the studs of the back wall',
      'studs-not-stated: the studs of the back wall',
    ]);
  });

  it('is recorded where it is met, with where everything stands', () => {
    const made = checked(tower('8in')).looked.find(({ rule }) => rule.id === 'stud-missed');
    expect(made?.holds).toBe(true);
    expect(made?.working).toEqual([
      { what: 'rear on the back wall', value: '2in', how: 'meets no stud: plug' },
      {
        what: 'rear on the back wall',
        value: '14in',
        how: 'moved 8in to the left; meets the stud at 14in, within 1/2in',
      },
    ]);
  });
});

describe('an anchor', () => {
  const bare = 'hardware rear { is support; spacing at most 24in; screws "#8 x 1-1/2 in" }';

  it('has to be named where no stud is met', () => {
    const found = only(checked(unitOf(shelf('rear'), { hardware: bare })), 'anchor-not-named');
    expect(found.message).toBe(
      'All 3 "rear" of shelf "a.s" meet no stud, at 0in, 24in and 48in along the back wall, and "rear" names no anchor.',
    );
    expect(found.fixes).toEqual([]);
    expect(ids(checked(unitOf(shelf('rear'), { studs: 'studs 0in, 24in, 48in', hardware: bare })))).toEqual([]);
  });

  it('is the one that other hardware of the unit names', () => {
    const own = withHardware(bare, hardware.angle);
    const found = only(checked(unitOf(shelf('rear, angle'), { hardware: own })), 'anchor-not-named');
    expect(found.fixes.map(({ title }) => title)).toEqual(['Write anchor plug']);
  });
});

describe('the rating of an anchor', () => {
  const rated = (rating: string) =>
    checked(
      unitOf(shelf('angle, rear'), {
        hardware: [hardware.angle, hardware.rear, `hardware plug { is anchor${rating} }`].join('\n'),
      }),
    );

  it('is at least 50 lb, and told once where it is less', () => {
    expect(ids(rated('; rated 50 lb'))).toEqual([]);
    const found = only(rated('; rated 49.9 lb'), 'anchor-rated-low');
    expect(found.message).toBe(
      'Anchor "plug" is rated for 49.9 lb, and is set where fixings meet no stud, as of shelf "a.s"; common practice is 50 lb at the least.',
    );
  });

  it('that is not stated is told', () => {
    expect(rated('').lacked.map(({ rule, needs }) => `${rule.id}: ${needs}`)).toEqual([
      'anchor-rated-low: what plug is rated for',
    ]);
  });
});

describe('a rod under hooks', () => {
  const rod = (from: string, more = '') =>
    unitOf(
      `zone a on back { width fill; shelf s { at 72in; carried by angle }; rod r { under s by 3in; ${from}for shirt; carried by hook${more} } }`,
    );

  it('stands where they hold it', () => {
    // 12 - 3 = 9 in
    expect(ids(checked(rod('from wall 9in; ')))).toEqual([]);
    const found = only(checked(rod('from wall 9-1/64in; ')), 'hook-off-rod');
    expect(found.message).toBe(
      'Rod "a.r" is drawn 9-1/64in from the back wall; "hook", 3in back from the front of "angle" (12in), holds it 9in from it.',
    );
    expect(found.fixes.map(({ title }) => title)).toEqual(['Write 9in instead of 9-1/64in for r']);
  });

  it('is told where its own distance is not written', () => {
    expect(only(checked(rod('')), 'hook-off-rod').fixes.map(({ title }) => title)).toEqual(['Write from wall 9in']);
  });

  it('needs a bracket over it', () => {
    const made = unitOf(
      'zone a on back { width fill; shelf s { at 72in; carried by rear }; rod r { under s by 3in; for shirt; carried by hook } }',
    );
    expect(ids(checked(made))).toContain('hook-without-bracket');
  });

  it('is not compared without the reach of the bracket: that is told', () => {
    const own = withHardware('hardware angle { is bracket; inset 6in; least 2; anchor plug }', hardware.hook);
    const made = unitOf(
      'zone a on back { width fill; shelf s { at 72in; carried by angle }; rod r { under s by 3in; for shirt; carried by hook } }',
      { hardware: own },
    );
    expect(checked(made).lacked.map(({ rule, needs }) => `${rule.id}: ${needs}`)).toEqual([
      'bracket-past-shelf: the reach of "angle"',
      'shelf-past-bracket: the reach of "angle"',
      'hook-off-rod: the reach of "angle"',
    ]);
  });
});

describe('a bracket', () => {
  const reaching = (reach: string) =>
    unitOf(shelf('angle'), {
      hardware: withHardware(`hardware angle { is bracket; reach ${reach}; least 2; anchor plug }`),
    });

  it('reaches as far as its shelf', () => {
    expect(ids(checked(reaching('12in')))).toEqual([]);
    expect(ids(checked(reaching('12.001in')))).toEqual(['bracket-past-shelf']);
    expect(ids(checked(reaching('11.999in')))).toEqual(['shelf-past-bracket']);
  });
});

describe('a tower', () => {
  const tower = (carried: string): string =>
    `zone a on back { width 24in; ${carried}panels sides; shelf top { at 84in; fixed; carried by clip } }`;

  it('is tied to the wall where anything says what carries it', () => {
    expect(ids(checked(unitOf(tower('carried by strap; '))))).toEqual([]);
    const made = checked(unitOf(tower('')));
    // Both panels are compared, and told together.
    expect(made.looked.filter(({ rule }) => rule.id === 'tower-not-tied').map(({ holds }) => holds)).toEqual([
      false,
      false,
    ]);
    expect(made.findings.map(({ message, about }) => [about, message])).toEqual([
      ['a.sides', 'Panels "a.sides.left" and "a.sides.right" are 84-3/4in high, and nothing ties them to the wall.'],
    ]);
    expect(made.findings[0]?.rule.caution).toMatch(/tip onto somebody/);
  });

  it('is not asked where nothing does: that is told', () => {
    const made = checked(unitOf('zone a on back { width 24in; panels sides; shelf top { at 84in; fixed } }'));
    expect(ids(made)).toEqual([]);
    expect(made.lacked.map(({ rule }) => rule.id)).toEqual(['tower-not-tied', 'tower-not-tied', 'part-not-carried']);
  });

  it('is tall from 27 in on', () => {
    const low = (height: string): string =>
      `zone a on back { width 24in; panels sides { height ${height} }; shelf s { at 20in; carried by clip } }`;
    expect(ids(checked(unitOf(low('26.999in'))))).toEqual([]);
    expect(ids(checked(unitOf(low('27in'))))).toEqual(['tower-not-tied']);
  });
});

describe('what is missing', () => {
  it('is told for a shelf that nothing carries beside one that something does', () => {
    const made = unitOf(
      'zone a on back { width fill; shelf s { at 72in; carried by angle }; shelf t { at 40in }; shelf u { at 20in; carried by hook } }',
    );
    expect(checked(made).findings.map(({ message }) => message)).toEqual([
      'Nothing says what carries shelf "a.t".',
      'Shelf "a.u" is carried by "hook", and that holds no shelf where this one stands.',
    ]);
  });

  it('is told once for hardware without a role, and for the size of a screw', () => {
    const own = withHardware(
      'hardware thing { takes 1in }',
      'hardware rear { is support; anchor plug; screws "long ones"; screws "#8 x 1 in self-drilling" }',
    );
    const made = unitOf(
      'zone a on back { width fill; carried by rear, thing; shelf s { at 72in }; shelf t { at 40in } }',
      { hardware: own },
    );
    expect(ids(checked(made))).toEqual(['hardware-without-role', 'screw-size-not-read']);
  });

  it('is told for pins without a panel', () => {
    expect(ids(checked(unitOf(shelf('peg'))))).toEqual(['pin-without-panel']);
  });
});

describe('a fixture', () => {
  const outlet = (from: string) =>
    unitOf(shelf('angle'), { sides: `fixture outlet on back { from left ${from}; height 71in; clear 1in }` });

  it('is kept clear of fixings', () => {
    // The bracket stands at 6 in, 72 in high; the box is 2-3/4 in wide and its clear room 1 in.
    const found = only(checked(outlet('6in')), 'fixing-at-fixture');
    expect(found.message).toContain('at 6in, 72in high');
    expect(found.rule.caution).toMatch(/licensed electrician/);
    expect(ids(checked(outlet('20in')))).toEqual([]);
  });
});

describe('measured studs', () => {
  const measured = (studs: string) =>
    unitOf(shelf('angle'), {
      length: '96in',
      unit: `unit u t\nsurvey u { wall back { length 96in; studs ${studs} } }`,
    });

  it('are told where one stands off the spacing of the others', () => {
    expect(ids(checked(measured('14in, 30in, 46in, 62in, 78in')))).toEqual([]);
    // 17 - 16 = 1 in is within what studs differ by.
    expect(ids(checked(measured('14in, 30in, 47in, 63in, 79in')))).toEqual([]);
    expect(only(checked(measured('14in, 30in, 47.001in, 63in, 79in')), 'studs-uneven').message).toContain(
      'most stand 16in apart',
    );
    // A doubled stud is one.
    expect(ids(checked(measured('13in, 14-1/2in, 30-1/2in, 46-1/2in, 62-1/2in')))).toEqual([]);
  });
});

describe('spacing', () => {
  it('is recorded wherever there is one', () => {
    const made = checked(unitOf(shelf('rear'))).looked.filter(({ rule }) => rule.id === 'fixings-far-apart');
    expect(made.map(({ comparison, holds }) => [comparison.measured, comparison.limit, holds])).toEqual([
      [{ ticks: 24 * 1_016_000 }, { ticks: 24 * 1_016_000 }, true],
    ]);
  });

  it('that asks for more than any part takes is told', () => {
    const own = withHardware('hardware rear { is support; spacing at most 1/32in; anchor plug }');
    expect(ids(checked(unitOf(shelf('rear'), { hardware: own })))).toEqual(['fixings-far-apart']);
  });
});

describe('what is offered', () => {
  const texts = {
    'a rod at its hooks': [
      'zone a on back { width fill; shelf s { at 72in; carried by angle }; rod r { under s by 3in; for shirt; carried by hook } }',
      hardware.angle,
      hardware.hook,
    ],
    'a stud in reach': [shelf('rear'), 'hardware rear { is support; least 2; in-stud 1; shift 1in; anchor plug }'],
    'a stud in reach of what could not move': [
      shelf('rear'),
      'hardware rear { is support; least 2; in-stud 1; anchor plug }',
    ],
    'an anchor': [shelf('rear, angle'), 'hardware rear { is support; least 2 }', hardware.angle],
  } as const;

  it.each(Object.entries(texts))('for %s mends it', (_, [inside, ...own]) => {
    const text = `${withHardware(...own)}\ntemplate t {\n  board white-12\n  pole chrome\n  wall back { length 48in; height 96in; studs 7in }\n  ${inside}\n}\nunit u t\n`;
    const fixings = (t: string): Finding[] =>
      [...projectOf(t).findings()].filter(({ rule }) => rule.family === 'fixing');
    const [first, ...others] = fixings(text);
    expect([first?.fixes.length, others]).toEqual([1, []]);
    const mended = (first?.fixes[0]?.edits ?? []).reduce((t, { place, text: put }) => {
      const { start, end } = spanOf(place);
      return t.slice(0, start) + put + t.slice(end);
    }, text);
    expect(mended).not.toBe(text);
    expect(fixings(mended)).toEqual([]);
  });
});
