/** Zones that hold others: what they have to be wide for those. */
import { describe, expect, it } from 'vitest';
import { projectOf } from './support.ts';

const inch = (ticks: number): number => ticks / 1_016_000;

/** A back wall, and what is on it. */
function on(wall: string, inside: string): { zones: Record<string, number>; found: string[] } {
  const text = `board white-12 { depth 12in; thickness 3/4in }
template t {
  board white-12
  wall back { length ${wall}; height 96in }
${inside}
}
unit u t
`;
  const project = projectOf(text);
  const [unit] = project.units();
  const { layout, findings } = unit?.resolved ?? {};
  if (!layout || !findings) throw new Error(text);
  return {
    zones: Object.fromEntries(layout.zones.map(({ path, width }) => [path, inch(width.value)])),
    found: findings
      .filter(({ rule }) => rule.id === 'widths-do-not-close' || rule.id === 'survey-narrower-than-layout')
      .map(({ message }) => message),
  };
}

const outer = (width: string, inner: string, name = 'outer', where = ' on back'): string =>
  `  zone ${name}${where} { width ${width}\n${inner}  }\n`;
const inner = (name: string, width: string, where = ''): string => `    zone ${name}${where} { width ${width} }\n`;

describe('a zone in a range that holds others', () => {
  it('is as wide as those in it need at least', () => {
    const two = inner('a', '20in') + inner('b', 'from 10in to 15in', ' after a');
    expect(on('90in', outer('from 20in to 40in', two))).toEqual({
      zones: { outer: 30, 'outer.a': 20, 'outer.b': 10 },
      found: [],
    });
  });

  it('is not wider than its own least where that holds them', () => {
    expect(on('90in', outer('from 30in to 40in', inner('a', '20in'))).zones).toEqual({ outer: 30, 'outer.a': 20 });
  });

  it('is not to be written as a width that does not hold them', () => {
    const loose = (most: string): string[] => {
      const text = `template t {\n  wall back { length 90in; height 96in }\n${outer(`from 10in to ${most}`, inner('a', '20in'))}}\nunit u t\n`;
      const [unit] = projectOf(text).units();
      return (
        unit?.resolved?.findings.filter(({ rule }) => rule.id === 'width-loose').map(({ message }) => message) ?? []
      );
    };
    expect(loose('30in')).toEqual(['Zone outer can be 20in to 30in wide; 20in is taken.']);
    expect(loose('19in')).toEqual([]);
  });

  it('counts its panels', () => {
    const panels = '    panels { height 84in }\n';
    expect(on('90in', outer('from 10in to 40in', panels + inner('a', '20in'))).zones).toEqual({
      outer: 21.5,
      'outer.a': 20,
    });
  });

  it('counts what is inside those that are inside it, however deep', () => {
    const deep = (levels: number): string =>
      levels === 0
        ? 'width 20in'
        : `width from 1in to 80in; zone z { ${deep(levels - 1)} }; zone y after z { width 1in }`;
    const { zones, found } = on('90in', `zone z on back { ${deep(6)} }`);
    expect(found).toEqual([]);
    expect(zones.z).toBe(26);
  });

  it('is as wide as equal shares and what is centred in it need', () => {
    // Three shares of the 12 in that one of them has at least; and 10 in on both sides of what is centred.
    const shares =
      inner('a', 'share at least 12in') + inner('b', 'share', ' after a') + inner('c', 'share', ' after b');
    expect(on('90in', outer('from 20in to 40in', shares)).zones.outer).toBe(36);
    const centred = inner('a', '10in') + inner('b', '7in', ' centred');
    expect(on('90in', outer('from 20in to 40in', centred)).zones.outer).toBe(27);
  });

  it('is wider than it has to be for a neighbour that takes so much at most', () => {
    // Of 60 in, b has 25 at most: 35 in for the outer one, though 20 would do.
    const { zones, found } = on(
      '60in',
      `${outer('from 10in to 40in', inner('a', '20in'))}  zone b on back after outer { width fill at most 25in }\n`,
    );
    expect([zones.outer, found]).toEqual([35, []]);
  });

  it('is not wider than what takes the rest in it can be', () => {
    const rest = outer('from 10in to 40in', inner('a', 'fill at most 20in'));
    expect(on('60in', `${rest}  zone b on back after outer { width fill at most 25in }\n`).found).toEqual([
      'These cannot all hold: the back wall is 60in long; zone b takes what is left, at most 25in; zone outer.a takes what is left, at most 20in. The sum is out by 15in.',
    ]);
  });

  it('is compared at its greatest with what they need at least', () => {
    const { zones, found } = on('90in', outer('from 10in to 18in', inner('a', '20in')));
    expect(found).toEqual([
      'These cannot all hold: zone outer is at most 18in wide inside; zone outer.a is 20in wide. That takes 2in more than there is.',
    ]);
    expect(zones.outer).toBe(10);
  });

  it('is told of with what it shares the wall with, and everything that fits is drawn', () => {
    const { zones, found } = on(
      '60in',
      `  zone x on back { width 45in }\n${outer('from 10in to 40in', inner('a', '8in') + inner('b', '12in', ' after a'), 'outer', ' on back after x')}`,
    );
    expect(found).toEqual([
      'These cannot all hold: the back wall is 60in long; zone x is 45in wide; zone outer.a is 8in wide; zone outer.b is 12in wide. That takes 5in more than there is.',
    ]);
    expect(zones).toEqual({ x: 45, outer: 10 });
  });

  it('is told of by those inside that do not fit, two deep and with panels', () => {
    const text = `zone outer on back { width fill; panels { height 84in }
  zone p { width from 5in to 50in; zone a { width 3in }; zone b after a { width 40in } }
}`;
    expect(on('40in', text).found).toEqual([
      'These cannot all hold: the back wall is 40in long; the panels of zone outer take 1-1/2in; zone outer.p.a is 3in wide; zone outer.p.b is 40in wide. That takes 4-1/2in more than there is.',
    ]);
  });

  it('is the doing of the survey where it fits on the length that was drawn', () => {
    const text = `template t {
  wall back { length 60in; height 96in }
  zone outer on back { width fill
    zone a { width 30in }
    zone b after a { width 28in }
  }
}
unit u t
survey u { wall back { length 57in } }
`;
    const [unit] = projectOf(text).units();
    const found = unit?.resolved?.findings.filter(({ severity }) => severity === 'error') ?? [];
    expect(found.map(({ rule }) => rule.id)).toEqual(['survey-narrower-than-layout']);
    // 30 + 28 = 58, of 57.
    expect(found[0]?.message).toContain('That takes 1in more than there is');
  });
});
