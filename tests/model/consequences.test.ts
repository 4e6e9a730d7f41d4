/** One mistake, one finding: what follows from something that cannot be read, and from nothing else, is not told beside it. */
import { describe, expect, it, vi } from 'vitest';
import { createWorkspace, planProject } from '../../server/checks/analysis.ts';
import type { Files, Read } from '../../server/model/files.ts';
import type { Project } from '../../server/model/project.ts';
import { allFindings, changedIn, foundIn as found, memoryFiles, told, workspaceOf } from './support.ts';

const ground = `project "Quarry Lane" { kerf 1/8in }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in; stiffness 29000 ksi }
garment shirt { hang 36in; hanger 17in }
policy everyday { limit rod-height at most 84in }
stock white-12 { length 8ft }
stock chrome { length 8ft }
`;
const template = `template linen {
  parameter width: length from 40in to 70in
  board white-12
  pole chrome
  wall back { length width; height 96in }
  zone main on back { width 30in; shelf top { at 78in } }
  zone rest on back after main { width fill; rod long { at 60in; for shirt } }
}
`;
const unit = 'unit a linen { width 64in }\n';
const sound = ground + template + unit;

const changed = changedIn(sound);

describe('of one mistake one finding is told', () => {
  it('of what does not fit not that it is long as well', () => {
    expect(changed('shelf top { at 78in }', 'shelf top { at 78in; from 12in to 72in }')).toEqual([
      '13 phrase-not-understood',
    ]);
  });

  it.each(['count 9x; height 12in', 'count 3; height 30', 'count 2.5; height 30in'])('of drawers with %s', (said) => {
    const drawers = `drawers d { at 3in; ${said}; depth 12in }; shelf top { at 78in }`;
    expect(found(sound.replace('shelf top { at 78in }', drawers)).length).toBe(1);
  });

  it('and of the sound text none', () => {
    expect(found(sound)).toEqual([]);
  });

  it.each<[what: string, from: string, to: string, told: string]>([
    [
      'a stock length without a unit',
      'stock white-12 { length 8ft }',
      'stock white-12 { length 96 }',
      '6 unit-of-measure-missing',
    ],
    ['a word of the stock that is misspelt', 'stock white-12 { length', 'stock white-12 { lenght', '6 word-not-known'],
    [
      'a count in the stock that cannot be read',
      'stock white-12 { length 8ft }',
      'stock white-12 { length 8ft count x }',
      '6 name-not-known',
    ],
    ['a stock that is misspelt itself', 'stock white-12', 'stokc white-12', '6 word-not-known'],
    ['a stock without its name', 'stock white-12', 'stock', '6 phrase-not-understood'],
    ['a depth of a board without a unit', 'depth 12in', 'depth 12', '2 unit-of-measure-missing'],
    ['a depth of a board that is not there yet', 'depth 12in', 'depth', '2 phrase-not-understood'],
    ['a garment with a word that is misspelt', 'hang 36in', 'hagn 36in', '4 word-not-known'],
    ['a board without its name', 'board white-12 {', 'board {', '2 phrase-not-understood'],
    ['a board that is misspelt itself', 'board white-12 {', 'bord white-12 {', '2 word-not-known'],
    ['a board without its word', 'board white-12 {', 'white-12 {', '2 word-not-known'],
    ['a rod that is misspelt itself', 'rod chrome {', 'rood chrome {', '3 word-not-known'],
    ['a garment that is misspelt itself', 'garment shirt {', 'garmet shirt {', '4 word-not-known'],
    ['a garment without its word', 'garment shirt {', 'shirt {', '4 word-not-known'],
    ['an argument without a unit', 'width 64in', 'width 64', '16 unit-of-measure-missing'],
    ['an argument that is misspelt', 'width 64in', 'widht 64in', '16 name-not-known'],
    ['a parameter that is misspelt itself', 'parameter width', 'paramter width', '9 word-not-known'],
    ['a parameter whose type is misspelt', 'width: length', 'width: lenght', '9 wrong-kind-of-quantity'],
    [
      'a template that extends what is not there',
      'template linen {',
      'template linen extends nothing {',
      '8 name-not-known',
    ],
    ['a template without its name', 'template linen', 'template', '8 phrase-not-understood'],
    ['a width of a zone without a unit', 'width 30in', 'width 30', '13 unit-of-measure-missing'],
    ['a width of a zone that is misspelt', 'width 30in', 'widht 30in', '13 word-not-known'],
    ['a width of a zone without its word', 'width fill;', 'fill;', '14 word-not-known'],
    ['a zone without its name', 'zone main on', 'zone on', '13 phrase-not-understood'],
    ['a zone that is misspelt itself', 'zone main on', 'zne main on', '13 word-not-known'],
    ['a height without its word', '{ at 60in;', '{ 60in;', '14 word-not-known'],
    ['a height that is not there yet', '{ at 60in;', '{ at;', '14 phrase-not-understood'],
    ['a wall whose length is misspelt', '{ length width;', '{ lenght width;', '12 word-not-known'],
    ['a wall that is misspelt itself', 'wall back {', 'wal back {', '12 word-not-known'],
  ])('%s', (_, from, to, expected) => {
    expect(changed(from, to)).toEqual([expected]);
  });

  it('of an argument that only the unknown template could take nothing', () => {
    const second = `template tall extends nothing { parameter door: length = 30in }
unit b tall { width 60in; door 32in }
`;
    expect(found(sound + second)).toEqual(['17 name-not-known']);
  });
});

describe('of a file that cannot be read at all', () => {
  it.each<[what: string, rule: string, read: Read]>([
    ['as it is not text', 'file-not-text', { kind: 'read', bytes: Uint8Array.from([0x63, 0xe9]) }],
    ['as it may not be read', 'file-unreadable', { kind: 'failed', why: 'it may not be read' }],
    ['as it is too large', 'file-too-large', { kind: 'too-large', size: 20_000_000 }],
  ])('%s, nothing is told that it may declare', (_, rule, read) => {
    const grounds = ground.split('\n').slice(1);
    for (const part of [grounds.slice(0, -3).join('\n'), grounds.slice(-3).join('\n'), grounds.join('\n'), template]) {
      expect(besides(sound.replace(part, ''), read), part).toEqual([`1 ${rule}`]);
    }
  });

  it('but for what is wrong in others whatever it says', () => {
    const read: Read = { kind: 'failed', why: 'it may not be read' };
    expect(besides(sound.replace('depth 12in', 'depth 12'), read)).toEqual([
      '1 file-unreadable',
      '2 unit-of-measure-missing',
    ]);
  });
});

/** Line and rule of what is found in a text beside a file that cannot be read. */
function besides(text: string, read: Read): string[] {
  const other = '/p/other.closet';
  const known = memoryFiles({ '/p/main.closet': text, [other]: '' });
  const files: Files = {
    ...known,
    read: (path, most, within) => (path === other ? read : known.read(path, most, within)),
  };
  const workspace = createWorkspace(files, ['/p']);
  workspace.loadFolder('/p');
  const project = workspace.projects[0]?.project;
  project?.refreshNow();
  return (project ? allFindings(project) : []).map((f) => `${told(f).line} ${f.rule.id}`).sort();
}

describe('a line of a word that is not known', () => {
  const tight = 'template tight { wall back { length 30in; height 96in }; zone a on back { width 40in } }\n';

  it.each(['b2 tight', 'note template', 'x zone', 'x width', 'bord tight', 'bord width', 'bord tight { depth 12in }'])(
    'hides nothing of what only has its words in it: %s',
    (line) => {
      expect(found(`${sound}${tight}${line}\n`)).toEqual(['17 widths-do-not-close', '18 word-not-known']);
    },
  );

  it.each([
    ['without its word', 'b linen { width 60in }'],
    ['with two words in another order', 'b unit linen { width 60in }'],
    ['with its word misspelt', 'unti b linen { width 60in }'],
  ])('as a unit %s hides nothing of its template', (_, line) => {
    const wrong = sound.replace(
      'zone main on back { width 30in; shelf top { at 78in } }',
      'test "narrow" { width 60in; expect main width 20in }\n  zone main on back { width 30in; shelf top { at 97in } }',
    );
    const beside = found(wrong);
    expect(beside.map((one) => one.split(' ')[1])).toEqual(['test-failed', 'heights-do-not-close']);
    expect(found(`${wrong}${line}\n`)).toEqual([...beside, '18 word-not-known']);
  });

  it.each(['x white-12', 'stok white-16 { length 8ft }', 'bord white-12 { depth 12in }'])(
    'is no stock of a material that it names: %s',
    (line) => {
      const without = sound.replace('stock white-12 { length 8ft }', '');
      const [missing] = found(without);
      expect(missing).toMatch(/stock/);
      expect(found(`${without}${line}\n`)).toContain(missing);
    },
  );
});

describe('stock that cannot be read', () => {
  it('is looked for once, of however many materials there may be none', () => {
    const materials = ['a', 'b', 'c'].map(
      (name) =>
        `board ${name} { depth 12in; thickness 3/4in }\nextra of-${name} { board ${name}; length 24in }\nbord ${name} { }\n`,
    );
    const [loaded] = workspaceOf({ '/p/main.closet': ground + materials.join('') }).projects;
    const project = loaded?.project as Project;
    const look = vi.spyOn(project, 'unreadStock');
    const missing = planProject(project).findings.filter(({ rule }) => rule.id === 'stock-missing');
    expect([missing.length, look.mock.calls.length]).toEqual([3, 1]);
  });

  it.each([
    ['its word misspelt', 'stokc a { length 8ft }'],
    ['no name', 'stock { length 8ft }'],
    ['no word', 'a { length 8ft }'],
    ['no block', 'stokc a'],
  ])('may be that of a material, with %s', (_, line) => {
    const text = `${ground}board a { depth 12in; thickness 3/4in }\nextra spare { board a; length 24in }\n`;
    expect(found(text)).toEqual(['8 stock-missing']);
    expect(found(`${text}${line}\n`).filter((one) => !one.startsWith('10 '))).toEqual([]);
  });
});

describe('an "accept" that cannot be read', () => {
  const thin = `project "Quarry Lane" { policy woodwork-2009 }
board white-12 { depth 12in; thickness 3/4in; stiffness 330 ksi }
stock white-12 { length 8ft }
template linen {
  board white-12
  wall left { length 16in; height 96in }
  wall back { length 36in; height 96in }
  wall right { length 16in; height 96in }
  zone main on back { width fill; shelf top { at 72in } }
}
unit a linen
unit b linen
`;
  const sags = '9 shelf-sags';

  it.each([
    ['accept shelf-sags at linen.main.top becuse "x"'],
    ['accept shelf-sags at linen.main becuse "x"'],
    ['accept shelf-sags at linen becuse "x"'],
    ['accept shelf-sags because "x"'],
    ['acept shelf-sags at linen.main.top because "x"'],
    ['acept shelf-sags at linen.main.top "x"'],
    ['shelf-sags at linen.main.top because "x"'],
  ])('hides what it may be about: %s', (line) => {
    expect(found(thin)).toEqual([sags]);
    const [only, ...others] = found(`${thin}${line}\n`);
    expect([only?.split(' ')[0], others]).toEqual(['13', []]);
  });

  it.each([
    ['of another unit', 'accept shelf-sags at other.main.top becuse "x"'],
    ['of one of its units', 'accept shelf-sags at a.main.top becuse "x"'],
    ['of another thing', 'accept shelf-sags at linen.main.low becuse "x"'],
    ['of a rule whose name goes on', 'accept shelf-sags-more at linen.main.top becuse "x"'],
    ['that is none', 'note shelf-sags at linen.main.top'],
  ])('and nothing else: %s', (_, line) => {
    expect(found(`${thin}${line}\n`)).toContain(sags);
  });
});

describe('what cannot be read of a material hides only what rests on that', () => {
  const clip = `hardware clip { is support; takes 1/8in; pack 24 price 9.80 EUR; screws "#8 x 1-1/2 in" count 2 }
`;
  const clipped = `${clip}${sound.replace('board white-12\n', 'board white-12\n  carried by clip\n')}survey a { wall back { length 63in; height 96in } }\n`;
  const project = clipped.replace('kerf 1/8in', 'kerf 1/8in; currency EUR');
  const differs = '19 survey-differs';

  it.each([
    ['a pack', 'pack 24 price', '24 pack price', 'word-not-known'],
    ['a pack without its number', 'pack 24 price', 'pack price', 'phrase-not-understood'],
    ['a price', '9.80 EUR', '9.80 EUROS', 'phrase-not-understood'],
  ])('of what is bought nothing: %s', (_, from, to, rule) => {
    const beside = found(project);
    expect(beside).toContain(differs);
    expect(found(project.replace(from, to))).toEqual([`1 ${rule}`, ...beside]);
  });

  it.each([
    ['a length that it takes', 'takes 1/8in', 'takes 1/8', 'unit-of-measure-missing'],
    ['a word', 'takes 1/8in', 'taks 1/8in', 'word-not-known'],
    ['what it does', 'is support', 'is suport', 'phrase-not-understood'],
    ['a count of screws', 'count 2', 'count x', 'name-not-known'],
  ])('of hardware nothing of a survey: %s', (_, from, to, rule) => {
    const broken = found(project.replace(from, to));
    expect(broken).toContain(`1 ${rule}`);
    expect(broken).toContain(differs);
  });

  it.each([
    ['a garment', 'garment shirt { hang 36in', 'garment shirt { hagn 36in'],
    ['a rod', 'diameter 1-1/4in', 'diametre 1-1/4in'],
    ['a thickness of a board without panels', 'thickness 3/4in', 'thickness 3/4'],
  ])('nothing of widths of %s', (_, from, to) => {
    const narrow = `${sound.replace('width 30in', 'width 62in')}survey a { wall back { length 61in; height 96in } }\n`;
    expect(found(narrow)).toContain('17 survey-narrower-than-layout');
    expect(found(narrow.replace(from, to))).toContain('17 survey-narrower-than-layout');
    const tight = sound.replace('width 30in', 'width 75in');
    expect(found(tight)).toContain('14 widths-do-not-close');
    expect(found(tight.replace(from, to))).toContain('14 widths-do-not-close');
  });

  it.each([
    ['in the template', 'panels { height 84in }; ', ''],
    ['in one that it extends', '', 'panels { height 84in }; '],
  ])('but of widths within panels, what their board takes of them: %s', (_, own, base) => {
    const towers = `template base { board white-12; wall back { length 60in; height 96in }
  zone tower on back { width 40in; ${base}zone low { width 39in; shelf s { at 30in } } } }
template tower extends base { zone tower on back { width 40in; ${own}zone low { width 39in; shelf s { at 30in } } } }
`;
    const text = sound + (own ? towers : towers.replace(/template tower .*\n/, 'template tower extends base { }\n'));
    expect(found(text).some((one) => one.includes('widths-do-not-close'))).toBe(true);
    const broken = found(text.replace('thickness 3/4in', 'thickness 3/4'));
    expect(broken.filter((one) => one.includes('widths-do-not-close'))).toEqual([]);
  });
});

describe('what another mistake brings about is told beside it', () => {
  it('in another declaration', () => {
    expect(
      changed('unit a linen { width 64in }', 'unit a linen { width 64in }\nunit b linen { width 30 }\nunit c linen'),
    ).toEqual(['17 unit-of-measure-missing', '18 argument-missing']);
  });

  it('in other declarations while a word is typed at the top level', () => {
    const other = `template wide { wall back { length 60in; height 96in }; zone a on bck { width 20in } }
template tight { wall back { length 30in; height 96in }; zone a on back { width 40in } }
`;
    const beside = ['17 name-not-known', '18 widths-do-not-close'];
    expect(found(sound + other)).toEqual(beside);
    for (const typed of ['u', 'uni', 'unit', 'stock { length 8ft }', 'extra'])
      expect(
        found(`${sound}${other}${typed}\n`).filter((one) => !one.startsWith('19 ')),
        typed,
      ).toEqual(beside);
    expect(found((sound + other).replace('kerf 1/8in', 'kerf 1/8')).slice(1)).toEqual(beside);
  });

  it('and no error is left out where none is told', () => {
    const slip = 'extra cleats { board white-12; length from 700in to 720in }\n';
    expect(found(sound + slip)).toContain('17 count-open');
  });

  it('in the files that are asked for, whatever is wrong in others', () => {
    const tight = 'template tight { wall back { length 30in; height 96in }; zone a on back { width 40in } }\n';
    const { project } =
      workspaceOf({ '/p/main.closet': sound, '/p/a.closet': 'un', '/p/b.closet': tight }).projects[0] ?? {};
    const inB = project?.findings(true, (f) => told(f).file === '/p/b.closet') ?? [];
    expect(inB.map(({ rule }) => rule.id)).toContain('widths-do-not-close');
  });

  it('in what is built without the material that cannot be read', () => {
    const other = `board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft }
template loose {
  board oak
  wall back { length 60in; height 96in }
  zone main on back { width 30in; panels { height 84in }; zone low { width 20in; shelf top { at 78in } } }
}
`;
    expect(found(sound + other)).toEqual(['21 width-left-over', '22 width-left-over']);
    expect(found((sound + other).replace('thickness 3/4in', 'thickness 3/4'))).toEqual([
      '2 unit-of-measure-missing',
      '21 width-left-over',
      '22 width-left-over',
    ]);
    expect(
      found((sound + other).replace('oak { depth 12in; thickness 3/4in', 'oak { depth 12in; thickness 3/4')),
    ).toEqual(['17 unit-of-measure-missing']);
  });

  it.each([
    ['a comment', 'zone main on back { // as deep as white-12\n'],
    ['a comment above it', 'zone main on back {\n/* white-12 */\n'],
    ['its documentation', '/// In place of white-12.\n  zone main on back {'],
    ['quotation marks', 'test "beside white-12" { expect main width 30in }\n  zone main on back {'],
    ['a longer name', 'zone white-12-too on back {'],
  ])('in what speaks of it in %s alone', (_, zone) => {
    const other = `board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft }
template loose {
  board oak
  wall back { length 60in; height 96in }
  ${zone} width 30in; panels { height 84in }; zone low { width 20in; shelf top { at 78in } } }
}
`;
    const rulesOf = (text: string): string[] => found(text).map((one) => one.split(' ')[1] as string);
    const beside = rulesOf(sound + other);
    expect(beside).toContain('width-left-over');
    const broken = (sound + other).replace('thickness 3/4in', 'thickness 3/4');
    expect(rulesOf(broken)).toEqual(['unit-of-measure-missing', ...beside]);
    // And what names it as a material rests on it.
    const built = broken.replace(/board oak\n/, 'board white-12\n');
    expect(rulesOf(built)).not.toContain('width-left-over');
  });

  it('by a declaration that cannot be read, in what only its documentation speaks of', () => {
    const other = `/// In place of oak.
bord pine { depth 12in; thickness 3/4in }
`;
    const loose = (board: string): string =>
      `extra spare { board ${board}; length 24in; count 1 }
`;
    expect(found(sound + other + loose('pine'))).toEqual(['18 word-not-known']);
    expect(found(sound + other + loose('oak'))).toEqual(['18 word-not-known', '19 name-not-known']);
  });

  it('in the same one, where it does not rest on what cannot be read', () => {
    expect(changed('shelf top { at 78in }', 'shelf top { at 78 }; shelf low { board brown }')).toEqual([
      '13 height-missing',
      '13 name-not-known',
      '13 unit-of-measure-missing',
    ]);
  });
});
