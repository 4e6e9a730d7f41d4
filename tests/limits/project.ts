/** Limits of what a project comes to. */
import { describe, expect } from 'vitest';
import { allFindings, many, projectOf, reaches, saidOf, within, workspaceOf } from './reach.ts';

describe('what a project comes to', () => {
  const room = 'board white-12; pole chrome; wall back { length 900m; height 900m }';
  const inZone = (text: string): string => `template t { ${room}\nzone z on back { width 40in\n${text}\n} }\nunit u t`;

  reaches('longestLength', () => {
    expect(
      saidOf('template t { parameter w: length = 1000m }').filter(({ rule }) => rule === 'number-out-of-bounds'),
    ).toEqual([]);
    expect(saidOf('template t { parameter w: length = 1000.001m }').map(({ message }) => message)).toContain(
      '1000.001m is more than 1 km.',
    );
    // Products and sums that pass it on the way, and 2^53 with it.
    for (const sum of ['1000m + 1mm', '1000m * 1000000000', '0in - 1000m - 1mm', '1000m / 0.000000001'])
      expect(saidOf(`template t { parameter w: length = ${sum} }`).map(({ message }) => message)).toContain(
        'This comes to more than 1 km.',
      );
  });

  reaches('largestAmount', () => {
    const said = (count: string): string[] =>
      saidOf(`template t { parameter n: count = ${count} }`)
        .filter(({ rule }) => rule === 'number-out-of-bounds')
        .map(({ message }) => message);
    expect(said('1000000000000000')).toEqual([]);
    expect(said('1000000000000001')).toEqual([
      '1000000000000001 comes to more than 1,000,000,000,000,000, the most that is computed with.',
    ]);
    const nines = '9'.repeat(15);
    for (const sum of [
      `${nines} * ${nines}`,
      `0 - ${nines} - ${nines}`,
      `${nines} / 0.001`,
      Array.from({ length: 40 }, () => nines).join(' * '),
    ])
      expect(said(sum)).toEqual(['This comes to more than 1,000,000,000,000,000, the most that is computed with.']);
    expect(
      saidOf(`stock white-12 { length 9ft price ${'9'.repeat(39)} EUR }`)
        .map(({ message }) => message)
        .join(),
    ).toContain('comes to more than');
  });

  reaches('mostUnits', (most) => {
    const project = projectOf(`template t { }\nunit a t { count ${most} }`);
    expect(allFindings(project).map(({ rule }) => rule.id)).not.toContain('too-many');
    expect(
      saidOf(`template t { }\nunit a t { count ${most + 1} }`)
        .filter(({ rule }) => rule === 'too-many')
        .map(({ message }) => message),
    ).toEqual(['100,001 is more than the 100,000 taken on here.']);
    const text = many(most + 1, (i) => `unit u${i} t`);
    const large = workspaceOf({ '/p/main.closet': `project "P" { show inches }\ntemplate t { }\n${text}` }).projectOf(
      '/p/main.closet',
    )?.project;
    if (!large) throw new Error('there is no project');
    const told = large.findings().filter(({ rule }) => rule.id === 'too-many');
    expect(told.map(({ message }) => message)).toEqual(['The project comes to 100,001 units; 100,000 are taken on.']);
    expect(told[0]?.advice).toContain('Until then none of its units is looked at.');
    // One that goes brings back all the others.
    const at = large.sources.get('/p/main.closet')?.text.indexOf('unit u7 t') ?? 0;
    large.editFile('/p/main.closet', [{ start: at, end: at + 'unit u7 t'.length, text: '' }]);
    large.refreshNow();
    expect(large.findings().map(({ rule }) => rule.id)).not.toContain('too-many');
    expect([...large.units()].every(({ resolved }) => resolved !== undefined)).toBe(true);
  });

  reaches('mostLoose', () =>
    within(
      'mostLoose',
      (n) => `extra e { board white-12; length 2ft; count ${n} }`,
      /100,001 is more than the 100,000/,
    ),
  );

  reaches('longestChain', () => {
    const chain =
      (kind: string) =>
      (n: number): string =>
        many(n, (i) => `${kind} t${i} ${i + 1 < n ? `extends t${i + 1} ` : ''}{ }`);
    within('longestChain', chain('template'), /Template "t0" is built on more than 20 templates/);
    within('longestChain', chain('policy'), /Policy "t0" is built on more than 20 polic/);
    // Long chains and long circles.
    for (const circle of [false, true]) {
      const text = many(1000, (i) => `template t${i} extends t${circle ? (i + 1) % 1000 : i + 1} { }`);
      expect(saidOf(text).map(({ rule }) => rule)).toContain('too-many');
    }
  });

  reaches('mostParameters', () =>
    within(
      'mostParameters',
      (n) => `template t {\n${many(n, (i) => `parameter p${i}: length = 1in`)}\n}`,
      /Template "t" has 201 parameters; 200 are taken on/,
    ),
  );
  reaches('mostWalls', () => {
    within(
      'mostWalls',
      (n) => `template t {\n${many(n, (i) => `wall w${i} { length 1in }`)}\n}`,
      /Template "t" has 41 walls; 40 are taken on/,
    );
  });
  reaches('mostOnWalls', () =>
    within(
      'mostOnWalls',
      (n) => `template t { ${room}\n${many(n, () => 'fixture outlet on back { from left 60in; height 16in }')}\n}`,
      /Template "t" has 201 fixtures; 200 are taken on/,
    ),
  );
  reaches('mostZones', () =>
    within(
      'mostZones',
      (n) =>
        `template t { ${room}\n${many(n, (i) => `zone z${i} on back${i > 0 ? ` after z${i - 1}` : ''} { width 10in }`)}\n}`,
      /Template "t" has 1,001 zones and gaps; 1,000 are taken on/,
    ),
  );
  reaches('mostFittings', () =>
    within(
      'mostFittings',
      (n) => inZone(many(n, (i) => `shelf s${i} { at ${i + 1}in }`)),
      /Zone "z" has 501 fittings; 500 are taken on/,
    ),
  );
  reaches('mostTests', () =>
    within(
      'mostTests',
      (n) => `template t {\n${many(n, (i) => `test "t${i}" { }`)}\n}`,
      /Template "t" has 501 tests; 500 are taken on/,
    ),
  );

  reaches('mostInRow', (most) => {
    within(
      'mostInRow',
      (n) => inZone(`shelf hi { at 890m }\nshelves r between floor and hi { count ${n} }`),
      /201 is more than the 200/,
    );
    const row = (pitch: string) =>
      saidOf(inZone(`board paper; shelf lo { at 1in }\nshelf hi { at 890m }\nshelves r between lo and hi { ${pitch} }`))
        .filter(({ rule }) => rule === 'too-many')
        .map(({ message }) => message);
    // A millionth of a metre apart, and not quite.
    for (const pitch of ['pitch 0.01mm', 'pitch from 0.01mm to 0.02mm', 'pitch from 0mm to 0.01mm', 'pitch 1in'])
      expect(row(pitch)[0]).toMatch(/Row "r" comes to [\d,]+ shelves; 200 are taken on\./);
    expect(row('pitch 20m')).toEqual([]);
    expect(most).toBe(200);
  });

  reaches('mostParts', () => {
    const zones = (n: number): string =>
      `template t { ${room}\n${many(n, (i) => `zone z${i} on back${i > 0 ? ` after z${i - 1}` : ''} { width 10in; shelf hi { at 890m }; shelves r between floor and hi { count 199 } }`)}\n}\nunit u t`;
    const told = (n: number): string[] =>
      saidOf(zones(n))
        .filter(({ rule }) => rule === 'too-many')
        .map(({ message }) => message);
    expect(told(50)).toEqual([]);
    expect(told(51)).toEqual(['A unit of this has more than 10,000 parts; no more are taken on.']);
    // In one zone, and in zones within it.
    const rows = many(300, (i) => `shelves r${i} between floor and hi { count 200 }`);
    expect(saidOf(inZone(`shelf hi { at 890m }\n${rows}`)).map(({ message }) => message)).toContain(
      'A unit of this has more than 10,000 parts; no more are taken on.',
    );
  });

  reaches('mostDrawers', () =>
    within('mostDrawers', (n) => inZone(`drawers d { at 8in; height 1in; count ${n} }`), /51 is more than the 50/),
  );
  reaches('mostGarments', () =>
    within('mostGarments', (n) => inZone(`rod r { at 80in; holds ${n} shirt }`), /10,001 is more than the 10,000/),
  );
  reaches('mostPersons', () =>
    within('mostPersons', (n) => `template t { persons ${n} }`, /1,001 is more than the 1,000/),
  );
  reaches('mostStuds', () => {
    const studs = (n: number): string =>
      `template t { board white-12; wall back { length ${n - 1}mm; height 96in; studs every 1mm from 0mm } }\nunit u t`;
    within('mostStuds', studs, /The back wall has more than 1,000 studs/);
  });
  reaches('mostOnPart', () => within('mostOnPart', (n) => `hardware h { least ${n} }`, /1,001 is more than the 1,000/));
  reaches('mostStock', () =>
    within(
      'mostStock',
      (n) => `board b2 { depth 12in; thickness 3/4in }\nstock b2 { length 8ft count ${n} }`,
      /1,000,001 is more than the 1,000,000/,
    ),
  );
  reaches('mostPatterns', (most) => {
    const told = (n: number): string[] =>
      allFindings(
        workspaceOf({ '/p/main.closet': `project "P" { patterns at most ${n} }` }).projects[0]?.project ??
          projectOf(''),
      ).map(({ message }) => message);
    expect(told(most)).toEqual([]);
    expect(told(most + 1).join()).toContain('10,001 is more than the 10,000');
  });

  reaches('mostFindings', (most) => {
    const text = (n: number): string => many(n, (i) => `unit u${i} nothing`);
    // One more is told of the materials above.
    const said = (n: number) => saidOf(text(n - 1));
    expect(said(most).filter(({ rule }) => rule === 'too-many')).toEqual([]);
    const more = said(most + 1000);
    expect(more.filter(({ rule }) => rule === 'too-many').map(({ message }) => message)).toEqual([
      'This file has 6,000 findings; 5,000 are taken on.',
    ]);
    expect(more.length).toBeLessThan(most + 10);
  });
});
