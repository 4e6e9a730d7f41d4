/** What an editor tells, asked in the terminal: users, bases, hints, lenses, completion, signatures, outlines, links. */
import { describe, expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';
import { clean } from './texts.ts';

const more = `template tall-linen extends linen { }
template lonely { wall back { length 20in } }
unit A-102-linen linen mirrored { floor 1 }
unit A-103-linen tall-linen { floor 1; count 3 }
`;
const project = (): string => folderWith({ 'a.closet': clean, 'more/b.closet': more });
const told = (out: string): { status: number; out: string; err: string } => ({ status: 0, out, err: '' });
const refused = (err: string): { status: number; out: string; err: string } => ({
  status: 2,
  out: '',
  err: `storypole: ${err}\n`,
});
// biome-ignore lint/suspicious/noExplicitAny: a test looks into what was written.
const json = (words: readonly string[], folder = project()): any =>
  JSON.parse(storypole([...words, '--format', 'json'], folder).out);

describe('type-definition', () => {
  it('leads from a unit to its template, and from a shelf to its board', () => {
    expect(storypole(['type-definition', 'a.closet:9:6'], project())).toEqual(
      told('a.closet:4:10: template linen {\n'),
    );
    expect(storypole(['type-definition', 'a.closet:7:41'], project())).toEqual(
      told('a.closet:2:7: board white-12 { depth 12in; thickness 3/4in }\n'),
    );
  });

  it('says where nothing is known of that', () => {
    expect(storypole(['type-definition', 'a.closet:1:12'], project())).toEqual(
      refused(
        'What stands at a.closet:1:12 is made of nothing that is declared. Ask at a unit, a part, a material or a parameter.',
      ),
    );
  });
});

describe('users', () => {
  it('tells who uses a template and who extends it, from its declaration or from any place that names it', () => {
    const found = {
      status: 0,
      out: 'a.closet:9:6 unit A-101-linen linen\nmore/b.closet:1:10 template tall-linen extends linen\nmore/b.closet:3:6 unit A-102-linen linen mirrored\n',
      err: 'storypole: "linen" is used by 2 units and extended by 1 template, in 2 files.\n',
    };
    expect(storypole(['users', 'a.closet:4'], project())).toEqual(found);
    expect(storypole(['users', 'more/b.closet:3:18'], project())).toEqual(found);
  });

  it('tells with --through who is built on what extends it', () => {
    const { out, err } = storypole(['users', 'a.closet:4', '--through'], project());
    expect(out).toMatch(/^more\/b\.closet:4:6 unit A-103-linen tall-linen \(through tall-linen\)$/m);
    expect(err).toBe('storypole: "linen" is used by 3 units and extended by 1 template, in 2 files.\n');
    const [, , , last] = json(['users', 'a.closet:4', '--through']).users;
    expect([last.name, last.through, last.names.start]).toEqual([
      'A-103-linen',
      ['tall-linen'],
      { line: 4, column: 18, offset: more.indexOf('tall-linen {', 50) },
    ]);
  });

  it('ends where templates extend each other in a ring', () => {
    const folder = folderWith({ 'a.closet': 'template a extends b { }\ntemplate b extends a { }\n' });
    expect(storypole(['users', 'a.closet:1', '--through'], folder).out).toBe(
      'a.closet:1:10 template a extends b (through b)\na.closet:2:10 template b extends a\n',
    );
    expect(storypole(['bases', 'a.closet:1'], folder).out).toBe(
      'a.closet:2:10 template b extends a\na.closet:1:10 template a extends b\n',
    );
  });

  it('says that nobody does, and that a unit is no template', () => {
    expect(storypole(['users', 'more/b.closet:2'], project())).toEqual({
      status: 0,
      out: '',
      err: 'storypole: No unit uses "lonely", and no template extends it.\n',
    });
    expect(storypole(['users', 'a.closet:9'], project())).toEqual(
      refused('"A-101-linen" is a unit, and nothing is built on a unit. Ask at the name of its template.'),
    );
    expect(storypole(['users', 'a.closet:2'], project())).toEqual(
      refused('No template or unit is named at a.closet:2. Ask at the name of one.'),
    );
  });
});

describe('bases', () => {
  it('tells all that a unit is built on, the nearest first', () => {
    expect(storypole(['bases', 'more/b.closet:4'], project())).toEqual(
      told('more/b.closet:1:10 template tall-linen extends linen\na.closet:4:10 template linen\n'),
    );
    expect(storypole(['bases', 'a.closet:4'], project()).err).toBe(
      'storypole: "linen" is built on no other template.\n',
    );
  });

  it('goes on into a library, as far as that goes', () => {
    const folder = folderWith({
      '.git/HEAD': '',
      'job/a.closet': 'project "Quarry Lane" { show inches }\nuse "../shared" as trade\nunit A-101 trade.tall { }\n',
      'shared/b.closet': 'template tall extends low { }\ntemplate low { wall back { length 20in } }\n',
    });
    // Asked in the folder of the job, the library is known through it alone.
    expect(storypole(['bases', 'a.closet:3'], `${folder}/job`).out).toBe(
      `${folder}/shared/b.closet:1:10 template tall extends low\n${folder}/shared/b.closet:2:10 template low\n`.replaceAll(
        `${folder}/shared`,
        '../shared',
      ),
    );
    expect(storypole(['users', 'shared/b.closet:2', '--through'], folder).out).toBe(
      'job/a.closet:3:6 unit A-101 trade.tall (through tall)\nshared/b.closet:1:10 template tall extends low\n',
    );
  });
});

describe('complete', () => {
  it('offers what may stand at a place, the best first', () => {
    const { status, out, err } = storypole(['complete', 'a.closet:7:35'], project());
    expect([status, err]).toEqual([0, '']);
    const labels = out.split('\n').map((line) => line.split(' ')[0]);
    expect(labels).toEqual(expect.arrayContaining(['shelf', 'rod', 'zone']));
    // What is said in this zone already, and once only, comes last.
    expect(labels.indexOf('width')).toBeGreaterThan(labels.indexOf('zone'));
  });

  it('has with --docs the documentation, and in JSON always', () => {
    expect(storypole(['complete', 'a.closet:7:35'], project()).out).not.toContain('For example');
    expect(storypole(['complete', 'a.closet:7:35', '--docs'], project()).out).toContain(
      '  A shelf between the faces that hold it: walls, panels, or the ends of the zone.\n',
    );
    const found = json(['complete', 'a.closet:9:21']).completions;
    const linen = found.find((one: { label: string }) => one.label === 'linen');
    expect(linen).toMatchObject({
      kind: 'name',
      text: 'linen',
      replaces: { start: { line: 9, column: 18 }, end: { line: 9, column: 23 } },
    });
  });

  it('says where nothing is offered', () => {
    expect(storypole(['complete', 'a.closet:7:42'], project())).toEqual({
      status: 0,
      out: '',
      err: 'storypole: Nothing is offered at a.closet:7:42.\n',
    });
    expect(json(['complete', 'a.closet:7:42']).completions).toEqual([]);
  });
});

describe('signature', () => {
  it('shows the phrase and marks the part that is written at the place', () => {
    const { status, out } = storypole(['signature', 'a.closet:7:41'], project());
    expect([status, out.split('\n').slice(0, 2)]).toEqual([0, ['shelf <name>', '      ^^^^^^']]);
    const { label, parts, active } = json(['signature', 'a.closet:7:41']).signature;
    expect(parts[active]).toMatchObject({ text: '<name>' });
    for (const { text, start, end } of parts) expect(label.slice(start, end)).toBe(text);
  });

  it('says where no phrase is written', () => {
    expect(storypole(['signature', 'a.closet:8:2'], project()).err).toMatch(
      /^storypole: No phrase is being written at a\.closet:8:2\. Ask behind/,
    );
  });
});

describe('hints', () => {
  it('shows the numbers behind the text that they belong to', () => {
    expect(storypole(['hints', 'a.closet'], project())).toEqual(
      told(
        'a.closet:7:33: zone main on back { width fill = 36in\na.closet:7:44: zone main on back { width fill; shelf top cut 36in\n',
      ),
    );
  });

  it('of some lines, of one kind, and with where they come from', () => {
    const folder = project();
    expect(storypole(['hints', 'a.closet:7:8', '--kind', 'cut'], folder).out).toMatch(
      /^a\.closet:7:44: .* cut 36in\n$/,
    );
    expect(storypole(['hints', 'a.closet:1-6'], folder)).toEqual({
      status: 0,
      out: '',
      err: 'storypole: There is nothing to show beside the text of a.closet:1-6.\n',
    });
    expect(storypole(['hints', 'a.closet:5-999', '--why'], folder).out).toContain('  Cut **36in** of `white-12`');
    expect(json(['hints', 'a.closet:7'], folder).hints.map((one: { why: unknown }) => one.why)).toEqual([null, null]);
  });

  it.each([
    ['more', 'more is a folder; name a file in it.'],
    ['b.closet', 'b.closet is not there.'],
    ['a.closet:99', 'a.closet has no line 99: its last line is 10.'],
    ['a.closet:7:0', 'a.closet has no column 0 in line 7: columns are counted from 1.'],
    ['a.closet:10:99', 'a.closet has no column 99 in line 10: the last one there is 1.'],
    ['a.closet:7-5', '"a.closet:7-5" ends before it begins. Write a.closet:5-7.'],
  ])('says of %s what is wrong with it', (stretch, why) => {
    for (const command of ['hints', 'lenses']) expect(storypole([command, stretch], project())).toEqual(refused(why));
  });
});

describe('lenses', () => {
  it('say who uses a template, and what a unit takes of the plan', () => {
    // One shelf of 36 in for each of five closets, 95-7/8in usable: two of a board of 8 ft, so three boards and 2/5 or 0.6 each.
    expect(storypole(['lenses', 'a.closet'], project())).toEqual(
      told(
        'a.closet:4:10 linen: used by 3 units, 5 closets, extended by 1 template\na.closet:9:6 A-101-linen: 1 part: about 0.6 of white-12, 11.34 EUR\n',
      ),
    );
    expect(storypole(['lenses', 'a.closet', '--kind', 'uses'], project()).out).not.toContain('A-101');
  });

  it('say which dimension a little smaller would save stock, and lead to it', () => {
    // Two shelves of 48 in and a kerf of 1/8 are 96-1/8 in, so that each takes a board of 8 ft.
    const text = `project "Quarry Lane" { currency EUR; kerf 1/8in; saw-step 1/16in }
board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft price 20.00 EUR }
template t {
  wall back { length 100in; height 96in }
  board oak
  zone main on back { width 48in; shelf low { at 20in } }
}
unit A-101 t
unit A-102 t
`;
    const folder = folderWith({ 'a.closet': text });
    const title = 'zone "main" 1/16in narrower: the plan takes 1 board fewer and costs 20.00 EUR less';
    expect(storypole(['lenses', 'a.closet', '--kind', 'savings'], folder)).toEqual(
      told(`a.closet:9:6 A-101: ${title}\na.closet:10:6 A-102: ${title}\n`),
    );
    const [lens] = json(['lenses', 'a.closet:9', '--kind', 'savings'], folder).lenses;
    expect(lens).toMatchObject({
      kind: 'savings',
      title,
      places: [{ file: 'a.closet', start: { line: 7, column: 23 } }],
    });
  });

  it('lead to places', () => {
    const [uses] = json(['lenses', 'a.closet:4']).lenses;
    expect(uses.places.map((place: { file: string }) => place.file)).toEqual([
      'a.closet',
      'more/b.closet',
      'more/b.closet',
      'more/b.closet',
    ]);
  });
});

describe('outline and links', () => {
  it('show what is in each file, block within block', () => {
    expect(storypole(['outline', 'a.closet'], project())).toEqual(
      told(`a.closet
  1:9     project "Quarry Lane"
  2:7     board white-12
  3:7     stock white-12
  4:10    template linen
  6:8       wall back
  7:8       zone main on back
  7:41        shelf top
  9:6     unit A-101-linen linen
`),
    );
    expect(json(['outline', 'a.closet']).files[0].symbols[3]).toMatchObject({
      word: 'template',
      name: 'linen',
      range: { start: { line: 4, column: 1 } },
      children: [{ name: 'back' }, { name: 'main', children: [{ name: 'top' }] }],
    });
  });

  it('show the libraries of a file with the files of each', () => {
    const folder = folderWith({
      '.git/HEAD': '',
      'job/a.closet': 'project "Quarry Lane" { show inches }\nuse "../shared" as trade\n',
      'shared/b.closet': 'board oak { depth 12in; thickness 3/4in }\n',
      'shared/c.closet': 'board ash { depth 12in; thickness 3/4in }\n',
    });
    expect(storypole(['links', 'job'], folder)).toEqual(
      told('job/a.closet:2:6 use "../shared" as trade, 2 files:\n  shared/b.closet\n  shared/c.closet\n'),
    );
    expect(storypole(['links', 'shared'], folder)).toEqual({
      status: 0,
      out: '',
      err: 'storypole: No library is used here, or none that could be opened; storypole check says why.\n',
    });
  });
});
