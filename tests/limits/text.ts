/** Limits of reading. */
import { describe, expect } from 'vitest';
import { Source } from '../../grammar/source.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { many, reaches, saidOf, within } from './reach.ts';

describe('what is read', () => {
  reaches('deepestBlocks', () =>
    within('deepestBlocks', (n) => `template t ${'{ zone z '.repeat(n)}${'}'.repeat(n)}`, /More than 40 blocks/),
  );

  reaches('deepestParentheses', () =>
    within(
      'deepestParentheses',
      (n) => `template t { parameter w: length = ${'('.repeat(n)}1in${')'.repeat(n)} }`,
      /More than 40 parentheses/,
    ),
  );

  reaches('mostOperators', () =>
    within(
      'mostOperators',
      (n) => `template t { parameter w: length = 1in${' + 1in'.repeat(n)} }`,
      /More than 500 operators/,
    ),
  );

  reaches('longestNumber', () =>
    within(
      'longestNumber',
      (n) => `template t { parameter w: length = ${'0'.repeat(n - 1)}1in }`,
      /A number of 41 characters/,
    ),
  );

  reaches('longestName', () =>
    within('longestName', (n) => `template ${'x'.repeat(n)} { }`, /A name of 201 characters; 200 are the most/),
  );

  reaches('longestHead', (most) => {
    const head = 'garment x'.length;
    within(
      'longestHead',
      (n) => `garment x${' '.repeat(n - head - 1)}y`,
      /This statement is 20,001 characters long, and 20,000 are read/,
    );
    // A text that is never closed, and names that never end: told, and never repeated in a message.
    for (const text of [
      `extra e "${'x'.repeat(3_000_000)}`,
      `unit ${'a '.repeat(1_000_000)}`,
      `unit y ${'x-'.repeat(500_000)}`,
    ]) {
      const said = saidOf(text);
      expect(said.map(({ rule }) => rule)).toContain('too-long');
      for (const { message } of said) expect(message.length).toBeLessThan(most);
    }
  });

  reaches('mostStatements', () => {
    within(
      'mostStatements',
      (n) => `template t {\n${'  flubber\n'.repeat(n)}}`,
      /More than 10,000 statements stand together/,
    );
    within('mostStatements', (n) => 'flubber 3in\n'.repeat(n - 1), /More than 10,000 statements stand together/);
    // Another hundred thousand are passed over, with all that is in them.
    const said = saidOf(`template t {\n${'  a { b } ; c "}" /* } */\n'.repeat(60_000)}}\nunit last t`);
    expect(said.filter(({ message }) => message.startsWith('More than 10,000'))).toHaveLength(1);
    expect(said.map(({ rule }) => rule)).not.toContain('brace-without-block');
    // As many as are read when they come by an edit, and told no more when they have gone by one.
    const source = new Source('a', `template t {\n${'flubber\n'.repeat(9_999)}}`, topWords);
    const codes = (): unknown[] =>
      [...source.statements()].flatMap(({ block }) =>
        (block?.children ?? []).flatMap(({ problems }) => problems.map(({ code }) => code)),
      );
    expect(codes()).toEqual([]);
    source.edit({ start: 13, end: 13, text: 'flubber\nflubber\nflubber\n' });
    expect(codes()).toEqual(['too-many-statements']);
    source.edit({ start: 13, end: 13 + 16, text: '' });
    expect(codes()).toEqual([]);
  });

  reaches('farthestEnd', (most) => {
    const text = (n: number): string => `template t {\n${many(n, (i) => `unit u${i} neighbour`)}\n}`;
    const isClosed = (n: number): boolean => !saidOf(text(n)).some(({ rule }) => rule === 'block-not-closed');
    expect([isClosed(most - 1), isClosed(most)]).toEqual([true, false]);
  });
});
