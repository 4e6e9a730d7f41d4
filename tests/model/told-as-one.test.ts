/** A text of a file that has one slip in it, however many characters that takes: it is told once, and one fix mends it. */
import { describe, expect, it } from 'vitest';
import { saidOfFile } from './said.ts';
import { projectOf } from './support.ts';

/** What is said of a text, how to mend it, and what the first fix that holds makes of it. */
function said(text: string): string[] {
  return saidOfFile(text).map(({ found, mended }) =>
    [`${found.message} ${found.advice}`, ...(mended === undefined ? [] : [mended])].join('\n'),
  );
}

const template = 'template t { wall back { length 60in; height 96in } }\n';

describe('a text between marks of another kind', () => {
  it.each([
    ['“oak”', 'between “ and ”'],
    ['„oak“', 'between „ and “'],
    ['«oak»', 'between « and »'],
    ["'oak'", "between ' and '"],
    ['‘oak’', 'between ‘ and ’'],
  ])('is told once, and both marks are mended: %s', (written, between) => {
    const line = (text: string): string => `board oak { depth 12in; thickness 3/4in; finish ${text} }\n`;
    expect(said(line(written))).toEqual([
      `A text stands between plain double quotation marks ("), and this one ${between}. Did you mean "oak"?\n${line('"oak"')}`,
    ]);
  });

  it('is told once whatever stands in it', () => {
    const line = (text: string): string => `${template}unit u t { floor ${text} }\n`;
    const inner = 'it’s 2 – 3/0, (by hand + # § A';
    expect(said(line(`“${inner}”`))).toEqual([
      `A text stands between plain double quotation marks ("), and this one between “ and ”. Did you mean "${inner}"?\n${line(`"${inner}"`)}`,
    ]);
  });

  it('of which one mark is plain is told once', () => {
    const line = (text: string): string => `board oak { depth 12in; thickness 3/4in; finish ${text} }\n`;
    expect(said(line('“oak"'))).toEqual([
      `A text stands between plain double quotation marks ("), and this one between “ and ". Did you mean "oak"?\n${line('"oak"')}`,
    ]);
    expect(said(line('"oak”'))).toEqual([
      `This text has no closing quotation mark. Add " where the text ends; a text ends on its own line.\n${line('"oak"')}`,
    ]);
  });

  it('does not begin with the mark of feet', () => {
    expect(said('extra e { board white-12; length 5’ 6”; count 2 }\n')).toEqual([
      '’ 6” is not how feet and inches are written. Did you mean 5ft 6in?\nextra e { board white-12; length 5ft 6in; count 2 }\n',
    ]);
  });
});

describe('a text that is not closed', () => {
  it('is told once where it takes in a brace', () => {
    const line = (text: string): string => `board oak { depth 12in; thickness 3/4in; finish ${text} }\n`;
    expect(said(line('"oak'))).toEqual([
      `This text has no closing quotation mark. Add " where the text ends; a text ends on its own line.\n${line('"oak"')}`,
    ]);
  });
});

describe('a comment of another language', () => {
  it.each([
    [`#${' the hall'}\n`, '// the hall\n'],
    ['# it\'s 8ft, see "plan\n', '// it\'s 8ft, see "plan\n'],
    ['#shelf r { at 62in }\n', '//shelf r { at 62in }\n'],
    ['## §\n', '// §\n'],
    ['-- the hall\n', '// the hall\n'],
  ])('on a line of its own is told once, and nothing else of it: %s', (written, mended) => {
    const mark = /^\W\W?(?=[ \w])/.exec(written)?.[0].trim();
    expect(said(template + written)).toEqual([
      `A comment begins with //, not with ${mark}. Write // in its place.\n${template}${mended}`,
    ]);
  });

  it('behind a statement leaves that as it is', () => {
    const text = (mark: string): string => `template t {
  wall back {
    length 60in ${mark} 8ft to the window, and 2in
    height 96in ${mark} it's high; see "plan
  }
  zone a on back { ${mark} holds shirts
    width fill
    board white-12 ${mark} the white one
  }
}
unit u t ${mark} mirrored
`;
    const project = projectOf(text('#'));
    const found = project.findings().map(({ message }) => message);
    expect(found).toEqual(Array.from({ length: 5 }, () => 'A comment begins with //, not with #.'));
    expect([...project.units()].map(({ mirrored, resolved }) => [mirrored, resolved?.layout.zones.length])).toEqual([
      [false, 1],
    ]);
  });

  it('takes a block out as a whole', () => {
    const text = (mark: string): string => `template t {
  wall back { length 60in; height 96in }
  ${mark} zone b on back {
  ${mark}   width fill
  ${mark} }
}
`;
    expect(said(text('#'))).toEqual([`A comment begins with //, not with #. Write // in its place.\n${text('//')}`]);
  });

  it('is not offered to be one where it would take in a brace', () => {
    expect(said('template t { wall back { length 60in; height 96in # high } }\n')).toEqual([
      'A comment begins with //, not with #. Write // in its place.',
    ]);
  });
});

describe('a letter that is written as two characters', () => {
  it('is told in words, and the one that it makes is offered', () => {
    const text = (name: string): string => `template ${name} { wall back { length 60in; height 96in } }\n`;
    expect(said(text('tu\u0308r'))).toEqual([
      `In this name a letter and a mark over it are two characters (U+0308), and a name has one for each letter. Did you mean t\u00fcr?\n${text('t\u00fcr')}`,
    ]);
  });

  it('and makes none is offered without its mark', () => {
    const text = (name: string): string => `template ${name} { wall back { length 60in; height 96in } }\n`;
    expect(said(text('q\u0308-a\u0301x'))).toEqual([
      `In this name a letter and a mark over it are two characters (U+0308), and a name has one for each letter. Did you mean q-\u00e1x?\n${text('q-\u00e1x')}`,
    ]);
  });

  it('is mended wherever the name stands, as in one place alone it would be another name', () => {
    const text = (name: string): string =>
      `template t {
  wall back { length 60in; height 96in }
  zone ${name} on back { width 20in }
  zone b on back after ${name} { width fill }
}
unit u t
`;
    const found = said(text('sta\u0308nder'));
    expect(found.map((one) => one.split('\n').slice(1).join('\n'))).toEqual([
      text('st\u00e4nder'),
      text('st\u00e4nder'),
    ]);
  });

  it('is told in the first word of a statement too', () => {
    expect(said('bo\u0308ard oak { depth 12in; thickness 3/4in }\n')).toEqual([
      expect.stringContaining('Did you mean b\u00f6ard?'),
    ]);
  });
});

describe('a character that nobody sees', () => {
  it.each(['\u200b', '\u00ad', '\u2060'])('is told by its number, and taken away: %j', (mark) => {
    const number = mark.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
    expect(said(template.replace('wall', `wa${mark}ll`))).toEqual([
      `A character that is not seen (U+${number}) stands in this word. Did you mean wall?\n${template}`,
    ]);
    expect(said(template.replace('60in', `60in${mark}`))).toEqual([
      `A character that is not seen (U+${number}) stands here. Did you mean 60in?\n${template}`,
    ]);
  });
});

describe('what is meant by other signs', () => {
  it.each([
    ["3' 5'' + 2in", '3ft 5in'],
    ["2in + 3' 5''", '3ft 5in'],
    ["(2in + 3' 5'') / 2", '3ft 5in'],
    ["2'' * 3", '2in'],
    ['70 ½ in + 2in', '70-1/2 in'],
    ['(2 × 40in)', '2 * 40in'],
    ['min(2 × 40in, 3ft)', '2 * 40in'],
  ])('is told as it can be written: %s', (written, meant) => {
    const [found, ...more] = projectOf(`extra e { board white-12; length ${written}; count 2 }\n`).findings();
    expect(more).toEqual([]);
    expect([found?.advice, found?.fixes[0]?.title]).toEqual([`Did you mean ${meant}?`, `Write ${meant}`]);
  });
});
