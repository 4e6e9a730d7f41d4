import { describe, expect, it } from 'vitest';
import { type HintKind, hintsIn } from '../../server/language/inlay-hints.ts';
import { snapshotOf } from './marked.ts';

const everyKind: readonly HintKind[] = ['width', 'height', 'cut', 'value', 'default'];

/** The text with its hints in it, as an editor shows it. */
function shown(text: string, kinds = everyKind, range = { start: 0, end: text.length }): string {
  const hints = hintsIn(snapshotOf(text), range, new Set(kinds)).sort((a, b) => b.at - a.at);
  return hints.reduce((made, { at, label }) => `${made.slice(0, at)}‹${label}›${made.slice(at)}`, text);
}

const closet = (inside: string, parameter = 'parameter width: length = 60in from 50in to 70in'): string => `template t {
  ${parameter}
  wall back { length width; height 96in }
  board white-12
  pole chrome
  zone a on back { width 20in
    shelf top { at 84in }
    ${inside}
  }
  zone b on back after a { width fill }
}
`;

describe('inlay hints', () => {
  it('tell the width of a zone that takes what is left', () => {
    expect(shown(closet(''), ['width'])).toContain('zone b on back after a { width fill‹= 40in› }');
  });

  it('tell the range of it where the parameters have no defaults', () => {
    const text = closet('', 'parameter width: length from 50in to 70in');
    expect(shown(text, ['width'])).toContain('width fill‹= 30in to 50in›');
  });

  it('tell heights that follow from others, and none that is written', () => {
    const text = shown(closet('rod r { under top by 3in }\n    shelf low { at from 40in to 44in }'), ['height']);
    expect(text).toContain('under top by 3in‹at 81in›');
    expect(text).toContain('at from 40in to 44in‹at 40in›');
    expect(text).toContain('shelf top { at 84in }');
  });

  it('tell the heights of a row once, where its pitch or count stands', () => {
    const row = 'shelf low { at 12in }\n    shelves loose between low and top { count 2; pitch from 10in to 40in }';
    // The undersides of low and top are 72in apart: three equal pitches of 24in.
    expect(shown(closet(row), ['height'])).toContain('pitch from 10in to 40in‹at 36in, 60in›');
    expect(shown(closet(row.replace('; pitch from 10in to 40in', '')), ['height'])).toContain('count 2‹at 36in, 60in›');
  });

  it('tell the cut length of shelves, rods and both panels', () => {
    const text = shown(closet('rod r { under top by 3in }\n    panels { }'), ['cut']);
    // Between panels of 3/4in on both sides; the cups of the rod take 3/8in at each end.
    expect(text).toContain('shelf top‹cut 18-1/2in›');
    expect(text).toContain('rod r‹cut 17-3/4in›');
    expect(text).toContain('panels‹cut 2 × 84-3/4in›');
  });

  it('tell what is computed, and nothing of a plain number', () => {
    const text = shown(closet('shelf low { at width / 2 + (back.height - 95in) }'), ['value']);
    expect(text).toContain('at width / 2 + (back.height - 95in)‹= 31in›');
    expect(text).toContain('length width‹= 60in›; height 96in');
    expect(shown('board white-9 { depth 9in }', ['value'])).not.toContain('‹');
  });

  it('tell what a unit leaves to the default, and nothing where it gives it', () => {
    const text = shown(`${closet('')}unit u t { floor 1 }\nunit v t { width 65in }\n`, ['default']);
    expect(text).toContain('unit u t‹width = 60in› { floor 1 }');
    expect(text).toContain('unit v t { width 65in }');
  });

  it('tell of an override what comes out in its own unit', () => {
    const text = shown(`${closet('')}unit v t { width 65in; override a { width 30in }; override a.top { at 80in } }\n`);
    expect(text).toContain('override a.top‹cut 30in› { at 80in }');
    expect(shown(`${closet('')}unit v t { width 60in + 2in }\n`)).toContain('width 60in + 2in‹= 62in›');
  });

  it('come only for the stretch that is asked for', () => {
    const text = closet('');
    const at = text.indexOf('zone b');
    expect(shown(text, everyKind, { start: at, end: text.length }).split('‹')).toHaveLength(2);
    expect(shown(text, everyKind, { start: text.length + 50, end: text.length + 90 })).toBe(text);
  });

  it('say where the number comes from', () => {
    const hints = hintsIn(snapshotOf(closet('')), { start: 0, end: 9999 }, new Set(everyKind));
    const why = (label: string): string | undefined => hints.find((h) => h.label === label)?.why();
    expect(why('= 40in')).toMatch(/^With the defaults \(width 60in\)\.\n\n/);
    expect(why('= 40in')).toContain('What is left of wall back');
    expect(why('cut 20in')).toContain('finished length of a.top');
    expect(why('= 60in')).toContain('`width` comes to 60in.');
  });

  it('say all pitches of a row whose spaces do not come out equal', () => {
    const why = (top: string): string | undefined => {
      const row = `shelf low { at 0in }\n    shelf high { at ${top} }\n    shelves loose between low and high { count 3 }`;
      return hintsIn(snapshotOf(closet(row)), { start: 0, end: 9999 }, new Set(['height']))[0]?.why();
    };
    expect(why('48in')).toContain('Pitch 12in.');
    // A quarter of 53-3/8in is 13-11/32in: each height goes to a whole sixteenth.
    expect(why('53-3/8in')).toContain('Pitch 13-5/16in to 13-3/8in.');
  });

  it('of an override say where the number comes from in its own unit', () => {
    const text = `${closet('')}unit v t { override a { width 30in }; override a.top { at 80in } }\nunit w t\n`;
    const hints = hintsIn(snapshotOf(text), { start: 0, end: 9999 }, new Set(everyKind));
    const why = hints.find((h) => h.label === 'cut 30in')?.why();
    expect(why).toContain('Cut **30in** of `white-12` in v');
    expect(why).toContain('At 80in,');
    expect(why).not.toContain('units');
  });

  it('say nothing where nothing is known', () => {
    const text =
      'template t {\n  wall back { length nothing + 3in }\n  zone a on back { width fill; shelf s { at } }\n}\nunit u no-such { width 3in + }\n';
    expect(shown(text)).toBe(text);
  });
});
