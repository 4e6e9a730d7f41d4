/** One mistake inside a declaration, one finding: what a line said for others that stand beside it, or rest on it. */
import { describe, expect, it } from 'vitest';
import { changedIn, foundIn } from './support.ts';

const sound = `project "Quarry Lane" { kerf 1/8in }
board white-12 { depth 12in; thickness 3/4in }
board oak { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in; ends take 3/8in for "the cup" }
hardware anchor-kit { is anchor; rated 100 lb }
hardware clip { is support; spacing at most 24in; inset 2in; anchor anchor-kit; screws "#8 x 1-1/2 in" count 1 into wall }
garment shirt { hang 36in; hanger 17in }
stock white-12 { length 8ft }
stock chrome { length 8ft }
template linen {
  board white-12
  pole chrome
  wall back { length 40in; height 96in; studs every 16in from 3in }
  zone main on back { width fill; shelf top { at 78in; depth 12in }; rod long { at 60in; for shirt } }
  test "as drawn" { expect main.long length 39-1/4in; finds nothing }
}
template wide extends linen { zone main on back { shelf low { at 20in } } }
unit a linen { override main.top { at 72in } }
unit b wide
`;

const changed = changedIn(sound);

it('of the sound text nothing is told', () => {
  expect(foundIn(sound)).toEqual([]);
});

describe('a line of a template that says what its parts are cut from', () => {
  it.each([
    ['misspelt', '  board white-12\n', '  bord white-12\n', '11 word-not-known'],
    ['by another word', '  board white-12\n', '  plank white-12\n', '11 word-not-known'],
    ['without its word', '  board white-12\n', '  white-12\n', '11 word-not-known'],
    ['with a sign too many', '  board white-12\n', '  board = white-12\n', '11 phrase-not-understood'],
    ['without its name', '  board white-12\n', '  board\n', '11 phrase-not-understood'],
    ['of a rod, misspelt', '  pole chrome\n', '  ploe chrome\n', '12 word-not-known'],
  ])('is told of by itself: %s', (_, from, to, expected) => {
    expect(changed(from, to)).toEqual([expected]);
  });

  it('is not what another part lacks', () => {
    expect(changed('  pole chrome\n', '')).toContain('13 material-missing');
    const both = sound.replace('  pole chrome\n', '').replace('  board white-12\n', '  bord white-12\n');
    expect(foundIn(both)).toEqual(['11 word-not-known', '13 material-missing']);
  });

  it.each(['widht fill', 'note oak-ish'])('is not a line that says something else: %s', (line) => {
    expect(changed('  pole chrome\n', `  ${line}\n`)).toContain('14 material-missing');
  });

  it('says nothing for another template, nor for another zone', () => {
    const other = `template bare { wall back { length 30in; height 96in }; zone z on back { width fill; shelf s { at 30in } } }\n`;
    expect(foundIn(sound.replace('  board white-12\n', '  bord white-12\n') + other)).toEqual([
      '11 word-not-known',
      '20 material-missing',
    ]);
    const zones = `template bare {
  wall back { length 60in; height 96in }
  zone y on back { width 30in; bord oak; shelf s { at 30in } }
  zone z on back after y { width fill; shelf s { at 30in } }
}
stock oak { length 8ft }
`;
    expect(foundIn(sound + zones)).toEqual(['22 word-not-known', '23 material-missing']);
  });
});

describe('a test of a template', () => {
  it.each([
    ['made with hardware that is misspelt itself', 'hardware anchor-kit', 'hrdware anchor-kit', '5 word-not-known'],
    ['made with hardware that has a word misspelt', 'anchor anchor-kit', 'achor anchor-kit', '6 word-not-known'],
    ['made with hardware that has its screws misspelt', 'screws "#8', 'srews "#8', '6 word-not-known'],
    ['made with a board that is misspelt itself', 'board white-12 {', 'bord white-12 {', '2 word-not-known'],
  ])('is not told to fail beside what cannot be read: %s', (_, from, to, expected) => {
    const held = sound
      .replace('thickness 3/4in }\nboard oak', 'thickness 3/4in; carried by clip }\nboard oak')
      .replace('; rod long { at 60in; for shirt }', '')
      .replace('main.long length 39-1/4in', 'main.top length 40in');
    expect(foundIn(held)).toEqual([]);
    expect(held.split(from).length, from).toBe(2);
    expect(foundIn(held.replace(from, to))).toEqual([expected]);
  });

  it('is told to fail beside what it does not rest on', () => {
    const failing = sound.replace('length 39-1/4in', 'length 30in');
    expect(foundIn(failing)).toEqual(['15 test-failed']);
    expect(foundIn(failing.replace('board oak', 'bord oak'))).toEqual(['15 test-failed', '3 word-not-known']);
  });
});

describe('a wall that cannot be read', () => {
  it.each(['wll back', 'wal back', 'back'])('is told of by itself: %s', (wall) => {
    expect(changed('wall back {', `${wall} {`).filter((one) => !one.startsWith('13 '))).toEqual([]);
  });

  it('hides nothing that is misnamed in another template', () => {
    const other = `template other { board oak; wall back { length 40in; height 96in }; zone z on back { width fill } }
unit c other { override main.top { at 72in } }
`;
    expect(
      foundIn(
        sound.replace('wall back { length 40in; height 96in; s', 'wll back { length 40in; height 96in; s') + other,
      ),
    ).toEqual(['13 word-not-known', '21 name-not-known']);
  });
});

describe('a thing that is overridden', () => {
  it('by a word that is misspelt is told of by that, and not by its block', () => {
    expect(changed('override main.top', 'oerride main.top')).toEqual(['18 name-not-known']);
  });
});

describe('what the rules hold a layout to', () => {
  const held = sound
    .replace('thickness 3/4in }\nboard oak', 'thickness 3/4in; stiffness 330 ksi; carried by clip }\nboard oak')
    .replace('inset 2in', 'inset 5in; shift 8in; in-stud 2')
    .replace('; rod long { at 60in; for shirt }', '')
    .replace('main.long length 39-1/4in', 'main.top length 40in')
    .replace('kerf 1/8in', 'kerf 1/8in; policy everyday')
    .replace('garment', 'policy everyday { deflection 144; load shelf 5 lbf/ft2 }\ngarment');

  it.each([
    ['hardware lies otherwise while it cannot be read', 'inset 5in', 'iset 5in', '6 word-not-known'],
    ['is unknown with a policy of the project', 'load shelf 5 lbf/ft2', 'lad shelf 5 lbf/ft2', '7 word-not-known'],
  ])('%s', (_, from, to, expected) => {
    expect(foundIn(held)).toEqual([]);
    expect(held.split(from).length, from).toBe(2);
    expect(foundIn(held.replace(from, to))).toEqual([expected]);
  });
});

describe('a declaration whose word is misspelt is told of, and none of its users', () => {
  const used = `${sound}survey a { wall back { length 40in } }\n`;

  it.each([
    ['a board', 'board white-12 {', 'bord white-12 {', '2 word-not-known'],
    ['a rod', 'rod chrome {', 'rd chrome {', '4 word-not-known'],
    ['a garment', 'garment shirt', 'garmnet shirt', '7 word-not-known'],
    ['a template that is extended', 'template linen {', 'tempalte linen {', '10 word-not-known'],
    ['a unit that has a survey', 'unit a linen', 'unti a linen', '18 word-not-known'],
  ])('%s', (_, from, to, expected) => {
    expect(used.split(from).length, from).toBe(2);
    expect(foundIn(used.replace(from, to))).toEqual([expected]);
  });

  it('but what another name lacks is', () => {
    const other = `${used}stock pine { length 8ft }\nsurvey c { wall back { length 39-7/8in } }\nunit d nothing\n`;
    const beside = ['21 name-not-known', '22 name-not-known', '23 name-not-known'];
    expect(foundIn(other)).toEqual(beside);
    expect(foundIn(other.replace('board white-12 {', 'bord white-12 {'))).toEqual(
      ['2 word-not-known', ...beside].sort(),
    );
  });
});
