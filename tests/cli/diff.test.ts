/** Diffs as tools read them. source: the unified format of the manual of GNU diffutils, "Detailed Description of Unified Format". */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withEdits } from '../../grammar/format.ts';
import { diffOf, diffOfEdits } from '../../server/cli/diff.ts';

/** What a diff makes of a text: every line that is kept or goes has to be the one that stands there. */
function applied(before: string, diff: readonly string[]): string {
  const lines = before.split(/(?<=\n)/);
  if (before === '') lines.pop();
  const result: string[] = [];
  let at = 0;
  const printed = diff.join('\n').split('\n').slice(2);
  for (let i = 0; i < printed.length; i++) {
    const line = printed[i] as string;
    const hunk = /^@@ -(\d+),(\d+) \+(\d+),(\d+) @@$/.exec(line)?.slice(1).map(Number);
    if (hunk) {
      const [old = 0, gone = 0, fresh = 0, come = 0] = hunk;
      for (const to = gone === 0 ? old : old - 1; at < to; at++) result.push(lines[at] as string);
      expect(result.length).toBe(come === 0 ? fresh : fresh - 1);
    } else if (!line.startsWith('\\')) {
      const text = line.slice(1) + (printed[i + 1]?.startsWith('\\') ? '' : '\n');
      if (!line.startsWith('+')) expect(lines[at++]).toBe(text);
      if (!line.startsWith('-')) result.push(text);
    }
  }
  return [...result, ...lines.slice(at)].join('');
}

const piece = fc.constantFrom('a', 'b', '\n', '\n', '\n\n', 'c\n', '');
const text = fc.array(piece, { maxLength: 40 }).map((pieces) => pieces.join(''));

describe('a diff', () => {
  it('of nothing is nothing', () => {
    expect(diffOf('a', 'b\n', 'b\n')).toEqual([]);
    expect(diffOfEdits('a', 'b\n', [])).toEqual([]);
    expect(diffOfEdits('a', 'b\n', [{ start: 0, end: 1, text: 'b' }])).toEqual([]);
  });

  it('says where the end of a text has no line end', () =>
    expect(diffOf('a', 'b', 'b\n')).toEqual([
      '--- a',
      '+++ a',
      '@@ -1,1 +1,1 @@',
      '-b\n\\ No newline at end of file',
      '+b',
    ]));

  it('leads from one text to the other', () => {
    fc.assert(
      fc.property(text, text, (before, after) => {
        expect(applied(before, diffOf('a', before, after))).toBe(after);
      }),
      { numRuns: 1000 },
    );
  });

  it('leads there by the edits that are known, too', () => {
    const marks = fc.array(fc.tuple(fc.nat(), fc.constantFrom('', 'x', '\n', 'x\ny', '\n\n')), { maxLength: 6 });
    fc.assert(
      fc.property(text, marks, fc.boolean(), (before, some, wide) => {
        const at = some.map(([n]) => n % (before.length + 1)).sort((a, b) => a - b);
        const edits = some.flatMap(([, put], i) => {
          const start = at[i] as number;
          const next = at[i + 1] ?? before.length;
          // None touches the next one.
          if (i > 0 && start === at[i - 1]) return [];
          return [{ start, end: wide ? Math.max(start, next - 1) : start, text: put }];
        });
        const after = withEdits(before, edits);
        expect(applied(before, diffOfEdits('a', before, edits))).toBe(after);
      }),
      { numRuns: 1000 },
    );
  });
});
