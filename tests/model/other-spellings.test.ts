/** Signs and spellings of other programs: what was meant is told once and offered, and nothing is taken away unasked. */
import { describe, expect, it } from 'vitest';
import { spanOf } from '../../grammar/tree.ts';
import { projectOf } from './support.ts';

interface Told {
  readonly rule: string;
  readonly advice: string | undefined;
  readonly fixed: string | undefined;
  readonly byHand: boolean;
}

/** What is found in an extra part of this length, and what the first fix makes of the line. */
function told(length: string): Told[] {
  const line = `extra e { board white-12; length ${length}; count 2 }\n`;
  return projectOf(line)
    .findings()
    .map(({ rule, advice, fixes: [fix] }) => {
      let fixed = fix && line;
      for (const { place, text } of (fix?.edits ?? []).toReversed()) {
        const { start, end } = spanOf(place);
        fixed = `${fixed?.slice(0, start)}${text}${fixed?.slice(end)}`;
      }
      const written = fixed && /length (.*); count/.exec(fixed)?.[1];
      return { rule: rule.id, advice, fixed: written, byHand: fix?.byHand === true };
    });
}

describe('a sign that another program has put', () => {
  it.each([
    ['23½in', '23-1/2in'],
    ['35¾in', '35-3/4in'],
    ['70 ½ in', '70-1/2 in'],
    ['⅞in', '7/8in'],
    ['1⁄2in', '1/2in'],
    ['7–1/2in', '7-1/2in'],
    ['24in − 1/2in', '24in - 1/2in'],
    ['84″', '84in'],
    ['84”', '84in'],
    ['6′', '6ft'],
    ['6 ’', '6ft'],
    ['2 × 40in', '2 * 40in'],
    ["41''", '41in'],
    ["23-1/2''", '23-1/2in'],
    ["3' 5''", '3ft 5in'],
    ["3'5''", '3ft 5in'],
    ["3'-5 1/2''", '3ft 5 1/2in'],
    ['41’’', '41in'],
    ['41′′', '41in'],
    ['3’ 5’’', '3ft 5in'],
    ['3’5”', '3ft 5in'],
    ['3′ 5″', '3ft 5in'],
    ['3′-5-1/2″', '3ft 5-1/2in'],
  ])('in %s is told once, and what was meant is offered: %s', (written, meant) => {
    expect(told(written)).toEqual([
      { rule: 'character-not-expected', advice: `Did you mean ${meant}?`, fixed: meant, byHand: false },
    ]);
  });

  it.each([
    ["2 * 3' 5'' + 1/2in", '2 * 3ft 5in + 1/2in'],
    ['min(3′ 5″, 41in)', 'min(3ft 5in, 41in)'],
    ['3ft 5’’', '3ft 5in'],
    ["3' 5″", '3ft 5in'],
    ['3’ 5"', '3ft 5in'],
    ["3' 5 ''", "3' 5 in"],
  ])('is mended as a whole in %s: %s', (written, meant) => {
    expect(told(written).map(({ rule, fixed }) => [rule, fixed])).toEqual([['character-not-expected', meant]]);
  });

  it('around a text is changed on both sides at once', () => {
    const text = 'extra e { board white-12; length 40in; count 2 }\nunit u t { note “by hand” }\n';
    const fixes = projectOf(text)
      .findings()
      .filter(({ rule }) => rule.id === 'character-not-expected')
      .flatMap((one) => one.fixes);
    expect(fixes.some(({ title, edits }) => title === 'Write "by hand"' && edits.length === 2)).toBe(true);
  });

  it('that nobody can make anything of is taken away by nobody but a person', () => {
    expect(told('40in §')).toEqual([
      { rule: 'character-not-expected', advice: 'Remove it.', fixed: '40in ', byHand: true },
    ]);
  });
});

describe('a number that is written in another way', () => {
  it.each([
    ['2438,4mm', '2438.4mm', 'character-not-expected', 'Write 2438.4mm.'],
    ['96,5 in', '96.5 in', 'character-not-expected', 'Write 96.5 in.'],
    ['70 inches', '70 in', 'unit-of-measure-not-known', 'Did you mean "in"?'],
    ['6 feet', '6 ft', 'unit-of-measure-not-known', 'Did you mean "ft"?'],
    ['3/0in', undefined, 'expression-incomplete', 'Write a denominator other than 0.'],
  ])('%s is told once', (written, fixed, rule, advice) => {
    expect(told(written)).toEqual([{ rule, advice, fixed, byHand: false }]);
  });

  it('is told of in a price and in a list too', () => {
    const rules = (text: string): string[] =>
      projectOf(text)
        .findings()
        .map(({ message }) => message);
    expect(
      rules('board oak { depth 12in; thickness 3/4in }\nstock oak { length 8ft price 9,50 EUR }\n'),
    ).toContainEqual('A decimal is written with a point, and 9,50 EUR has a comma.');
    expect(rules('template t { wall back { length 60in; height 96in; studs 14,5in, 30,5in } }\n')).toEqual(
      expect.arrayContaining(['A decimal is written with a point, and 14,5in has a comma.']),
    );
  });

  it('and divides by nothing is told how to mend that', () => {
    expect(told('70in / 0').map(({ advice }) => advice)).toEqual(['Divide by a number other than 0.']);
  });
});

describe('two statements that nothing parts', () => {
  it('are told of at the second one, once, and a semicolon is offered', () => {
    const text = `template t {
  wall back { length 60in height 96in }
  zone a on back { width 20in; shelf s { at 84in depth 11in; board white-12 } }
}
unit u t { floor 1 flat A }
`;
    const found = projectOf(text)
      .findings()
      .filter(({ severity }) => severity === 'error');
    expect(found.map(({ rule, advice, fixes: [fix] }) => [rule.id, advice, fix?.title, fix?.edits[0]?.text])).toEqual([
      [
        'phrase-not-understood',
        'Write a semicolon or begin a line: length 60in; height …',
        'Write ; before "height"',
        ';',
      ],
      ['phrase-not-understood', 'Write a semicolon or begin a line: at 84in; depth …', 'Write ; before "depth"', ';'],
      ['phrase-not-understood', 'Write a semicolon or begin a line: floor 1; flat …', 'Write ; before "flat"', ';'],
    ]);
  });
});
