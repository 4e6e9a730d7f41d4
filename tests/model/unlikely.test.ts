/** Lengths that nobody would mean: told at the length, with what was meant, and with all that comes of it as one finding. */
import { describe, expect, it } from 'vitest';
import { allFindings, projectOf, told } from './support.ts';

/** `severity rule at what is marked: advice`, of all findings but notes. */
function said(text: string): string[] {
  return allFindings(projectOf(text))
    .filter(({ severity }) => severity !== 'note')
    .map((found) => {
      const { place, advice, severity, rule } = found;
      const at = told(found).file === '/p/main.closet' ? place.statement.text.slice(place.start, place.end) : 'stock';
      return `${severity} ${rule.id} at ${at}: ${advice}`;
    });
}

const shelf = 'zone a on back { width fill; board white-12; shelf s { at 72in } }';

describe('a length that is far too small', () => {
  it.each([
    ['template t { wall back { length 60in; height 8in } }', '8in', '8ft'],
    ['template t { wall back { length 60in; height 8" } }', '8"', '8ft'],
    ['template t { wall back { length 60in; height 240mm } }', '240mm', '240cm or 240in'],
    ['template t { wall back { length 60in; height 2.4cm } }', '2.4cm', '2.4m'],
    ['template t { wall back { length 60in; height 96in }; opening back { width 3in; height 7in } }', '3in', '3ft'],
    ['board oak { depth 12mm; thickness 3/4in }', '12mm', '12cm or 12in'],
    ['board oak { depth 12in; thickness 1.9mm }', '1.9mm', '1.9cm or 1.9in'],
    ['stock white-21 { length 8in }\nboard white-21 { depth 21in; thickness 3/4in }', '8in', '8ft'],
    ['garment robe { hang 4in; hanger 17in; takes 2in }', '4in', '4ft'],
  ])('is told with what was meant: %s', (text, at, meant) => {
    expect(said(text)[0]).toBe(`warning unlikely-size at ${at}: Did you mean ${meant}?`);
  });

  it.each([
    'template t { wall back { length 3in; height 24in } }',
    'template t { wall back { length 60in; height 96in }; opening back { width 10in; height 24in } }',
    'template t { wall back { length 60in; height 96in }; zone a on back { width 2in }; gap g on back after a { width 1/4in } }',
    'board oak { depth 2in; thickness 1/8in }',
    'stock white-21 { length 18in; offcut 3in }\nboard white-21 { depth 21in; thickness 3/4in }',
  ])('is not one that is built now and then: %s', (text) => {
    expect(said(text)).toEqual([]);
  });

  it('is not asked for in its place where a number lacks its unit of measure', () => {
    expect(said('template t { wall back { length 60in; height 8 } }')).toEqual([
      'error unit-of-measure-missing at 8: Write 8ft.',
    ]);
  });
});

describe('a wall beside the wall opposite', () => {
  const room = (left: string, right: string): string =>
    `template t { wall left { length ${left}; height 96in }; wall right { length ${right}; height 96in } }
unit u t
unit v t mirrored
`;

  it.each([
    ['25ft', '25in', '25ft', '25in'],
    ['4in', '4ft', '4in', '4ft'],
    ['240mm', '2400mm', '240mm', '240cm'],
    ['60in', '5in', '5in', '5ft'],
    ['24in', '24-1/2ft', '24-1/2ft', '24-1/2in'],
  ])('of %s is told where that is %s, once', (left, right, at, meant) => {
    expect(said(room(left, right))).toEqual([`warning unlikely-size at ${at}: Did you mean ${meant}?`]);
  });

  it.each([
    ['25in', '60in'],
    ['24in', '10ft'],
    ['2in', '48in'],
  ])('of %s may be %s', (left, right) => {
    expect(said(room(left, right))).toEqual([]);
  });
});

describe('a wall that was measured', () => {
  const measured = (readings: string): string =>
    `template t { wall back { length 60in; height 96in }; ${shelf} }\nunit u t\nsurvey u { wall back { ${readings} } }\n`;

  it('in another unit of measure is told at the reading, and not at the stock', () => {
    expect(said(measured('length 59-1/2in at 42in; length 20ft at 84in'))).toEqual([
      'error unlikely-size at 20ft: Measure again, or look whether it is another wall.',
    ]);
    expect(said(measured('length 58ft at 42in'))).toEqual(['error unlikely-size at 58ft: Did you mean 58in?']);
    expect(said(measured('length 5in'))).toEqual(['warning unlikely-size at 5in: Did you mean 5ft?']);
  });

  it('may be half or twice as long', () => {
    expect(said(measured('length 30in'))).toEqual([]);
    expect(said(measured('length 96in').replace('length 60in', 'length 48in'))).toEqual([]);
  });
});

describe('what comes of a slip', () => {
  it('is one finding with it: a part that no stock holds', () => {
    const wall = (length: string): string =>
      `template t { wall back { length ${length}; height 96in }; ${shelf} }\nunit u t\n`;
    expect(said(wall('41ft'))).toEqual(['error unlikely-size at 41ft: Did you mean 41in?']);
    expect(said(wall('200in'))).toEqual([
      'error part-longer-than-stock at stock: Add a stock length of at least 200in, or divide the part in the layout.',
    ]);
  });

  it('is one finding with it: heights and widths that cannot hold', () => {
    expect(said(`template t { wall back { length 60in; height 8in }; ${shelf} }\nunit u t\n`)).toEqual([
      'error unlikely-size at 8in: Did you mean 8ft?',
    ]);
    expect(
      said(`template t { wall back { length 60in; height 96in }; ${shelf.replace('fill', '48ft')} }\nunit u t\n`),
    ).toEqual(['error unlikely-size at 48ft: Did you mean 48in?']);
  });

  it('is one finding with an argument that is out of its range', () => {
    const unit = (width: string): string =>
      `template t { parameter width: length from 30in to 98in; wall back { length width; height 96in }; ${shelf} }
unit u t { width ${width} }
`;
    expect(said(unit('41ft'))).toEqual(['error argument-out-of-range at 41ft: Did you mean 41in?']);
    expect(said(unit('8in'))).toEqual(['error argument-out-of-range at 8in: Did you mean 8ft?']);
    expect(said(unit('60mm'))).toEqual(['error argument-out-of-range at 60mm: Did you mean 60in?']);
  });

  it('is told of loose parts at their length', () => {
    expect(said('extra e { board white-12; length 41ft; count 2 }')).toEqual([
      'error unlikely-size at 41ft: Did you mean 41in?',
    ]);
  });

  it('leaves what is too long for another reason where it is', () => {
    const text = `template t { wall back { length 60in; height 96in }; ${shelf} }
unit u t { override back { length 41ft } }
unit v t { override back { length 160in } }
`;
    expect(said(text)).toEqual([
      'error unlikely-size at 41ft: Did you mean 41in?',
      'error part-longer-than-stock at stock: Add a stock length of at least 160in, or divide the part in the layout.',
    ]);
  });
});
