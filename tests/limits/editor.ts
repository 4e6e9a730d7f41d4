/** Limits of what an editor is given. */
import { describe, expect } from 'vitest';
import { completionsAt } from '../../server/language/completion.ts';
import { byFile } from '../../server/language/diagnostics.ts';
import { docOf } from '../../server/language/doc-text.ts';
import { inRanges } from '../../server/language/view-rows.ts';
import { symbolsNamed } from '../../server/language/workspace-symbols.ts';
import { cursor } from '../language/marked.ts';
import { ask, turnstile } from '../protocol/lives/turnstile.ts';
import { many, projectOf, reaches } from './reach.ts';

describe('an editor', () => {
  reaches('mostWaiting', (most) => {
    const stand = turnstile(false);
    ask(stand, most);
    expect(stand.written).toEqual([]);
    ask(stand, 1, most);
    expect(stand.inside).toHaveLength(most);
    expect(stand.written[0]?.error?.message).toMatch(/5,000 questions wait for an answer/);
  });

  reaches('mostShown', (most) => {
    const shown = (count: number) => {
      const project = projectOf(many(count, () => 'flubber'));
      const [list = []] = byFile(project.findings()).values();
      return list;
    };
    expect(shown(most)).toHaveLength(most);
    const more = shown(most + 5);
    expect(more).toHaveLength(most + 1);
    expect(more.at(-1)?.message).toBe('This file has 1,005 findings; 1,000 are taken on.');
    expect(more.at(-1)?.advice).toMatch(/^5 of them are left out here/);
  });

  reaches('mostOffered', (most) => {
    const offered = (count: number): number => {
      const { snapshot, at } = cursor(`${many(count, (i) => `template t${i} { }`)}\nunit u |`);
      return completionsAt(snapshot, at).length;
    };
    expect(offered(most - 10)).toBe(most - 10);
    expect(offered(most + 1)).toBe(most);
  });

  reaches('mostSymbols', (most) => {
    const found = (count: number) =>
      symbolsNamed([projectOf(many(count, (i) => `template t${i} { }`))], 't').map(({ name }) => name);
    // Just as many: all of them, each once.
    expect(new Set(found(most))).toEqual(new Set(Array.from({ length: most }, (_, i) => `t${i}`)));
    expect(found(most)).toHaveLength(most);
    const more = found(most + 1);
    expect(new Set(more).size).toBe(most);
    expect(more).toHaveLength(most);
  });

  reaches('mostChildren', (most) => {
    const rows = (count: number) =>
      inRanges(
        Array.from({ length: count }, (_, i) => i),
        (own) => own.map((i) => ({ key: `${i}` })) as never,
        () => undefined,
        String,
      );
    expect(rows(most).map(({ key }) => key)).toEqual(Array.from({ length: most }, (_, i) => `${i}`));
    // One more, and each range says from what to what it goes and how many it has.
    expect(rows(most + 1).map(({ label, description }) => [label, description])).toEqual([
      ['0 to 199', '200'],
      ['200 to 200', '1'],
    ]);
    expect(rows(most + 1).flatMap(({ children }) => children?.().map(({ key }) => key) ?? [])).toHaveLength(most + 1);
    expect(rows(most * 3)).toHaveLength(3);
  });

  reaches('longestDoc', (most) => {
    expect(docOf('x'.repeat(most))).toHaveLength(most);
    const cut = docOf('x'.repeat(most + 1));
    expect(cut).toHaveLength(most);
    expect(cut.endsWith('…')).toBe(true);
  });
});
