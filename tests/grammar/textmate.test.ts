import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createRegistryFromGrammars } from 'vscode-tmgrammar-test/dist/common/index.js';
import { parseGrammarTestCase, runGrammarTestCase, type TestFailure } from 'vscode-tmgrammar-test/dist/unit/index.js';
import { offsetOf, type Range, type Statement } from '../../grammar/tree.ts';
import { textMateGrammar } from '../../server/generate-textmate.ts';
import { slotsOf } from '../../server/model/phrase.ts';
import { type Reading, read } from '../../server/model/reading.ts';
import { vocabulary } from '../../server/model/vocabulary.ts';
import { setInPlace, statementsOf } from './places.ts';

const folder = new URL('./textmate/', import.meta.url);
const registry = createRegistryFromGrammars([
  { grammar: { path: 'closet.tmLanguage.json', scopeName: 'source.closet' }, content: textMateGrammar() },
]);

describe('the TextMate grammar', () => {
  it.each(readdirSync(folder))('colours %s as its assertions say', async (file) => {
    const test = parseGrammarTestCase(readFileSync(new URL(file, folder), 'utf8'));
    expect(test.assertions.flatMap((line) => line.scopeAssertions).length).toBeGreaterThan(14);
    const failures = await runGrammarTestCase(registry, test);
    expect(failures.map((failure) => told(file, failure))).toEqual([]);
  });

  it('is found out by an assertion that does not hold', async () => {
    const wrong = '// SYNTAX TEST "source.closet" "wrong"\nkerf 1in\n//   ^ keyword.control.closet\n';
    expect(await runGrammarTestCase(registry, parseGrammarTestCase(wrong))).toHaveLength(1);
  });

  // The grammar is regular expressions made from the vocabulary; the reading goes by the parser and the phrases.
  it.each(vocabulary.flatMap((entry) => entry.places.map((place) => ({ word: entry.word, place, entry }))))(
    'sees what the parser sees in the example of $word in $place',
    async ({ entry, place }) => {
      const text = setInPlace(entry, place);
      const scopes = await scopesOf(text);
      const seen = (statement: Statement, range: Range): { text: string; scopes: string } => {
        const start = offsetOf(statement) + range.start;
        return { text: text.slice(start, offsetOf(statement) + range.end), scopes: scopes[start] ?? '' };
      };
      const visit = (reading: Reading): void => {
        const { statement } = reading;
        expect(seen(statement, statement.word).scopes).toMatch(/^(keyword\.control|storage\.type)/);
        for (const literal of reading.literals) {
          const found = seen(statement, literal);
          expect(found.scopes, found.text).toMatch(/^(keyword\.other|constant\.language)/);
        }
        for (const slot of slotsOf(reading.entry.phrase)) {
          const scope = slot.type.kind === 'text' ? /^punctuation\.definition\.string/ : /^entity\.name/;
          if (slot.type.kind !== 'text' && !(slot.type.kind === 'name' && slot.name === 'name')) continue;
          for (const item of reading.slots[slot.name] ?? []) {
            const found = seen(statement, item);
            expect(found.scopes, found.text).toMatch(scope);
          }
        }
        for (const item of reading.slots.value ?? []) {
          if (item.kind !== 'number') continue;
          expect(seen(statement, item).scopes).toMatch(/^constant\.numeric/);
          for (const { unit } of item.parts)
            if (unit) expect(seen(statement, unit).scopes).toMatch(/^keyword\.other\.unit/);
        }
        reading.children.forEach(visit);
      };
      for (const statement of statementsOf(text)) {
        const { reading } = read(statement, 'file');
        if (reading) visit(reading);
      }
    },
  );
});

/** The innermost scope of each character. */
async function scopesOf(text: string): Promise<string[]> {
  const grammar = await registry.loadGrammar('source.closet');
  if (!grammar) throw new Error('no grammar');
  const scopes: string[] = [];
  let at = 0;
  let state = null;
  for (const line of text.split('\n')) {
    const result = grammar.tokenizeLine(line, state);
    for (const token of result.tokens) {
      for (let i = token.startIndex; i < token.endIndex; i++) scopes[at + i] = token.scopes.at(-1) ?? '';
    }
    state = result.ruleStack;
    at += line.length + 1;
  }
  return scopes;
}

function told(file: string, { line, start, end, missing, unexpected, actual }: TestFailure): string {
  return `${file}:${line + 1}:${start + 1}-${end}: missing ${missing}; unexpected ${unexpected}; is ${actual}`;
}
