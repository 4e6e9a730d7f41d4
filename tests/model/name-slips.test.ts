/** Names and labels with signs in them that none has: what a name is made of is said, and one that can be is offered. */
import { describe, expect, it } from 'vitest';
import { saidOfFile } from './said.ts';

const template = 'template t { wall back { length 60in; height 96in } }\n';

/** What is said, and what is left of the second line once it is mended. */
function said(text: string): string[] {
  return saidOfFile(text).map(
    ({ found, mended }) =>
      `${found.message} ${found.advice}${mended === undefined ? '' : ` => ${mended.split('\n')[1]}`}`,
  );
}

const isNone = 'is no name: a name begins with a letter, and has letters, digits, underscores and single hyphens.';

describe('a name', () => {
  it.each([
    ['unit 101-bed t', '101-bed', 'unit u101-bed t'],
    ['unit 102 t', '102', 'unit u102 t'],
    ['unit A--101 t', 'A--101', 'unit A-101 t'],
    ['unit A/101 t', 'A/101', 'unit A-101 t'],
    ['unit A.101 t', 'A.101', 'unit A-101 t'],
    ['unit A-101- t', 'A-101-', 'unit A-101 t'],
    ['unit A 101 t', 'A 101', 'unit A-101 t'],
    ['unit "A 101" t', 'A 101', 'unit A-101 t'],
    ['board 12-white { depth 12in; thickness 3/4in }', '12-white', 'board b12-white { depth 12in; thickness 3/4in }'],
    ['template 2nd { wall back { length 60in } }', '2nd', 'template t2nd { wall back { length 60in } }'],
  ])('says how names are formed, and which is meant: %s', (line, name, mended) => {
    const meant = /(?<= )\S+/.exec(mended)?.[0];
    expect(said(template + line)).toEqual([`"${name}" ${isNone} Did you mean ${meant}? => ${mended}`]);
  });

  it('of something else says so too', () => {
    const text = `${template}unit u101 t { floor 1 }\nsurvey 101 { wall back { length 60in } }\n`;
    expect(said(text)).toEqual([`"101" ${isNone} Did you mean u101? => unit u101 t { floor 1 }`]);
  });

  it('is not seen in a length that stands for one', () => {
    expect(said(`${template}board 12in { depth 12in; thickness 3/4in }`)[0]).toContain('Write it like this');
  });
});

describe('a label', () => {
  const isLabel = 'is neither a name nor a number, and any other label stands in quotation marks.';
  it.each(['3A', '101-b', '101-2', '1st', 'A/2', 'A 2', 'A.2', '2nd left', 'ground floor'])(
    'of several signs is offered as a text: %s',
    (label) => {
      const line = (written: string): string => `unit u t { floor ${written} }`;
      expect(said(template + line(label))).toEqual([`"${label}" ${isLabel} Write "${label}" => ${line(`"${label}"`)}`]);
    },
  );

  it.each(['3', '-1', 'A', 'A-2', '2.1', '12/3', '"A 2"'])('may be %s', (label) => {
    expect(said(`${template}unit u t { floor ${label} }`)).toEqual([]);
  });

  it('ends where another statement begins', () => {
    expect(said(`${template}unit u t { floor 1 flat A }`)).toEqual([
      expect.stringContaining('"flat" begins a statement of its own'),
    ]);
  });
});

describe('a word that says nothing here', () => {
  it('is the one that is too many, and not what stands behind it', () => {
    expect(said(`${template}unit u of t`)).toEqual([
      '"of" does not fit here; without it this is complete. Write unit u t => unit u t',
    ]);
  });
});
