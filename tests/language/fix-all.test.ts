/** Which rules are offered to be mended at once, and that it comes to something. */
import { describe, expect, it } from 'vitest';
import { quickFixesAt } from '../../server/language/actions.ts';
import { fixAll, rulesWithMore } from '../../server/language/fix-all.ts';
import { cursor, edited, file } from './marked.ts';

/** The offers at the cursor, each with the text that it makes. */
function offered(marked: string): { rule: string; scope: string; made: string }[] {
  const { snapshot, at, text } = cursor(marked);
  const rules = new Set(quickFixesAt(snapshot, { start: at, end: at }).map(({ finding }) => finding.rule.id));
  return rulesWithMore(snapshot, rules).map((more) => {
    const made = edited(snapshot.project, file, fixAll(snapshot, more));
    return { ...more, made: made === text ? 'nothing' : made };
  });
}

const closet = (zone: string): string => `template t {
  wall back { length 60in; height 96in }
  board white-12
  zone a on back { width fill; ${zone} }
}
unit u t
`;

describe('all fixes of a rule', () => {
  it('are offered where several findings have one obvious fix', () => {
    const text = closet('shelf top { at 84in; boa|rdd white-12 }; shelf low { at 20in; boardd white-12 }');
    const all = offered(text);
    expect(all.map(({ rule, scope }) => `${rule} ${scope}`)).toEqual(['word-not-known file']);
    expect(all[0]?.made).toBe(text.replace('|', '').replaceAll('boardd', 'board'));
  });

  it('are not offered where each is a choice for somebody: inches or millimetres', () => {
    expect(offered(closet('shelf top { at 8|4 }; shelf low { at 20 }'))).toEqual([]);
  });

  it('are not offered where a number in a sum is such a choice', () => {
    expect(offered(closet('shelf top { at 80in + |4 }; shelf low { at 20in + 4 }'))).toEqual([]);
  });

  it('are not offered where one of them leaves no choice: that is a guess too', () => {
    // Of one that is more than any shelf is high, only millimetres hold.
    expect(offered(closet('shelf top { at 8|4 }; shelf low { at 500 }'))).toEqual([]);
  });
});
