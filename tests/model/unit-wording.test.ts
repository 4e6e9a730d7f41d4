/** What people write in a unit or a survey that belongs elsewhere, or needs its whole path. */
import { describe, expect, it } from 'vitest';
import { saidOfFile, saidOfStatement } from './said.ts';
import { check } from './support.ts';

describe('a thing in the block of an override', () => {
  const unit = (override: string): string => `template t {
  board white-12
  wall back { length 60in; height 96in }
  zone a on back { width fill; shelf s { at 60in } }
}
unit u t {
  ${override}
}
`;

  it('that is there has an override by its whole path', () => {
    const [only, ...others] = saidOfFile(unit('override a { shelf s { at 50in } }'));
    expect(others).toEqual([]);
    expect(only?.found.message).toBe('An override names what it changes by its whole path: "a.s".');
    expect(only?.mended).toBe(unit('override a.s { at 50in }'));
  });

  it('beside others is not moved for anybody', () => {
    const [only] = saidOfFile(unit('override a { width 60in; shelf s { at 50in } }'));
    expect(`${only?.found.message} ${only?.found.advice}`).toBe(
      'An override names what it changes by its whole path: "a.s". Write override a.s { … }',
    );
    expect(only?.mended).toBeUndefined();
  });

  it('that is not there would be a new one', () => {
    const [only] = saidOfFile(unit('override a { shelf more { at 50in } }'));
    expect(only?.found.message).toBe('An override changes statements; "shelf" would add a thing.');
  });
});

describe('what is no argument', () => {
  const unit = (content: string): string => `template t {
  parameter width: length = 60in
  board white-12
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at 60in } }
}
unit u t { ${content} }
`;
  it.each([
    [
      'width 60in, count 2',
      '"count" begins a statement of its own, and a comma does not part it from what is before it. Write a semicolon, or begin a line.',
    ],
    ['mirror', '"mirrored" stands before the block. Write unit u t mirrored'],
    [
      'survey { wall back { length 59in } }',
      '"survey" cannot stand in a unit; it declares something, at the top level of a file. Write it beside the unit: survey u { … }',
    ],
    [
      'depth 11in',
      'Template "t" has no parameter "depth". It has width. What stands in the template is changed by its path: override … { depth … }',
    ],
  ])('is told where it belongs: %s', (content, told) => {
    const all = saidOfFile(unit(content)).map(({ found: { message, advice } }) => `${message} ${advice}`);
    expect(all).toEqual([told]);
  });
});

describe('a thing that an override names without its zone', () => {
  it('is offered with it', () => {
    check(`template t {
  wall back { length 40in; height 96in }
  zone a on back { width fill; board white-12; shelf s { at 60in } }
}
unit u t { override s { at 50in } }
//                  ^ error name-not-known: There is no thing "s" in this template. Did you mean "a.s"?
`);
  });
});

describe('a wall of a survey by its name alone', () => {
  it('with a length is offered with both of its words', () => {
    expect(saidOfStatement('back 59-3/4in', 'survey')).toEqual([
      '"back" is not a word that can stand in a survey. What is said of a wall stands in its block: wall back { length 59-3/4in } => wall back { length 59-3/4in }',
    ]);
  });
});

describe('a unit', () => {
  const template = `template t {
  parameter width: length from 40in to 60in
  wall back { length width; height 96in }
}
`;

  it('gives its template values without signs between', () => {
    check(`${template}unit u t { width = 41in }
//               ^ error phrase-not-understood: No = is written here: a word and what it says stand side by side. Write width 41in
unit v t { width: 41in }
//              ^ error phrase-not-understood: No : is written here: a word and what it says stand side by side. Write width 41in
`);
  });

  it('gives its template nothing in parentheses', () => {
    check(`${template}unit u t(41in)
//     ^^^^^^^ error phrase-not-understood: What a unit gives its template stands in its block, by the names of the parameters. Write it like this: unit A-101 linen
`);
  });

  it('says before its block that it is mirrored', () => {
    check(`${template}unit u t { width 41in; mirrored }
//                     ^^^^^^^^ error phrase-not-understood: "mirrored" stands before the block. Write unit u t mirrored
`);
  });

  it('is told where its name and its template are the other way round', () => {
    check(`${template}unit t reach-in
//     ^^^^^^^^ error name-not-known: There is no template "reach-in"; "t" is one. Did you mean unit reach-in t?
`);
  });
});
