/** Names in small texts: where they are declared, where they are used, and what becomes of them under another name. */
import { describe, expect, it } from 'vitest';
import { definitionAt } from '../../server/language/definition.ts';
import { highlightsAt, referencesAt } from '../../server/language/references.ts';
import { renameAt, renameableAt } from '../../server/language/rename.ts';
import { prelude, workspaceOf } from '../model/support.ts';
import { cursorIn, edited, marksIn } from './marked.ts';

/**
 * One text with a mark before every place that is meant: `<` before a place that declares or changes the thing, `|`
 * before one that only names it. From each of them all others are found, and each leads to the first.
 */
function together(marked: string): void {
  const { text, marks } = marksIn(marked, '<|');
  const texts = { '/p/prelude.closet': prelude, '/p/main.closet': text };
  const project = workspaceOf(texts).projectOf('/p/main.closet')?.project;
  const source = project?.sources.get('/p/main.closet');
  if (!project || !source) throw new Error('the text was not read');
  const snapshot = { project, source, path: source.id };
  const places = marks.map(({ at }) => at);
  for (const at of places) {
    const found = referencesAt(snapshot, at);
    expect([at, found.map(({ start }) => start)]).toEqual([at, places]);
    expect(highlightsAt(snapshot, at).map(({ start, kind }) => [start, kind])).toEqual(
      marks.map((mark) => [mark.at, mark.mark === '<' ? 'write' : 'read']),
    );
    const declaration = definitionAt(snapshot, at);
    const declares = found.filter((f) => f.isDeclaration).map(({ start }) => start);
    // Nothing declares a matched set: whoever names it belongs to it.
    expect(declares.length > 0 ? declares : places).toContain(declaration?.name.start);
  }
}

const room = 'wall back { length 60in; height 96in }';

describe('a name and the places that mean it', () => {
  it.each([
    [
      'a template',
      `template <t { ${room} }\ntemplate v extends |t { depth 12in }\nunit a |t\nunit b v\naccept ends-in-the-air at |t.back because "so"`,
    ],
    [
      'a unit',
      `template t { ${room} }\nunit <u t\nsurvey |u { wall back { length 59in } }\naccept ends-in-the-air at |u.back because "so"`,
    ],
    [
      'a board',
      `board <oak { depth 12in; thickness 1in }\nstock |oak { length 8ft }\ntemplate t { board |oak; ${room}\n zone z on back { width fill; shelf s { at 40in; board |oak; edge 2in of |oak } } }\nextra e { board |oak; length 10in }\nhardware oak { takes 1in for "so" }`,
    ],
    [
      'a board that an argument names',
      `board <oak { depth 12in; thickness 1in }\ntemplate t { parameter b: board = |oak\n parameter oak-2: length = 3in\n board b; ${room} }\nunit u t { b |oak }`,
    ],
    [
      'a rod',
      `rod <pole { diameter 1in }\nstock |pole { length 8ft }\ntemplate t { pole |pole; ${room} }\nextra e { rod |pole; length 10in }`,
    ],
    [
      'hardware',
      `hardware <cup { takes 3/8in for "it" }\nhardware clip { anchor |cup }\nrod pole { diameter 1in; ends with |cup; carried by clip, |cup }\ntemplate t { carried by |cup, clip; ${room}\n zone z on back { width fill; shelf s { at 40in; held by |cup } } }`,
    ],
    [
      'a garment',
      `garment <coat { hang 50in; hanger 18in }\ntemplate t { ${room}\n zone z on back { width fill; rod r { at 60in; for shirt,|coat; holds 3 |coat } } }`,
    ],
    [
      'a policy',
      `policy <low { limit rod-height at most 48in }\npolicy lower extends |low { reach side 48in }\ntemplate t { ${room} }\nunit u t { policy |low, lower }`,
    ],
    [
      'a parameter',
      `template t { parameter <w: length = 60in from 50in to 70in\n wall back { length |w - 1in; height max(|w, 96in) }\n zone w on back { width |w / 2 } }\ntemplate v extends t { wall back { length |w } }\nunit u t { <w 61in; override back { length |w + 1in } }\nunit x v { <w 62in }`,
    ],
    [
      'a parameter that holds a board',
      `template t { parameter <white-12: board\n board |white-12; ${room} }\nunit u t { <white-12 white-12 }`,
    ],
    [
      'a wall',
      `template t { wall <alcove { length 60in; height |alcove.length }\n corner |alcove side { owner |alcove }\n wall side { length 20in }\n fixture outlet on |alcove { from left 1in; height 16in }\n opening door on |alcove { width |alcove.length / 2 }\n zone alcove on |alcove { width fill } }\nunit u t { override alcove { width 3in } }\nsurvey u { wall |alcove { length 59in }; corner |alcove side { angle 91deg } }`,
    ],
    [
      'a wall that an override changes',
      `template t { wall <alcove { length 60in; height 96in } }\nunit u t { override <alcove { length 59in } }`,
    ],
    [
      'an opening',
      `template t { ${room}\n wall front { length 60in }\n opening <door on front { width 30in; height 80in }\n zone z on back { width |door.width } }\nunit u t { override <door { width 31in } }\nsurvey u { opening <door { width 29in } }\naccept ends-in-the-air at u.|door because "so"`,
    ],
    [
      'a fixture',
      `template t { ${room}\n fixture outlet <plug on back { from left 3in; height 16in } }\nunit u t { override <plug { height 17in } }\naccept ends-in-the-air at u.|plug because "so"`,
    ],
    [
      'a zone',
      `template t { ${room}\n zone <a on back { width 20in; zone a { width fill } }\n gap b on back after |a { width |a.width }\n zone c on back before b { width 3in } }\ntemplate v extends t { zone <a { shelf s { at 30in } }\n zone d on back after |a { width 2in } }\nunit u v { override <a { width 21in }; override |a.s { at 31in } }\naccept ends-in-the-air at u.|a.s because "so"`,
    ],
    [
      'a zone in a zone',
      `template t { ${room}\n zone a on back { width fill; zone <in { width 3in; shelf in { at 10in } }; zone n after |in { width fill } } }\nunit u t { override a.|in.in { at 11in } }`,
    ],
    [
      'a shelf',
      `template t { ${room}\n zone a on back { width fill; shelf <top { at 80in }\n rod r { under |top by 3in }\n drawers d { above low by 1in; under |top by at least 2in }\n shelves row between low and |top { count 2 }\n shelf low { at 8in } }\n zone b on back { width fill; shelf top { at 80in } } }\ntemplate v extends t { zone a { shelf <top { at 81in } } }\nunit u t { override a.<top { at 82in }; override a.r { under |top by 4in } }\naccept ends-in-the-air at t.a.|top because "so"`,
    ],
    [
      'panels with a name',
      `template t { ${room}\n zone a on back { width fill; panels <sides { depth 12in } } }\nunit u t { override a.<sides { depth 11in } }`,
    ],
    [
      'a matched set',
      `template t { ${room}\n zone a on back { width fill; shelf s { at 80in; matched |front }\n shelf r { at 70in; matched |front } } }\ntemplate v extends t { matched |front }\nunit u t { override a.s { matched |front } }\nextra e { board white-12; length 3in; matched front }`,
    ],
  ])('%s', (_, marked) => together(marked));
});

const closet = `template t {
  parameter w: length = 60in from 50in to 70in
  wall back { length w; height 96in }
  wall alcove { length 20in }
  opening front { width 30in }
  zone a on back {
    width 20in
    shelf top { at 80in; board white-12 }
    rod r { under top by 3in; for shirt; pole chrome }
    panels
  }
  zone b on back after a { width fill }
}
unit u t { w 61in; floor 1 }
`;

describe('a new name', () => {
  /** The text once what the cursor is on has a new name; or why it cannot. */
  const renamed = (marked: string, name: string, more: Readonly<Record<string, string>> = {}): string => {
    const { snapshot, at } = cursorIn({ 'main.closet': marked, ...more });
    const result = renameAt(snapshot, at, name);
    if (result.kind === 'refused') return result.why;
    const able = renameableAt(snapshot, at);
    expect(able).toMatchObject({ kind: 'renameable' });
    const files = new Set(result.edits.map(({ file }) => file));
    return [...files]
      .map((file) => `${file === '/p/main.closet' ? '' : `${file}\n`}${edited(snapshot.project, file, result.edits)}`)
      .join('');
  };
  const at = (word: string, marked: string): string => closet.replace(word, marked);

  it('is given everywhere in the project, and in what extends a template', () => {
    const text = 'template t { wall back { length 9in }\n zone |a on back { width 3in } }\n';
    const more = { 'v.closet': 'template v extends t { zone a { width 4in } }\nunit u v { override a { width 2in } }' };
    expect(renamed(text, 'wide', more)).toBe(
      'template t { wall back { length 9in }\n zone wide on back { width 3in } }\n' +
        '/p/v.closet\ntemplate v extends t { zone wide { width 4in } }\nunit u v { override wide { width 2in } }',
    );
  });

  it('is taken without the space around it', () => {
    const text = 'template t { wall back { length 9in }\n zone |a on back { width 3in } }\n';
    expect(renamed(text, ' wide ')).toBe(text.replace('|a', 'wide'));
  });

  it('is given to a library in every path that begins with it', () => {
    const library = {
      'lib/x.closet':
        'board oak { depth 3in; thickness 1in }\nproject "Parts"\ntemplate shell { wall back { length 9in } }\n',
    };
    const text =
      'use "lib" as tra|de\nextra e { board trade.oak; length 3in }\nstock trade.oak { length 8ft }\nunit u trade.shell\naccept ends-in-the-air at trade.shell because "so"\nhardware trade { takes 1in for "it" }\n';
    const plain = text.replace('|', '');
    expect(renamed(text, 'parts', library)).toBe(plain.replace('as trade', 'as parts').replaceAll('trade.', 'parts.'));
    expect(renamed(plain.replace('trade.oak', 'trade.o|ak'), 'ash', library)).toBe(
      'Board "oak" comes from a library outside this project (x.closet); give it another name there.',
    );
    expect(renamed(`${text}use "lib" as parts\n`, 'parts', library)).toBe(
      'There is a library "parts" already, in main.closet, line 7; choose another name, or give that one another first.',
    );
  });

  it('goes to the opening that is named after its wall as well', () => {
    const text =
      'template t { wall side { length 9in }\n opening si|de { width 3in } }\nsurvey u { opening side { width 4in } }\nunit u t';
    expect(renamed(text, 'niche')).toBe(text.replace('|', '').replaceAll('side', 'niche'));
  });

  it.each([
    ['a word of the language', at('zone a', 'zo|ne a'), 'x', '"zone" is a word of the language.'],
    ['a word of a phrase', at('after a', 'af|ter a'), 'x', '"after" is a word of the language.'],
    [
      'a number',
      at('20in', '2|0in'),
      'x',
      'There is no name here; point at one, such as that behind "template" or "zone".',
    ],
    [
      'a label',
      closet.replace('floor 1', 'flat A-1|'),
      'x',
      '"A-1" is a label to group units by, and names nothing; write another one where it stands.',
    ],
    ['a type', at('length =', 'len|gth ='), 'x', '"length" is a word of the language.'],
    [
      'a rule',
      `${closet}accept rod-near|-wall at u because "so"`,
      'x',
      '"rod-near-wall" is the name of a rule, which comes with the tool.',
    ],
    [
      'what is not there',
      at('board white-12', 'board whi|te'),
      'x',
      'Nothing that could be meant here is called "white"; declare it, or correct the name, first.',
    ],
    [
      'what comes with the tool',
      at('for shirt', 'for shi|rt'),
      'x',
      'Garment "shirt" comes with the tool; declare one of your own to have another.',
    ],
    [
      'what has no name',
      `${closet}accept rod-near-wall at u.a.pan|els because "so"`,
      'x',
      'Panels "panels" has no name of its own but that of its kind; give it one first.',
    ],
    [
      'a wall by its side',
      at('wall back', 'wall ba|ck'),
      'x',
      '"back" is a word of the language: where a wall of that name stands in the room follows from it.',
    ],
    [
      'an opening that is named after such a wall',
      at('opening front', 'opening fr|ont'),
      'x',
      'Opening "front" is in the wall that it is named after; write "on front" behind its name, and it can have another.',
    ],
    ['a dimension', at('width fill', 'width a.wi|dth'), 'x', '"width" is a word of the language.'],
  ])('is not given to %s', (_, marked, name, why) => {
    expect(renamed(marked, name)).toBe(why);
    const { snapshot, at: offset } = cursorIn({ 'main.closet': marked });
    expect(renameableAt(snapshot, offset)).toEqual({ kind: 'refused', why });
  });

  const noName = (name: string): string =>
    `"${name}" cannot be a name: names are letters, digits and underscores with single hyphens between them, and the first is no digit.`;
  it.each([
    ['', noName('')],
    ['12', noName('12')],
    ['a b', noName('a b')],
    ['a.b', noName('a.b')],
    ['a--b', noName('a--b')],
    ['a-', noName('a-')],
    ['a; b', noName('a; b')],
    ['a // b', noName('a // b')],
    ['a {}', noName('a {}')],
    ['"a"', noName('"a"')],
  ])('cannot be %j', (name, why) => expect(renamed(at('zone b', 'zone |b'), name)).toBe(why));

  it.each([
    [
      'of a zone beside',
      at('zone b', 'zone |b'),
      'a',
      'There is a zone "a" already, in main.closet, line 6; choose another name, or give that one another first.',
    ],
    [
      'of a fixture that has that of its kind',
      at('panels\n', 'shelf |low { at 3in }\n panels\n'),
      'panels',
      'There are panels "panels" already, in main.closet, line 11; choose another name, or give that one another first.',
    ],
    [
      'of another declaration of its kind',
      `${closet}template |v { depth 3in }`,
      't',
      'There is a template "t" already, in main.closet, line 1; choose another name, or give that one another first.',
    ],
    [
      'of a rod, for a board',
      'board |oak { depth 3in }\nrod pole { diameter 1in }',
      'pole',
      'There is a rod "pole" already, in main.closet, line 2; choose another name, or give that one another first.',
    ],
    [
      'of a wall that stands somewhere',
      at('wall alcove', 'wall |alcove'),
      'left',
      '"left" is a word of the language: where a wall of that name stands in the room follows from it.',
    ],
    [
      'of a word that stands in a unit',
      at('parameter w', 'parameter |w'),
      'count',
      '"count" is a word of the language that stands in a unit, so no unit could give it.',
    ],
    [
      'of a word where it would be read as that',
      `${at('panels', 'shelves row between |top and r { count 2 }')}`,
      'floor',
      '"floor" is a word of the language, and would be read as that in main.closet, line 10; choose another name.',
    ],
    [
      'that would be a unit of measure',
      `garment |coat { hang 50in }\n${at('for shirt', 'holds 3 coat')}`,
      'm',
      '"m" would not be read as a name in main.closet, line 10; choose another one.',
    ],
    [
      'that a board has where it is used',
      `${at('parameter w', 'parameter |b: board = white-12\n parameter w').replace('board white-12', 'board b; edge 2in of white-12')}`,
      'white-12',
      'In main.closet, line 9, "white-12" means board "white-12", and would come to mean parameter "b"; choose another name.',
    ],
    [
      'that is only named so far',
      `${closet}unit x n\ntemplate |v { depth 3in }`,
      'n',
      'In main.closet, line 15, "n" names nothing so far, and would come to mean template "v"; choose another name.',
    ],
    [
      'of a thing in a template that extends it',
      `${at('zone b', 'zone |b')}template v extends t { zone c on back { width 3in } }`,
      'c',
      'In main.closet, line 15, "c" means zone "c", and would come to mean zone "b"; choose another name.',
    ],
    [
      'of a thing in a template that it extends',
      `${closet}template v extends t { zone |c on back { width 3in } }`,
      'b',
      'In main.closet, line 15, "b" would mean zone "b" instead; choose another name.',
    ],
    [
      'that means a parameter to a template which inherits where it is used',
      `rod |chrome { diameter 1in }\ntemplate base { pole chrome }\ntemplate heir extends base { parameter wood: rod = chrome }`,
      'wood',
      'In main.closet, line 2, as template "heir" inherits it, "wood" would mean parameter "wood" instead; choose another name.',
    ],
    [
      'of what a template inherits and finds by its own parameter',
      `rod chrome { diameter 1in }\ntemplate base { pole chrome }\ntemplate heir extends base { parameter |wood: rod = chrome }`,
      'chrome',
      'In main.closet, line 2, as template "heir" inherits it, "chrome" means rod "chrome", and would come to mean parameter "wood"; choose another name.',
    ],
    [
      'of a unit that is agreed to',
      `${closet}unit v t\ntemplate |n { depth 3in }\naccept rod-near-wall at n because "so"`,
      'v',
      'In main.closet, line 17, "v" would mean unit "v" instead; choose another name.',
    ],
  ])('cannot be that %s', (_, marked, name, why) => expect(renamed(marked, name)).toBe(why));
});
