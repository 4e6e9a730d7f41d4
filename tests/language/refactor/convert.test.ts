import { describe, expect, it } from 'vitest';
import { made, titleOf } from './support.ts';

const inMillimetres = 'convert-statement-to-millimetres';
const inInches = 'convert-statement-to-inches';

const template = (zone: string): Record<string, string> => ({
  'main.closet': `template t {
  board white-12
  wall back { length 94in; height 96in }
  ${zone}
}

unit u t
`,
});

describe('the lengths of one statement', () => {
  it('and of its block are written in millimetres, and no others', () => {
    const { 'main.closet': text } = made(
      template('zo|ne a on back { width 48in; shelf s { at 40-1/64in; depth 10in } }'),
      inMillimetres,
    );
    expect(text).toContain('zone a on back { width 1219.2mm; shelf s { at 1016.396875mm; depth 254mm } }');
    expect(text).toContain('wall back { length 94in; height 96in }');
  });

  it('are those of the innermost statement that has several', () => {
    const zone = 'zone a on back { width 48in; shelf s { at 4|0in; depth 10in } }';
    expect(titleOf(template(zone), inMillimetres)).toBe('Write the lengths of shelf s in millimetres');
    expect(made(template(zone), inMillimetres)['main.closet']).toContain(
      'zone a on back { width 48in; shelf s { at 1016mm; depth 254mm } }',
    );
    const range = 'zone a on back { width fr|om 40in to 48in; shelf s { at 40in } }';
    expect(titleOf(template(range), inMillimetres)).toBe('Write the lengths of width in millimetres');
  });

  it('name the parameter that they are the range of, and a fixture by its name', () => {
    const range = 'parameter deep: length = 10|in from 8in to 12in';
    expect(titleOf(template(range), inMillimetres)).toBe('Write the lengths of parameter deep in millimetres');
    const fixture = 'fixture outlet plug on back { from left 2|0in; height 16in }';
    expect(titleOf(template(fixture), inMillimetres)).toBe('Write the lengths of fixture plug in millimetres');
    const given = { ...template(''), 'units.closet': 'unit v t { override back { length 9|0in; height 90in } }\n' };
    expect(titleOf(given, inMillimetres)).toBe('Write the lengths of override back in millimetres');
  });

  it('that would be rounded stay, and are counted', () => {
    const zone = 'zone a on back { width 1219.2mm; shelf |s { at 1000mm; depth 254mm } }';
    expect(titleOf(template(zone), inInches)).toBe(
      'Write the lengths of shelf s in inches; 1 that would be rounded stays',
    );
    expect(made(template(zone), inInches)['main.closet']).toContain('shelf s { at 1000mm; depth 10in }');
    const none = 'zone a on back { width 48in; shelf |s { at 1000mm; depth 251mm } }';
    expect(titleOf(template(none), inInches)).toBe(
      'Write the lengths of shelf s in inches; 2 that would be rounded stay (None of them is exact there.)',
    );
  });

  it('of both systems can be brought into either', () => {
    const zone = 'zone a on back { width 48in; shelf |s { at 1016mm; depth 10in } }';
    expect(made(template(zone), inInches)['main.closet']).toContain('shelf s { at 40in; depth 10in }');
    expect(made(template(zone), inMillimetres)['main.closet']).toContain('shelf s { at 1016mm; depth 254mm }');
  });

  it('are not spoken of where there is but one', () => {
    expect(titleOf({ 'main.closet': 'stock whi|te-12 { length 8ft }\n' }, inMillimetres)).toBeUndefined();
  });
});

describe('a line that grows', () => {
  it('is broken where it would be wider than the style has it', () => {
    const zone =
      'zo|ne a on back { width 48in; shelf s { at 40-1/64in; depth 10-1/64in }; rod r { at 39-1/64in; from wall 9in } }';
    const { 'main.closet': text } = made(template(zone), inMillimetres);
    expect(text).toContain('  zone a on back {\n    width 1219.2mm\n');
  });
});
