/** One token too few, too many or of another program: what was meant is told, and offered. */
import { describe, expect, it } from 'vitest';
import type { BlockPlace } from '../../server/model/vocabulary.ts';
import { saidOfStatement } from './said.ts';

describe('of a slip is told what was meant', () => {
  it.each<[text: string, place: BlockPlace, told: string]>([
    // Braces that are both missing.
    [
      'shelf s at 40in',
      'zone',
      '"at" belongs in the block of "shelf s", and no { stands before it. Write shelf s { at 40in } => shelf s { at 40in }',
    ],
    [
      'unit u t width 50in',
      'file',
      '"width" belongs in the block of "unit u t", and no { stands before it. Write unit u t { width 50in } => unit u t { width 50in }',
    ],
    [
      'shelf s at 40in { fixed }',
      'zone',
      '"at" belongs in the block of "shelf s", behind its {. Write it there: { at 40in; … => shelf s { at 40in; fixed }',
    ],
    // Statements that nothing parts.
    [
      'at 40in depth 12in',
      'shelf',
      '"depth" begins a statement of its own, and nothing parts it from what is before it. Write a semicolon or begin a line: at 40in; depth … => at 40in; depth 12in',
    ],
    [
      'depth 12in, thickness 3/4in',
      'board',
      '"thickness" begins a statement of its own, and a comma does not part it from what is before it. Write a semicolon or begin a line: depth 12in; thickness … => depth 12in; thickness 3/4in',
    ],
    // Signs of other programs.
    ['at: 40in', 'shelf', 'No : is written here: a word and what it says stand side by side. Write at 40in => at 40in'],
    [
      'at = 40in',
      'shelf',
      'No = is written here: a word and what it says stand side by side. Write at 40in => at 40in',
    ],
    ['unit u "t"', 'file', '"t" is a name here, and a name stands without quotation marks. Write t => unit u t'],
    // One too many.
    [
      'wall wall back { length 60in }',
      'template',
      '"wall" stands here twice. Write wall back => wall back { length 60in }',
    ],
    ['height height 96in', 'wall', '"height" stands here twice. Write height 96in => height 96in'],
    [
      'studs 1in, , 16in',
      'wall',
      'Between two commas a value is missing. Write it there, or leave one of the commas out. => studs 1in, 16in',
    ],
    ['unit u t t mirrored', 'file', '"t" stands here twice. Write unit u t mirrored => unit u t mirrored'],
    ['rated 100 lb lb', 'hardware', '"lb" stands here twice. Write rated 100 lb => rated 100 lb'],
    // One too few.
    [
      'studs 10in 26in',
      'wall',
      'Between "10in" and "26in" a comma is missing. Write studs 10in, 26in => studs 10in, 26in',
    ],
    [
      'under high 3in',
      'hanging-rod',
      '"3in" does not fit here: after "high" there should be "by". Write under high by 3in => under high by 3in',
    ],
    [
      'length at 42in',
      'survey-wall',
      'This is not complete: before "at" there should be a length. Write it like this: length 35-7/8in at 42in',
    ],
    [
      '96-1/8in at 42in',
      'survey-wall',
      'A statement begins with a word that says what it is about. Did you mean "length 96-1/8in at 42in"? => length 96-1/8in at 42in',
    ],
    [
      'up to 12',
      'extra',
      '"up" is not a word that can stand in an extra. Did you mean "count up to 12"? => count up to 12',
    ],
    [
      'studs every  from 14-1/2in',
      'wall',
      'This is not complete: before "from" there should be a value. Write it like this: studs every 16in from 14-1/2in',
    ],
    [
      'at 3in, count 3, height 8in',
      'drawers',
      '"count" begins a statement of its own, and a comma does not part it from what is before it. Write a semicolon or begin a line: at 3in; count … => at 3in; count 3; height 8in',
    ],
    // Another word, misspelt.
    [
      'unit u t mirorred',
      'file',
      '"mirorred" does not fit here: after "t" there should be "mirrored" or the end of the statement. Did you mean "mirrored"? => unit u t mirrored',
    ],
    [
      'unit u t Mirrored',
      'file',
      '"Mirrored" does not fit here: after "t" there should be "mirrored" or the end of the statement. Did you mean "mirrored"? => unit u t mirrored',
    ],
    // A wall by its name alone.
    [
      'back length 60in',
      'survey',
      '"back" is not a word that can stand in a survey. What is said of a wall stands in its block: wall back { length 60in } => wall back { length 60in }',
    ],
    [
      'left { length 25in; height 96in }',
      'template',
      '"left" is not a word that can stand in a template. What is said of a wall stands in its block: wall left { length … } => wall left { length 25in; height 96in }',
    ],
  ])('%s in %s', (text, place, told) => {
    expect(saidOfStatement(text, place)).toEqual([told]);
  });

  it('twice in the same words, and not by what another statement would be', () => {
    expect(saidOfStatement('shelf shelf', 'zone').length).toBe(1);
    expect(saidOfStatement('unit u "no name"', 'file')).toEqual([
      '"no name" does not fit here: after "u" there should be the name of a template. Write it like this: unit A-101 linen { floor 1; flat A-101 }',
    ]);
  });

  it('by the places where a word belongs', () => {
    const first = (text: string, place: BlockPlace): string =>
      (saidOfStatement(text, place)[0] ?? '').split(' Here can')[0] as string;
    expect(first('shelf s { at 40in }', 'file')).toBe(
      '"shelf" cannot stand at the top level of a file; it belongs in a zone.',
    );
    expect(first('stock b { length 8ft }', 'template')).toBe(
      '"stock" cannot stand in a template; it belongs at the top level of a file.',
    );
    expect(first('rod chrome', 'template')).toBe(
      '"rod" cannot stand in a template; it belongs at the top level of a file, or in a zone or an extra.',
    );
  });
});
