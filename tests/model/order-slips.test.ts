/** All that a statement needs, in another order or without the words between: told with how it is written here. */
import { describe, expect, it } from 'vitest';
import type { BlockPlace } from '../../server/model/vocabulary.ts';
import { saidOfFile, saidOfStatement } from './said.ts';

describe('words that stand in another order', () => {
  it.each<[text: string, place: BlockPlace, told: string]>([
    [
      '60in length',
      'wall',
      'The word that says what it is about comes first: "length". Did you mean "length 60in"? => length 60in',
    ],
    [
      'zone a back on { width fill }',
      'template',
      '"back" and "on" stand in another order. Write zone a on back => zone a on back { width fill }',
    ],
    [
      'zone on back b { width fill }',
      'template',
      '"b" stands in another place. Write zone b on back => zone b on back { width fill }',
    ],
    [
      'under by 3in high',
      'hanging-rod',
      '"high" stands in another place. Write under high by 3in => under high by 3in',
    ],
    [
      'studs from 14in every 16in',
      'wall',
      '"from 14in" stands in another place. Write studs every 16in from 14in => studs every 16in from 14in',
    ],
  ])('are told of with the right one: %s', (text, place, told) => {
    expect(saidOfStatement(text, place)).toEqual([told]);
  });
});

describe('a value without the word that says what it is', () => {
  it.each<[text: string, place: BlockPlace, told: string]>([
    [
      'wall back 59-1/2in',
      'survey',
      '59-1/2in belongs in the block of "wall back", behind the word that says what it is. Write wall back { length 59-1/2in } => wall back { length 59-1/2in }',
    ],
    [
      'wall back 60in { height 96in }',
      'template',
      '60in belongs in the block of "wall back", behind the word that says what it is. Write wall back { length 60in; … } => wall back { length 60in; height 96in }',
    ],
    [
      'shelf s 60in',
      'zone',
      '60in belongs in the block of "shelf s", behind the word that says what it is. Write shelf s { at 60in } => shelf s { at 60in }',
    ],
    [
      'board oak 12in',
      'file',
      '12in belongs in the block of "board oak", behind the word that says what it is. Write board oak { depth 12in } or board oak { thickness 12in } => board oak { depth 12in }',
    ],
    [
      'wall back { 59-1/2in }',
      'survey',
      'A statement begins with a word that says what it is about. Did you mean "length 59-1/2in"? => wall back { length 59-1/2in }',
    ],
  ])('is kept, behind the word that is meant mostly: %s', (text, place, told) => {
    expect(saidOfStatement(text, place)).toEqual([told]);
  });
});

describe('a value behind the wrong word, or none', () => {
  it.each<[text: string, place: BlockPlace, told: string]>([
    [
      'screws 2 "#8 x 2 in"',
      'hardware',
      '2 does not fit here; it may be the count. Write screws "#8 x 2 in" count 2 => screws "#8 x 2 in" count 2',
    ],
    [
      'length 12ft count 3 price 20 EUR',
      'stock',
      '"count 3" stands in another place. Write length 12ft price 20 EUR count 3 => length 12ft price 20 EUR count 3',
    ],
    [
      'length 8ft x 3',
      'stock',
      'How many there are stands behind "count". Write length 8ft count 3 => length 8ft count 3',
    ],
    ['pack of 10', 'hardware', '"of" does not fit here; without it this is complete. Write pack 10 => pack 10'],
    [
      'price 10 EUR',
      'stock',
      '"price" is not a word that can stand in stock. It stands behind "length", for example: length 6ft price 14.50 EUR count 40',
    ],
    [
      'studs 16in oc',
      'wall',
      'A spacing is written with "every", and from where the first stud is. Measure where the centre of the first one is, and write for example: studs every 16in from 14-1/2in',
    ],
    [
      'zone b on back next to a { width fill }',
      'template',
      'Zones stand "after" or "before" one another, from left to right. Write zone b on back after a => zone b on back after a { width fill }',
    ],
    [
      'gap b on back left of a { width fill }',
      'template',
      'Zones stand "after" or "before" one another, from left to right. Write gap b on back before a => gap b on back before a { width fill }',
    ],
    [
      'use "../trade"',
      'file',
      'A library needs the name by which it is called here. Write use "../trade" as trade => use "../trade" as trade',
    ],
    [
      'parameter w: length = 60in to 70in',
      'template',
      'A parameter says its type behind a colon, and what it is by default behind "=". Write parameter w: length from 60in to 70in => parameter w: length from 60in to 70in',
    ],
  ])('is told with that: %s', (text, place, told) => {
    expect(saidOfStatement(text, place)).toEqual([told]);
  });
});

describe('an agreement', () => {
  it.each([
    'u.a.s sag because "agreed"',
    'sag in u.a.s because "agreed"',
    'sag u.a.s "agreed"',
    'sag "agreed" at u.a.s',
    'sag at u.a.s since "agreed"',
  ])('is told in its order, with all its words: accept %s', (text) => {
    expect(saidOfStatement(`accept ${text}`, 'file')).toEqual([
      'An agreement names the rule, then at which place, then because of what. Write accept sag at u.a.s because "agreed" => accept sag at u.a.s because "agreed"',
    ]);
  });

  it('that names no rule is told so', () => {
    expect(saidOfStatement('accept u.a.s because "agreed"', 'file')).toEqual([
      'What is agreed to is a rule, and none is named before the place. Write its id, which is shown with each finding: accept rod-near-wall at u.a.s because "agreed"',
    ]);
  });

  it('with rule and place in each other\u2019s place is offered turned round', () => {
    const text =
      'template t { wall back { length 60in; height 96in } }\nunit u t\naccept u.a.s at rod-span-long because "agreed"\n';
    const [only, ...others] = saidOfFile(text);
    expect(others).toEqual([]);
    expect(`${only?.found.message} ${only?.found.advice}`).toBe(
      '"u.a.s" is no rule, and "rod-span-long" is one. Did you mean accept rod-span-long at u.a.s?',
    );
  });
});

describe('a word that is left out', () => {
  it('is one of few that would do', () => {
    expect(saidOfStatement('8ft', 'stock')).toEqual([
      'A statement begins with a word that says what it is about. Did you mean "length 8ft" or "offcut 8ft"? => length 8ft',
    ]);
    expect(saidOfStatement('a.s { at 50in }', 'unit')).toEqual([
      'A statement begins with a word that says what it is about. Did you mean "override a.s"? => override a.s { at 50in }',
    ]);
  });

  it('is two words, or one of two ways to say them', () => {
    expect(saidOfStatement('spacing 24in', 'hardware')).toEqual([
      '"24in" does not fit here: after "spacing" there should be "at most". Write spacing at most 24in => spacing at most 24in',
    ]);
    expect(saidOfStatement('limit rod-height 48in', 'policy')).toEqual([
      '"48in" does not fit here: after "rod-height" there should be "at least" or "at most". Write limit rod-height at least 48in or limit rod-height at most 48in => limit rod-height at least 48in',
    ]);
  });
});
