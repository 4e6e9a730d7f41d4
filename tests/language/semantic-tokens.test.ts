import { describe, expect, it } from 'vitest';
import { createRegistryFromGrammars } from 'vscode-tmgrammar-test/dist/common/index.js';
import { textMateGrammar } from '../../server/generate-textmate.ts';
import { type Token, type TokenType, tokenPiecesOf, tokensIn } from '../../server/language/semantic-tokens.ts';
import type { Snapshot } from '../../server/language/snapshot.ts';
import { vocabulary } from '../../server/model/vocabulary.ts';
import { setInPlace } from '../grammar/places.ts';
import { file, snapshotOf } from './marked.ts';

function all(snapshot: Snapshot): Token[] {
  return tokensIn(snapshot, { start: 0, end: snapshot.source.length });
}

/** `word: type modifier...` of a text. */
function told(text: string): string[] {
  return all(snapshotOf(text)).map(({ start, end, type, modifiers }) =>
    [`${text.slice(start, end)}:`, type, ...modifiers].join(' '),
  );
}

describe('semantic tokens', () => {
  it('tell declarations from what they are named by', () => {
    expect(told('template t { zone a on back { width 48in } }')).toEqual([
      'template: keyword',
      't: class definition',
      'zone: keyword',
      'a: namespace definition',
      'on: keyword',
      'back: variable',
      'width: keyword',
      '48: number',
      'in: unit',
    ]);
  });

  it('never overlap, also where a head begins with its word as a factor', () => {
    for (const text of [
      'template t { zone * a on back { } }',
      'template t { reach * c }',
      'zone - a',
      'unit( u',
      'wall back { length + ;',
    ]) {
      const tokens = all(snapshotOf(text));
      for (const [i, { start }] of tokens.entries()) expect(start).toBeGreaterThanOrEqual(tokens[i - 1]?.end ?? 0);
    }
  });

  it('tell words that are values from words that connect', () => {
    expect(told('template t { zone a on back after b by 2in { width fill at least 20in } }').slice(4)).toEqual([
      'on: keyword',
      'back: variable',
      'after: keyword',
      'b: namespace',
      'by: keyword',
      '2: number',
      'in: unit',
      'width: keyword',
      'fill: enumMember',
      'at: keyword',
      'least: keyword',
      '20: number',
      'in: unit',
    ]);
  });

  it('tell parameters, dimensions and functions in what is computed', () => {
    const tokens = told('template t { wall back { length max(width, back.height - 1/2in) } }');
    expect(tokens.slice(5)).toEqual([
      'max: function defaultLibrary',
      'width: parameter readonly',
      'back: variable',
      'height: property readonly',
      '1/2: number',
      'in: unit',
    ]);
  });

  it('tell a parameter that is a board from a board', () => {
    const tokens = told(
      'template t { parameter cut: board; zone a { shelf s { board cut } shelf r { board white-12 } } }',
    );
    expect(tokens).toContain('cut: parameter declaration readonly');
    expect(tokens).toContain('cut: parameter readonly');
    expect(tokens).toContain('white-12: type');
    expect(tokens).toContain('board: type defaultLibrary');
    const extended = told('template base { parameter cut: board }\ntemplate t extends base { board cut }');
    expect(extended.at(-1)).toBe('cut: parameter readonly');
  });

  it('tell garments that ship with the tool from those of the project', () => {
    const inside = 'template t { zone a { rod r { for shirt } } }';
    expect(told(inside).at(-1)).toBe('shirt: type defaultLibrary');
    expect(told(`${inside}\ngarment shirt { hang 40in; width 17in; depth 2in }`)).toContain('shirt: type');
  });

  it('tell arguments of a unit from words of the language, in overrides too', () => {
    expect(told('unit u t { floor 1; width 60in; cut white-12; override a.top { at 80in } }')).toEqual([
      'unit: keyword',
      'u: variable definition',
      't: class',
      'floor: keyword',
      '1: number',
      'width: parameter',
      '60: number',
      'in: unit',
      'cut: parameter',
      'white-12: type',
      'override: keyword',
      'a: namespace',
      'top: variable',
      'at: keyword',
      '80: number',
      'in: unit',
    ]);
  });

  it('go on where something cannot be read', () => {
    const tokens = told('template t { zone a { shelf s { at 3in + ; wat 4in } } }\nunit u t { width 3in ');
    expect(tokens).toContain('u: variable definition');
    expect(tokens).toContain('width: parameter');
  });

  it('are kept by piece: an edit makes those anew that it is in', () => {
    const zones = Array.from({ length: 400 }, (_, i) => `  zone z${i} on back { width 4in; shelf s { at 84in } }`);
    const text = `template t {\n${zones.join('\n')}\n}\n`;
    const snapshot = snapshotOf(text);
    const before = new Set(tokenPiecesOf(snapshot).map((p) => p.tokens));
    const at = text.indexOf('zone z200');
    snapshot.project.editFile(file, [{ start: at, end: at, text: 'depth 9in; ' }]);
    const after = tokenPiecesOf(snapshot);
    expect(before.size).toBe(401);
    // The new statement, and the head of the template, whose text is longer now.
    expect(after.filter((p) => !before.has(p.tokens)).map((p) => p.text.slice(0, 9))).toEqual([
      'template ',
      'depth 9in',
    ]);
  });
});

/** What the TextMate grammar may say where a token says something: an editor shows the token over it. */
const agrees: Readonly<Record<TokenType, RegExp>> = {
  namespace: /^(entity\.name\.(type|variable)|variable\.other)/,
  class: /^(entity\.name\.type|variable\.other)/,
  interface: /^(entity\.name\.type|variable\.other)/,
  type: /^(entity\.name\.type|support\.type|variable\.other)/,
  parameter: /^(entity\.name\.variable|variable)/,
  variable: /^(entity\.name\.type|variable\.other)/,
  property: /^(variable\.other\.property|variable\.other)/,
  enumMember: /^(constant\.language|variable\.other)/,
  function: /^support\.function/,
  keyword: /^(keyword\.control|keyword\.other|storage\.type)/,
  string: /^(punctuation\.definition\.string|string|variable\.other)/,
  number: /^constant\.numeric/,
  unit: /^keyword\.other\.unit/,
};

describe('semantic tokens and the TextMate grammar', () => {
  const registry = createRegistryFromGrammars([
    { grammar: { path: 'closet.tmLanguage.json', scopeName: 'source.closet' }, content: textMateGrammar() },
  ]);

  it.each(vocabulary.flatMap((entry) => entry.places.map((place) => ({ word: entry.word, place, entry }))))(
    'agree in the example of $word in $place',
    async ({ entry, place }) => {
      const text = setInPlace(entry, place);
      const scopes = new Map<number, string>();
      const grammar = await registry.loadGrammar('source.closet');
      let stack = null as Parameters<NonNullable<typeof grammar>['tokenizeLine']>[1];
      let offset = 0;
      for (const line of text.split('\n')) {
        const result = grammar?.tokenizeLine(line, stack);
        for (const token of result?.tokens ?? [])
          for (let i = token.startIndex; i < token.endIndex; i++) scopes.set(offset + i, token.scopes.at(-1) ?? '');
        stack = result?.ruleStack ?? null;
        offset += line.length + 1;
      }
      const tokens = all(snapshotOf(text));
      expect(tokens.length).toBeGreaterThan(0);
      for (const { start, end, type } of tokens)
        expect(scopes.get(start), `${type} ${text.slice(start, end)}`).toMatch(agrees[type]);
    },
  );
});
