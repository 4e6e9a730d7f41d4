import { describe, expect, it } from 'vitest';
import { quickFixesAt } from '../../server/language/actions.ts';
import type { Snapshot } from '../../server/language/snapshot.ts';
import { projectOf } from '../model/support.ts';

const file = '/p/main.closet';

/** Titles of the fixes for a rule, and whether each of them, applied, ends the finding. */
function fixes(text: string, rule: string): [string, boolean][] {
  const project = projectOf(text);
  const source = project.sources.get(file);
  if (!source) throw new Error('the text was not read');
  const snapshot: Snapshot = { project, source, path: file };
  return quickFixesAt(snapshot, { start: 0, end: text.length })
    .filter(({ finding }) => finding.rule.id === rule)
    .map(({ title, edits }) => {
      const mended = [...edits].reduceRight((t, e) => t.slice(0, e.start) + e.text + t.slice(e.end), text);
      return [
        title,
        !projectOf(mended)
          .findings()
          .some((f) => f.rule.id === rule),
      ];
    });
}

describe('a length that ends a conflict', () => {
  it('is offered for each fixed width that takes part', () => {
    const text = `template t {
  wall back { length 90in; height 96in }
  board white-12
  zone a on back { width 60in; shelf s { at 40in } }
  zone b on back after a { width 800mm; shelf s { at 40in } }
}
unit u t { floor 1 }
`;
    // 1524mm + 800mm - 2286mm = 38mm too much, which no 64th of an inch takes off the other.
    expect(fixes(text, 'widths-do-not-close')).toEqual([['Write 762mm instead of 800mm for b', true]]);
  });

  it('is offered in inches for inches', () => {
    const text = `template t {
  wall back { length 90in; height 96in }
  board white-12
  zone a on back { width 60in; shelf s { at 40in } }
  zone b on back after a { width 32-1/4in; shelf s { at 40in } }
}
unit u t { floor 1 }
`;
    expect(fixes(text, 'widths-do-not-close')).toEqual([
      ['Write 57-3/4in instead of 60in for a', true],
      ['Write 30in instead of 32-1/4in for b', true],
    ]);
  });

  it('is not offered for what a parameter or an expression says', () => {
    const text = `template t {
  parameter w: length = 60in
  wall back { length 90in; height 96in }
  board white-12
  zone a on back { width w; shelf s { at 40in } }
  zone b on back after a { width 30in + 1in; shelf s { at 40in } }
}
unit u t { floor 1 }
`;
    expect(fixes(text, 'widths-do-not-close')).toEqual([]);
  });

  it('is offered for heights, up or down', () => {
    const text = `template t {
  wall back { length 90in; height 96in }
  board white-12
  pole chrome
  zone a on back {
    width 90in
    shelf s { at 80in }
    rod r { at 78in; under s by 3in }
  }
}
unit u t { floor 1 }
`;
    expect(fixes(text, 'heights-do-not-close')).toEqual([
      ['Write 81in instead of 80in for s', true],
      ['Write 77in instead of 78in for r', true],
    ]);
  });
});
