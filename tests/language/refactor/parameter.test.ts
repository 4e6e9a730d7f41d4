/** Which numbers can become a parameter of their template. */
import { describe, expect, it } from 'vitest';
import { made, titleOf } from './support.ts';

const template = (test: string): Record<string, string> => ({
  'main.closet': `template t {
  parameter width: length = 94in
  board white-12
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at 80in } }
  test "as drawn" { ${test} }
}
`,
});

describe('a number in a test of a template', () => {
  it('is what is expected or given, and makes no parameter', () => {
    const why = 'What stands here is no value that could be given by a unit.';
    for (const test of ['expect a.s at |80in', 'width |93in', 'expect a width |93in'])
      expect(titleOf(template(test), 'to-parameter'), test).toMatch(new RegExp(`^Make .* \\(${why}\\)$`));
  });
});

describe('a number without its unit of measure', () => {
  it('makes no parameter, which would be a count where a length should be', () => {
    const text = (at: string): Record<string, string> => ({
      'main.closet': `template t {\n  wall back { length 60in; height 96in }\n  zone a on back { width fill; shelf s { at ${at} } }\n}\n`,
    });
    expect(titleOf(text('|60'), 'to-parameter')).toBeUndefined();
    expect(titleOf(text('|60in'), 'to-parameter')).toContain('"s-at"');
    expect(titleOf(text('60in / |2'), 'to-parameter')).toContain('"s-at"');
  });
});

describe('the name of a parameter that is made', () => {
  const base = (width: string, more = ''): string => `template base {
${more}  board white-12
  wall back { length 94in; height 96in }
  zone a on back { width ${width}; shelf s { at 40in } }
  zone b on back after a { width 30in }
}
`;
  const heir = `template heir extends base {
  parameter a-width: length = 30in
  zone b { width a-width }
}
`;

  it('is none that a template built on it has: that one would take its place', () => {
    const after = made({ 'main.closet': `${base('|20in')}${heir}unit u heir\n` }, 'to-parameter')['main.closet'];
    expect(after).toContain('parameter a-width-2: length = 20in');
    expect(after).toContain('width a-width-2; shelf s');
  });

  it('is none that a template has which it is built on', () => {
    const own = 'template heir extends base { zone b { width |25in } }\nunit u heir\n';
    const before = base('b-width', '  parameter b-width: length = 20in\n');
    expect(made({ 'main.closet': `${before}${own}` }, 'to-parameter')['main.closet']).toContain(
      'parameter b-width-2: length = 25in',
    );
  });

  it('is none that a unit gives, be it by mistake', () => {
    for (const unit of ['unit u heir { a-width 35in }', 'unit u base { a-width 35in }'])
      expect(titleOf({ 'main.closet': `${base('|20in')}${heir}${unit}\n` }, 'to-parameter')).toContain('"a-width-2"');
    expect(titleOf({ 'main.closet': `${base('|20in')}unit u base { a-width 35in }\n` }, 'to-parameter')).toContain(
      '"a-width-2"',
    );
  });

  it('is free for a template that has nothing to do with it', () => {
    const other = 'template other { parameter a-width: length = 30in }\nunit v other { a-width 35in }\n';
    expect(titleOf({ 'main.closet': `${base('|20in')}${other}` }, 'to-parameter')).toContain('"a-width"');
  });

  it('is none that is in another project which is built on it as on a library', () => {
    const house = `project "House" { }\nuse "../trade" as trade\n${heir.replace('extends base', 'extends trade.base')}unit u heir\n`;
    const files = { '/trade/main.closet': `project "Trade" { }\n${base('20in')}`, '/house/main.closet': house };
    expect(
      titleOf({ ...files, '/trade/main.closet': files['/trade/main.closet'].replace('20in', '|20in') }, 'to-parameter'),
    ).toContain('"a-width-2"');
  });

  it('has letters of any alphabet', () => {
    const text = `template base {
  parameter höhe-width: length = 30in
  board white-12
  wall back { length 94in; height 96in }
  zone b on back { width höhe-width }
  zone höhe on back after b { width |20in }
}
unit u base
`;
    expect(made({ 'main.closet': text }, 'to-parameter')['main.closet']).toContain(
      'parameter höhe-width-2: length = 20in',
    );
  });
});
