/** Which units rest on something that cannot be read, and what is said where they are shown or judged. */
import { describe, expect, it } from 'vitest';
import { lensesOf } from '../../server/language/code-lens.ts';
import { noPlan } from '../../server/language/made-plan.ts';
import { placeStatusAt } from '../../server/language/place-status.ts';
import { unreadIn } from '../../server/model/unread-units.ts';
import { openFindings } from '../../server/sheets/drawing/drawings.ts';
import { exceptionsOf } from '../../server/sheets/exceptions.ts';
import { bannerText, errorsIn } from '../../server/sheets/packet/job.ts';
import { workspaceOf } from './support.ts';

/** Two templates of which one extends the other, a unit of each, a third that has nothing to do with them, and a survey. */
const texts: Readonly<Record<string, string>> = {
  '/site/p/project.closet': 'project "Quarry Lane" { }\nuse "../trade" as trade\n',
  '/site/p/boards.closet':
    'board white-12 { depth 12in; thickness 3/4in }\nboard oak-12 { depth 12in; thickness 3/4in }\nstock white-12 { length 8ft }\nstock oak-12 { length 8ft }\n',
  '/site/p/linen.closet': `template linen {
  parameter width: length from 30in to 60in
  wall back { length width; height 96in }
  board white-12
  zone main on back { width fill; shelf top { at 78in }; shelf low { at 18in } }
}
`,
  '/site/p/tall.closet': 'template tall extends linen { zone main { shelf top { at 80in } } }\n',
  '/site/p/other.closet': `template other {
  wall back { length 40in; height 96in }
  board oak-12
  zone main on back { width fill; shelf top { at 78in } }
}
`,
  '/site/p/units.closet':
    'unit a linen { width 40in }\nunit b tall { width 40in }\nunit c other\nunit d trade.bench { width 40in }\n',
  '/site/p/surveys.closet': 'survey a { wall back { length 39-3/4in at 78in } }\n',
  '/site/trade/bench.closet': `board pine-12 { depth 12in; thickness 3/4in }
template bench {
  parameter width: length from 30in to 60in
  wall back { length width; height 96in }
  board pine-12
  zone main on back { width fill; shelf seat { at 18in } }
}
`,
};

/** The project with one text in place of another in one of its files. */
function changed(file: string, from: string, to: string) {
  const before = texts[file] ?? '';
  if (!before.includes(from)) throw new Error(`${from} is not in ${file}`);
  const found = workspaceOf({ ...texts, [file]: before.replace(from, to) }, ['/site']).projectOf(
    '/site/p/project.closet',
  );
  if (!found) throw new Error('There is no project.');
  return found.project;
}

const unitsWith = (project: ReturnType<typeof changed>): string[] => {
  const unread = unreadIn(project);
  return [...project.units()].filter((unit) => unread(unit).length > 0).map(({ name }) => name);
};

describe('units that rest on what cannot be read', () => {
  it('are none where all is read, whatever else is wrong', () => {
    expect(unitsWith(changed('/site/p/units.closet', 'unit c other', 'unit c other'))).toEqual([]);
    expect(unitsWith(changed('/site/p/units.closet', 'unit c other', 'unit c other\nunit c other'))).toEqual([]);
    // Too wide for its template: that is about what is built.
    expect(unitsWith(changed('/site/p/linen.closet', 'at 18in', 'at 120in'))).toEqual([]);
  });

  it.each<[what: string, file: string, from: string, to: string, units: string[]]>([
    [
      'a statement of a template, and of those that extend it',
      '/site/p/linen.closet',
      'shelf low',
      'shlf low',
      ['a', 'b'],
    ],
    ['a length without a unit of measure', '/site/p/linen.closet', 'at 18in', 'at 18', ['a', 'b']],
    ['a name that is not known', '/site/p/tall.closet', 'at 80in', 'under lw by 3in', ['b']],
    ['a survey', '/site/p/surveys.closet', 'length', 'lenght', ['a']],
    ['the unit itself', '/site/p/units.closet', 'unit c other', 'unit c other { flor 1 }', ['c']],
    ['a board that parts are cut from', '/site/p/boards.closet', 'board oak-12 { depth', 'board oak-12 { dpth', ['c']],
    ['a library', '/site/trade/bench.closet', 'at 18in', 'at 18', ['d']],
  ])('%s', (_, file, from, to, units) => {
    expect(unitsWith(changed(file, from, to))).toEqual(units);
  });

  it('are looked for anew after an edit', () => {
    const project = changed('/site/p/linen.closet', 'shelf low', 'shlf low');
    expect(unitsWith(project)).toEqual(['a', 'b']);
    project.setFile('/site/p/linen.closet', texts['/site/p/linen.closet'] ?? '');
    project.refreshNow();
    expect(unitsWith(project)).toEqual([]);
  });
});

describe('of such a unit', () => {
  const project = changed('/site/p/linen.closet', 'shelf low', 'shlf low');
  const named = (name: string) => {
    const unit = [...project.units()].find((one) => one.name === name);
    if (!unit) throw new Error(`There is no ${name}.`);
    return unit;
  };

  it('the sheets say that nothing is to be cut by them', () => {
    const found = openFindings(project, named('b'));
    expect(found.map(({ message }) => message)).toEqual([expect.stringContaining('"shlf"')]);
    expect(bannerText(errorsIn(found), true)).toMatch(/^DO NOT CUT BY THIS SHEET: 1 error in this unit/);
    expect(openFindings(project, named('c'))).toEqual([]);
  });

  it('somebody has to decide, though what is left of it fits as drawn', () => {
    expect(exceptionsOf(project).map(({ unit, verdict, findings }) => [unit.name, verdict, findings.length])).toEqual([
      ['a', 'decision', 1],
    ]);
  });

  it('the status and the lens do not pass for the whole', () => {
    const source = project.sources.get('/site/p/units.closet');
    if (!source) throw new Error('There is no such file.');
    const snapshot = { project, source, path: source.id };
    const status = placeStatusAt(snapshot, source.text.indexOf('unit b'), noPlan);
    expect([status?.text, status?.severity]).toEqual(['b · tall · 1 error', 'error']);
    const said = lensesOf(snapshot, new Set(['boards']), () => undefined).map((lens) => lens.say().title);
    expect(said).toEqual([
      'not all can be read; so far 1 part, not planned yet',
      'not all can be read; so far 1 part, not planned yet',
      '1 part, not planned yet',
      '1 part, not planned yet',
    ]);
  });
});
