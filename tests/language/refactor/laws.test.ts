/** Whatever is overridden or extended: what is built stays, there and back, or the refactoring says why it is not made. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { made, offers } from './support.ts';

const base = `template t {
  parameter width: length = 94in
  board white-12
  pole chrome
  wall left { length 25in; height 96in; studs 4in }
  wall back { length width; height 96in; studs every 16in from 14in }
  wall right { length 25in; height 96in }
  opening front { width 60in; height 80in; from left 10in; swing out hinged left }
  opening side on left { width 12in; height 80in }
  fixture outlet on back { from left 60in; height 16in }
  fixture sprinkler on ceiling { from left 40in; from back 6in }
  zone a on back {
    width 40in
    panels { side left; height 90in }
    shelf high { at 84in; load 20 lbf/ft2 }
    shelf low { at from 20in to 30in; tilted }
    shelves row between low and high { count 2 }
    rod r { under high by 3in; for shirt }
  }
  zone b on back after a { width fill; shelf s { at 72in }; drawers d { at 8in; height 8in; depth 12in } }
}
`;

const overrides = [
  'left { length 26in; studs 3in, 9in }',
  'right { studs every 8in from right 2in }',
  'back { height 95in }',
  'front { from right 2in; swing in hinged right }',
  'side { from left 2in }',
  'outlet { from left left.length; height 20in }',
  'sprinkler { from right 20in }',
  'a { width 42in; depth 10in }',
  'b { width fill at least 20in; matched fronts }',
  'a.panels { side right }',
  'a.panels { depth 10in; foot 4in }',
  'a.high { at 80in }',
  'a.high { load 30 lbf/ft2; fixed }',
  'a.high { point-load 40 lbf }',
  'a.low { at 25in }',
  'a.low { above high by 2in }',
  'a.row { count 3 }',
  'a.r { under high by 4in }',
  'a.r { at 70in }',
  'b.s { at right.length + 30in }',
  'b.d { count 2 }',
  'nothing { at 40in }',
];

const heirs = [
  'parameter width: length = 95in',
  'parameter more: length = 2in',
  'depth 11in',
  'corner back left { owner left }',
  'wall left { studs 5in }',
  'wall front { length 94in; height 96in }',
  'opening front { width 50in }',
  'opening side { leaves sliding }',
  'fixture outlet { height 12in }',
  'fixture sprinkler { from left 30in; from back 7in }',
  'zone a from right { }',
  'zone a { width 41in; shelf high { at 82in }; rod second { at 40in; for shirt } }',
  'zone a { shelves row between low and high { count 1 }; shelf low { at 22in } }',
  'zone b before a { shelf s { load 10 lbf/ft2 } }',
  'zone b { drawers d { at 10in; count 2 }; zone inner { width 5in } }',
  'gap g on left { width fill }',
];

const chosen = (from: readonly string[]) => fc.shuffledSubarray([...from], { minLength: 1, maxLength: 5 });
/** A template says each thing once. */
const heir = chosen(heirs).map((all) => [
  ...new Map(all.map((one) => [one.split(/[ :]/).slice(0, 2).join(' '), one])).values(),
]);
const flag = fc.constantFrom('', ' mirrored');

/** Makes it and holds it to its law, or undefined where it says why not. */
function tried(text: string, id: string): string | undefined {
  const texts = { 'main.closet': text };
  const found = offers(texts).all.find((one) => one.id === id);
  if (!found) throw new Error(`${id} is not offered`);
  if (found.disabled !== undefined) {
    expect(found.disabled).toMatch(/^\S.*\S$/s);
    return undefined;
  }
  return made(texts, id)['main.closet'];
}

const atUnit = (text: string): string => text.replace('unit u', '|unit u');
const atHeir = (text: string): string => text.replace('template heir', '|template heir');

describe('what is built stays', () => {
  it('where the changes of a unit become a template, and where they are brought back', () => {
    let there = 0;
    let back = 0;
    fc.assert(
      fc.property(chosen(overrides), flag, fc.boolean(), (all, mirrored, isLong) => {
        const said = all.map((one) => `override ${one}`);
        const block = isLong ? `{\n  ${said.join('\n  ')}\n}` : `{ ${said.join('; ')} }`;
        const text = `${base}\nunit u t${mirrored} ${block}\nunit v t\n`;
        const extracted = tried(atUnit(text), 'extract-template');
        if (extracted === undefined) return;
        there++;
        const inlined = tried(extracted.replace('unit u t', 'unit u |t'), 'inline-template');
        if (inlined === undefined) return;
        back++;
        expect(inlined).toContain(`unit u t${mirrored} {`);
      }),
      { numRuns: 60, seed: 7 },
    );
    expect(there).toBeGreaterThan(10);
    expect(back).toBeGreaterThan(10);
  });

  it('where what a template extends is written into it', () => {
    let count = 0;
    fc.assert(
      fc.property(heir, heir, flag, (first, second, mirrored) => {
        const text = `${base}
template middle extends t {
  ${first.join('\n  ')}
}

template heir extends middle {
  ${second.join('\n  ')}
}

unit u heir${mirrored}
unit v middle
`;
        const once = tried(atHeir(text), 'inline-base');
        if (once === undefined) return;
        const twice = tried(atHeir(once), 'inline-base');
        if (twice === undefined) return;
        expect(twice).toContain('template heir {');
        count++;
      }),
      { numRuns: 40, seed: 7 },
    );
    expect(count).toBeGreaterThan(30);
  });

  it('where a template is written the other way round with one that extends it, and back', () => {
    let count = 0;
    fc.assert(
      fc.property(heir, chosen(overrides), flag, (own, all, mirrored) => {
        const said = all.map((one) => `  override ${one}`).join('\n');
        const text = `${base}
template heir extends t {
  ${own.join('\n  ')}
}

unit u heir${mirrored} {
${said}
}
unit v t mirrored
`;
        const once = tried(atHeir(text), 'mirror-template');
        const twice = once === undefined ? undefined : tried(atHeir(once), 'mirror-template');
        if (twice === undefined) return;
        count++;
        // Studs from the left may say so or not.
        expect(twice.replaceAll(/(studs|every 8in) from (left )?/g, '$1 ')).toBe(
          text.replaceAll(/(studs|every 8in) from (left )?/g, '$1 '),
        );
      }),
      { numRuns: 40, seed: 7 },
    );
    expect(count).toBeGreaterThan(30);
  });
});

it('whatever is half typed, every question has an answer, and every edit lies in its file', () => {
  const whole = `${base}
template heir extends t { zone a { shelf high { at 80in } } }
unit u heir mirrored { width 93in; override a.low { at 25in } }
survey u { wall left { length 24in } }
accept rod-near-wall at t.left because "it is"
`;
  fc.assert(
    fc.property(fc.nat(whole.length), fc.nat(40), fc.nat(whole.length), (cut, length, where) => {
      const text = whole.slice(0, cut) + whole.slice(cut + length);
      const at = Math.min(where, text.length);
      const { all, marked } = offers({ 'main.closet': `${text.slice(0, at)}|${text.slice(at)}` });
      for (const { edits } of all)
        for (const { file, start, end } of edits) {
          const { length: most } = marked.snapshot.project.sources.get(file)?.text ?? '';
          expect(start >= 0 && start <= end && end <= most).toBe(true);
        }
    }),
    { numRuns: 150, seed: 3 },
  );
});
