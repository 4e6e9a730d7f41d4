import { describe, expect, it } from 'vitest';
import { formatted } from '../../grammar/format.ts';
import { widestLine } from '../../grammar/layout.ts';
import { Source } from '../../grammar/source.ts';
import { read } from '../../server/model/reading.ts';
import { topWords } from '../../server/model/vocabulary.ts';

/** More arguments than a call takes, and more frames than a stack has. */
const many = 130_000;

/** Texts that are long in one way each; a person pastes some of them, the rest is malice. */
const long: Readonly<Record<string, string>> = {
  'documentation above a unit': `${'///\n'.repeat(many)}unit a b`,
  'documentation of nothing': '///\n'.repeat(many),
  'signs in one head': `at ${'- '.repeat(many)}1in`,
  'sums in one head': `at ${'1in + '.repeat(many)}1in`,
  'parentheses that open': `at ${'('.repeat(many)}1in`,
  'a list': `studs ${'1in, '.repeat(many)}1in`,
  'arguments of one call': `at max(${'1in, '.repeat(many)}1in)`,
  'blocks on one line': 'a {'.repeat(many),
  'braces that close': '}'.repeat(many),
  'quotation marks behind numbers': '5"'.repeat(many),
  'quotation marks behind names': 'A5"'.repeat(many),
  'units that are not closed': 'unit a {\n'.repeat(20_000),
  'comments that are not closed': 'unit a /*\n'.repeat(20_000),
};

describe('a text that is long', () => {
  it.each(Object.keys(long))('by %s is parsed, read and laid out', (what) => {
    const source = new Source('a', long[what] as string, topWords);
    for (const statement of source.statements()) read(statement, 'file');
    expect(formatted(source).length).toBeGreaterThan(0);
    source.edit({ start: 1, end: 1, text: ' ' });
    expect(source.length).toBe((long[what] as string).length + 1);
  });
});

describe('many declarations', () => {
  it('are more than a call takes arguments, and can be pasted all the same', () => {
    const source = new Source('a', '', topWords);
    expect(source.edit({ start: 0, end: 0, text: 'rod\n'.repeat(many) }).added).toHaveLength(many);
  });
});

describe('a file of 50,000 declarations', () => {
  const lines = Array.from({ length: 50_000 }, (_, i) => `unit U-${i} linen { floor ${i % 9} }\n`);

  it('can be pasted at once', () => {
    const source = new Source('a', 'project "Quarry Lane"\n', topWords);
    const change = source.edit({ start: source.length, end: source.length, text: lines.join('') });
    expect(change.added).toHaveLength(50_000);
    expect(change.removed).toEqual([]);
  });

  it('can be replaced at once, and what stayed the same keeps its identity', () => {
    const source = new Source('a', lines.join(''), topWords);
    const before = new Set(source.statements());
    const changed = lines.map((line, i) => (i % 2 === 0 ? line.replace('linen', 'coats') : line));
    const change = source.edit({ start: 0, end: source.length, text: changed.join('') });
    expect(source.text).toBe(changed.join(''));
    expect([...source.statements()].filter((s) => before.has(s))).toHaveLength(25_000);
    expect([change.added.length, change.removed.length]).toEqual([25_000, 25_000]);
  });
});

describe('blocks on one line, nested 40 deep', () => {
  it('are laid out as far as they are too wide, in no time', () => {
    const text = `${'a { '.repeat(40)}b${' }'.repeat(40)}\n`;
    const lines = formatted(new Source('a', text, topWords)).split('\n');
    expect(lines.slice(0, 2)).toEqual(['a {', '  a {']);
    expect(lines.some((line) => line.trim().startsWith('a { a { a {'))).toBe(true);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(widestLine);
  });
});
