/** Examples in advice, hover and what is offered, in the units of measure of the project. */
import { describe, expect, it } from 'vitest';
import { Source } from '../../grammar/source.ts';
import { examplesIn } from '../../server/model/examples.ts';
import { read } from '../../server/model/reading.ts';
import { type BlockPlace, vocabulary } from '../../server/model/vocabulary.ts';
import { allFindings, workspaceOf } from './support.ts';

const project = (show: string, text: string) =>
  workspaceOf({ '/p/project.closet': `project "Quarry Lane" { ${show} }\n`, '/p/main.closet': text }).projects.flatMap(
    ({ project: one }) => allFindings(one),
  );

describe('an example', () => {
  it('stays as it is where a project shows inches', () => {
    expect(examplesIn('shelf high { at 84in; depth 12in }', 'inches')).toBe('shelf high { at 84in; depth 12in }');
  });

  it.each([
    // Whole inches are sizes that somebody chose: in round millimetres. 84 x 25.4 = 2133.6, 12 x 25.4 = 304.8.
    ['shelf high { at 84in; depth 12in }', 'shelf high { at 2150mm; depth 300mm }'],
    ['under high by 3in', 'under high by 75mm'],
    // Fractions were measured: 14.5 x 25.4 = 368.3.
    ['studs every 16in from 14-1/2in', 'studs every 400mm from 368mm'],
    ['saw-step 1/16in', 'saw-step 2mm'],
    // Boards are sold by the foot: 8 x 304.8 = 2438.4.
    ['stock white-12 { length 8ft }', 'stock white-12 { length 2440mm }'],
    ['6ft 3-1/2in', '1918mm'],
    ['limit worth-shortening at most 0in', 'limit worth-shortening at most 0mm'],
    // 40 x 47.88 Pa = 1915 Pa; 330 x 6.895 MPa = 2275 MPa.
    ['load shelf 40 lbf/ft2', 'load shelf 1.9 kPa'],
    ['stiffness 330 ksi', 'stiffness 2.3 GPa'],
    // The size of a screw is its name.
    ['screws "#8 x 1-1/2 in"', 'screws "#8 x 1-1/2 in"'],
  ])('is written in millimetres where a project shows them: %s', (inches, millimetres) => {
    expect(examplesIn(inches, 'millimetres')).toBe(millimetres);
  });

  it('has the currency of the project, where it names one', () => {
    const example = 'stock white-12 { length 6ft price 14.50 EUR count 40 }';
    expect(examplesIn(example, 'inches')).toBe(example);
    expect(examplesIn(example, 'inches', 'CHF')).toBe('stock white-12 { length 6ft price 14.50 CHF count 40 }');
    expect(examplesIn(example, 'millimetres', 'CHF')).toBe('stock white-12 { length 1830mm price 14.50 CHF count 40 }');
    // It is no price where it says what may be written.
    expect(examplesIn('currency EUR', 'inches', 'CHF')).toBe('currency EUR');
  });

  it('of any word can be read in millimetres as it can in inches', () => {
    const wrong = (place: BlockPlace, text: string): string[] => {
      const [statement] = [...new Source('/p/a.closet', text, new Set()).statements()];
      return statement ? read(statement, place).findings.map(({ rule }) => rule.id) : ['nothing'];
    };
    for (const { places, example } of vocabulary) {
      const metric = examplesIn(example, 'millimetres');
      expect(metric.replaceAll(/"[^"]*"/g, ''), example).not.toMatch(/\d(in|ft)\b|lbf|ksi/);
      for (const place of places) expect(wrong(place, metric), metric).toEqual(wrong(place, example));
    }
  });
});

describe('advice', () => {
  const text =
    'template t { wall back { height 96in }; zone a on back { width 20in; shelf s { } } }\nunit u t\ngarment g\n';
  const asked = (show: string) =>
    project(show, text).flatMap(({ rule, advice, fixes }) =>
      ['wall-length-missing', 'height-missing', 'block-missing'].includes(rule.id)
        ? [advice, ...fixes.flatMap(({ title, edits }) => [title, ...edits.map((edit) => edit.text.trim())])]
        : [],
    );

  it('gives its examples in the unit of measure of the project, and so does what it offers', () => {
    expect(asked('show inches').filter((said) => /\d/.test(said ?? ''))).toEqual(
      expect.arrayContaining(['Write for example: length 94in', 'Write length 94in', 'Write at 84in']),
    );
    const metric = asked('show millimetres');
    expect(metric).toEqual(
      expect.arrayContaining([
        'Write for example: length 2400mm',
        'Write length 2400mm',
        'Write for example: at 2150mm',
        'For example: garment shirt { hang 950mm; hanger 450mm; takes 38mm }',
        '{ hang 950mm; hanger 450mm; takes 38mm }',
      ]),
    );
    expect(metric.filter((said) => /\din\b/.test(said ?? ''))).toEqual([]);
  });
});

describe('advice about prices', () => {
  const asked = (show: string) =>
    project(show, 'board oak { depth 12in }\nstock oak { length 6ft price }\n').flatMap(({ advice }) => advice ?? []);

  it('asks for them in the currency of the project', () => {
    expect(asked('show inches').join('\n')).toContain('14.50 EUR');
    const own = asked('show inches; currency CHF').join('\n');
    expect(own).toContain('14.50 CHF');
    expect(own).not.toContain('EUR');
  });
});

describe('a size that is unlikely', () => {
  const said = (written: string) => {
    const [found] = project('show inches', `board oak { depth ${written} }\n`).filter(
      ({ rule }) => rule.id === 'unlikely-size',
    );
    return found && [found.message, found.advice, ...found.fixes.map(({ title }) => title)];
  };

  it('is compared in the unit of measure that it is written in, and mended where a slip of it would do', () => {
    // The depth of a board is hardly ever more than 48 in, which are 1219.2 mm.
    expect(said('12ft')).toEqual([
      '12ft is 144in, and "depth" is hardly ever more than 48in here. Feet may be written where inches were meant.',
      'Did you mean 12in?',
      'Write 12in',
    ]);
    expect(said('305cm')).toEqual([
      '305cm is 3050mm, and "depth" is hardly ever more than 1219.2mm here. Centimetres may be written where millimetres were meant.',
      'Did you mean 305mm?',
      'Write 305mm',
    ]);
  });

  it('offers nothing that would write the same again', () => {
    expect(said('3050mm')).toEqual([
      '3050mm is long: "depth" is hardly ever more than 1219.2mm here.',
      'See whether there is a digit too many.',
    ]);
    expect(said('120in')).toEqual([
      '120in is long: "depth" is hardly ever more than 48in here.',
      'See whether there is a digit too many.',
    ]);
  });
});

describe('widths inside of a zone', () => {
  it('that cannot hold are told of the zone, and of no wall', () => {
    const text =
      'template t { wall back { length 60in; height 96in }; zone a on back { width 40in; zone b { width 30in }; zone c after b { width 20in } } }\nunit u t\n';
    const [found] = project('show inches', text).filter(({ rule }) => rule.id === 'widths-do-not-close');
    // 30 + 20 in of 40 in.
    expect(found?.message).toContain('That takes 10in more than there is.');
    expect(found?.advice).toBe(
      'Make zone a.b or zone a.c 10in narrower, or zone a 10in wider where there is room for that.',
    );
    expect(found?.fixes.map(({ title }) => title)).toEqual([
      'Write 20in instead of 30in for b',
      'Write 10in instead of 20in for c',
      'Write 50in instead of 40in for a',
    ]);
    expect(found?.comparison?.what).toBe('width that is lacking along zone a');
  });

  it('are not mended by a width of the zone around them where it has none of its own', () => {
    const text =
      'template t { wall back { length 40in; height 96in }; zone a on back { width fill; zone b { width 30in }; zone c after b { width 20in } } }\nunit u t\n';
    const [found] = project('show inches', text).filter(({ rule }) => rule.id === 'widths-do-not-close');
    expect(found?.advice).toBe('Make zone a.b or zone a.c 10in narrower.');
    expect(found?.fixes).toHaveLength(2);
  });
});
